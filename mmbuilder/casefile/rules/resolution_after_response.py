"""A problem that was over before anybody responded is possible, and worth a second look."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._order import too_early
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import EventKind

CODE = "resolution-before-response"
WHY = "what was over needed no response, or one of the two times is wrong; the interval between is unknown"
GOOD = 'timeline: {events: {3: {kind: resolution, when: "10:40"}}}'
BAD = """
timeline: {events: {2: {kind: resolution, when: "10:12"}, 3: {kind: response, when: "10:20"}}}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each resolution that is certainly before the earliest response, and no earlier than a sign."""
    expected = "a resolution after the response"
    return too_early(ctx, EventKind.RESOLUTION, EventKind.RESPONSE, expected, Severity.WARN)
