"""A third set, by another recipe: seen at an angle, half transparent, blurred by a hand, on things of a clinic.

Monitors, sticky labels, whiteboards, wristbands, strips of devices, slit-lamp and slide pictures, charts.
64 with text, 34 clean; 480 x 360 to 2400 x 1600. The even numbers are for tuning, the odd ones are held out.
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

from mmbuilder import fonts
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

WRITTEN, CLEAN = 64, 34
SIZES = ((480, 360), (720, 576), (1024, 768), (1366, 768), (1600, 1200), (1920, 1080), (2400, 1600))
PRINT = (
    "dejavu/DejaVuSans-ExtraLight.ttf", "dejavu/DejaVuSansMono-Bold.ttf", "dejavu/DejaVuSerif.ttf",
    "dejavu/DejaVuSans-BoldOblique.ttf", "dejavu/DejaVuSerifCondensed-Bold.ttf",
    "noto/NotoSans-Regular.ttf", "noto/NotoSansMono-Regular.ttf",
)  # fmt: skip
HANDS = ("ShadowsIntoLight.ttf", "PermanentMarker-Regular.ttf", "DancingScript[wght].ttf", "Kalam-Light.ttf")
"""Of the packages fontpkg-shadows-into-light, -permanent-marker, -dancing-script and -kalam."""
SCRIPTS = {
    "arabic": ("noto/NotoSansArabic-Bold.ttf", "اسم مختلق ٧٠٣١"),
    "hebrew": ("noto/NotoSerifHebrew-Regular.ttf", "שם מומצא 7031"),
    "tamil": ("noto/NotoSansTamil-Regular.ttf", "கற்பனை நோயாளி"),
    "greek": ("noto/NotoSerif-Bold.ttf", "Φανταστική Α. 7031"),
    "thai": ("noto/NotoSerifThai-Regular.ttf", "ชื่อสมมติ ๗๐๓๑"),
    "japanese": ("NotoSansCJKtc-Regular.otf", "架空花子 カルテ七〇三一"),
}
PEOPLE = ("Hollinspar", "MORVETHAN", "Zebrastad", "Dr I. Kestrelby", "TUNDERWICK", "Fennimarch")
"""Invented surnames."""
WAYS = (
    "print", "print", "tiny", "big", "seen aslant", "turned", "lean", "faint", "glassy", "sticker",
    "wristband", "mirrored", "shaken", "spaced", "hand", "hand", *SCRIPTS,
)  # fmt: skip


def tuning() -> Iterator[Drawn]:
    return (draw(name) for name in names() if not is_held_out(name))


def held_out() -> Iterator[Drawn]:
    return (draw(name) for name in names() if is_held_out(name))


def names() -> list[str]:
    kinds = (("clinic-written", WRITTEN), ("clinic-clean", CLEAN))
    return numbered(kinds)


def draw(name: str) -> Drawn:
    """Make a picture from its name; the same name gives the same picture."""
    rng = np.random.default_rng(int.from_bytes(hashlib.sha256(name.encode()).digest()[:8]))
    size = SIZES[int(rng.integers(len(SIZES)))]
    picture = GROUNDS[int(name[-2:]) // 2 % len(GROUNDS)](rng, size)
    found: list[Item] = []
    if "written" in name:
        taken = np.zeros(size[::-1], bool)
        many = 3 if size[0] < 800 else int(rng.integers(5, 9))
        for way in rng.choice(np.array(usable(), dtype=object), many):
            found += _placed(picture, str(way), rng, taken)
    out = BytesIO()
    picture.save(out, "JPEG", quality=int(rng.choice([60, 80, 95])))
    return Drawn(name, Image.open(BytesIO(out.getvalue())).convert("RGB"), tuple(found))


# -- grounds ---------------------------------------------------------------------------------------


def _tinted(
    mix: np.ndarray, dark: tuple[int, ...], light: tuple[int, ...], rng: Random, grain: float
) -> Image.Image:
    colours = np.array(dark, np.float32) + mix[..., None] * np.subtract(light, dark).astype(np.float32)
    grainy = colours + rng.normal(0, grain, mix.shape)[..., None]
    return Image.fromarray(np.clip(grainy, 0, 255).astype(np.uint8))


def bowel(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Folds one behind the other down a dark passage, with wet glints."""
    rows, columns = grid(size)
    far = np.hypot(rows - 0.5, columns - size[0] / size[1] / 2) + 0.06 * cloud(rng, size, 5)
    mix = np.clip(0.25 + far + 0.18 * np.sin(34 * np.log(far + 0.08)) + 0.1 * cloud(rng, size, 60), 0, 1)
    picture = _tinted(mix, (30, 6, 8), (246, 160, 132), rng, 3)
    pen = ImageDraw.Draw(picture)
    for x, y in rng.random((24, 2)) * size:
        pen.ellipse((x, y, x + rng.integers(3, 18), y + rng.integers(2, 9)), fill=(255, 250, 246))
    return picture.filter(ImageFilter.GaussianBlur(0.8))


