"""A response before the recognition is possible, and worth a second look."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._order import too_early
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import EventKind

CODE = "response-before-recognition"
WHY = "what was given before anybody named the problem is an action, or the recognition is noted late"
GOOD = 'timeline: {events: {3: {when: "10:15"}}}'
BAD = 'timeline: {events: {3: {when: "10:10"}}}'


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each response that is certainly before the earliest recognition, and no earlier than a sign."""
    expected = "a response after the recognition; `kind: action` for what was done before it"
    return too_early(ctx, EventKind.RESPONSE, EventKind.RECOGNITION, expected, Severity.WARN)
