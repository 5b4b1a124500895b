"""The patient, the plan and the risks, as they were known then."""

from __future__ import annotations

from mmbuilder.safe.case import Patient
from mmbuilder.safe.terms import Side, YesNo, term
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("patient and plan: the case states none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; nothing on it was learned later."""
    case = context.case
    patient, plan = case.patient, case.plan
    rows = (
        (wording("Patient"), _build(patient)),
        (wording("History"), _list(patient.history)),
        (wording("Not present"), _list(patient.negatives)),
        (wording("Findings"), _list(plan.findings)),
        (wording("Plan"), _list((plan.indication, plan.anaesthesia, _side(context)))),
        (wording("Foreseen"), _list(plan.foreseen)),
        (wording("Said to patient"), _list(plan.told)),
    )
    facts = Facts(tuple((label, text) for label, text in rows if text))
    notes = (wording("Only what was known on the day before the operation."),)
    return (Slide("patient_and_plan", _headline(context), (facts,), notes, context.seconds),)


def _headline(context: Context) -> SafeText:
    foreseen = len(context.case.plan.foreseen)
    risks = counted(foreseen, wording("risk was"), wording("risks were"))
    return fill("Before the operation, {risks} foreseen.", risks=risks)


def _build(patient: Patient) -> SafeText:
    """`62 kg, 165 cm; pregnant`: what doses and ranges depend on."""
    pregnant = wording("pregnant") if patient.pregnant is YesNo.YES else EMPTY
    return join("; ", (join(", ", (patient.weight, patient.height)), pregnant))


def _side(context: Context) -> SafeText:
    side = context.case.patient.side
    return wording("") if side is Side.NONE else fill("Side: {side}", side=term(side))


def _list(items: tuple[SafeText, ...]) -> SafeText:
    return join(" ", (sentence(item) for item in items))
