"""A degree of harm is held against what befell the patient; where the scales part, that is told too."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mmbuilder.case.model import Grade
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._grades import NOT_APPLICABLE, of_one_among_several
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale

if TYPE_CHECKING:
    from mmbuilder.clinic.severity.course import Course
    from mmbuilder.clinic.severity.implied import Implied

CODE = "harm-against-facts"
WHY = "degrees of harm are counted over years; one that its own facts do not give spoils the count"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
outcome: {grades: [{scale: WHO ICPS, grade: none, by: audit lead, when: same day}], harm: {reached: yes}}
"""
BAD = "outcome: {grades: [{scale: WHO ICPS, grade: severe}], harm: {reached: yes}}"

_DEATH = "V"
_NONE_TOLD = ("unknown", NOT_APPLICABLE)
"""Degrees that stand outside the order of their scale."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade of harm that the facts do not give, and facts that contradict each other."""
    facts = ctx.case.outcome.harm
    if facts is None:
        return
    from mmbuilder.casefile.harm_course import course_of
    from mmbuilder.clinic.severity import agreement, harm, merp

    try:
        course = course_of(facts)
    except ValueError:
        yield Finding(
            ("outcome", "harm"),
            "what did not reach the patient needed no care and did no harm",
            expected="`reached: yes`, or no symptoms, care, loss or longer stay",
            at_key=True,
        )
        return
    implied = {
        Scale.ICPS: harm.icps(course),
        Scale.AHRQ: harm.ahrq(course),
        Scale.NCC_MERP: merp.implied(course),
    }
    parted = "; ".join(map(str, agreement.disagreements(course)))
    for place, given in enumerate(ctx.case.outcome.grades):
        if given.scale not in implied or given.grade not in GRADES[given.scale]:
            continue
        if of_one_among_several(given, ctx.case.outcome.grades) and _below(given, implied[given.scale]):
            continue
        said = (merp if given.scale is Scale.NCC_MERP else harm).challenge(given.grade, implied[given.scale])
        if said is not None:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                said,
                expected=f"the degree that the facts give{f' ({parted})' if parted else ''}",
                severity=Severity.WARN,
            )
    yield from _complications(ctx.case.outcome.grades, course)
    yield from _deaths(ctx.case.outcome.grades, course)


def _below(given: Grade, implied: Implied) -> bool:
    """Whether a degree is below that of the whole course; one complication may have done the lesser harm."""
    scale = GRADES[given.scale]
    return given.grade in _NONE_TOLD or scale.index(given.grade) < scale.index(implied.grade)


def _complications(grades: tuple[Grade, ...], course: Course) -> Iterator[Finding]:
    """Hold the grades of complications against a death, and against nothing having reached the patient."""
    from mmbuilder.clinic.severity import clavien_dindo

    scale = Scale.CLAVIEN_DINDO
    given = {
        at: one.grade for at, one in enumerate(grades) if one.scale is scale and one.grade in GRADES[scale]
    }
    counted = {at: grade for at, grade in given.items() if grade != NOT_APPLICABLE}
    highest = clavien_dindo.headline(counted.values())
    if highest is None:
        return
    place = next(at for at, grade in counted.items() if grade == highest)
    if course.died and (said := clavien_dindo.challenge_headline(highest, [highest, _DEATH])):
        yield Finding(
            ("outcome", "grades", place, "grade"),
            f"the patient died: {said}",
            expected="V for the complication that led to it; or, if none did, `died: no` here",
            severity=Severity.WARN,
        )
    if not course.at_patient:
        yield Finding(
            ("outcome", "grades", place, "grade"),
            "nothing reached the patient, so there is no complication to grade",
            expected="`not applicable`, or `reached: yes`",
            example="grade: not applicable",
            severity=Severity.WARN,
        )


def _deaths(grades: tuple[Grade, ...], course: Course) -> Iterator[Finding]:
    """Hold a grade that is a death against facts without one; harm scales are held against them above."""
    for place, given in enumerate(grades):
        if (
            given.scale in (Scale.CLAVIEN_DINDO, Scale.CLASSINTRA)
            and given.grade == _DEATH
            and not course.died
        ):
            yield Finding(
                ("outcome", "grades", place, "grade"),
                f"{given.scale.value} {_DEATH} is a death, and by the facts of the harm nobody died",
                expected="`died: yes` under `harm`, or the grade of what the patient lived through",
                example="harm:\n  died: yes",
                severity=Severity.WARN,
            )