def disc(rng: Random, size: tuple[int, int]) -> Image.Image:
    """The back of an eye: a round field, a bright disc, vessels that branch, a few spots."""
    rows, columns = grid(size)
    middle = size[0] / size[1] / 2
    inside = np.hypot(rows - 0.5, columns - middle) < 0.47
    bright = np.exp(-((rows - 0.5) ** 2 + (columns - middle - 0.18) ** 2) / 0.004)
    mix = np.where(inside, 0.35 + 0.3 * cloud(rng, size, 6) + 0.6 * bright, 0)
    picture = _tinted(np.clip(mix, 0, 1), (6, 4, 3), (250, 170, 90), rng, 3)
    pen = ImageDraw.Draw(picture)
    for _ in range(16):
        lean, place = rng.random() * 6.3, np.array(((middle + 0.18) * size[1], 0.5 * size[1]))
        for wide in range(5, 0, -1):
            lean += rng.normal(0, 0.4)
            on = place + size[1] * 0.09 * np.array((np.cos(lean), np.sin(lean)))
            pen.line((*place, *on), fill=(120, 24, 14), width=wide)
            place = on
    for x, y in rng.normal((middle, 0.5), 0.1, (12, 2)) * size[1]:
        pen.ellipse((x, y, x + 7, y + 6), fill=(232, 210, 120) if x > y else (90, 10, 10))
    return picture.filter(ImageFilter.GaussianBlur(1))


