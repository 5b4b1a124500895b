"""Nobody recognises what has not begun."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import EVENTS, Context, clock_face
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.terms import EventKind

CODE = "recognition-before-sign"
WHY = "the time from sign to recognition is the measure of the review, and it cannot be negative"
GOOD = 'timeline: {events: {2: {when: "10:05"}}}'
BAD = 'timeline: {events: {2: {when: "09:59"}}}'


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each recognition that is certainly before the earliest first sign."""
    signs = [item for item in ctx.of_kind(EventKind.FIRST_SIGN) if item[2].lo is not None]
    if not signs:
        return
    sign_place, sign, first = min(signs, key=lambda item: item[2].lo or 0.0)
    for place, event, moment in ctx.of_kind(EventKind.RECOGNITION):
        if not moment.certainly_before(first):
            continue
        assert moment.hi is not None
        assert first.lo is not None
        early = f"{first.lo - moment.hi:.0f} min"
        seen, shown = clock_face(event.when), clock_face(sign.when)
        yield Finding(
            (*EVENTS, place, "when"),
            f"recognition{_at(seen)} is earlier than the first sign{_at(shown)} by {early}",
            found=f"the first sign is on line {ctx.line((*EVENTS, sign_place, 'when'))}",
            expected="a recognition at the same time as the first sign or after it",
            example=_offset(event.clock or sign.clock, early, slow=event.clock is not None),
            quote=f"when: {seen}" if seen else "",
        )


def _at(clock_time: str) -> str:
    return f" {clock_time}" if clock_time else ""


def _offset(clock: str | None, early: str, *, slow: bool) -> str:
    if clock is None:
        return "correct one of the two times, or name the clock each was read from"
    word, sign = ("slow", "+") if slow else ("fast", "-")
    return f"if that clock is at least {early} {word}, say so in the list of clocks:\noffset: {sign}{early}"
