"""What a reviewer decided about findings in words, applied to what was found; and what is still open.

A decision is about words, everywhere or in one text, and outlives a new search. What the author
declared goes whatever was decided: take it off the private list to keep it. A time of day that stays in a
review goes for readers elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from mmbuilder import uses
from mmbuilder.case.decided import Decisions, Ruling, text_hash
from mmbuilder.case.freetext import Path, plain
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan, Span
from mmbuilder.scrub.reasons import TYPED
from mmbuilder.scrub.surrogates import is_stand_in
from mmbuilder.scrub.times_of_day import KIND as TIME
from mmbuilder.scrub.times_of_day import PERHAPS as PERHAPS_A_TIME
from mmbuilder.scrub.walk import Located, Texts, digest


class Rulings:
    """The decisions of a case, to be looked up by the words of a finding."""

    def __init__(self, decisions: Decisions) -> None:
        # Later ones win, and one for a single text over one for everywhere.
        self._by_words = {(one.words.plain, one.only_in): one.ruling for one in decisions.findings}

    def of(self, text: str, span: Span) -> Ruling | None:
        """Return what was decided about a finding, if anything."""
        words = plain(text[span.start : span.end])
        only_here = self._by_words.get((words, text_hash(text)))
        return only_here or self._by_words.get((words, None))

    def applied(self, text: str, spans: Iterable[Span], *, outside: bool = False) -> Iterator[Span]:
        """Yield the findings of a text, each as it was decided; outside no time of day stays."""
        for span in spans:
            match self.of(text, span):
                case Ruling.KEEP if span.layer is not Layer.DECLARED and not (outside and span.kind == TIME):
                    yield replace(span, decision=Decision.KEEP, reason=TYPED)
                case Ruling.REMOVE if span.decision is Decision.KEEP and is_stand_in(span.stand_in):
                    yield replace(span, decision=Decision.REPLACE, reason=TYPED)
                case _:
                    yield span


def ruled(plan: RedactionPlan, folder: CaseFolder, texts: Texts) -> RedactionPlan:
    """Return a plan that no decision has touched, as the decisions of its case change it."""
    rulings, outside = Rulings(folder.decided), uses.load(folder.case.use).outside
    by_path = {item.path: item.value for item in texts.items}
    return replace(
        plan,
        texts={
            path: tuple(rulings.applied(by_path[path], spans, outside=outside))
            for path, spans in plan.texts.items()
        },
        case=digest(folder, texts),
    )


@dataclass(frozen=True, order=True)
class Place:
    """A finding in its text."""

    path: Path
    span: Span


def open_words(
    items: Iterable[Located], plan: RedactionPlan, decisions: Decisions
) -> Mapping[str, tuple[Place, ...]]:
    """Return what the tool would remove on its own and nobody has decided, by its words in small letters.

    What the author declared is decided already. A date becomes a day offset and a time of day the time
    from the index event, so none is asked about; figures that are perhaps a time are.
    """
    rulings = Rulings(decisions)
    found: dict[str, list[Place]] = {}
    for item in items:
        for span in plan.texts.get(item.path, ()):
            if asked(span) and rulings.of(item.value, span) is None:
                found.setdefault(plain(item.value[span.start : span.end]), []).append(Place(item.path, span))
    return {words: tuple(places) for words, places in found.items()}


def asked(span: Span) -> bool:
    """Whether somebody has to decide about a finding before anybody can sign."""
    goes = span.decision is Decision.REPLACE and span.layer is not Layer.DECLARED
    return goes and (span.letter != "C" or span.kind == PERHAPS_A_TIME)


SETTLED = 0.8
"""Share of a proposed box that the author's boxes must hold, for it to count as decided: a finder's box
is a few pixels wider than its text. It is covered in any case; only nobody is asked."""


def open_boxes(plan: RedactionPlan) -> Mapping[int, tuple[PixelBox, ...]]:
    """Return the boxes that the finders would cover and the author has not drawn, by number of the still."""
    found = {number: tuple(_undrawn(boxes)) for number, boxes in plan.images.items()}
    return {number: boxes for number, boxes in found.items() if boxes}


def _undrawn(boxes: Iterable[PixelBox]) -> Iterator[PixelBox]:
    given = list(boxes)
    drawn = [box for box in given if box.layer is Layer.AUTHOR]
    for box in given:
        if box.layer is not Layer.AUTHOR and box.decision is Decision.REPLACE and _held(box, drawn) < SETTLED:
            yield box


def _held(box: PixelBox, drawn: Iterable[PixelBox]) -> float:
    """Return the share of a box that lies in any of the others."""
    parts = [
        (
            max(box.left, one.left),
            max(box.top, one.top),
            min(box.right, one.right),
            min(box.bottom, one.bottom),
        )
        for one in drawn
    ]
    parts = [part for part in parts if part[0] < part[2] and part[1] < part[3]]
    across = sorted({edge for part in parts for edge in (part[0], part[2])})
    down = sorted({edge for part in parts for edge in (part[1], part[3])})
    area = sum(
        (right - left) * (bottom - top)
        for left, right in pairwise(across)
        for top, bottom in pairwise(down)
        if any(p[0] <= left and right <= p[2] and p[1] <= top and bottom <= p[3] for p in parts)
    )
    return area / ((box.right - box.left) * (box.bottom - box.top))
