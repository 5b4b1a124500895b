"""Causes in rows around an event, as a diagram shows them."""

from __future__ import annotations

from dataclasses import dataclass

from mmbuilder.safe.terms import FactorRole
from mmbuilder.safe.text import SafeText


@dataclass(frozen=True)
class Cause:
    """A factor and what part it played."""

    what: SafeText
    role: FactorRole


@dataclass(frozen=True)
class CauseRow:
    """A row of the grid with its factors; a row without any is drawn, for it is honest."""

    name: SafeText
    causes: tuple[Cause, ...] = ()


@dataclass(frozen=True)
class Causes:
    """What is drawn: an event in neutral words, and the rows."""

    event: SafeText
    rows: tuple[CauseRow, ...]
