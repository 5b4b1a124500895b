"""Findings in words as a reviewer reads them: each in its sentence, those of the same words together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from mmbuilder.case.decided import Ruling, text_hash
from mmbuilder.case.due import day_again, day_due
from mmbuilder.case.freetext import Path, plain
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.casefile.places import place
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.form.faults import home
from mmbuilder.page.form.layout import called
from mmbuilder.page.form.view import asked_at
from mmbuilder.page.proposals import as_box, grouped
from mmbuilder.scrub import times_of_day
from mmbuilder.scrub.crossing import due
from mmbuilder.scrub.decided import Rulings, asked, open_boxes, open_words
from mmbuilder.scrub.plan import Decision, Layer, RedactionPlan, Span
from mmbuilder.scrub.walk import Located, Texts

AROUND = 110
"""Characters of a text that are shown on each side of a finding."""


@dataclass(frozen=True)
class Seen:
    """A finding in its sentence.

    Attributes:
        where: the place of the text, in words.
        address: where the form asks for it; empty where it does not.
        before, words, after: the sentence, cut at the finding.
        stand_in: what is written instead, if it goes.
        only_in: hash of the text, for a decision about this place alone.
    """

    where: str
    address: str
    before: str
    words: str
    after: str
    stand_in: str
    only_in: str


@dataclass(frozen=True)
class Group:
    """Findings of the same words.

    Attributes:
        words: as they stand first.
        kind: what the tool takes them for.
        reason: why they stay, if they do.
        asked: they could be a word as well as a name.
        places: every one of them.
    """

    words: str
    kind: str
    reason: str
    asked: bool
    places: tuple[Seen, ...]


@dataclass(frozen=True)
class Findings:
    """All findings of a case, by what is to be done with them.

    Attributes:
        open: would be removed, and nobody has decided.
        declared: on the private list.
        times: times of day, each by itself: told from the index event, or staying with the reason.
        dates: told as days from Day 0 or from the meeting, or as [date].
        decided_gone, decided_kept: as a reviewer decided.
        left: looked at and left in, with the reason.
    """

    open: tuple[Group, ...]
    declared: tuple[Group, ...]
    times: tuple[Group, ...]
    dates: tuple[Group, ...]
    decided_gone: tuple[Group, ...]
    decided_kept: tuple[Group, ...]
    left: tuple[Group, ...]


def findings(folder: CaseFolder, plan: RedactionPlan) -> Findings:
    """Sort what was found in the words of a case."""
    rulings = Rulings(folder.decided)
    sorted_: dict[str, list[tuple[Span, Seen]]] = {}
    texts = Texts(folder.case, folder.previous)
    months = _months(folder)
    for item in texts.items:
        for span in plan.texts.get(item.path, ()):
            heap = _heap(span, rulings.of(item.value, span))
            seen = _seen(item, span)
            if heap == "dates" and item.path in months:
                seen = replace(seen, stand_in=months[item.path])
            sorted_.setdefault(heap, []).append((span, seen))
    times = tuple(_group([one]) for one in sorted_.pop("times", ()))
    names = ("open", "declared", "dates", "decided_gone", "decided_kept", "left")
    return Findings(times=times, **{name: _grouped(sorted_.get(name, ())) for name in names})


def left_over(folder: CaseFolder, plan: RedactionPlan) -> tuple[int, dict[int, int]]:
    """Return what nobody has decided: findings in words, and places by the number of their picture.

    Places are counted as "Cover" puts them: the pieces of one line together.
    """
    words = len(open_words(Texts(folder.case, folder.previous).items, plan, folder.decided))
    places = {}
    for number, boxes in open_boxes(plan).items():
        drawn = [box for box in plan.images[number] if box.layer is Layer.AUTHOR]
        covers = [as_box(box) for box in drawn if box.decision is not Decision.KEEP]
        keeps = [as_box(box) for box in drawn if box.decision is Decision.KEEP]
        places[number] = len(grouped(boxes, covers, keeps))
    return words, places


def _months(folder: CaseFolder) -> dict[Path, str]:
    """What slides and papers tell of a day due or to look again, by the place of its text: its month."""
    meeting = folder.case.meeting.date if folder.case.meeting else None
    days: dict[Path, date | None] = {}
    for at, action in enumerate(folder.case.actions):
        days["actions", at, "due"] = day_due(action.due, meeting)
        days["actions", at, "review"] = day_again(action.review)
    days |= {
        ("previous actions", at, "due"): day_due(one.due, None) for at, one in enumerate(folder.previous)
    }
    return {
        path: f"{due.told(day, meeting).reveal()}, on {'paper' if path[-1] == 'review' else 'slides'}"
        for path, day in days.items()
        if day
    }


def _where(path: Path) -> tuple[str, str]:
    """Tell a place and its address as the form does; one that the form does not ask for as a fault would."""
    if slot_at(Case, path) is None:
        return place(path), ""
    return called(Case, path), asked_at(CASE, home(path, Case)).address


def _heap(span: Span, ruling: Ruling | None) -> str:
    if span.layer is Layer.DECLARED:
        return "declared"
    kept = span.decision is Decision.KEEP
    if ruling is not None and kept is (ruling is Ruling.KEEP):
        return "decided_kept" if kept else "decided_gone"
    if span.kind == times_of_day.KIND:
        return "times"
    if kept:
        return "left"
    return "open" if asked(span) else "dates"


def _seen(item: Located, span: Span) -> Seen:
    text = item.value
    start, end = max(0, span.start - AROUND), span.end + AROUND
    return Seen(
        *_where(item.path),
        ("… " if start else "") + text[start : span.start],
        text[span.start : span.end],
        text[span.end : end] + (" …" if end < len(text) else ""),
        span.stand_in,
        text_hash(text),
    )


def _grouped(found: Iterable[tuple[Span, Seen]]) -> tuple[Group, ...]:
    heaps: dict[tuple[str, str], list[tuple[Span, Seen]]] = {}
    for span, seen in found:
        heaps.setdefault((plain(seen.words), span.kind), []).append((span, seen))
    groups = [_group(heap) for heap in heaps.values()]
    return tuple(sorted(groups, key=lambda group: not group.asked))


def _group(heap: Sequence[tuple[Span, Seen]]) -> Group:
    span, seen = heap[0]
    asked = any("please decide" in one.reason for one, _ in heap)
    return Group(seen.words, span.kind, span.reason, asked, tuple(place for _, place in heap))
