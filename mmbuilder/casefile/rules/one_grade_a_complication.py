"""A complication has one grade on a scale, and several graded ones are told apart."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Grade
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._grades import complication, says_something
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import Scale

CODE = "grade-given-twice"
WHY = "two treatments of one complication are one grade, that of the heavier; counted twice, it weighs twice"
GOOD = """
outcome: {grades: [
  {scale: Clavien-Dindo, grade: II, complication: wound infection, treatments: antibiotics,
    by: audit lead, when: Day 30},
  {scale: Clavien-Dindo, grade: IIIb, complication: leak, treatments: operation under general anaesthesia,
    by: audit lead, when: Day 30}]}
"""
BAD = """
outcome: {grades: [
  {scale: Clavien-Dindo, grade: II, complication: Leak, by: audit lead, when: Day 30},
  {scale: Clavien-Dindo, grade: IIIb, complication: leak, by: audit lead, when: Day 30}]}
"""

_COUNTED = (Scale.CLAVIEN_DINDO, Scale.CLASSINTRA)
"""Scales that grade each complication; those of harm grade what befell the patient."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each second grade of a complication, and each of several grades that does not say whose it is."""
    grades = ctx.case.outcome.grades
    for place, given in enumerate(grades):
        others = [one for one in grades if one.scale is given.scale and one is not given]
        if any(_same(one, given) for one in grades[:place]):
            yield Finding(
                ("outcome", "grades", place, "complication"),
                "this complication has a grade on this scale already",
                expected="one grade for each complication, of the heaviest treatment it needed",
                severity=Severity.WARN,
            )
        elif given.complication is None and _counts(given) and any(map(_counts, others)):
            yield Finding(
                ("outcome", "grades", place),
                "several complications are graded, and this grade does not say which it is of",
                expected="the complication of each grade",
                example="complication: wound infection",
                severity=Severity.WARN,
            )


def _counts(given: Grade) -> bool:
    return given.scale in _COUNTED and says_something(given)


def _same(one: Grade, other: Grade) -> bool:
    return one.scale is other.scale and complication(one) == complication(other) != ()
