"""How far a clock stands from the reference, worked out by the project's own clocks from one or two pairs.

Nothing is calculated here: two readings of one moment become anchors of a case with two clocks, and
`case.clocks` says the rest, in the words in which a deck says it.
"""

from __future__ import annotations

from dataclasses import dataclass

from pydantic_core import PydanticCustomError

from mmbuilder.case.clocks import ClockFault, ClockOffset, Reckoner
from mmbuilder.case.model import Anchor
from mmbuilder.case.when import When, parse_when
from mmbuilder.page.parts._bare import clock, day_of, reckoner
from mmbuilder.safe.moment import Elapsed, duration

REFERENCE = "reference clock"
"""The other clock, where nobody has named it."""


@dataclass(frozen=True)
class Pair:
    """One moment on two clocks, as it was typed."""

    reads: str
    reference: str

    @property
    def whole(self) -> bool:
        """Whether both were typed."""
        return bool(self.reads and self.reference)


@dataclass(frozen=True)
class Told:
    """What the pairs say.

    Attributes:
        words: the offset in words, then the drift.
        faults: what is wrong, as beats of the command line, by the field they stand at.
        looks: what is worth a look, likewise; it stops nothing.
    """

    words: tuple[str, ...] = ()
    faults: tuple[tuple[str, dict[str, str]], ...] = ()
    looks: tuple[dict[str, str], ...] = ()


def told(name: str, reference: str, first: Pair, second: Pair, day_zero: str = "") -> Told:
    """Say how a clock stands to the reference.

    Args:
        name: of the clock.
        reference: name of the other clock.
        first: the first pair.
        second: another pair, from later; empty if there is none.
        day_zero: date of Day 0 as the case has it, for readings with a date.
    """
    typed = {"first": first} | ({"second": second} if second.reads or second.reference else {})
    read = {
        f"{pair}-{side}": _read(getattr(value, side))
        for pair, value in typed.items()
        for side in ("reads", "reference")
    }
    wrong = tuple((place, value) for place, value in read.items() if isinstance(value, dict))
    if wrong:
        return Told(faults=wrong)
    times = {place: value for place, value in read.items() if isinstance(value, When)}
    return _said(name, reference, _reckoner(name, reference, times, day_zero))


def _read(words: str) -> When | dict[str, str]:
    try:
        return parse_when(words)
    except PydanticCustomError as fault:
        return {"text": fault.message(), **{key: str(beat) for key, beat in (fault.context or {}).items()}}


def _reckoner(name: str, reference: str, times: dict[str, When], day_zero: str) -> Reckoner:
    """Return the sums of a case of two clocks, whose index event is the first pair on the reference."""
    anchors = [
        Anchor(reads=times[f"{pair}-reads"], reference=times[f"{pair}-reference"])
        for pair in ("first", "second")
        if f"{pair}-reads" in times
    ]
    clocks = (clock(reference, reference=True), clock(name, anchors=tuple(anchors)))
    return reckoner(clocks, anchors[0].reference, day_of(day_zero))


def _said(name: str, reference: str, sums: Reckoner) -> Told:
    faults = list(sums.faults())
    stops = tuple((_place(fault), _beats(fault)) for fault in faults if not fault.warns)
    if stops:
        return Told(faults=stops)
    looks = tuple(_beats(fault) for fault in faults)
    stands = sums.offsets()[1]
    return Told((_offset(name, reference, stands), *_drift(name, stands)), looks=looks)


def _beats(fault: ClockFault) -> dict[str, str]:
    beats = {"found": fault.found, "expected": fault.expected, "why": fault.why, "example": fault.example}
    return {"code": fault.code, "text": fault.text, **{key: beat for key, beat in beats.items() if beat}}


def _place(fault: ClockFault) -> str:
    return "second-reads" if "second anchor" in fault.path else "first-reads"


def _offset(name: str, reference: str, stands: ClockOffset) -> str:
    """`The recorder is 1 min 30 s fast`: what is added to it to get the reference is then below zero."""
    if stands.recording:
        return f"The readings of {name} count from its own start; the pair says when it started."
    if stands.offset is None or stands.offset.lo is None:
        return f"How far {name} stands from {reference} is not known."
    if not stands.offset.lo:
        return f"The {_bare(name)} shows the same time as the {_bare(reference)}."
    fast, far = stands.offset.lo < 0, duration(_size(stands.offset)).reveal()
    return (
        f"The {_bare(name)} is {far} {'fast' if fast else 'slow'}: "
        f"{far} {'is taken off' if fast else 'is added to'} its times to get those of the {_bare(reference)}."
    )


def _bare(name: str) -> str:
    return name.removeprefix("the ").removeprefix("The ")


def _drift(name: str, stands: ClockOffset) -> tuple[str, ...]:
    if stands.drift is None or stands.drift.lo is None:
        return ()
    if not stands.drift.lo:
        return ("The second pair says the same: no drift.",)
    gained, far = stands.drift.lo < 0, duration(_size(stands.drift)).reveal()
    moved = f"Between the two pairs the {_bare(name)} {'gained' if gained else 'lost'} {far}"
    if abs(stands.drift.lo) <= stands.drift.precision:
        return (f"{moved}: no more than its readings can tell, so no time is changed by it.",)
    return (f"{moved}.",)


def _size(elapsed: Elapsed) -> Elapsed:
    """Return a shift without its sign."""
    lo = abs(elapsed.lo or 0.0)
    return Elapsed(lo, lo, elapsed.precision, elapsed.loose)
