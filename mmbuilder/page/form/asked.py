"""Which fields the form asks for what a fault lacks: by the form's own labels, not the keys of the file."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.checking import CASE
from mmbuilder.page.form.view import Asked, asked_at
from mmbuilder.problem import Problem

_ACTION = re.compile(r"action (\d+) has ((?:no [a-z ]+(?:, )?)+)")
CONSENT: Path = ("governance", "publication consent")


def field(path: Path) -> Asked:
    """Return a field of the case as the form has it."""
    return asked_at(CASE, path)


def fields(problem: Problem) -> tuple[Asked, ...]:
    """Return every field that a fault asks to be filled in; none for one that is told at its own place."""
    return tuple(map(field, _paths(problem)))


def _paths(problem: Problem) -> Iterator[Path]:
    if problem.code == "action-incomplete" and (found := _ACTION.fullmatch(problem.text)):
        for key in found[2].split(", "):
            yield "actions", int(found[1]) - 1, key.removeprefix("no ")
    if problem.code == "consent-or-hold" and problem.found.startswith("consent"):
        yield CONSENT
