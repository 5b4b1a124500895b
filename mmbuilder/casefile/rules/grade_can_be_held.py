"""A grade stands beside what it follows from; without that nobody can hold it against anything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from mmbuilder.case.model import Grade, Outcome
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._grades import of_one_among_several, says_something
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale

CODE = "grade-without-facts"
WHY = "a grade follows from what was done and suffered; one that stands alone has to be taken on trust"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: I, treatments: none, by: audit lead, when: same day}]}
"""
BAD = "outcome: {grades: [{scale: Clavien-Dindo, grade: II, by: audit lead, when: same day}]}"

_NOTHING_REACHED = {Scale.NCC_MERP: ("A", "B"), Scale.AHRQ: ("unknown",)}
"""Grades that say themselves that there is nothing more to record."""


class _Asked(NamedTuple):
    expected: str
    example: str


_DEATH = "V"
_OF_TREATMENT = {
    Scale.CLAVIEN_DINDO: _Asked(
        "every treatment it needed, one a line, in the scale's words; `none` if it needed none",
        "treatments: [antibiotics, operation under general anaesthesia]\nor\ntreatments: none",
    ),
    Scale.CLASSINTRA: _Asked(
        "how much extra treatment it needed (none, minor, moderate or major), and what the patient had of it",
        "treatments: minor\nsymptoms: mild\nor\ntreatments: none\nsymptoms: none",
    ),
}
_OF_HARM = _Asked(
    "what befell the patient, under `outcome`; what is left out there counts as none",
    "harm:\n  symptoms: mild\n  care: monitoring\nor, where it did nothing\nharm:\n  symptoms: none",
)
_OF_DEATH = _Asked(
    "that the patient died, under `outcome`; or the grade of what was lived through", "harm:\n  died: yes"
)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade for which nothing is recorded that its scale goes by."""
    outcome = ctx.case.outcome
    for place, given in enumerate(outcome.grades):
        if given.grade not in GRADES[given.scale] or not says_something(given):
            continue
        asked = _lacking(given, outcome)
        if asked is not None:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                "nothing is recorded that this grade can be held against",
                expected=asked.expected,
                example=asked.example,
                quote=f"{given.scale.value}: {given.grade}",
                severity=Severity.WARN,
            )


def _lacking(given: Grade, outcome: Outcome) -> _Asked | None:
    """What to ask for; None where there is something to hold the grade against, or nothing there could be."""
    if given.scale not in _OF_TREATMENT:
        return _OF_HARM if outcome.harm is None and _of_the_patient(given, outcome.grades) else None
    if given.treatments or (given.scale is Scale.CLASSINTRA and given.symptoms):
        return None
    if given.grade == _DEATH:
        return _OF_DEATH if outcome.harm is None else None
    return _OF_TREATMENT[given.scale]


def _of_the_patient(given: Grade, grades: Sequence[Grade]) -> bool:
    """Whether a degree of harm is of what befell the patient in all: the facts of harm are told of that."""
    return given.grade not in _NOTHING_REACHED.get(given.scale, ()) and not of_one_among_several(
        given, grades
    )
