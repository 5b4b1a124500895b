"""A grade that the headline names is the highest of the complications."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import GRADES, Scale

CODE = "headline-grade"
WHY = "the summary is the headline of its slide; another grade there contradicts the list below it"
GOOD = """
outcome:
  summary: Home on Day 9, Clavien-Dindo IIIb
  grades: [{scale: Clavien-Dindo, grade: IIIb, treatments: operation under general anaesthesia,
    by: audit lead, when: Day 30}]
"""
BAD = """
outcome:
  summary: Home on Day 9, Clavien-Dindo II
  grades: [{scale: Clavien-Dindo, grade: IIIb, by: audit lead, when: Day 30}]
"""

_NAMED = re.compile(r"\bClavien(?:[ –-]Dindo)?(?: grade)? (I{1,3}|IV|V)\s?([ab]?)\s?-?(d?)\b")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a Clavien-Dindo grade in the summary that is not the highest one stated."""
    scale, known = Scale.CLAVIEN_DINDO, GRADES[Scale.CLAVIEN_DINDO]
    stated = [one.grade for one in ctx.case.outcome.grades if one.scale is scale and one.grade in known]
    named = ["".join(found.groups()) for found in _NAMED.finditer(ctx.case.outcome.summary.value)]
    if not named:
        return
    from mmbuilder.clinic.severity import clavien_dindo

    for grade in named:
        said = clavien_dindo.challenge_headline(grade, stated) if grade in known else None
        if said is not None:
            yield Finding(
                ("outcome", "summary"),
                said,
                expected="the highest grade, or none in the summary: the slide tells it below",
                severity=Severity.WARN,
            )
