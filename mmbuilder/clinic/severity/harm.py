"""Degree of harm: the WHO's scale, and that of AHRQ's Common Formats.

WHO ICPS v1.1 (2009): definitions READ in a later table that follows them, check-values.md C4 [S69].
AHRQ Harm Scale v1.2: READ in LOINC 74560-4 [S67]; judged AFTER all that was done to limit the harm, so
somebody rescued without a trace is mild there, and severe on the WHO's scale.
"""

from __future__ import annotations

from mmbuilder.clinic.severity import implied as common
from mmbuilder.clinic.severity.course import Course
from mmbuilder.clinic.severity.implied import NOT_APPLICABLE, Implied

ICPS = "WHO ICPS"
AHRQ = "AHRQ harm"
_ICPS_SOURCE = "WHO ICPS v1.1, as a later table prints it"
_AHRQ_SOURCE = "AHRQ Harm Scale v1.2, LOINC 74560-4"

ICPS_RULES = {
    "none": "no symptoms found and no treatment needed",
    "mild": "mild symptoms, little or brief loss, at most more observation or a minor treatment",
    "moderate": "an intervention, a longer stay, or a loss that lasts",
    "severe": "a life-saving or major intervention, a shorter life, or a major loss that lasts",
    "death": "death brought on or forward by it, on balance",
    NOT_APPLICABLE: "it did not reach the patient, so there is no harm to grade",
}
AHRQ_RULES = {
    "none evident": "it reached the patient and no harm was seen",
    "mild": "few symptoms or little loss, or only extra treatment, monitoring or stay",
    "moderate": "function or quality of life is worse, but not by as much as in severe harm",
    "severe": "function or quality of life is much worse",
    "death": "dead when it was judged",
    NOT_APPLICABLE: "it did not reach the patient, so there is no harm to grade",
}


def icps(course: Course) -> Implied:
    """Return the WHO's degree of harm."""
    grade, because = _icps(course)
    note = (
        "The scale speaks of symptoms, and none are given; care that kept harm away may be graded none."
        if course.at_patient and not course.harmed and course.needed("minor treatment")
        else ""
    )
    return Implied(ICPS, grade, because, ICPS_RULES[grade], _ICPS_SOURCE, note)


def ahrq(course: Course) -> Implied:
    """Return AHRQ's degree of harm, from what is left after all was done."""
    grade, because = _ahrq(course)
    note = (
        "Raters agree on this scale only moderately (kappa about 0.5)."
        if grade in ("mild", "moderate")
        else ""
    )
    return Implied(AHRQ, grade, because, AHRQ_RULES[grade], _AHRQ_SOURCE, note)


def challenge(stated: str, given: Implied | None) -> str | None:
    """Return what to say where the stated degree is not the one implied, on either scale."""
    return common.challenge(stated, given)


def _icps(course: Course) -> tuple[str, str]:
    if not course.at_patient:
        return NOT_APPLICABLE, "an event that did not reach the patient"
    if course.died:
        return "death", "a death"
    if course.needed("major intervention"):
        return "severe", f"care ({course.care})"
    if course.loss == "major lasting":
        return "severe", "a major loss that lasts"
    if course.care == "intervention":
        return "moderate", "care (intervention)"
    if course.longer_stay:
        return "moderate", "a longer stay"
    if course.loss == "lasting":
        return "moderate", "a loss that lasts"
    if course.symptoms == "marked":
        return "moderate", "symptoms that are more than mild"
    if course.symptoms == "mild" or course.loss == "minimal":
        return "mild", "mild symptoms or a minimal loss"
    if course.care == "minor treatment":
        return "mild", "care (minor treatment)"
    return "none", "no symptom, no loss and no treatment"


def _ahrq(course: Course) -> tuple[str, str]:
    if not course.at_patient:
        return NOT_APPLICABLE, "an event that did not reach the patient"
    if course.died:
        return "death", "a death"
    if course.loss == "major lasting":
        return "severe", "a major loss that lasts"
    if course.loss == "lasting":
        return "moderate", "a loss that lasts"
    if course.harmed:
        return "mild", "symptoms or a loss that did not last"
    if course.needed("monitoring") or course.longer_stay:
        return "mild", "extra care or stay"
    return "none evident", "no harm seen"
