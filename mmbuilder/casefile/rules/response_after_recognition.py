"""A response before the recognition is possible, and worth a second look."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import EVENTS, Context, clock_face
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import EventKind

CODE = "response-before-recognition"
WHY = "what was given before anybody named the problem is an action, or the recognition is noted late"
GOOD = 'timeline: {events: {3: {when: "10:15"}}}'
BAD = 'timeline: {events: {3: {when: "10:10"}}}'


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each response that is certainly before the earliest recognition."""
    known = [item for item in ctx.of_kind(EventKind.RECOGNITION) if item[2].lo is not None]
    if not known:
        return
    seen_place, _, first = min(known, key=lambda item: item[2].lo or 0.0)
    for place, event, moment in ctx.of_kind(EventKind.RESPONSE):
        if moment.certainly_before(first):
            assert moment.hi is not None
            assert first.lo is not None
            face = clock_face(event.when)
            yield Finding(
                (*EVENTS, place, "when"),
                f"a response is earlier than the recognition by {first.lo - moment.hi:.0f} min",
                found=f"the recognition is on line {ctx.line((*EVENTS, seen_place, 'when'))}",
                expected="a response after the recognition; `kind: action` for what was done before it",
                quote=f"when: {face}" if face else "",
                severity=Severity.WARN,
            )
