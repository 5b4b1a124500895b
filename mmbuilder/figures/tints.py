"""Tinted stretches behind the lanes, and plates that take on the tint they stand on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from mmbuilder.figures.sheet import Box, Fill, Item, rectangle
from mmbuilder.figures.style import Ink


class Tint(NamedTuple):
    """A stretch and its colour."""

    box: Box
    ink: Ink


def patches(plates: Iterable[Fill], tints: Sequence[Tint], ground: Iterable[Item]) -> Iterator[Fill]:
    """Tint what of each plate lies on a tinted stretch, unless white paper lies between them."""
    papers = [_box(item) for item in ground if isinstance(item, Fill) and item.ink is Ink.WHITE]
    for plate in map(_box, plates):
        if not any(plate.overlaps(paper) for paper in papers):
            yield from (rectangle(_shared(plate, box), ink) for box, ink in tints if plate.overlaps(box))


def _box(fill: Fill) -> Box:
    across, down = zip(*fill.points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def _shared(one: Box, two: Box) -> Box:
    return Box(
        max(one.left, two.left), max(one.top, two.top), min(one.right, two.right), min(one.bottom, two.bottom)
    )