def slit(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A bright slit of light across a dark eye."""
    rows, columns = grid(size)
    beam = np.exp(-(((columns - 0.6 - 0.2 * (rows - 0.5) ** 2) / 0.05) ** 2))
    return _tinted(np.clip(beam + 0.25 * cloud(rng, size, 30), 0, 1), (10, 10, 14), (214, 220, 226), rng, 3)


def layers(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Speckled layers of a cross-section."""
    rows, columns = grid(size)
    bands = 0.5 + 0.5 * np.sin(60 * (rows + 0.05 * np.sin(4 * columns)) + 6 * cloud(rng, size, 4))
    mix = np.where((rows > 0.3) & (rows < 0.7), bands, 0.1) * rng.rayleigh(0.6, rows.shape)
    return _tinted(np.clip(mix, 0, 1), (4, 4, 4), (236, 236, 236), rng, 2)


def slide(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Stained cells."""
    picture = _tinted(cloud(rng, size, 20), (226, 160, 190), (248, 222, 234), rng, 3)
    pen = ImageDraw.Draw(picture)
    for x, y in rng.random((260, 2)) * size:
        wide, high = rng.integers(6, 18, 2)
        pen.ellipse((x, y, x + wide, y + high), fill=(96, 50, 140), outline=(70, 30, 110))
    return picture.filter(ImageFilter.GaussianBlur(0.7))


def chart(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Axes, ticks, curves and bars, without a word."""
    picture = Image.new("RGB", size, (252, 252, 250))
    pen, (wide, high) = ImageDraw.Draw(picture), size
    pen.line(
        (0.1 * wide, 0.08 * high, 0.1 * wide, 0.9 * high, 0.95 * wide, 0.9 * high), fill=(20, 20, 20), width=2
    )
    for share in np.linspace(0.15, 0.9, 8):
        pen.line((share * wide, 0.9 * high, share * wide, 0.915 * high), fill=(20, 20, 20))
        pen.line((0.1 * wide, share * high, 0.95 * wide, share * high), fill=(222, 222, 222))
        tall = float(rng.uniform(0.1, 0.6)) * high
        pen.rectangle(
            (share * wide, 0.9 * high - tall, share * wide + 0.03 * wide, 0.9 * high), fill=(90, 140, 190)
        )
    for colour in ((200, 60, 40), (40, 130, 70)):
        heights = np.cumsum(rng.normal(0, 0.04, 30)) + 0.5
        points = [
            (wide * (0.1 + 0.028 * n), high * float(v)) for n, v in enumerate(np.clip(heights, 0.1, 0.88))
        ]
        pen.line(points, fill=colour, width=3)
        for x, y in points[::3]:
            pen.ellipse((x - 4, y - 4, x + 4, y + 4), fill=colour)
    return picture


def board(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A whiteboard with smears, magnets and ruled columns."""
    picture = _tinted(0.6 + 0.4 * cloud(rng, size, 4), (206, 212, 216), (250, 252, 252), rng, 2)
    pen = ImageDraw.Draw(picture)
    for x in np.linspace(0.2, 0.9, 4) * size[0]:
        pen.line((x, 0, x, size[1]), fill=(150, 156, 164), width=2)
    for x, y in rng.random((6, 2)) * size:
        pen.ellipse((x, y, x + 24, y + 24), fill=tuple(int(v) for v in rng.integers(20, 220, 3)))
    return picture


def bed(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Sheets, a forearm, a tube."""
    picture = _tinted(cloud(rng, size, 9), (150, 160, 176), (236, 240, 244), rng, 3)
    pen, (wide, high) = ImageDraw.Draw(picture), size
    pen.line((0, 0.8 * high, wide, 0.45 * high), fill=(214, 164, 138), width=high // 4)
    pen.arc((0.2 * wide, -0.3 * high, 0.9 * wide, 0.5 * high), 20, 160, fill=(180, 220, 210), width=9)
    return picture.filter(ImageFilter.GaussianBlur(2))


def ward_screen(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A monitor: three traces in their bands on near black."""
    picture = _tinted(0.3 * cloud(rng, size, 3), (4, 6, 12), (24, 30, 44), rng, 2)
    pen, across = ImageDraw.Draw(picture), np.arange(0, int(0.75 * size[0]), 2)
    for level, colour in ((0.2, (80, 250, 120)), (0.45, (90, 200, 255)), (0.7, (255, 230, 90))):
        wave = np.abs(np.sin(across / float(rng.uniform(12, 40)))) ** 5 * 0.09
        pen.line(
            [*zip(across.tolist(), (size[1] * (level - wave)).tolist(), strict=True)], fill=colour, width=2
        )
        pen.line((0, size[1] * (level + 0.06), size[0], size[1] * (level + 0.06)), fill=(50, 56, 70))
    return picture


GROUNDS: tuple[Callable[[Random, tuple[int, int]], Image.Image], ...] = (
    bowel, disc, slit, layers, slide, chart, board, bed, ward_screen,
)  # fmt: skip


# -- writing ---------------------------------------------------------------------------------------


@cache
def usable() -> tuple[str, ...]:
    """Return the ways whose fonts are here."""
    return tuple(way for way in WAYS if _fonts(way))


@cache
def _fonts(way: str) -> tuple[Path, ...]:
    wanted = (SCRIPTS[way][0],) if way in SCRIPTS else HANDS if way == "hand" else PRINT
    here = [place for name in wanted if (place := ward.font_place(name))]
    return tuple(here if way in {"hand", *SCRIPTS} else [*here, fonts.path(), fonts.path(bold=True)])


def _words(way: str, rng: Random) -> str:
    if way in SCRIPTS:
        return SCRIPTS[way][1]
    person, number = str(rng.choice(PEOPLE)), int(rng.integers(100, 999))
    said = str(rng.choice([
        f"{person} {number}", f"{person}, Ada", f"Unit no. {number}{number}8", f"b. {number % 27 + 1} May 1949",
        f"{person} / Bay {number % 9}", f"Acc {number}-{number}", f"2029-0{number % 9 + 1}-14 08:{number % 49 + 10}",
    ]))  # fmt: skip
    return " ".join(said) if way == "spaced" else said


def _stamp(way: str, rng: Random, size: tuple[int, int]) -> Image.Image:
    least, most = {"tiny": (11, 14), "big": (42, 64), "hand": (24, 44)}.get(way, (15, 34))
    height = max(11, round(int(rng.integers(least, most + 1)) * min(1.6, max(0.8, size[1] / 1000))))
    faces = _fonts(way)
    font = ImageFont.truetype(faces[int(rng.integers(len(faces)))], height)
    return _bent(lettered(_words(way, rng), font, 6), way, rng)


def _bent(stamp: Image.Image, way: str, rng: Random) -> Image.Image:
    if way == "mirrored":
        return stamp.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    if way == "turned":
        return stamp.rotate(float(rng.choice([90, 180, 270])), expand=True)
    if way in {"lean", "hand"}:
        most = 50 if way == "lean" else 7
        return stamp.rotate(float(rng.uniform(-most, most)), Image.Resampling.BICUBIC, expand=True)
    if way == "shaken":
        return stamp.filter(ImageFilter.Kernel((5, 5), [0] * 10 + [1] * 5 + [0] * 10))
    if way == "seen aslant":
        wide, high = stamp.size
        near = float(rng.uniform(0.55, 0.8))
        to = np.array([(0, 0), (wide, high * (1 - near)), (wide, high), (0, high * 1.15)], np.float32)
        turn = cv2.getPerspectiveTransform(
            np.array([(0, 0), (wide, 0), (wide, high), (0, high)], np.float32), to
        )
        return Image.fromarray(cv2.warpPerspective(np.asarray(stamp), turn, (wide, int(1.2 * high))))
    return stamp


def _placed(picture: Image.Image, way: str, rng: Random, taken: np.ndarray) -> list[Item]:
    stamp = _stamp(way, rng, picture.size)
    at = free_place(picture, stamp, rng, taken, edge=5, least=12, apart=14)
    return [_inked(picture, stamp, at, way, rng)] if at else []


def _inked(picture: Image.Image, stamp: Image.Image, at: tuple[int, int], way: str, rng: Random) -> Item:
    area = (*at, at[0] + stamp.width, at[1] + stamp.height)
    if way in {"sticker", "wristband"}:
        grow = 10 if way == "sticker" else 40
        picture.paste((250, 248, 236), (area[0] - 4, area[1], min(picture.width, area[2] + grow), area[3]))
    shade = np.asarray(picture.crop(area).convert("L"), float)
    under, rough = float(np.median(shade)), float(shade.std())
    step = 1 if under < 128 else -1
    colour = (
        [(255, 255, 255), (255, 250, 120), (140, 255, 255)]
        if step > 0
        else [(10, 10, 10), (160, 0, 20), (20, 40, 140)]
    )
    ink = colour[int(rng.integers(3))]
    if way == "faint":
        # Told from what it stands on by three times its roughness: still to be read by a person.
        ink = (int(np.clip(under + step * max(float(rng.integers(26, 44)), 3 * rough), 0, 255)),) * 3
    mask = stamp.point(lambda value: value * 0.6) if way == "glassy" else stamp
    picture.paste(ink, area, mask)
    return item(picture, stamp, at, way)
