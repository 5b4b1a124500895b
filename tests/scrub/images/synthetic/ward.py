"""A second held-out set, made after the first was tuned on: other grounds, fonts, sizes and ways of writing.

What a theatre or a ward brings: a name and a number on an endoscope's picture, a device's strip along an
edge, a monitor photographed from the side, a page on a flat-bed scanner, handwriting, labels. 36 with
text, 25 clean; 320 x 240 to 4000 x 3000. All of it is held out: nothing may be tuned on it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont, ImageOps

from tests.scrub.images.synthetic.items import Item
from tests.scrub.images.synthetic.pictures import Drawn
from tests.scrub.images.synthetic.stamps import Random, free_place, item, lettered, numbered

WRITTEN, CLEAN = 36, 25
SIZES = (
    (320, 240),
    (640, 480),
    (800, 600),
    (1280, 720),
    (1280, 1024),
    (1920, 1080),
    (1920, 1080),
    (4000, 3000),
)
TYPE = Path("/usr/share/fonts/truetype")
FONTS = (
    "dejavu/DejaVuSans.ttf", "dejavu/DejaVuSansMono.ttf", "dejavu/DejaVuSerif-Bold.ttf",
    "dejavu/DejaVuSansCondensed.ttf", "noto/NotoSerif-Regular.ttf", "noto/NotoSansDisplay-Bold.ttf",
)  # fmt: skip
HANDS = ("Caveat[wght].ttf", "Kalam-Regular.ttf")
"""Of the packages fontpkg-caveat and fontpkg-kalam; without them no handwriting is drawn."""
PACKAGES = (
    "fontpkg_caveat", "fontpkg_kalam", "fontpkg_shadows_into_light", "fontpkg_permanent_marker",
    "fontpkg_dancing_script", "fontpkg_share_tech", "fontpkg_rajdhani", "fontpkg_barlow_condensed",
    "fontpkg_inconsolata", "fontpkg_press_start_2p", "fontpkg_indie_flower", "fontpkg_zeyada", "fontpkg_delius",
)  # fmt: skip
SCRIPTS = {
    "arabic": ("noto/NotoNaskhArabic-Regular.ttf", "السيد وهمي ٩٩٩٠"),
    "devanagari": ("noto/NotoSerifDevanagari-Regular.ttf", "नकली मरीज ४४१२"),
    "cyrillic": ("noto/NotoSerif-Regular.ttf", "Небывалов Т. 9990"),
    "bengali": ("noto/NotoSansBengali-Regular.ttf", "কাল্পনিক রোগী"),
    "chinese": ("NotoSansCJKtc-Regular.otf", "虛構病人 四四一二"),
}
PEOPLE = ("BRIXHOLLOW", "Quastern", "Wendelmoor", "TROVALLIS", "Peskarrin", "Dr U. Malvenhurst")
"""Invented surnames."""


def held_out() -> Iterator[Drawn]:
    kinds = [("ward-written", WRITTEN), ("ward-clean", CLEAN)]
    return map(draw, numbered(kinds))


def draw(name: str) -> Drawn:
    """Make a picture from its name; the same name gives the same picture."""
    rng = np.random.default_rng(int.from_bytes(hashlib.sha256(name.encode()).digest()[:8]))
    number = int(name[-2:])
    size = SIZES[number % len(SIZES)]
    ground = GROUNDS[int(rng.integers(len(GROUNDS)))]
    picture = ground(rng, size)
    found: list[Item] = []
    if "written" in name:
        taken = np.zeros(size[::-1], bool)
        if number % 3 == 0:
            found += _strip(picture, rng, taken)
        for way in rng.choice(
            np.array(usable(), dtype=object), 3 if size[0] < 700 else int(rng.integers(6, 10))
        ):
            found += _placed(picture, way, rng, taken)
        picture = picture.filter(ImageFilter.GaussianBlur(float(rng.choice([0.0, 0.4, 0.7]))))
    out = BytesIO()
    picture.save(out, "JPEG", quality=int(rng.choice([75, 85, 92])))
    return Drawn(name, Image.open(BytesIO(out.getvalue())).convert("RGB"), tuple(found))


# -- grounds ---------------------------------------------------------------------------------------


def _cloud(rng: Random, size: tuple[int, int], cells: int) -> np.ndarray:
    small = Image.fromarray((255 * rng.random((cells, cells))).astype(np.uint8))
    return np.asarray(small.resize(size, Image.Resampling.BICUBIC), float)[..., None] / 255


def _mixed(
    mix: np.ndarray, dark: tuple[int, ...], light: tuple[int, ...], rng: Random, grain: float
) -> Image.Image:
    colours = np.array(dark) + mix * (np.array(light) - np.array(dark))
    return Image.fromarray(np.clip(colours + rng.normal(0, grain, colours.shape), 0, 255).astype(np.uint8))


def scope(rng: Random, size: tuple[int, int]) -> Image.Image:
    """The round picture of an endoscope on black."""
    rows, columns = np.mgrid[: size[1], : size[0]]
    far = np.hypot(columns - size[0] / 2, rows - size[1] / 2)[..., None] / (0.48 * size[1])
    mix = (0.5 * _cloud(rng, size, 6) + 0.5 * _cloud(rng, size, 40)) * np.clip(1.3 - far**2, 0, 1)
    return _mixed(np.where(far < 1, mix, 0), (3, 3, 4), (250, 150, 120), rng, 2)


def page(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Paper under a scanner, a shade darker to one side."""
    return _mixed(0.7 + 0.3 * _cloud(rng, size, 3), (200, 196, 186), (252, 252, 248), rng, 2)


