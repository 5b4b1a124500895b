"""A grade is one of its scale."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.terms import GRADES

CODE = "grade-not-on-scale"
WHY = "a grade off its scale cannot be compared; the author states it, the tool never does"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: iiib, treatments: operation under general anaesthesia,
  by: audit lead, when: same day}]}
"""
BAD = "outcome: {grades: [{scale: Clavien-Dindo, grade: 3b}]}"

_ROMANS = ("0", "i", "ii", "iii", "iv", "v")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade that its scale does not have."""
    for place, given in enumerate(ctx.case.outcome.grades):
        grades = GRADES[given.scale]
        if given.grade not in grades:
            near = _in_romans(given.grade, grades)
            meant = f"did you mean `{near}`? It is " if near else ""
            yield Finding(
                ("outcome", "grades", place, "grade"),
                f"{given.scale.value} has no such grade",
                found="a grade that is not on the scale",
                expected=f"{meant}one of: {', '.join(grades)}",
                example=f"grade: {near or grades[min(4, len(grades) - 1)]}",
            )


def _in_romans(written: str, grades: tuple[str, ...]) -> str | None:
    """Return the grade that a ward writes as `3b`, `3 b d` or `III-b`, if the scale has it."""
    plain = re.sub(r"[\s.-]|grade", "", written.casefold())
    romans = plain.translate({ord(str(figure)): roman for figure, roman in enumerate(_ROMANS)})
    wanted = (romans, romans.removesuffix("d"))  # a death has no suffix, nor has another scale
    return next((grade for one in wanted for grade in grades if grade.casefold() == one), None)
