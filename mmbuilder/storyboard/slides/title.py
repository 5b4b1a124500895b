"""Neutral title, who presents (by role) and the cautions; never the diagnosis or the harm."""

from __future__ import annotations

from mmbuilder.safe.cautions import CAUTION
from mmbuilder.safe.terms import YesNo, term
from mmbuilder.safe.text import SafeText, capital, fill, sentence, wording
from mmbuilder.storyboard.blocks import Paragraph, Slide, Tone
from mmbuilder.storyboard.context import Context

MISSING = wording("title: the case has none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    case = context.case
    lines = [
        Paragraph(
            fill("{use} · {specialty}", use=capital(term(context.spec.use)), specialty=case.specialty),
            Tone.STRONG,
        ),
        Paragraph(fill("Presented by: {role}", role=case.presenter)),
        *(Paragraph(text, Tone.STRONG) for text in _status(context)),
        Paragraph(CAUTION, Tone.QUIET),
    ]
    notes = (
        wording("Nobody is named today: not the patient, not the team, not the place."),
        wording("We look for what made sense at the time. Question the decision, not the person."),
    )
    return (Slide("title", case.title, tuple(lines), notes, context.seconds),)


def _status(context: Context) -> list[SafeText]:
    """What limits where this deck may go; stated, never assumed."""
    governance, found = context.case.governance, []
    if governance.legal_hold is YesNo.YES:
        found.append(wording("Legal hold: for internal use only."))
    if governance.coroner is YesNo.YES:
        found.append(wording("Reported to the coroner: for internal use only."))
    if context.spec.outside:
        conflicts = context.case.report.conflicts or wording("not stated")
        found.append(
            fill(
                "Consent to publication: {state}. Conflicts of interest: {conflicts}",
                state=term(governance.consent),
                conflicts=sentence(conflicts),
            )
        )
    return found
