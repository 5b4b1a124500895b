"""Outcome, grades (who gave them, when), and what was said to the patient."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.safe.case import Grade, Harm, Outcome, Parted, ScrubbedCase, Visit, Watch
from mmbuilder.safe.moment import clock
from mmbuilder.safe.terms import Course, Scale, term
from mmbuilder.safe.terms import grade as stated
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, inline, join, sentence, wording
from mmbuilder.storyboard.blocks import Slide
from mmbuilder.storyboard.context import Context, Line, facts, titled

MISSING = wording("outcome: the case states none")

_GRADED = wording("This is how it ended, and how it was graded.")
_ENDED = wording("This is how it ended.")
"""Of a near miss, which has no grade to give, and of a death, whose grade is not the point."""
_SPARED = wording("Nothing reached the patient, so there is no grade: say so first.")
_NOT_GRADED = wording("It is not graded yet: say so.")
_DEATH = wording("death")
"""The treatment of a grade V, in the scales' words."""


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    case = context.case
    graded = case.course is Course.HARM or (case.course is Course.NEAR_MISS and case.outcome.grades)
    headline, rest = titled(sentence(case.outcome.summary), _GRADED if graded else _ENDED)
    told = facts((("outcome", wording("Outcome"), rest), *lines(context)), context.planned.facts)
    return (Slide("outcome", headline, (told,), (_prompt(case),), context.seconds),)


def _prompt(case: ScrubbedCase) -> SafeText:
    """Ask the presenter only for what is told."""
    grades = case.outcome.grades
    if not grades:
        return _SPARED if case.course is Course.NEAR_MISS else _NOT_GRADED
    if any(grade.by for grade in grades):
        return wording("State each grade and who gave it.")
    return wording("State each grade.")


def lines(context: Context) -> Iterator[Line]:
    """Yield everything but how it ended, each line under the name that a use calls it by.

    A use that asks for `grades` has time for the grade, who gave it and when; `grades in full` also say
    what each was given for. In brief, the grades below the highest of their scale are only counted.
    """
    outcome = _headed(context.case.outcome, brief=context.planned.brief)
    grades = "grades" if "grades" in context.planned.facts else "grades in full"
    for grade in outcome.grades:
        yield grades, term(grade.scale), _graded(grade, full=grades != "grades")
    if not outcome.grades:
        yield grades, wording("Severity"), capital(_ungraded(context.case.course))
    if outcome.harm is not None:
        yield "harm", wording("Harm"), capital(_harm(outcome.harm))
    for parted in outcome.parted:
        yield "scales", wording("Scales disagree"), _parted(parted)
    if "visits" in context.planned.facts:  # paper has a part of its own for them
        told = outcome.held if outcome.last_state else outcome.held[:-1]
        yield "visits", wording("Visits"), join(" ", (sentence(visited(visit)) for visit in told))
    yield "last seen", wording("Last seen"), outcome.last_state or _last_visit(outcome)
    if ahead := next((name for name in ("watched", "visits") if name in context.planned.facts), None):
        watched = (sentence(_watched(watch)) for watch in outcome.monitoring if ahead == "watched")
        yield ahead, wording("Still watched"), join(" ", watched)
        yield ahead, wording("To come"), join(" ", (sentence(visited(visit)) for visit in outcome.to_come))
    name = wording("Family told") if context.case.course is Course.DEATH else wording("Candour")
    yield "told", name, EMPTY if _disclosed(context) else outcome.told
    yield "own words", wording("In the patient's words"), context.case.report.patient_words


def _disclosed(context: Context) -> bool:
    """Whether the deck has a slide of its own for what the family was told; paper has none."""
    spec = context.spec
    return context.on_slides and any(
        entry.kind == "disclosure" and entry.when is context.case.course for entry in spec.slides
    )


def _last_visit(outcome: Outcome) -> SafeText:
    """What is said of the last visit held; empty without one."""
    return visited(outcome.held[-1]) if outcome.held else EMPTY


