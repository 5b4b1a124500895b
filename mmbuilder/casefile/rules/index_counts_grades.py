"""The index of all complications is worked out of the grades that are stated."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale

CODE = "index-other-grades"
WHY = "an index of other grades than those beside it is of another patient"
GOOD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: IIIb, treatments: operation under general anaesthesia,
  by: audit lead, when: Day 30}]}
compute: [{what: comprehensive complication index, from: [{name: grades, value: IIIb}]}]
"""
BAD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: IIIb, by: audit lead, when: Day 30}]}
compute: [{what: comprehensive complication index, from: [{name: grades, value: "II, IIIb"}]}]
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each index whose grades are not those stated on the scale; a suffix d weighs nothing."""
    scale = Scale.CLAVIEN_DINDO
    grades = [one.grade for one in ctx.case.outcome.grades if one.scale is scale]
    stated = Counter(grade.removesuffix("d") for grade in grades if grade in GRADES[scale][:-1])
    if not stated:
        return
    from mmbuilder.clinic import InputFault, gather
    from mmbuilder.clinic.measures import complication_index as index

    for path, asked in ctx.computations():
        if asked.what.plain != index.NAME:
            continue
        given = gather((one.name.value, one.value.value) for one in asked.given)
        try:
            counted = Counter(map(str, index.INPUTS["grades"].read("grades", given.get("grades", ""))[0]))
        except InputFault:
            continue  # told by the rule on figures
        if counted != stated:
            every, read = (", ".join(sorted(grades.elements())) for grades in (stated, counted))
            yield Finding(
                (*path, "what"),
                "this index is of other grades than those stated under `outcome`",
                found=f"{read} counted, {every} stated",
                expected="each stated grade once: one for each complication",
                example=f"- name: grades\n  value: {every}",
                severity=Severity.WARN,
            )
