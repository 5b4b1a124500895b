"""What the finders found in a still, as it is put to a person: what is open, and what stays."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from mmbuilder.page.stills import Box
from mmbuilder.scrub.decided import open_boxes
from mmbuilder.scrub.images.again import MOSTLY, covered_share
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan

WASTE = 1.3
"""How many times the area of its parts one box round them may have, to be put instead of them."""

_SURE = re.compile(r"(.*); confidence (\d\.\d+)")


@dataclass(frozen=True)
class Proposal:
    """Boxes that belong together: the pieces of one line, or of one slanting line.

    Attributes:
        parts: what would be covered.
        kind: what it is.
        sure: how sure the finder is, in words; empty if it does not say.
        beside: whether it touches what the author covers: a line that reaches further than its cover.
    """

    parts: tuple[PixelBox, ...]
    kind: str
    sure: str
    beside: bool = False

    @property
    def box(self) -> Box:
        """One box round all parts."""
        return as_box(_round(self.parts))

    @property
    def key(self) -> str:
        """Its name on the page."""
        return "proposal-" + "-".join(map(str, self.box))

    @property
    def boxes(self) -> tuple[Box, ...]:
        """The parts as boxes to be drawn."""
        return tuple(as_box(part) for part in self.parts)


def open_proposals(
    found: Iterable[PixelBox], covers: Sequence[Box], keeps: Sequence[Box]
) -> tuple[PixelBox, ...]:
    """Return what was found to be covered and the author has neither covered nor kept, as the sign-off asks.

    Args:
        found: the boxes of a picture, as a plan holds them; the author's in it may be older.
        covers: the author's covers.
        keeps: the author's keeps.
    """
    drawn = [as_pixels(box) for box in (*covers, *keeps)]
    boxes = (*drawn, *(box for box in found if box.layer is not Layer.AUTHOR))
    return open_boxes(RedactionPlan(images={1: boxes})).get(1, ())


def grouped(boxes: Iterable[PixelBox], covers: Sequence[Box], keeps: Sequence[Box]) -> tuple[Proposal, ...]:
    """Return what is open as one proposal for all boxes of a kind that meet."""
    hidden, stays = [as_pixels(box) for box in covers], [as_pixels(box) for box in keeps]
    made = [_proposal(group, hidden, stays) for group in _meeting(boxes)]
    return tuple(sorted(made, key=lambda one: (one.box[1], one.box[0])))


def staying(found: Iterable[PixelBox], covers: Sequence[Box], keeps: Sequence[Box]) -> tuple[PixelBox, ...]:
    """Return what a finder found and leaves of itself; what the author decided is left out."""
    decided = [as_pixels(box) for box in (*covers, *keeps)]
    return tuple(
        box
        for box in found
        if box.layer is not Layer.AUTHOR and box.decision is Decision.KEEP and not _mostly_in(box, decided)
    )


def _proposal(group: Sequence[PixelBox], hidden: Sequence[PixelBox], stays: Sequence[PixelBox]) -> Proposal:
    whole = _round(group)
    parts = tuple(sorted(group))
    if _area(whole) <= WASTE * sum(map(_area, group)) and not any(_meet(whole, keep) for keep in stays):
        parts = (whole,)
    told = max((_SURE.fullmatch(box.reason) for box in group), key=_confidence)
    sure = f"{round(100 * _confidence(told))} % sure" if told else ""
    return Proposal(parts, group[0].kind, sure, any(_meet(part, box) for part in parts for box in hidden))


def _confidence(told: re.Match[str] | None) -> float:
    return float(told[2]) if told else 0.0


def _meeting(boxes: Iterable[PixelBox]) -> Iterator[list[PixelBox]]:
    groups: list[list[PixelBox]] = []
    for box in boxes:
        near = [group for group in groups if any(box.kind == one.kind and _meet(box, one) for one in group)]
        groups = [group for group in groups if group not in near]
        groups.append([box, *(one for group in near for one in group)])
    yield from groups


def _meet(one: PixelBox, other: PixelBox) -> bool:
    """Whether two boxes touch or overlap."""
    return (
        one.left <= other.right
        and other.left <= one.right
        and one.top <= other.bottom
        and other.top <= one.bottom
    )


def _round(boxes: Sequence[PixelBox]) -> PixelBox:
    return PixelBox(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
        boxes[0].kind,
    )


def _area(box: PixelBox) -> int:
    return (box.right - box.left) * (box.bottom - box.top)


def _mostly_in(box: PixelBox, others: Sequence[PixelBox]) -> bool:
    return any(covered_share(box, [other]) >= MOSTLY for other in others)


def as_pixels(box: Box) -> PixelBox:
    """Return a box by its edges."""
    left, top, width, height = box
    return PixelBox(left, top, left + width, top + height)


def as_box(box: PixelBox) -> Box:
    """Return a box by its corner and size."""
    return box.left, box.top, box.right - box.left, box.bottom - box.top