def visited(visit: Visit) -> SafeText:
    """`Day 9 · Home: walks with a stick`; empty where nothing is said of it."""
    measured = (fill("{name} {value}", name=one.name, value=one.value) for one in visit.measures)
    said = visit.note or join("; ", measured)
    when = join(" · ", (clock(visit.at), visit.label))
    return fill("{when}: {said}", when=when, said=said) if said else EMPTY


def _watched(watch: Watch) -> SafeText:
    """`Haemoglobin (until Day 90; below 100 g/L; family doctor)`; what is missing, the paper names."""
    until = fill("until {end}", end=watch.until) if watch.until else EMPTY
    plan = join("; ", (until, watch.threshold, watch.role))
    return fill("{what} ({plan})", what=watch.what, plan=plan) if plan else watch.what


def _headed(outcome: Outcome, *, brief: bool) -> Outcome:
    """Name the highest grade as that (the first one, if two share it); in brief it stands for its scale."""
    if not outcome.highest:
        return outcome
    place = next(n for n, one in enumerate(outcome.grades) if _is_highest(one, outcome))
    none = stated(Scale.CLAVIEN_DINDO, "not applicable")
    count = sum(one.scale is Scale.CLAVIEN_DINDO and one.grade != none for one in outcome.grades)
    named = fill("{grade}, the highest of {n}", grade=outcome.highest, n=count)
    grades = list(outcome.grades)
    grades[place] = headed = replace(grades[place], grade=named)
    if brief:
        grades = [one for one in grades if one is headed or one.scale is not Scale.CLAVIEN_DINDO]
    return replace(outcome, grades=tuple(grades))


def _is_highest(one: Grade, outcome: Outcome) -> bool:
    return one.scale is Scale.CLAVIEN_DINDO and one.grade == outcome.highest


def _ungraded(course: Course) -> SafeText:
    """A near miss has no grade to give: nothing reached the patient."""
    return wording("none reached") if course is Course.NEAR_MISS else wording("not graded yet")


def _graded(grade: Grade, *, full: bool) -> SafeText:
    """`IIIb: return to theatre; given for: endoscopy (graded by the audit lead, Day 30)`."""
    given = join(", ", (inline(grade.by), grade.when))
    named = join(": ", (grade.grade, grade.complication))
    what = join("; ", (named, _given_for(grade))) if full else named
    return fill("{what} (graded by {given})", what=what, given=given) if given else what


def _given_for(grade: Grade) -> SafeText:
    """Return treatments and symptoms, less what the line has said: a complication may be its own treatment.

    ClassIntra's words say how much treatment, the other scales' which.
    """
    told = join(", ", (inline(one) for one in grade.treatments if one not in (grade.complication, _DEATH)))
    symptoms = fill("symptoms: {symptoms}", symptoms=inline(grade.symptoms)) if grade.symptoms else EMPTY
    if not told:
        return symptoms
    if grade.scale is Scale.CLASSINTRA:
        return join("; ", (fill("extra treatment: {treatments}", treatments=told), symptoms))
    return join("; ", (fill("given for: {treatments}", treatments=told), symptoms))


def _parted(one: Parted) -> SafeText:
    """Both results of two scales of harm, and why each is right by its own definition."""
    return fill(
        "{scale} {grade}, {other} {other_grade}: {why}",
        scale=term(one.scale),
        grade=one.grade,
        other=term(one.other),
        other_grade=one.other_grade,
        why=one.why,
    )


def _harm(harm: Harm) -> SafeText:
    """Return the facts that a degree of harm follows from: `symptoms: marked; extra care: intervention`."""
    if not harm.occurred:
        return wording("nothing happened: circumstances that could have led to it")
    if not harm.reached:
        return wording("did not reach the patient")
    if harm.died:  # no degree says more
        return wording("the patient died")
    parts = (
        fill("symptoms: {symptoms}", symptoms=term(harm.symptoms)),
        fill("extra care: {care}", care=term(harm.care)),
        wording("a longer stay") if harm.longer_stay else EMPTY,
        fill("loss of function: {loss}", loss=term(harm.loss)),
    )
    return join("; ", parts)
