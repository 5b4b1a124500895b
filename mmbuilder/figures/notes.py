"""What is told in words under the chart: T+0, the clock, sources that disagree, why readings are missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.timeline import Interval, Timeline
from mmbuilder.figures.entries import label
from mmbuilder.figures.style import wrap
from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import EMPTY, SafeText, clip, fill, join, number, wording

_LETTERS = (
    wording("a"), wording("b"), wording("c"), wording("d"), wording("e"), wording("f"), wording("g"),
    wording("h"), wording("i"), wording("j"), wording("k"), wording("l"),
)  # fmt: skip

Anchor = tuple[str, int] | SafeText
"""An event's key, or the reason of a gap."""


@dataclass(frozen=True)
class Letters:
    """Which letter stands for which note; given out once, for the whole story."""

    given: tuple[Anchor, ...]

    def of(self, anchor: Anchor) -> SafeText:
        """Return the letter of an event or of a reason, or nothing."""
        if anchor not in self.given:
            return EMPTY
        place = self.given.index(anchor)
        return _LETTERS[place] if place < len(_LETTERS) else wording("*")


def letters(timeline: Timeline, lettered: Iterable[SafeText]) -> Letters:
    """Give letters to conflicting times in order, then to the reasons that found no room in their gap."""
    conflicts: list[Anchor] = [("event", event.number) for event in timeline.events if event.others]
    return Letters((*conflicts, *dict.fromkeys(lettered)))


def notes(
    shown: Timeline,
    given: Letters,
    told: Iterable[Interval],
    unnamed: Iterable[SafeText],
    undrawn: Iterable[SafeText],
) -> tuple[SafeText, ...]:
    """Return every note that what is shown calls for; `unnamed` are bars without room for their name."""
    extra = join(", ", undrawn)
    lost = fill("not drawn: {extra}", extra=extra) if extra else EMPTY
    return tuple(note for note in (*_notes(shown, given, told), lost, *unnamed) if note)


def _notes(shown: Timeline, given: Letters, told: Iterable[Interval]) -> Iterator[SafeText]:
    yield fill("T+0 = {zero}", zero=shown.zero) if shown.zero else EMPTY
    yield shown.clock
    yield from (fill("{name}: {length}", name=i.name, length=lengths(i)) for i in told)
    yield from _conflicts(shown, given)
    yield from _reasons(shown, given)
    if any(line.artefacts for line in shown.series):
        yield wording("× artefact")


def _conflicts(shown: Timeline, given: Letters) -> Iterator[SafeText]:
    for event in shown.events:
        letter = given.of(("event", event.number))
        if letter and event.others:
            times = [(event.at, event.source), *((other.at, other.source) for other in event.others)]
            yield fill(
                "{letter}: {what} {times}",
                letter=letter,
                what=clip(label(event), 3),
                times=join(" or ", (_timed(clock(at), source) for at, source in times)),
            )


def _timed(when: SafeText, source: SafeText) -> SafeText:
    return fill("{when} ({source})", when=when, source=source) if source else when


def _reasons(shown: Timeline, given: Letters) -> Iterator[SafeText]:
    reasons = {reason_of(gap.reason): None for line in shown.series for gap in line.gaps}
    for reason in sorted(reasons, key=given.of):
        letter = given.of(reason)
        if letter:
            yield fill("{letter}: {reason}", letter=letter, reason=reason)


def reason_of(reason: SafeText) -> SafeText:
    """Return why readings are missing, or that nobody said why."""
    return reason or wording("no readings, reason not stated")


def paragraph(parts: tuple[SafeText, ...], limit: float, most: int) -> tuple[SafeText, ...]:
    """Break the notes into lines; those that do not fit are counted, not lost in silence."""
    for kept in range(len(parts), 0, -1):
        left_out = len(parts) - kept
        more = fill("{n} more notes not shown", n=number(left_out)) if left_out else EMPTY
        lines = wrap(join("  ·  ", (*parts[:kept], more)), limit)
        if len(lines) <= most:
            return lines
    return wrap(clip(parts[0], 40), limit)[:most] if parts else ()
