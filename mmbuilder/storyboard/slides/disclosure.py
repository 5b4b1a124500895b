"""After a death: what the family was told and where the law stands, before any cause is named."""

from __future__ import annotations

from mmbuilder.safe.terms import YesNo
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("disclosure: only after a death")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; what is not stated is said to be so."""
    case = context.case
    rows = (
        (wording("Family told"), case.outcome.told or wording("Not recorded")),
        (wording("Coroner"), _coroner(case.governance.coroner)),
        (wording("Legal hold"), _hold(case.governance.legal_hold)),
    )
    notes = (
        wording("A moment of silence first. Then the facts of candour; causes come after them."),
        wording("Nothing on these slides is evidence of fault."),
    )
    headline = wording("A patient died; this is what the family was told.")
    return (Slide("disclosure", headline, (Facts(rows),), notes, context.seconds),)


def _coroner(reported: YesNo) -> SafeText:
    """Where an inquest or its like stands, as far as the case says."""
    match reported:
        case YesNo.YES:
            return wording("Reported; for internal use only")
        case YesNo.NO:
            return wording("Not reported")
        case YesNo.UNKNOWN:
            return wording("Not recorded")


def _hold(hold: YesNo) -> SafeText:
    match hold:
        case YesNo.YES:
            return wording("On hold; for internal use only")
        case YesNo.NO:
            return wording("None")
        case YesNo.UNKNOWN:
            return wording("Not recorded")
