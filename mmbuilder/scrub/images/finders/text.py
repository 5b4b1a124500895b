"""Text burned into a picture: found by its look, covered whether or not it can be read.

Reading decides only what may stay (`_allow`). Weights: `_weights/NOTICE.md`.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders import _allow, _closer, _ends, _rows, _spoken
from mmbuilder.scrub.images.finders._detect import lines
from mmbuilder.scrub.images.finders._pixels import bgr
from mmbuilder.scrub.images.finders._rows import Row
from mmbuilder.scrub.images.finders._ruled import without_rules
from mmbuilder.scrub.plan import Decision, Layer, PixelBox

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

    from mmbuilder.scrub.images.areas import Area
    from mmbuilder.scrub.images.finders._turned import Line

NAME = "text in pictures"
LOOKS_FOR = ("text in the picture",)
EXTRA, NEEDS = "ocr", ("onnxruntime", "cv2")
KIND = "text in the picture"
READ_ALONG = 1.6
"""A rectangle higher than this many times its width holds turned text, which is covered unread."""
RETRIED = 8.0
"""Heights; a longer line is read once: a tight margin spoils the first letter of a short label, not a line."""
LONG, START = 12.0, 8.0
"""Heights from which a line is long, and that its start is: if a strange word stands in it, the rest is not read."""
AGAIN_LEAST = 0.6
"""Least score of a line at a later look. The first look covers what looks a little like text; in
texture a network sees a little of it somewhere at every look, and covering that would go on for ever."""
LAST = 2
"""Letters that a name may end in and that are a word of a device by themselves: `al`, `re`, `os`."""
MUTE = "not three letters can be made out"
WITHIN = 0.6
"""Share of a line inside another from which it is the same, seen again."""
BESIDE = 3.0
"""Heights a device's number may stand from its label or unit."""


def find(image: Image) -> tuple[PixelBox, ...]:
    """Return what looks like text: to be covered, or to stay with the reason why."""
    pixels, ruled = _shown(image)
    return _boxes(image, pixels, _closer.without_texture(lines(pixels, ruled=ruled), pixels))


def find_again(image: Image, parts: Sequence[Area]) -> tuple[PixelBox, ...]:
    """Return what still looks like text in parts of a covered picture, and surely.

    Args:
        image: the whole picture.
        parts: left, top, right and bottom of what is to be looked at.
    """
    pixels, ruled = _shown(image)
    sure = [line for line in lines(pixels, parts, ruled) if line.score >= AGAIN_LEAST]
    return _boxes(image, pixels, _closer.without_texture(sure, pixels, covered=True))


def find_read(
    image: Image, passes: Callable[[str], str], unread: Callable[[PixelBox], str]
) -> tuple[PixelBox, ...]:
    """Return each line that surely looks like text: to be covered, or to stay with the reason why.

    Args:
        image: the upright picture.
        passes: told what a line says, returns why it may stay; nothing if it may not.
        unread: told where a line is, returns why it may stay whatever it says; nothing if it has to be read.
    """
    pixels, ruled = _shown(image)
    sure = [line for line in lines(pixels, ruled=ruled) if line.score >= AGAIN_LEAST]
    sure = _closer.without_texture(sure, pixels)
    rows = [_hull(line) for line in sure]
    known = [replace(row, reason=unread(_box(row, *image.size))) for row in rows]
    rest = [(line, row) for line, row in zip(sure, known, strict=True) if not row.reason]
    told = [row for row in known if row.reason] + _read_out(rest, pixels, passes)
    return tuple(sorted({_box(row, *image.size) for row in told}))


def _shown(image: Image) -> tuple[NDArray[np.uint8], NDArray[np.uint8] | None]:
    """Return the pixels without rules, and with them if there are any."""
    ruled = bgr(image)
    pixels = without_rules(ruled)
    return pixels, None if pixels is ruled else ruled


def _read_out(
    found: Sequence[tuple[Line, Row]], pixels: NDArray[np.uint8], passes: Callable[[str], str]
) -> list[Row]:
    """Give each line that may stay by what it says, or beside one that does, its reason."""
    read = [_passed(row, _spoken.readings(line, pixels), passes) for line, row in found]
    fine = [row for row in read if row.reason]
    return [
        row if row.reason else replace(row, reason=_excused(line, row, fine, pixels))
        for (line, _), row in zip(found, read, strict=True)
    ]


def _hull(line: Line) -> Row:
    return Row(*line.hull, line.score)


def _passed(row: Row, readings: Iterable[str], passes: Callable[[str], str]) -> Row:
    return replace(row, reason=next(filter(None, map(passes, readings)), ""))


