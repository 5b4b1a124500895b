"""What a meeting leaves behind, to be taken into the case: attendance, decisions, learning, actions."""

from __future__ import annotations

from mmbuilder.case.model import Agreed, Lines, Meeting


class Minutes(Meeting):
    """The minutes of one meeting about one case."""

    learning: Lines | None = None
    """The learning points as the meeting left them; those of the case stay where none are given."""
    actions: tuple[Agreed, ...] = ()
