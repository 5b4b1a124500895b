"""Outcome, grades (who gave them, when), and what was said to the patient."""

from __future__ import annotations

from mmbuilder.safe.case import Grade
from mmbuilder.safe.terms import Course, Scale, term
from mmbuilder.safe.text import EMPTY, SafeText, fill, inline, join, sentence, wording
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context, titled

MISSING = wording("outcome: the case states none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    outcome = context.case.outcome
    rows = [(term(grade.scale), _graded(grade)) for grade in outcome.grades]
    if not rows:
        rows = [(wording("Severity"), _ungraded(context.case.course))]
    if outcome.last_state:
        rows.append((wording("Last seen"), outcome.last_state))
    if outcome.told:
        rows.append((wording("Candour"), outcome.told))
    headline, rest = titled(
        sentence(outcome.summary), wording("This is how it ended, and how it was graded.")
    )
    if rest:
        rows.insert(0, (wording("Outcome"), rest))
    notes = (wording("State the grade and who gave it. The tool never fills one in."),)
    return (Slide("outcome", headline, (Facts(tuple(rows)),), notes, context.seconds),)


def _ungraded(course: Course) -> SafeText:
    """A near miss has no grade to give: nothing reached the patient."""
    return wording("none reached") if course is Course.NEAR_MISS else wording("not graded yet")


def _graded(grade: Grade) -> SafeText:
    """`IIIb: return to theatre; given for: endoscopy (graded by the audit lead, Day 30)`."""
    given = join(", ", (inline(grade.by), grade.when))
    what = join("; ", (join(": ", (grade.grade, grade.complication)), _given_for(grade)))
    return fill("{what} (graded by {given})", what=what, given=given) if given else what


def _given_for(grade: Grade) -> SafeText:
    """Return the treatments, less what the line has said: a complication may be its own treatment.

    ClassIntra's words say how much treatment, the other scales' which.
    """
    told = join(", ", (inline(one) for one in grade.treatments if one != grade.complication))
    if not told:
        return EMPTY
    if grade.scale is Scale.CLASSINTRA:
        return fill("extra treatment: {treatments}", treatments=told)
    return fill("given for: {treatments}", treatments=told)
