"""What of the form the chosen use tells: that comes first, and what it has no slide for comes last."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import TypeVar

from mmbuilder import uses
from mmbuilder.page.form.layout import Group, Section
from mmbuilder.safe.terms import Use

Part = TypeVar("Part", Section, Group)


def told(part: Section | Group, use: str) -> bool:
    """Return whether a use tells a part of the form; a use that is not known tells all of it.

    Args:
        part: of the form.
        use: as typed in the case.
    """
    try:
        return not part.slides or not _kinds(Use(use)).isdisjoint(part.slides)
    except ValueError:
        return True


def first(parts: Iterable[Part], use: str) -> list[Part]:
    """Return parts of the form in their order, those that a use does not tell behind the others."""
    return sorted(parts, key=lambda part: not told(part, use))


@cache
def _kinds(use: Use) -> frozenset[str]:
    spec = uses.load(use)
    papers = (one for paper in spec.papers for one in paper.slides)
    return frozenset(one.kind for one in (*spec.slides, *papers))
