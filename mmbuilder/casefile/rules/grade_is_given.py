"""A grade is somebody's, by role, and was given at some time."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._grades import NOT_APPLICABLE
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES

CODE = "grade-not-signed"
WHY = "a grade without who gave it and when cannot be questioned, and may have been given by the result"
GOOD = """
outcome: {harm: {reached: yes}, grades: [{scale: WHO ICPS, grade: none, by: audit lead, when: Day 30}]}
"""
BAD = "outcome: {grades: [{scale: WHO ICPS, grade: none, by: audit lead}]}"

_EXAMPLES = {"by": "by: audit lead", "when": "when: Day 30"}


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade without who gave it (a role) or when."""
    for place, given in enumerate(ctx.case.outcome.grades):
        lacking = [key for key in _EXAMPLES if getattr(given, key) is None]
        if lacking and given.grade in GRADES[given.scale] and given.grade != NOT_APPLICABLE:
            yield Finding(
                ("outcome", "grades", place),
                f"grade {place + 1} does not say {_ASKED[tuple(lacking)]}",
                expected="the role of who gave it, and when",
                example="\n".join(_EXAMPLES[key] for key in lacking),
                severity=Severity.WARN,
            )


_ASKED = {
    ("by",): "who gave it",
    ("when",): "when it was given",
    ("by", "when"): "who gave it, nor when",
}
