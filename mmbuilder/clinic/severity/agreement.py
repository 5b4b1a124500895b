"""Where the harm scales part on one course of events, and why: each is right by its own definition."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.clinic.severity import harm, merp
from mmbuilder.clinic.severity.course import Course


@dataclass(frozen=True)
class Parted:
    """Two scales that a reader would take to contradict each other.

    Attributes:
        scale, grade: the first of them, and what it makes of the course.
        other, other_grade: the second.
        why: a key of `WHY`.
    """

    scale: str
    grade: str
    other: str
    other_grade: str
    why: str

    def __str__(self) -> str:
        return f"{self.scale} {self.grade} and {self.other} {self.other_grade}: {WHY[self.why]}"


WHY = {
    "monitoring": "both say no harm, but only MERP counts the monitoring it took to be sure",
    "no injury": "MERP looks for injury and finds none, the WHO's scale counts care and stay that it took",
    "care": (
        "MERP goes by whether harm stayed, prolonged the stay or needed life support; the WHO's scale goes "
        "by how much was done or lost"
    ),
    "life support": (
        "H stands above G, though nothing is left of the harm: MERP's H goes by life support alone, and the "
        "AHRQ's scale by what is left"
    ),
    "after": (
        "AHRQ's is judged by what is left after treatment and counts extra care as mild harm; the WHO's goes "
        "by the symptoms and by what was needed"
    ),
    "extra care": "AHRQ's counts extra monitoring or care as mild harm, MERP does not",
}
"""Why two scales part, in our words."""


def disagreements(course: Course) -> tuple[Parted, ...]:
    """Return each pair of scales that part."""
    return tuple(_parted(course))


def _parted(course: Course) -> Iterator[Parted]:
    index, who, agency = merp.implied(course).grade, harm.icps(course).grade, harm.ahrq(course).grade
    no_harm = index == "D"
    if no_harm and who != "not applicable":
        yield Parted(merp.SCALE, index, harm.ICPS, who, "monitoring" if who == "none" else "no injury")
    if index in ("E", "F", "G") and who == "severe":
        yield Parted(merp.SCALE, index, harm.ICPS, who, "care")
    if index == "H" and who == "severe" and course.loss in ("none", "minimal"):
        yield Parted(merp.SCALE, index, harm.AHRQ, agency, "life support")
    if agency == "mild" and who in ("none", "moderate", "severe"):
        yield Parted(harm.AHRQ, agency, harm.ICPS, who, "after")
    if agency == "mild" and no_harm:
        yield Parted(harm.AHRQ, agency, merp.SCALE, index, "extra care")
