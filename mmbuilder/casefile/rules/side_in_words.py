"""The side in the title and the plan is the side of the patient."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import Side

CODE = "other-side-named"
WHY = "left for right is how the wrong place is operated on; one of the two is wrong, or needs a word more"
GOOD = """
patient: {side: right}
plan: {procedure: "Right knee arthroscopy"}
"""
BAD = """
patient: {side: right}
plan: {procedure: "Left knee arthroscopy"}
"""

_NAMED = re.compile(
    r"\b(?:(?P<right>right|rechts(?:seitig\w*)?|rechte[mnrs]?)"
    r"|(?P<left>left(?! (?:behind|inside|open|out|over|alone)\b)|links(?:seitig\w*)?|linke[mnrs]?))\b",
    re.IGNORECASE,
)
"""In the languages of the decks; what was left behind is on no side."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text that names the other side and never the patient's."""
    side = ctx.case.patient.side
    if side not in (Side.RIGHT, Side.LEFT):
        return
    for path, text in _told(ctx):
        named = {found.lastgroup for found in _NAMED.finditer(text.value)}
        if named and side.value not in named:
            yield Finding(
                path,
                "this names the other side only",
                found=f"the side of the patient is on line {ctx.line(('patient', 'side'))}: `side: {side}`",
                expected="the same side, or both with what each is",
                severity=Severity.WARN,
            )


def _told(ctx: Context) -> Iterator[tuple[Path, FreeText]]:
    case = ctx.case
    yield ("title",), case.title
    yield ("plan", "procedure"), case.plan.procedure
    if case.plan.indication is not None:
        yield ("plan", "indication"), case.plan.indication