def film(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Soft bones on a film."""
    picture = _mixed(_cloud(rng, size, 5) ** 2, (6, 6, 8), (150, 152, 156), rng, 5)
    draw = ImageDraw.Draw(picture)
    for x in np.linspace(0.2, 0.8, 5) * size[0]:
        draw.line((x, 0, x + size[0] * 0.05, size[1]), fill=(176, 178, 182), width=max(3, size[0] // 40))
    return picture.filter(ImageFilter.GaussianBlur(size[0] / 160))


def fundus(rng: Random, size: tuple[int, int]) -> Image.Image:
    """An orange disc with vessels."""
    picture = _mixed(_cloud(rng, size, 8), (120, 40, 10), (220, 110, 40), rng, 3)
    draw = ImageDraw.Draw(picture)
    for _ in range(18):
        points = np.cumsum(rng.normal(0, size[1] / 20, (14, 2)), 0) + np.array(size) * 0.5
        draw.line([tuple(p) for p in points], fill=(110, 20, 10), width=int(rng.integers(1, 5)))
    return picture.filter(ImageFilter.GaussianBlur(1))


def gauze(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A loose white weave with folds."""
    rows, columns = np.mgrid[: size[1], : size[0]]
    weave = ((np.sin(rows / 2.3) * np.sin(columns / 2.7)) > 0.3)[..., None] * 0.25
    return _mixed(0.6 * _cloud(rng, size, 7) + weave, (120, 110, 108), (240, 240, 236), rng, 3)


def hair(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Skin with hairs and a mole or two."""
    picture = _mixed(
        0.7 * _cloud(rng, size, 6) + 0.3 * _cloud(rng, size, 90), (180, 124, 100), (236, 190, 166), rng, 3
    )
    draw = ImageDraw.Draw(picture)
    for x, y in rng.random((70, 2)) * size:
        lean = rng.normal(0, 14, 2)
        draw.arc((x, y, x + 30 + abs(lean[0]), y + 30 + abs(lean[1])), 20, 120, fill=(60, 40, 34), width=1)
    return picture.filter(ImageFilter.GaussianBlur(0.6))


def theatre(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Cables, trays and lamps out of focus."""
    picture = _mixed(_cloud(rng, size, 10), (30, 44, 60), (150, 170, 180), rng, 3)
    draw = ImageDraw.Draw(picture)
    for _ in range(16):
        x, y = rng.random(2) * size
        shade = tuple(int(v) for v in rng.integers(20, 240, 3))
        draw.rectangle((x, y, x + rng.integers(20, 200), y + rng.integers(10, 120)), fill=shade)
    return picture.filter(ImageFilter.GaussianBlur(2))


def monitor(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Black, with a sweep and a table's rules."""
    picture = _mixed(np.zeros((size[1], size[0], 1)), (6, 6, 8), (6, 6, 8), rng, 2)
    draw = ImageDraw.Draw(picture)
    across = np.arange(0, size[0], 2)
    for level, colour in ((0.3, (0, 230, 80)), (0.55, (255, 80, 80)), (0.8, (240, 230, 60))):
        beat = np.exp(-(((across % 90) - 40) ** 2) / 20) - 0.3 * np.exp(-(((across % 90) - 50) ** 2) / 30)
        draw.line(
            [*zip(across.tolist(), (size[1] * (level - 0.1 * beat)).tolist(), strict=True)],
            fill=colour,
            width=2,
        )
    return picture


GROUNDS: tuple[Callable[[Random, tuple[int, int]], Image.Image], ...] = (
    scope, page, film, fundus, gauze, hair, theatre, monitor,
)  # fmt: skip


# -- writing ---------------------------------------------------------------------------------------

WAYS = (
    "overlay", "overlay", "small", "large", "tilted", "quarter", "dim", "outlined", "label", "mirrored",
    "aslant", "hand", *SCRIPTS,
)  # fmt: skip


def usable() -> tuple[str, ...]:
    """Return the ways whose fonts are here."""
    return tuple(way for way in WAYS if _font_path(way, np.random.default_rng(0)) is not None)


def _font_path(way: str, rng: Random) -> Path | None:
    names = (SCRIPTS[way][0],) if way in SCRIPTS else HANDS if way == "hand" else FONTS
    here = [path for name in names if (path := font_place(name)) is not None]
    return here[int(rng.integers(len(here)))] if here else None


def font_place(name: str) -> Path | None:
    return next((place for place in (TYPE / name, *_packaged(name)) if place.is_file()), None)


@cache
def _packaged(name: str) -> tuple[Path, ...]:
    import sys

    folders = {Path(folder) for folder in sys.path if folder}
    inside = ("", *(f"{name}/files" for name in PACKAGES), "cvttf_NotoSansCJK_Regular")
    return tuple(folder / place / name for folder in sorted(folders) for place in inside)


def _line(way: str, rng: Random) -> str:
    if way in SCRIPTS:
        return SCRIPTS[way][1]
    person, number = str(rng.choice(PEOPLE)), int(rng.integers(1000, 9999))
    return str(rng.choice([
        f"{person} 999 412 {number}", f"{person}", f"Hosp No H{number}{number}", f"{person} F 0{number % 9 + 1}.11.1948",
        f"NHS 999 {number % 900 + 100} {number}", f"ID:{number}77", f"Ward {number % 30} {person}",
    ]))  # fmt: skip


def _height(way: str, rng: Random, size: tuple[int, int]) -> int:
    """Pixels, growing with the picture as a device's own letters do."""
    least, most = {"small": (10, 14), "large": (44, 60)}.get(way, (15, 32))
    grown = rng.integers(least, most + 1) * max(0.6, size[1] / 1080) * (1.0 if size[1] > 700 else 1.3)
    return max(10, round(grown))


def _stamp(way: str, rng: Random, size: tuple[int, int]) -> Image.Image:
    path = _font_path(way, rng)
    assert path is not None
    font = ImageFont.truetype(path, _height(way, rng, size))
    stamp = lettered(_line(way, rng), font, 4)
    if way == "mirrored":
        stamp = ImageOps.mirror(stamp)
    if way == "aslant":
        wide, high = stamp.size
        shift = float(rng.uniform(-0.3, 0.3))
        stamp = stamp.transform(
            (wide, high + round(0.25 * high)), Image.Transform.AFFINE, (1, shift, 0, 0.02, 0.8, 0),
            Image.Resampling.BICUBIC,
        )  # fmt: skip
    turn = {
        "tilted": float(rng.uniform(-60, 60)),
        "quarter": float(rng.choice([90, 180, 270])),
        "hand": float(rng.uniform(-6, 6)),
    }
    return stamp.rotate(turn.get(way, 0.0), Image.Resampling.BICUBIC, expand=True)


def _placed(picture: Image.Image, way: str, rng: Random, taken: np.ndarray) -> list[Item]:
    stamp = _stamp(way, rng, picture.size)
    at = free_place(picture, stamp, rng, taken, edge=4, least=13, apart=12)
    return [_inked(picture, stamp, at, way, rng)] if at else []


def _inked(picture: Image.Image, stamp: Image.Image, at: tuple[int, int], way: str, rng: Random) -> Item:
    area = (*at, at[0] + stamp.width, at[1] + stamp.height)
    under = float(np.median(np.asarray(picture.crop(area).convert("L"))))
    light, dark = (
        [(255, 255, 255), (255, 240, 0), (0, 255, 120), (120, 220, 255)],
        [(0, 0, 0), (20, 20, 110), (120, 0, 0)],
    )
    choices = light if under < 135 else dark
    colour = choices[int(rng.integers(len(choices)))]
    if way == "dim":
        step = float(rng.integers(38, 56)) * (1 if under < 135 else -1)
        colour = (int(np.clip(under + step, 0, 255)),) * 3
    if way == "label":
        picture.paste([(250, 250, 244), (255, 236, 90), (200, 230, 255)][int(rng.integers(3))], area)
        colour = (10, 10, 20)
    if way == "outlined":
        picture.paste((0, 0, 0), area, stamp.filter(ImageFilter.MaxFilter(5)))
        colour = (255, 255, 255)
    picture.paste(colour, area, stamp)
    return item(picture, stamp, at, way)


def _strip(picture: Image.Image, rng: Random, taken: np.ndarray) -> list[Item]:
    """A device's own strip along the upper or lower edge: a name, a number, a date and a time."""
    size = picture.size
    height = _height("overlay", rng, size)
    band, top = round(height * 1.6), 0
    if rng.random() < 0.5:
        top = size[1] - band
    picture.paste(
        [(0, 0, 0), (20, 40, 90), (210, 214, 220)][int(rng.integers(3))], (0, top, size[0], top + band)
    )
    taken[max(0, top - 10) : top + band + 10] = True
    font = ImageFont.truetype(TYPE / FONTS[int(rng.integers(4))], height)
    found, left = [], max(4, size[0] // 60)
    for text in (str(rng.choice(PEOPLE)), f"H{rng.integers(100000, 999999)}", "14/02/2031", "11:42"):
        box = font.getbbox(text)
        stamp = Image.new("L", (int(box[2] - box[0]) + 4, int(box[3] - box[1]) + 4))
        if left + stamp.width >= size[0]:
            break
        ImageDraw.Draw(stamp).text((2 - box[0], 2 - box[1]), text, fill=255, font=font)
        at = (left, top + (band - stamp.height) // 2)
        shade = np.asarray(picture.crop((left, top, left + 4, top + 4)).convert("L")).mean()
        picture.paste(
            (255, 255, 255) if shade < 128 else (0, 0, 0),
            (*at, at[0] + stamp.width, at[1] + stamp.height),
            stamp,
        )
        found.append(item(picture, stamp, at, "strip"))
        left += stamp.width + size[0] // 12
    return found
