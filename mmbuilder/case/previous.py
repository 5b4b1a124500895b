"""A row of the department's action log as it was written, from a file beside the case."""

from __future__ import annotations

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Part
from mmbuilder.safe.terms import ActionStatus, Strength


class PreviousAction(Part):
    """What an earlier meeting agreed, and what became of it; keys are the columns of the log."""

    id: FreeText
    case: FreeText
    """Letter or code of the case it came from."""
    action: FreeText
    strength: Strength | None = None
    owner_role: FreeText | None = None
    due: FreeText | None = None
    measure: FreeText | None = None
    baseline: FreeText | None = None
    result: FreeText | None = None
    status: ActionStatus = ActionStatus.OPEN
    reason: FreeText | None = None
    """Why it was dropped."""
    evidence: FreeText | None = None
