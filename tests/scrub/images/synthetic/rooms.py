"""A fourth set: scenes that look like writing (stitches, teeth, screws, keys, beats), and writing across them.

72 pictures with text, 60 clean; 640 x 480 to 3024 x 2016. The even numbers are for tuning, the odd ones are
held out, and half of the held-out grounds are in no other set.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from functools import cache
from io import BytesIO
from pathlib import Path

import cv2
import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from tests.scrub.images.synthetic import ward
from tests.scrub.images.synthetic.items import Item
from tests.scrub.images.synthetic.pictures import Drawn
from tests.scrub.images.synthetic.stamps import (
    Random,
    cloud,
    free_place,
    grid,
    is_held_out,
    item,
    lettered,
    numbered,
)

WRITTEN, CLEAN = 72, 60
SIZES = (
    (640, 480),
    (800, 600),
    (1280, 720),
    (1280, 960),
    (1920, 1080),
    (1920, 1200),
    (2560, 1440),
    (3024, 2016),
)
PRINT = (
    "ShareTech-Regular.ttf", "Rajdhani-Medium.ttf", "BarlowCondensed-Light.ttf", "Inconsolata[wdth,wght].ttf",
    "PressStart2P-Regular.ttf", "crosextra/Carlito-Bold.ttf", "dejavu/DejaVuSansCondensed-Oblique.ttf",
    "dejavu/DejaVuSansMono.ttf",
)  # fmt: skip
HANDS = ("IndieFlower-Regular.ttf", "Zeyada.ttf", "Delius-Regular.ttf")
"""Of the packages fontpkg-share-tech, -rajdhani, -barlow-condensed, -inconsolata, -press-start-2p,
-indie-flower, -zeyada and -delius."""
SCRIPTS = {
    "arabic": ("noto/NotoKufiArabic-Regular.ttf", "مريض خيالي ٥٥٢٠"),
    "urdu": ("noto/NotoNastaliqUrdu-Regular.ttf", "فرضی مریض"),
    "thai": ("noto/NotoLoopedThai-Regular.ttf", "คนไข้สมมุติ ๕๕๒๐"),
    "tamil": ("noto/NotoSerifTamil-Regular.ttf", "கற்பனை பெயர்"),
    "telugu": ("noto/NotoSerifTelugu-Regular.ttf", "కల్పిత రోగి"),
    "gujarati": ("noto/NotoSansGujarati-Regular.ttf", "કાલ્પનિક દર્દી"),
    "khmer": ("noto/NotoSansKhmer-Regular.ttf", "អ្នកជំងឺប្រឌិត"),
    "georgian": ("noto/NotoSerifGeorgian-Regular.ttf", "გამოგონილი პაციენტი"),
    "amharic": ("noto/NotoSansEthiopic-Regular.ttf", "ምናባዊ ታካሚ"),
    "korean": ("NotoSansCJKtc-Regular.otf", "가상환자 병동 오이"),
}
PEOPLE = ("Larkenthwaite", "OSTRIVANDER", "Piculescu-Zorn", "Dr E. Vantarell", "GRUMBELDINE", "Ysolka")
"""Invented surnames."""
WAYS = (
    "print", "print", "print", "small", "small", "big", "turned", "lean", "faint", "faint", "plate",
    "shadowed", "mirrored", "bent", "tinted", "spaced", "hand", "hand", *SCRIPTS,
)  # fmt: skip


def tuning() -> Iterator[Drawn]:
    return (draw(name) for name in names() if not is_held_out(name))


def held_out() -> Iterator[Drawn]:
    return (draw(name) for name in names() if is_held_out(name))


def names() -> list[str]:
    kinds = (("rooms-written", WRITTEN), ("rooms-clean", CLEAN))
    return numbered(kinds)


def draw(name: str) -> Drawn:
    """Make a picture from its name; the same name gives the same picture."""
    rng = np.random.default_rng(int.from_bytes(hashlib.sha256(name.encode()).digest()[:8]))
    size = SIZES[int(rng.integers(len(SIZES)))]
    grounds = HELD_OUT if is_held_out(name) else TUNING
    picture = grounds[int(name[-2:]) // 2 % len(grounds)](rng, size)
    found: list[Item] = []
    if "written" in name:
        taken = np.zeros(size[::-1], bool)
        for way in rng.choice(
            np.array(usable(), dtype=object), 4 if size[0] < 900 else int(rng.integers(5, 10))
        ):
            found += _placed(picture, str(way), rng, taken)
    out = BytesIO()
    picture.save(out, "JPEG", quality=int(rng.choice([70, 85, 95])))
    return Drawn(name, Image.open(BytesIO(out.getvalue())).convert("RGB"), tuple(found))


# -- grounds ---------------------------------------------------------------------------------------


def _tinted(
    mix: np.ndarray, dark: tuple[int, ...], light: tuple[int, ...], rng: Random, grain: float
) -> Image.Image:
    colours = np.array(dark, np.float32) + mix[..., None] * np.subtract(light, dark).astype(np.float32)
    return Image.fromarray(np.clip(colours + rng.normal(0, grain, colours.shape), 0, 255).astype(np.uint8))


def keyhole(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Fat and peritoneum in a round field, the shafts of two instruments, glints."""
    rows, columns = grid(size)
    lobes = np.abs(np.sin(9 * cloud(rng, size, 7)) * np.sin(11 * cloud(rng, size, 9)))
    picture = _tinted(0.5 * lobes + 0.5 * cloud(rng, size, 5), (110, 24, 20), (250, 206, 120), rng, 3)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    for x, y in ((0.0, 0.9), (1.0, 0.8)):
        to = (wide * float(rng.uniform(0.4, 0.6)), high * float(rng.uniform(0.4, 0.6)))
        pen.line((x * wide, y * high, *to), fill=(58, 60, 64), width=high // 18)
        pen.line((x * wide, y * high - 4, *to), fill=(180, 184, 190), width=max(2, high // 120))
        pen.line(
            (*to, to[0] + (0.5 - x) * high / 6, to[1] - high / 14), fill=(200, 204, 208), width=high // 60
        )
    for x, y in rng.random((40, 2)) * size:
        pen.ellipse((x, y, x + rng.integers(2, 12), y + rng.integers(2, 7)), fill=(255, 255, 250))
    inside = np.hypot(rows - 0.5, columns - size[0] / size[1] / 2) < 0.52
    return Image.fromarray(
        np.asarray(picture.filter(ImageFilter.GaussianBlur(1))) * inside[..., None].astype(np.uint8)
    )


def _beat(phase: np.ndarray) -> np.ndarray:
    """A heart's beat over a phase of 0 to 1: P, QRS, T."""
    waves = (
        (0.2, 0.03, 0.12),
        (0.36, 0.008, -0.12),
        (0.38, 0.009, 1.0),
        (0.41, 0.01, -0.25),
        (0.62, 0.05, 0.25),
    )
    return sum(high * np.exp(-(((phase - at) / wide) ** 2)) for at, wide, high in waves)


def ecg_paper(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Beats in black on ruled pink paper."""
    picture = _tinted(cloud(rng, size, 3), (246, 226, 222), (254, 242, 238), rng, 2)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    step = max(6, high // 90)
    for n, at in enumerate(range(0, max(size), step)):
        colour = (226, 150, 150) if n % 5 == 0 else (240, 200, 200)
        pen.line((at, 0, at, high), fill=colour)
        pen.line((0, at, wide, at), fill=colour)
    across = np.arange(0, wide, 1)
    for level in (0.2, 0.5, 0.8):
        heights = high * (level - 0.1 * _beat((across / (high * float(rng.uniform(0.2, 0.4)))) % 1))
        pen.line(
            [*zip(across.tolist(), heights.tolist(), strict=True)],
            fill=(20, 20, 30),
            width=max(1, high // 500),
        )
    return picture


def anaesthesia(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A monitor: beats, a pulse, breath as a square wave, pressure; rules between and tiles at the side."""
    picture = _tinted(0.4 * cloud(rng, size, 2), (2, 2, 4), (16, 18, 24), rng, 2)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    across = np.arange(0, int(float(rng.uniform(0.6, 1.0)) * wide))
    turns = across / (high * float(rng.uniform(0.06, 0.2)))
    breath = 1 / (1 + np.exp(-22 * np.sin(turns / 4)))
    pulse = np.abs(np.sin(turns * np.pi)) ** 0.7 + 0.2 * np.sin(turns * 2 * np.pi) ** 2
    waves = [
        (_beat(turns % 1), (0, 255, 90)),
        (pulse, (0, 220, 255)),
        (breath, (250, 250, 250)),
        (_beat(turns % 1) * pulse, (255, 60, 60)),
    ]
    for n, (wave, colour) in enumerate(waves):
        heights = high * (0.2 + 0.22 * n - 0.11 * wave)
        pen.line(
            [*zip(across.tolist(), heights.tolist(), strict=True)], fill=colour, width=int(rng.integers(1, 4))
        )
        pen.line((0, high * (0.23 + 0.22 * n), wide, high * (0.23 + 0.22 * n)), fill=(60, 64, 72))
    return picture.filter(ImageFilter.GaussianBlur(float(rng.choice([0.0, 0.6]))))


def sutured(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Skin with a closed wound: a row of stitches with their knots."""
    picture = _tinted(
        0.6 * cloud(rng, size, 6) + 0.4 * cloud(rng, size, 120), (196, 138, 112), (240, 198, 176), rng, 3
    )
    pen, (wide, high) = ImageDraw.Draw(picture), size
    lean = float(rng.uniform(-0.3, 0.3))
    pen.line(
        (0, high * (0.5 - lean), wide, high * (0.5 + lean)), fill=(150, 60, 60), width=max(3, high // 160)
    )
    for share in np.linspace(0.06, 0.94, int(rng.integers(14, 30))):
        x, y = wide * share, high * (0.5 + lean * (2 * share - 1))
        tall, off = high * float(rng.uniform(0.02, 0.035)), float(rng.normal(0, 4))
        pen.line((x - off, y - tall, x + off, y + tall), fill=(24, 30, 60), width=max(2, high // 300))
        pen.line((x + off, y + tall, x + off + tall * 0.6, y + tall * 1.4), fill=(24, 30, 60), width=2)
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def tray(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Scissors and forceps side by side on blue cloth."""
    rows, columns = np.mgrid[: size[1], : size[0]]
    weave = 0.1 * (((rows // 2) + (columns // 2)) % 2)
    picture = _tinted(0.7 * cloud(rng, size, 6) + weave, (20, 60, 120), (90, 150, 210), rng, 3)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    for x in np.arange(0.08, 0.95, 0.07) * wide:
        lean, thick = float(rng.normal(0, high / 30)), max(4, high // 90)
        top, end = high * float(rng.uniform(0.1, 0.2)), high * float(rng.uniform(0.7, 0.85))
        for off in (-1, 1):
            pen.line((x, top, x + lean + off * high / 40, end), fill=(150, 156, 164), width=thick)
            pen.line((x + 2, top, x + lean + off * high / 40 + 2, end), fill=(232, 236, 240), width=2)
            ring = x + lean + off * high / 40
            pen.ellipse(
                (ring - high / 36, end, ring + high / 36, end + high / 14),
                outline=(170, 176, 184),
                width=thick,
            )
    return picture.filter(ImageFilter.GaussianBlur(0.7))


def glands(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Rings of nuclei round pale lumens."""
    picture = _tinted(cloud(rng, size, 14), (214, 150, 190), (244, 214, 230), rng, 3)
    pen = ImageDraw.Draw(picture)
    for x, y in rng.random((30, 2)) * size:
        wide, high = rng.uniform(0.03, 0.07, 2) * size[1]
        pen.ellipse(
            (x - wide, y - high, x + wide, y + high), fill=(248, 240, 246), outline=(180, 100, 160), width=3
        )
        for turn in np.arange(0, 2 * np.pi, 0.35):
            at = np.array((x + wide * np.cos(turn), y + high * np.sin(turn)))
            pen.ellipse((*(at - rng.uniform(3, 6)), *(at + rng.uniform(3, 6))), fill=(84, 44, 130))
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def topography(rng: Random, size: tuple[int, int]) -> Image.Image:
    """The colour map of a cornea in steps, with its colour bar and rings."""
    rows, columns = grid(size)
    middle = size[0] / size[1] / 2
    far = np.hypot(rows - 0.5, columns - middle)
    level = np.floor(12 * np.clip(far * 1.6 + 0.25 * cloud(rng, size, 4), 0, 1)) * 20
    colours = cv2.applyColorMap(level.astype(np.uint8), cv2.COLORMAP_JET)[..., ::-1]
    picture = Image.fromarray(np.where((far < 0.42)[..., None], colours, 24).astype(np.uint8))
    pen, (wide, high) = ImageDraw.Draw(picture), size
    for n in range(12):
        fill = tuple(int(v) for v in cv2.applyColorMap(np.uint8([[n * 20]]), cv2.COLORMAP_JET)[0, 0, ::-1])
        pen.rectangle(
            (0.03 * wide, high * (0.2 + 0.05 * n), 0.06 * wide, high * (0.25 + 0.05 * n)), fill=fill
        )
    for share in (0.1, 0.2, 0.3):
        pen.ellipse(
            (wide / 2 - share * high, high * (0.5 - share), wide / 2 + share * high, high * (0.5 + share)),
            outline=(0, 0, 0),
        )
    return picture


def slice_(rng: Random, size: tuple[int, int]) -> Image.Image:
    """One slice of a trunk: ribs in a ring, a spine, organs, streaks, the table under it."""
    rows, columns = grid(size)
    middle = size[0] / size[1] / 2
    y, x = (rows - 0.5) / 0.36, (columns - middle) / 0.5
    inside = x**2 + y**2 < 1
    mix = np.where(inside, 0.35 + 0.2 * (cloud(rng, size, 8) > 0.5) + 0.08 * cloud(rng, size, 50), 0.02)
    picture = _tinted(mix, (0, 0, 0), (230, 230, 230), rng, 7)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    for turn in np.arange(0, 2 * np.pi, 0.42):
        at = np.array((wide / 2 + 0.45 * high * np.cos(turn), high * (0.5 + 0.32 * np.sin(turn))))
        reach = np.array((high / 50, high / 90))
        pen.ellipse((*(at - reach), *(at + reach)), fill=(236, 236, 236))
    pen.ellipse((wide / 2 - high / 22, 0.7 * high, wide / 2 + high / 22, 0.78 * high), fill=(240, 240, 240))
    pen.arc(
        (0.1 * wide, 0.5 * high, 0.9 * wide, 0.95 * high),
        20,
        160,
        fill=(120, 120, 120),
        width=max(2, high // 200),
    )
    return picture.filter(ImageFilter.GaussianBlur(1))


def screws(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A long bone on a film with a plate, its screws with their threads."""
    rows, columns = grid(size)
    bone = np.exp(-(((rows - 0.5 + 0.05 * np.sin(3 * columns)) / 0.13) ** 4))
    picture = _tinted(0.5 * bone + 0.2 * cloud(rng, size, 6), (12, 12, 14), (210, 212, 216), rng, 5)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    pen.line((0.15 * wide, 0.36 * high, 0.85 * wide, 0.38 * high), fill=(250, 250, 250), width=high // 30)
    for x in np.linspace(0.18, 0.82, int(rng.integers(6, 11))) * wide:
        pen.line((x, 0.36 * high, x + 4, 0.64 * high), fill=(246, 246, 246), width=max(4, high // 80))
        for y in np.arange(0.4, 0.63, 0.018) * high:
            pen.line((x - high / 90, y, x + high / 90, y + 4), fill=(250, 250, 250), width=2)
    return picture.filter(ImageFilter.GaussianBlur(0.9))


def doppler(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A fan with flow in colours, a spectrum under it, ticks and a grey scale at the side."""
    rows, columns = grid(size)
    middle = size[0] / size[1] / 2
    angle, far = np.arctan2(columns - middle, rows + 0.05), np.hypot(columns - middle, rows + 0.05)
    fan = (np.abs(angle) < 0.6) & (far < 0.62) & (far > 0.1)
    picture = _tinted(
        np.where(fan, cloud(rng, size, 40) * rng.rayleigh(0.5, fan.shape), 0),
        (2, 2, 4),
        (220, 220, 220),
        rng,
        2,
    )
    pixels = np.array(picture)
    flow = (
        fan & (np.abs(columns - middle) < 0.14) & (np.abs(rows - 0.38) < 0.1) & (cloud(rng, size, 12) > 0.5)
    )
    pixels[flow] = np.where(cloud(rng, size, 9)[flow][:, None] > 0.5, (210, 40, 20), (30, 60, 220))
    tall = 0.12 * np.abs(np.sin(columns * 9)) ** 2 * (0.6 + 0.4 * rng.random(rows.shape))
    pixels[(rows > 0.9 - tall) & (rows < 0.9)] = (200, 200, 200)
    picture = Image.fromarray(pixels)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    for n in range(14):
        pen.line(
            (0.93 * wide, high * (0.08 + 0.04 * n), 0.94 * wide + (n % 5 == 0) * 8, high * (0.08 + 0.04 * n)),
            fill=(240, 240, 240),
        )
        pen.rectangle(
            (0.04 * wide, high * (0.1 + 0.02 * n), 0.055 * wide, high * (0.12 + 0.02 * n)), fill=(18 * n,) * 3
        )
    return picture


def teeth(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Two rows of teeth between gums and lips, brackets with a wire on one."""
    picture = _tinted(cloud(rng, size, 5), (150, 50, 56), (220, 120, 116), rng, 3)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    for row, (top, end) in enumerate(((0.28, 0.5), (0.52, 0.7))):
        for x in np.linspace(0.08, 0.86, 10) * wide:
            shade = int(rng.integers(212, 244))
            box = (x, top * high, x + 0.078 * wide, end * high)
            pen.rounded_rectangle(
                box, 0.02 * wide, fill=(shade, shade - 6, shade - 26), outline=(180, 150, 130), width=2
            )
            if row == 0:
                pen.rectangle(
                    (x + 0.03 * wide, 0.38 * high, x + 0.05 * wide, 0.41 * high),
                    fill=(150, 154, 160),
                    outline=(70, 74, 80),
                )
    pen.line((0.08 * wide, 0.395 * high, 0.94 * wide, 0.395 * high), fill=(120, 124, 130), width=2)
    return picture.filter(ImageFilter.GaussianBlur(1.2))


def pump(rng: Random, size: tuple[int, int]) -> Image.Image:
    """The front of a pump: keys without a mark, lamps, a blank display, screws."""
    picture = _tinted(0.5 + 0.3 * cloud(rng, size, 3), (150, 156, 160), (226, 230, 232), rng, 2)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    pen.rounded_rectangle(
        (0.1 * wide, 0.1 * high, 0.9 * wide, 0.9 * high),
        20,
        fill=(206, 212, 216),
        outline=(120, 124, 130),
        width=4,
    )
    pen.rectangle(
        (0.16 * wide, 0.16 * high, 0.6 * wide, 0.42 * high), fill=(40, 62, 54), outline=(20, 20, 20), width=3
    )
    for x in np.linspace(0.18, 0.52, 4) * wide:
        for y in np.linspace(0.5, 0.76, 3) * high:
            pen.rounded_rectangle(
                (x, y, x + 0.06 * wide, y + 0.07 * high),
                8,
                fill=(90, 110, 130),
                outline=(50, 60, 70),
                width=2,
            )
    for n, y in enumerate(np.linspace(0.2, 0.8, 6) * high):
        pen.ellipse(
            (0.7 * wide, y, 0.7 * wide + 0.03 * high, y + 0.03 * high),
            fill=(40, 200, 60) if n % 2 else (220, 60, 40),
        )
        pen.line((0.75 * wide, y, 0.84 * wide, y), fill=(100, 106, 112), width=3)
    return picture.filter(ImageFilter.GaussianBlur(1))


TUNING: tuple[Callable[[Random, tuple[int, int]], Image.Image], ...] = (
    keyhole, ecg_paper, anaesthesia, sutured, tray, glands, topography,
)  # fmt: skip
HELD_OUT: tuple[Callable[[Random, tuple[int, int]], Image.Image], ...] = (
    keyhole, slice_, anaesthesia, screws, sutured, doppler, ecg_paper, teeth, tray, pump,
)  # fmt: skip


# -- writing ---------------------------------------------------------------------------------------


@cache
def usable() -> tuple[str, ...]:
    """Return the ways whose fonts are here."""
    return tuple(way for way in WAYS if _fonts(way))


@cache
def _fonts(way: str) -> tuple[Path, ...]:
    wanted = (SCRIPTS[way][0],) if way in SCRIPTS else HANDS if way == "hand" else PRINT
    return tuple(place for name in wanted if (place := ward.font_place(name)))


def _words(way: str, rng: Random) -> str:
    if way in SCRIPTS:
        return SCRIPTS[way][1]
    person, number = str(rng.choice(PEOPLE)), int(rng.integers(100, 999))
    said = str(rng.choice([
        f"{person} {number}", f"{person}, Ottilie", f"Pt {number}-{number}-{number % 90 + 10}", f"{number % 27 + 1}.0{number % 9 + 1}.1953",
        f"{person} th. {number % 9}", f"File {number}{number}", f"{number % 12 + 1:02}/{number % 27 + 1:02}/2028 1{number % 9}:{number % 49 + 10}",
    ]))  # fmt: skip
    return " ".join(said) if way == "spaced" else said


def _stamp(way: str, rng: Random, size: tuple[int, int]) -> Image.Image:
    least, most = {"small": (10, 13), "big": (46, 72), "hand": (26, 44)}.get(way, (16, 34))
    grown = 1.0 if way == "small" else min(1.8, max(0.8, size[1] / 1000))
    faces = _fonts(way)
    font = ImageFont.truetype(
        faces[int(rng.integers(len(faces)))], round(int(rng.integers(least, most + 1)) * grown)
    )
    return _bent(lettered(_words(way, rng), font, 6), way, rng)


def _bent(stamp: Image.Image, way: str, rng: Random) -> Image.Image:
    if way == "mirrored":
        return stamp.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    if way == "turned":
        return stamp.rotate(float(rng.choice([90, 180, 270])), expand=True)
    if way in {"lean", "hand"}:
        most = 60 if way == "lean" else 6
        return stamp.rotate(float(rng.uniform(-most, most)), Image.Resampling.BICUBIC, expand=True)
    if way == "bent":
        # Round a wrist: the middle of the line stands higher than its ends.
        wide, high = stamp.size
        columns = np.arange(wide, dtype=np.float32)
        drop = float(rng.uniform(0.2, 0.6)) * high * (2 * columns / wide - 1) ** 2
        down = np.arange(int(high * 1.7), dtype=np.float32)[:, None] - drop[None]
        return Image.fromarray(
            cv2.remap(np.asarray(stamp), np.broadcast_to(columns, down.shape).copy(), down, cv2.INTER_LINEAR)
        )
    return stamp


def _placed(picture: Image.Image, way: str, rng: Random, taken: np.ndarray) -> list[Item]:
    stamp = _stamp(way, rng, picture.size)
    at = free_place(picture, stamp, rng, taken, edge=5, least=12, apart=14)
    return [_inked(picture, stamp, at, way, rng)] if at else []


def _inked(picture: Image.Image, stamp: Image.Image, at: tuple[int, int], way: str, rng: Random) -> Item:
    area = (*at, at[0] + stamp.width, at[1] + stamp.height)
    if way == "plate":
        half = Image.blend(
            picture.crop(area), Image.new("RGB", stamp.size, (0, 0, 0)), float(rng.uniform(0.4, 0.9))
        )
        picture.paste(half, area)
    shade = np.asarray(picture.crop(area).convert("L"), float)
    under, rough = float(np.median(shade)), float(shade.std())
    step = 1 if under < 128 else -1
    light, dark = [(255, 255, 255), (255, 230, 0), (90, 255, 120)], [(0, 0, 0), (140, 0, 40), (0, 30, 110)]
    ink = (light if step > 0 else dark)[int(rng.integers(3))]
    if way == "faint":
        # Told from what it stands on by three times its roughness: still to be read by a person.
        ink = (int(np.clip(under + step * max(float(rng.integers(24, 44)), 3 * rough), 0, 255)),) * 3
    if way == "tinted":
        # As bright as what it stands on, or nearly: told by its colour.
        ink = tuple(int(v) for v in np.clip(under + step * 40 + rng.choice([-70, 70], 3), 0, 255))
    if way == "shadowed":
        picture.paste(
            tuple(255 - v for v in ink), (area[0] + 2, area[1] + 2, area[2] + 2, area[3] + 2), stamp
        )
    picture.paste(ink, area, stamp)
    return item(picture, stamp, at, way)
