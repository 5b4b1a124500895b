"""A stated grade is held against treatment and symptoms, and asked about; it is never filled in."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Grade
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale, YesNo

CODE = "grade-against-treatment"
WHY = "one complication has the grade of its heaviest treatment; another cannot be compared"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: IIIb, treatments: operation under general anaesthesia,
  by: audit lead, when: same day}]}
"""
BAD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: II, treatments: operation under general anaesthesia}]}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade that its treatments and symptoms do not give."""
    for place, given in enumerate(ctx.case.outcome.grades):
        said = _challenged(given) if given.grade in GRADES[given.scale] else None
        if said is not None:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                said,
                expected="the grade that follows from them, or what else makes it the stated one",
                severity=Severity.WARN,
            )


def _challenged(given: Grade) -> str | None:
    if not (given.treatments or given.symptoms):
        return None
    from mmbuilder.clinic.severity import classintra, clavien_dindo

    words = [one.plain for one in given.treatments]
    if given.scale is Scale.CLAVIEN_DINDO:
        known = [word for word in words if word in clavien_dindo.TREATMENTS]
        implied = clavien_dindo.implied(known, at_discharge=_at_discharge(given))
        return clavien_dindo.challenge(given.grade, implied)
    symptoms = given.symptoms.plain if given.symptoms else None
    if given.scale is not Scale.CLASSINTRA or symptoms not in (None, *classintra.SYMPTOMS):
        return None
    heaviest = max((word for word in words if word in classintra.TREATMENT), key=_weight, default=None)
    if heaviest is None and symptoms is None:
        return None
    return classintra.challenge(given.grade, classintra.implied(heaviest, symptoms))


def _weight(treatment: str) -> int:
    from mmbuilder.clinic.severity.classintra import TREATMENT

    return list(TREATMENT).index(treatment)


def _at_discharge(given: Grade) -> bool | None:
    return None if given.at_discharge is YesNo.UNKNOWN else given.at_discharge is YesNo.YES
