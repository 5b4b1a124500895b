"""One burned-in piece of text: how it is written, and which pixels of the picture hold its ink."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont, ImageOps

from mmbuilder import fonts

NOTO = Path("/usr/share/fonts/truetype/noto")
SCRIPTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "arabic": ("NotoSansArabic-Regular.ttf", ("مريض تجريبي ١٢٣٤", "مستشفى خيالي")),
    "devanagari": ("NotoSansDevanagari-Regular.ttf", ("काल्पनिक रोगी ९९९", "परीक्षण वार्ड")),
    "hebrew": ("NotoSansHebrew-Regular.ttf", ("חולה בדוי 0123",)),
    "thai": ("NotoSansThai-Regular.ttf", ("ผู้ป่วยสมมุติ 42",)),
    "greek or cyrillic": ("NotoSans-Regular.ttf", ("Πλάσμα Φαντασίας", "Вымышленный Больной")),
}
"""Script -> its font and invented words; a script whose font is not installed is not drawn."""

PEOPLE = ("QUENDLEBY", "Tharsko", "Ovrindale", "VELLAMONT", "Skarrow", "Ipswenny", "Mr O. Drexholm")
"""Invented surnames."""


@dataclass(frozen=True)
class Style:
    """How one item is written; heights in pixels."""

    kind: str
    height: tuple[int, int]
    turns: tuple[float, ...] = (0.0,)
    contrast: tuple[int, int] = (90, 220)
    boxed: bool = False
    mirrored: bool = False
    script: str = ""


STYLES = (
    Style("plain", (16, 34)),
    Style("small", (10, 13)),
    Style("large", (40, 56)),
    Style("turned", (14, 30), turns=(90, 270, 180)),
    Style("tilted", (16, 34), turns=(-32, -18, -9, 8, 15, 27, 45)),
    Style("low contrast", (18, 32), contrast=(24, 40)),
    Style("label", (14, 26), boxed=True, turns=(0, 0, 90, -7)),
    Style("mirrored", (18, 30), mirrored=True),
    *(Style(name, (16, 30), script=name) for name in SCRIPTS),
)


@dataclass(frozen=True)
class Item:
    """An item of a picture: its kind, and a mask of its ink the size of the picture."""

    kind: str
    ink: np.ndarray


def usable() -> tuple[Style, ...]:
    """Return the styles whose fonts are here."""
    return tuple(style for style in STYLES if not style.script or (NOTO / SCRIPTS[style.script][0]).is_file())


def words(rng: np.random.Generator, style: Style) -> str:
    if style.script:
        return str(rng.choice(SCRIPTS[style.script][1]))
    number = int(rng.integers(1000, 9999))
    return str(
        rng.choice(
            [
                f"{rng.choice(PEOPLE)} {number}",
                f"999 {rng.integers(100, 999)} {number}",
                f"{rng.integers(1, 28):02d}/{rng.integers(1, 12):02d}/19{rng.integers(30, 99)}",
                f"MRN {number}{number}",
                f"{rng.choice(PEOPLE)}, DOB 0{rng.integers(1, 9)}-Mar-1951",
                f"Op: Dr {rng.choice(PEOPLE)}",
                f"SN {number}-{rng.integers(10, 99)}X",
            ]
        )
    )


@cache
def face(script: str, height: int) -> ImageFont.FreeTypeFont:
    """Return a face whose capitals with descenders stand about `height` pixels high."""
    path = NOTO / SCRIPTS[script][0] if script else fonts.path(bold=height % 2 == 0)
    return ImageFont.truetype(path, height)


def place(picture: Image.Image, style: Style, rng: np.random.Generator, taken: np.ndarray) -> Item | None:
    """Write one item on `picture` where nothing stands yet; None where no place was found."""
    stamp = _stamp(words(rng, style), style, rng)
    for _ in range(40):
        wide, high = picture.width - stamp.width, picture.height - stamp.height
        if wide <= 8 or high <= 8:
            return None
        left, top = int(rng.integers(4, wide - 3)), int(rng.integers(4, high - 3))
        area = (
            slice(max(0, top - 14), top + stamp.height + 14),
            slice(max(0, left - 14), left + stamp.width + 14),
        )
        if not taken[area].any():
            taken[area] = True
            return _inked(picture, stamp, (left, top), style, rng)
    return None


def _stamp(text: str, style: Style, rng: np.random.Generator) -> Image.Image:
    font = face(style.script, int(rng.integers(*style.height, endpoint=True)))
    left, top, right, bottom = font.getbbox(text)
    stamp = Image.new("L", (int(right - left) + 6, int(bottom - top) + 6))
    ImageDraw.Draw(stamp).text((3 - left, 3 - top), text, fill=255, font=font)
    if style.mirrored:
        stamp = ImageOps.mirror(stamp)
    return stamp.rotate(float(rng.choice(style.turns)), Image.Resampling.BICUBIC, expand=True)


def _inked(
    picture: Image.Image, stamp: Image.Image, at: tuple[int, int], style: Style, rng: np.random.Generator
) -> Item:
    area = (*at, at[0] + stamp.width, at[1] + stamp.height)
    under = np.asarray(picture.crop(area).convert("L"), dtype=float).mean()
    step = float(rng.integers(*style.contrast))
    ink = int(under + step if under < 128 else under - step)
    colour = tuple(int(np.clip(ink + rng.integers(-16, 17), 0, 255)) for _ in range(3))
    if style.boxed:
        picture.paste((244, 244, 236), area)
        colour = (20, 20, 40)
    picture.paste(colour, area, stamp)
    whole = np.zeros((picture.height, picture.width), bool)
    whole[area[1] : area[3], area[0] : area[2]] = np.asarray(stamp) > 100
    return Item(style.kind, whole)


def softened(picture: Image.Image, rng: np.random.Generator) -> Image.Image:
    """Blur a little, as a camera does."""
    return picture.filter(ImageFilter.GaussianBlur(float(rng.choice([0.0, 0.0, 0.5, 0.8]))))
