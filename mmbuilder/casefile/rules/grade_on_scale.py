"""A grade is one of its scale."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.terms import GRADES

CODE = "grade-not-on-scale"
WHY = "a grade off its scale cannot be compared; the author states it, the tool never does"
GOOD = "outcome: {grades: [{scale: Clavien-Dindo, grade: iiib}]}"
BAD = "outcome: {grades: [{scale: Clavien-Dindo, grade: 3b}]}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade that its scale does not have."""
    for place, given in enumerate(ctx.case.outcome.grades):
        grades = GRADES[given.scale]
        if given.grade not in grades:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                f"{given.scale.value} has no such grade",
                found="a grade that is not on the scale",
                expected=f"one of: {', '.join(grades)}",
                example=f"grade: {grades[min(4, len(grades) - 1)]}",
            )
