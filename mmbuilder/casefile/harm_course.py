"""What befell a patient, from the case to the words of the scales of harm."""

from __future__ import annotations

from mmbuilder.case.model import HarmFacts
from mmbuilder.clinic.severity.course import Course
from mmbuilder.safe.terms import YesNo


def course_of(facts: HarmFacts) -> Course:
    """Return the course of events that the facts tell.

    Raises:
        ValueError: they contradict each other.
    """
    return Course(
        occurred=facts.occurred is not YesNo.NO,
        reached=facts.reached is not YesNo.NO,
        symptoms=facts.symptoms.value,
        care=facts.care.value,
        longer_stay=facts.longer_stay is YesNo.YES,
        loss=facts.loss.value,
        died=facts.died is YesNo.YES,
    )
