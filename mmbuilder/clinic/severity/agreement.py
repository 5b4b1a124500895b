"""Where the harm scales part on one course of events, and why: each is right by its own definition."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.clinic.severity import harm, merp
from mmbuilder.clinic.severity.course import Course


def disagreements(course: Course) -> tuple[str, ...]:
    """Return a sentence for each pair of scales that a reader would take to contradict each other."""
    return tuple(_parted(course))


def _parted(course: Course) -> Iterator[str]:
    index, who, agency = merp.implied(course).grade, harm.icps(course).grade, harm.ahrq(course).grade
    if index == "D" and who == "none":
        yield (
            "NCC MERP D and WHO ICPS none: both say no harm, but only MERP counts the monitoring it took "
            "to be sure"
        )
    if index == "D" and who not in ("none", "not applicable"):
        yield (
            f"NCC MERP D and WHO ICPS {who}: MERP looks for injury and finds none, the WHO's scale "
            "counts the care or stay that was needed"
        )
    if index in ("E", "F", "G") and who == "severe":
        yield (
            f"NCC MERP {index} and WHO ICPS severe: MERP goes by whether harm stayed, prolonged the stay "
            "or needed life support; the WHO's scale goes by how much was done or lost"
        )
    if index == "H" and who == "severe" and course.loss in ("none", "minimal"):
        yield "NCC MERP H stands above G, though nothing is left of the harm: H goes by life support alone"
    if agency == "mild" and who in ("none", "moderate", "severe"):
        yield (
            f"AHRQ harm mild and WHO ICPS {who}: AHRQ's is judged by what is left after treatment and "
            "counts extra care as mild harm; the WHO's goes by the symptoms and by what was needed"
        )
    if agency == "mild" and index == "D":
        yield "AHRQ harm mild and NCC MERP D (no harm): AHRQ's counts extra monitoring or care as mild harm"
