"""The patient, the plan and the risks, as they were known then."""

from __future__ import annotations

from mmbuilder.safe.case import Patient
from mmbuilder.safe.terms import Side, YesNo, term
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Slide
from mmbuilder.storyboard.context import Context, Line, facts

MISSING = wording("patient and plan: the case states none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide, if there is anything to tell; nothing on it was learned later."""
    told = facts(lines(context), context.planned.facts)
    if not told.rows:
        return ()
    notes = (wording("Only what was known on the day before the operation."),)
    headline = wording("This is what was known before the operation.")
    return (Slide("patient_and_plan", headline, (told,), notes, context.seconds),)


def lines(context: Context) -> tuple[Line, ...]:
    """Everything that was known before the operation, each line under the name that a use calls it by."""
    patient, plan = context.case.patient, context.case.plan
    return (
        ("patient", wording("Patient"), _build(patient)),
        ("history", wording("History"), _list(patient.history)),
        ("not present", wording("Not present"), _list(patient.negatives)),
        ("findings", wording("Findings"), _list(plan.findings)),
        (
            "plan",
            wording("Indication") if plan.indication else wording("Plan"),
            _list((plan.indication, _side(context), _anaesthesia(plan.anaesthesia))),
        ),
        ("foreseen", wording("Foreseen"), _list(plan.foreseen)),
        ("said", wording("Said to patient"), _list(plan.told)),
    )


def _build(patient: Patient) -> SafeText:
    """`62 kg, 165 cm; pregnant`: what doses and ranges depend on."""
    pregnant = wording("pregnant") if patient.pregnant is YesNo.YES else EMPTY
    return join("; ", (join(", ", (patient.weight, patient.height)), pregnant))


def _side(context: Context) -> SafeText:
    side = context.case.patient.side
    return wording("") if side is Side.NONE else fill("Side: {side}", side=term(side))


def _anaesthesia(said: SafeText) -> SafeText:
    """`Anaesthesia: general`: alone, a word such as general says nothing."""
    return fill("Anaesthesia: {said}", said=said) if said else EMPTY


def _list(items: tuple[SafeText, ...]) -> SafeText:
    return join(" ", (sentence(item) for item in items))
