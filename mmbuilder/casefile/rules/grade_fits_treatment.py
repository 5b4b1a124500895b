"""The stated grade is held against the heaviest treatment, and asked about; it is never filled in."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Grade
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale, YesNo

CODE = "grade-against-treatment"
WHY = "one complication has the grade of its heaviest treatment; another cannot be compared"
GOOD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: IIIb, treatments: operation under general anaesthesia}]}
"""
BAD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: II, treatments: operation under general anaesthesia}]}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each Clavien-Dindo grade that its treatments do not give."""
    from mmbuilder.clinic.severity import clavien_dindo

    for place, given in enumerate(ctx.case.outcome.grades):
        words = [" ".join(one.value.split()).casefold() for one in given.treatments]
        if given.scale is not Scale.CLAVIEN_DINDO or given.grade not in GRADES[given.scale]:
            continue
        known = [word for word in words if word in clavien_dindo.TREATMENTS]
        implied = clavien_dindo.implied(known, at_discharge=_at_discharge(given))
        said = clavien_dindo.challenge(given.grade, implied)
        if said is not None:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                said,
                expected="the grade of the heaviest treatment, or the treatment that gives the stated one",
                severity=Severity.WARN,
            )


def _at_discharge(given: Grade) -> bool | None:
    return None if given.at_discharge is YesNo.UNKNOWN else given.at_discharge is YesNo.YES
