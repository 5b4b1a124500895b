"""Two events in an order that cannot be: both lines are quoted, and the offset that would reconcile them."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import NamedTuple

from mmbuilder.case.clocks import ClockOffset
from mmbuilder.case.model import Event
from mmbuilder.case.span import counter
from mmbuilder.case.when import When
from mmbuilder.casefile.context import EVENTS, Context, clock_face
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.terms import EventKind


class Placed(NamedTuple):
    """An event with its position in the case and its time."""

    place: int
    event: Event
    moment: Moment


def earliest(ctx: Context, kind: EventKind) -> Placed | None:
    """Return the event of a kind that can have been first; None where none has a lower bound."""
    found = [Placed(*item) for item in ctx.of_kind(kind) if item[2].lo is not None]
    return min(found, key=lambda one: one.moment.lo or 0.0, default=None)


def too_early(
    ctx: Context, kind: EventKind, follows: EventKind, expected: str, severity: Severity = Severity.STOP
) -> Iterator[Finding]:
    """Yield each event of a kind that is certainly before the earliest of the kind it follows.

    What is before the first sign is told as that, and of no later kind.
    """
    first = earliest(ctx, follows)
    if first is None:
        return
    sign = None if follows is EventKind.FIRST_SIGN else earliest(ctx, EventKind.FIRST_SIGN)
    for late in (Placed(*item) for item in ctx.of_kind(kind)):
        if sign is not None and late.moment.certainly_before(sign.moment):
            continue
        if late.moment.certainly_before(first.moment):
            yield _out_of_order(ctx, late, first, expected, severity)
        else:
            yield from _by_other_records(ctx, late, first, expected)


def _by_other_records(ctx: Context, late: Placed, first: Placed, expected: str) -> Iterator[Finding]:
    """Tell another record of either event by which the two are in an order that cannot be.

    It is asked about and does not stop: records are kept side by side, and that one gives no interval.
    """
    text = f"by this record the {late.event.kind.value} is earlier than the {first.event.kind.value}"
    for mine in (late, first):
        for at, other in enumerate(mine.event.also):
            moment = ctx.moment(other.when, other.clock)
            if moment is None or not moment.placed or other.when is None:
                continue
            ends = (moment, first.moment) if mine is late else (late.moment, moment)
            if ends[0].certainly_before(ends[1]):
                face, others = _face(other.when), first if mine is late else late
                yield Finding(
                    (*EVENTS, mine.place, "also", at, "when"),
                    text,
                    found=f"line {ctx.line((*EVENTS, others.place, 'when'))}, the {others.event.kind.value}",
                    expected=f"{expected}; if the record stands, no interval is told by it",
                    example="correct one of the two times, or name the clock each was read from",
                    quote=f"when: {face}" if face else "",
                    severity=Severity.WARN,
                )


def _out_of_order(ctx: Context, early: Placed, first: Placed, expected: str, severity: Severity) -> Finding:
    """Tell an event that is certainly before the one it has to follow."""
    assert early.moment.hi is not None
    assert first.moment.lo is not None
    seconds = ceil((first.moment.lo - early.moment.hi) * 60 - 1e-6)
    seen, shown = _face(early.event.when), _face(first.event.when)
    line = ctx.line((*EVENTS, first.place, "when"))
    return Finding(
        (*EVENTS, early.place, "when"),
        f"{_named(early.event, seen)} is earlier than the {_named(first.event, shown)} by {told(seconds)}",
        found=f"line {line}, the {first.event.kind.value}{f': `when: {shown}`' if shown else ''}",
        expected=expected,
        example=_reconciled(ctx, early.event, first.event, seconds),
        quote=f"when: {seen}" if seen else "",
        severity=severity,
    )


def _face(when: When) -> str:
    """The time as its line has it: of day, or into a recording."""
    stamp = when.first or when.last
    return counter(stamp.seconds) if when.elapsed and stamp is not None else clock_face(when)


def told(seconds: float) -> str:
    """Return a length as it may be written in the case: `45 s`, `6 min`, `6 min 20 s`, `3 h 5 min`."""
    minutes, rest = divmod(round(abs(seconds)), 60)
    hours, minutes = divmod(minutes, 60)
    parts = ((hours, "h"), (minutes, "min"), (rest, "s"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 s"


def _named(event: Event, face: str) -> str:
    return f"{event.kind.value} {face}".strip()


def _reconciled(ctx: Context, early: Event, first: Event, seconds: int) -> str:
    """Say which offset would bring both into order, of the first of their clocks that may be wrong."""
    for event, shift in ((early, seconds), (first, -seconds)):
        stands = ctx.read_from(event)
        if stands is not None and not stands.reference:
            return _offset(stands, shift, anchored=ctx.anchored(event))
    return "correct one of the two times, or name the clock each was read from"


def _offset(stands: ClockOffset, shift: int, *, anchored: bool) -> str:
    least = "at least" if shift > 0 else "at most"
    if stands.recording:
        way = "later" if shift > 0 else "earlier"
        return f"if the start of that recording is wrong, it has to be at least {told(shift)} {way}"
    had = round((stands.offset.lo or 0.0) * 60) if stands.offset is not None else 0
    offset = f"offset: {_signed(had + shift)}"
    if anchored:
        return f"if the anchor of that clock is wrong, in its place, {least}:\n{offset}"
    if had:
        return f"if the offset of that clock is wrong, it has to be {least}:\n{offset}"
    word = "slow" if shift > 0 else "fast"
    return f"if that clock is at least {told(shift)} {word}, say so in the list of clocks:\n{offset}"


def _signed(seconds: int) -> str:
    return f"{'-' if seconds < 0 else '+'}{told(seconds)}"
