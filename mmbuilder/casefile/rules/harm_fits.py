"""A degree of harm is held against what befell the patient; where the scales part, that is told too."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mmbuilder.case.model import HarmFacts
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale, YesNo

if TYPE_CHECKING:
    from mmbuilder.clinic.severity.course import Course

CODE = "harm-against-facts"
WHY = "degrees of harm are counted over years; one that its own facts do not give spoils the count"
GOOD = "outcome: {grades: [{scale: WHO ICPS, grade: none}], harm: {reached: yes}}"
BAD = "outcome: {grades: [{scale: WHO ICPS, grade: severe}], harm: {reached: yes}}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade of harm that the facts do not give, and facts that contradict each other."""
    facts = ctx.case.outcome.harm
    if facts is None:
        return
    from mmbuilder.clinic.severity import agreement, harm, merp

    try:
        course = _course(facts)
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
    parted = "; ".join(agreement.disagreements(course))
    for place, given in enumerate(ctx.case.outcome.grades):
        if given.scale not in implied or given.grade not in GRADES[given.scale]:
            continue
        said = (merp if given.scale is Scale.NCC_MERP else harm).challenge(given.grade, implied[given.scale])
        if said is not None:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                said,
                expected=f"the degree that the facts give{f' ({parted})' if parted else ''}",
                severity=Severity.WARN,
            )


def _course(facts: HarmFacts) -> Course:
    from mmbuilder.clinic.severity.course import Course

    return Course(
        occurred=facts.occurred is not YesNo.NO,
        reached=facts.reached is not YesNo.NO,
        symptoms=facts.symptoms.value,
        care=facts.care.value,
        longer_stay=facts.longer_stay is YesNo.YES,
        loss=facts.loss.value,
        died=facts.died is YesNo.YES,
    )
