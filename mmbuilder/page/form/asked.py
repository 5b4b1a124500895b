"""Which fields the form asks for what a fault lacks: by the form's own labels, not the keys of the file."""

from __future__ import annotations

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.checking import CASE
from mmbuilder.page.form.faults import CONSENT, wanted_by
from mmbuilder.page.form.view import Asked, asked_at
from mmbuilder.problem import Problem


def field(path: Path) -> Asked:
    """Return a field of the case as the form has it."""
    return asked_at(CASE, path)


def fields(problem: Problem) -> tuple[Asked, ...]:
    """Return every field that a fault asks to be filled in; none for one that is told at its own place."""
    return tuple(map(field, wanted_by(problem)))


__all__ = ["CONSENT", "field", "fields"]
