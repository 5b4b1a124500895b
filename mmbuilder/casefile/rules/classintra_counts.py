"""ClassIntra leaves out what is no event of the operation, and is rated directly after it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.case.model import Grade
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._grades import says_something
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import Scale

CODE = "grade-not-counted"
WHY = "a scale that is used for what it leaves out cannot be compared with anybody else's"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
outcome: {grades: [{scale: ClassIntra, grade: II, complication: bleed, treatments: minor, by: surgeon,
  when: same day}]}
"""
BAD = """
outcome: {grades: [{scale: ClassIntra, grade: II, complication: block at the wrong side, by: surgeon,
  when: Day 5}]}
"""

_LATER = re.compile(
    r"\b(?:day|tag) \+?[1-9]\d*\b|\b(?:days?|weeks?|months?) (?:later|after|on)\b|\bmeeting\b"
    r"|\b(?:tage?|wochen?|monate?) (?:später|danach)\b|\b(?:besprechung|konferenz)\b",
    re.IGNORECASE,
)
"""Ways to write that a grade came later, in the languages of the decks; ours, of common practice."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade of what the scale leaves out, and each that was given on a later day."""
    for place, given in enumerate(ctx.case.outcome.grades):
        if given.scale is not Scale.CLASSINTRA or not says_something(given):
            continue
        said = _left_out(ctx, given)
        if said is not None:
            yield Finding(
                ("outcome", "grades", place, "grade"),
                said,
                expected="`not applicable`, and a degree of harm; or words that say what else it was",
                example="scale: ClassIntra\ngrade: not applicable",
                severity=Severity.WARN,
            )
        if given.when is not None and _LATER.search(given.when.value):
            yield Finding(
                ("outcome", "grades", place, "when"),
                "ClassIntra is rated directly after surgery, and this grade was given later",
                expected="the grade that was given on the day; what is known since then does not change it",
                example="when: same day",
                severity=Severity.WARN,
            )


def _left_out(ctx: Context, given: Grade) -> str | None:
    from mmbuilder.clinic.severity import classintra

    events = (ctx.case.timeline.events[ctx.event_ids[key]] for key in given.events if key in ctx.event_ids)
    texts = (given.complication, *(text for event in events for text in (event.what, event.label)))
    found = classintra.spoken_of("; ".join(text.value for text in texts if text is not None))
    return found and classintra.challenge(given.grade, classintra.implied("none", "none", left_out=found))
