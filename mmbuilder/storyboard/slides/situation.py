"""The situation on one slide: situation, background, and what the room is asked."""

from __future__ import annotations

from mmbuilder.safe.case import Patient
from mmbuilder.safe.terms import Sex
from mmbuilder.safe.text import EMPTY, SafeText, fill, inline, sentence, wording
from mmbuilder.storyboard.blocks import Slide
from mmbuilder.storyboard.context import Context, Line, facts, titled
from mmbuilder.storyboard.slides import patient_and_plan

MISSING = wording("situation: the case states none")

_PATIENT, _CHILD = wording("patient"), wording("child")
_GROWN = dict.fromkeys(Sex, _PATIENT) | {Sex.FEMALE: wording("woman"), Sex.MALE: wording("man")}
_YOUNG = dict.fromkeys(Sex, _CHILD) | {Sex.FEMALE: wording("girl"), Sex.MALE: wording("boy")}
_GROUPS = (wording("under 10"), wording("10 to 19"))
"""Decades that are no `70s`."""


def make(context: Context) -> tuple[Slide, ...]:
    """One slide in the order of SBAR, as far as it may be told yet: the question stands for A and R."""
    case = context.case
    headline, rest = titled(_came(context), wording("This is where the story starts."))
    own: tuple[Line, ...] = (
        ("operation", wording("Operation"), _planned(context) if rest else EMPTY),
        ("situation", wording("Situation"), case.situation),
        ("background", wording("Background"), case.background),
        ("asked", wording("Asked of you"), case.asked),
    )
    wanted = context.planned.facts
    told = facts((*own, *patient_and_plan.lines(context)) if wanted else own, wanted)
    notes = (wording("Read the situation, then the question. Say no more yet."),)
    return (Slide("situation", headline, (told,), notes, context.seconds),)


def _came(context: Context) -> SafeText:
    """Say who and what was planned: `The plan for a woman of 71: elective right hemicolectomy`."""
    who, procedure = inline(_who(context)), context.case.plan.procedure
    return sentence(fill("The plan for {who}: {procedure}", who=who, procedure=procedure))


def _planned(context: Context) -> SafeText:
    """Say the same as a line: `Elective right hemicolectomy, for a woman of 71`."""
    who, procedure = inline(_who(context)), inline(context.case.plan.procedure)
    return sentence(fill("{procedure}, for {who}", procedure=procedure, who=who))


def _who(context: Context) -> SafeText:
    patient, age = context.case.patient, context.age
    noun = (_YOUNG if patient.child else _GROWN)[patient.sex]
    if not age:
        return fill("A {noun}", noun=noun)
    if not patient.age_decade or (context.spec.age == "decade" and age in _GROUPS):
        return fill("A {noun}, {age}", noun=noun, age=age)
    if context.spec.age == "decade":
        return _of_decade(patient, noun, age)
    return fill("A {noun} of {age}", noun=noun, age=age)


def _of_decade(patient: Patient, noun: SafeText, age: SafeText) -> SafeText:
    """`A man in his 70s`; an age that is told as a group anyway (`90 or older`) stands by itself."""
    if age == patient.age:
        return fill("A {noun}, {age}", noun=noun, age=age)
    match patient.sex:
        case Sex.FEMALE:
            return fill("A {noun} in her {age}", noun=noun, age=age)
        case Sex.MALE:
            return fill("A {noun} in his {age}", noun=noun, age=age)
        case _:
            return fill("A {noun} in their {age}", noun=noun, age=age)
