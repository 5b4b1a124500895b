"""What a meeting leaves behind, to be taken into the case: attendance, decisions, learning, actions."""

from __future__ import annotations

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Key, Lines, Meeting, Part
from mmbuilder.safe.terms import Strength


class Agreed(Part):
    """An action as the meeting left it: a new one, or what changes in the one with this id."""

    id: Key | None = None
    what: FreeText | None = None
    strength: Strength | None = None
    strength_reason: FreeText | None = None
    owner: FreeText | None = None
    due: FreeText | None = None
    measure: FreeText | None = None
    out_of: FreeText | None = None
    target: FreeText | None = None
    period: FreeText | None = None
    baseline: FreeText | None = None
    review: FreeText | None = None


class Minutes(Meeting):
    """The minutes of one meeting about one case."""

    learning: Lines | None = None
    """The learning points as the meeting left them; those of the case stay where none are given."""
    actions: tuple[Agreed, ...] = ()