def _excused(line: Line, row: Row, fine: list[Row], pixels: NDArray[np.uint8]) -> str:
    """Return why a line that does not pass by its words may stay: it is a piece of one that does, or says nothing."""
    around = next((other for other in fine if _rows.held(row, other) > WITHIN), None)
    if around:
        return around.reason
    return MUTE if _spoken.mute(line, pixels) else ""


def _boxes(image: Image, pixels: NDArray[np.uint8], found: Iterable[Line]) -> tuple[PixelBox, ...]:
    whole = [line if line.upright else _ends.followed_aslant(line, pixels) for line in found]
    read = _labelled(_read_all(_placed(whole), pixels))
    rows = [(row if row.reason else _ends.followed(row, pixels)).padded() for row in read]
    upright = [row for row in rows if not row.reason and not row.leaning]
    filled = _rows.bridges(upright, [row for row in rows if row.reason])
    filled += _rows.strips(upright, image.width, image.height)
    boxes = (_box(row, image.width, image.height) for row in (*rows, *filled))
    return tuple(sorted({box for box in boxes if box.left < box.right and box.top < box.bottom}))


def _placed(found: Iterable[Line]) -> list[Row]:
    upright, leaning = list[Row](), list[Row]()
    for line in found:
        where = upright if line.upright else leaning
        # A leaning line is padded along its own slope; an upright one after it was read, unpadded.
        for left, top, right, bottom in (line if line.upright else line.padded()).rectangles():
            where.append(Row(left, top, right, bottom, line.score, leaning=not line.upright))
    return [*_rows.single(upright), *leaning]


def _read_all(rows: list[Row], pixels: NDArray[np.uint8]) -> list[tuple[Row, str]]:
    return [(row, _words(row, pixels)) for row in rows]


def _words(row: Row, pixels: NDArray[np.uint8]) -> str:
    """Read a row as it was found, a short one again with its margin; nothing if it cannot be read."""
    from mmbuilder.scrub.images.finders._read import read

    if row.leaning or row.height > READ_ALONG * (row.right - row.left):
        return ""
    if row.right - row.left > LONG * row.height and _starts_strangely(row, pixels):
        return ""
    short = row.right - row.left < RETRIED * row.height
    for each in (row, row.padded()) if short else (row,):
        strip = _strip(each, pixels)
        if strip.size and (text := read(strip)):
            return text
    return ""


def _starts_strangely(row: Row, pixels: NDArray[np.uint8]) -> bool:
    """Whether the start of a line is read for certain, and a word in it may not stay; the last one may be cut."""
    from mmbuilder.scrub.images.finders._read import read

    strip = _strip(replace(row, right=row.left + START * row.height), pixels)
    return bool(strip.size) and any(map(_allow.strange, read(strip).split()[:-1]))


def _strip(row: Row, pixels: NDArray[np.uint8]) -> NDArray[np.uint8]:
    left, top, right, bottom = (max(0, round(side)) for side in row.place)
    return pixels[top:bottom, left:right]


def _labelled(read: list[tuple[Row, str]]) -> list[Row]:
    """Give each row that may stay its reason; the words go no further.

    One letter or two alone may be a side or a unit, but not at the end of a line that is covered: there they are
    its last.
    """
    first = [(_reasoned(row, _allow.allowed(text)), text) for row, text in read]
    labels = [row for row, _ in first if row.reason.startswith(_allow.SETTING.kind)]
    covered = [row for row, _ in first if not row.reason]
    first = [
        (replace(row, reason="") if len(text) <= LAST and _rows.on_line(row, covered) else row, text)
        for row, text in first
    ]
    return [
        _reasoned(row, _allow.VALUE)
        if not row.reason and _allow.bare_number(text) and any(_beside(row, label) for label in labels)
        else row
        for row, text in first
    ]


def _reasoned(row: Row, allowance: _allow.Allowance | None) -> Row:
    return replace(row, reason=f"{allowance.kind}: {allowance.reason}") if allowance else row


def _beside(row: Row, label: Row) -> bool:
    reach = BESIDE * min(row.height, label.height)
    across = max(row.left, label.left) - min(row.right, label.right)
    down = max(row.top, label.top) - min(row.bottom, label.bottom)
    return across <= reach and down <= reach / BESIDE


def _box(row: Row, width: int, height: int) -> PixelBox:
    return PixelBox(
        max(0, floor(row.left)),
        max(0, floor(row.top)),
        min(width, ceil(row.right)),
        min(height, ceil(row.bottom)),
        KIND,
        Layer.MODEL,
        Decision.KEEP if row.reason else Decision.REPLACE,
        row.reason or f"looks like text; confidence {row.score:.2f}",
    )
