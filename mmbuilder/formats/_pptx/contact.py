"""A contact sheet of a template: where the headline, the body, the foot and the DRAFT mark will stand."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from mmbuilder import fonts
from mmbuilder.formats._pptx.geometry import EMU, Box
from mmbuilder.formats._pptx.stage import Seat, Stage

if TYPE_CHECKING:
    from PIL.ImageDraw import ImageDraw
    from PIL.ImageFont import FreeTypeFont

_WIDTH, _GAP, _NAME = 480, 24, 40


def sheet(stage: Stage) -> bytes:
    """Return a PNG with a small drawing of each seat, side by side."""
    from PIL import Image, ImageDraw

    deck = stage.deck
    assert deck.slide_width
    assert deck.slide_height
    scale = _WIDTH / (deck.slide_width / EMU)
    height = round(deck.slide_height / EMU * scale)
    seats = (("opening", stage.opening), ("telling", stage.telling), ("pause", stage.pause))
    image = Image.new("RGB", (len(seats) * (_WIDTH + _GAP) + _GAP, height + _NAME + 2 * _GAP), "white")
    pen = ImageDraw.Draw(image)
    for place, (name, seat) in enumerate(seats):
        left = _GAP + place * (_WIDTH + _GAP)
        pen.text((left, _GAP / 2), name, "black", font=_face(20))
        _seat(pen, seat, left, _NAME, scale, height)
    file = io.BytesIO()
    image.save(file, "PNG")
    return file.getvalue()


def _seat(pen: ImageDraw, seat: Seat, left: float, top: float, scale: float, height: float) -> None:
    pen.rectangle((left, top, left + _WIDTH, top + height), outline="black", width=2)
    for name, box in (
        ("headline", seat.headline),
        ("body", seat.body),
        ("foot", seat.band),
        ("DRAFT", seat.draft),
    ):
        pen.rectangle(_placed(box, left, top, scale), outline="#17415c", width=2)
        pen.text((left + box.x * scale + 5, top + box.y * scale + 3), name, "#17415c", font=_face(15))


def _placed(box: Box, left: float, top: float, scale: float) -> tuple[float, float, float, float]:
    return (
        left + box.x * scale,
        top + box.y * scale,
        left + box.right * scale,
        top + box.bottom * scale,
    )


def _face(size: int) -> FreeTypeFont:
    from PIL import ImageFont

    return ImageFont.truetype(fonts.path(), size)
