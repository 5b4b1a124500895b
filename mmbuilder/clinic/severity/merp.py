"""NCC MERP index, A to I: the questions of its algorithm, in their order.

Index of the National Coordinating Council for Medication Error Reporting and Prevention, 1996, revised 2001.
Categories READ, check-values.md C4 [S71, S46]; bands [S72]. It was made for medication; its use for other
events in a review has been published (rheumatology meetings, S46). The words are ours.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.clinic.severity import implied as common
from mmbuilder.clinic.severity.course import Course
from mmbuilder.clinic.severity.implied import Implied

SCALE = "NCC MERP"
SOURCE = "NCC MERP index and algorithm, 2001"

RULES = {
    "A": "circumstances that could lead to an error; none occurred",
    "B": "an error that did not reach the patient",
    "C": "it reached the patient and did no harm",
    "D": "no harm, but monitoring was needed to be sure of it, or care to keep harm away",
    "E": "harm that passed, with care for it",
    "F": "harm that passed, with an admission or a longer one",
    "G": "harm that stays",
    "H": "care was needed to keep the patient alive",
    "I": "it may have contributed to a death",
}
BANDS = {
    **dict.fromkeys("A", "no error"),
    **dict.fromkeys("BCD", "no harm"),
    **dict.fromkeys("EFGH", "harm"),
    "I": "death",
}


def questions(course: Course) -> Iterator[tuple[str, bool]]:
    """Yield the questions of the algorithm with their answers, up to the one that decides."""
    yield "did an error occur?", course.occurred
    if not course.occurred:
        return
    yield "did it reach the patient?", course.reached
    if not course.reached:
        return
    yield "did it contribute to a death?", course.died
    if course.died:
        return
    yield "was the patient harmed?", course.harmed
    if not course.harmed:
        yield "was more monitoring or care needed?", course.needed("monitoring") or course.longer_stay
        return
    yield "was care needed to keep the patient alive?", course.care == "life support"
    if course.care == "life support":
        return
    yield "does the harm stay?", course.loss in ("lasting", "major lasting")
    if course.loss in ("lasting", "major lasting"):
        return
    yield "was there an admission, or a longer one?", course.longer_stay


_LAST = {
    ("did an error occur?", False): "A",
    ("did it reach the patient?", False): "B",
    ("did it contribute to a death?", True): "I",
    ("was more monitoring or care needed?", False): "C",
    ("was more monitoring or care needed?", True): "D",
    ("was care needed to keep the patient alive?", True): "H",
    ("does the harm stay?", True): "G",
    ("was there an admission, or a longer one?", True): "F",
    ("was there an admission, or a longer one?", False): "E",
}


def implied(course: Course) -> Implied:
    """Return the category of a course."""
    *_, (question, answer) = questions(course)
    grade = _LAST[question, answer]
    because = f"'{question}' answered {'yes' if answer else 'no'}"
    note = (
        "The definition of E speaks of care for the harm; none is given here, and the algorithm does not ask."
        if grade == "E" and course.care == "none"
        else ""
    )
    return Implied(SCALE, grade, because, RULES[grade], SOURCE, note)


def challenge(stated: str, given: Implied | None) -> str | None:
    """Return what to say where the stated category is not the one implied."""
    return common.challenge(stated, given)
