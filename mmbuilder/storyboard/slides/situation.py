"""The situation on one slide: situation, background, and what the room is asked."""

from __future__ import annotations

from mmbuilder.safe.terms import Sex
from mmbuilder.safe.text import SafeText, fill, sentence, wording
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context, titled

MISSING = wording("situation: the case states none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide in the order of SBAR, as far as it may be told yet: the question stands for A and R."""
    case = context.case
    headline, rest = titled(_came(context), wording("This is where the story starts."))
    rows = (
        (wording("Operation"), rest),
        (wording("Situation"), case.situation),
        (wording("Background"), case.background),
        (wording("Asked of you"), case.asked),
    )
    facts = Facts(tuple((label, text) for label, text in rows if text))
    notes = (wording("Read the situation, then the question. Say no more yet."),)
    return (Slide("situation", headline, (facts,), notes, context.seconds),)


def _came(context: Context) -> SafeText:
    """`A woman of 71 came for this: ...`."""
    who = _who(context)
    return sentence(fill("{who} came for this: {procedure}", who=who, procedure=context.case.plan.procedure))


def _who(context: Context) -> SafeText:
    nouns = {Sex.FEMALE: wording("woman"), Sex.MALE: wording("man")}
    noun = nouns.get(context.case.patient.sex, wording("patient"))
    age = context.age
    if not age:
        return fill("A {noun}", noun=noun)
    if context.spec.age == "decade":
        return fill("A {noun} in the {age}", noun=noun, age=age)
    return fill("A {noun} of {age}", noun=noun, age=age)
