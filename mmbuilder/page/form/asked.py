"""Which fields the form asks for what a fault lacks: by the form's own labels, not the keys of the file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE
from mmbuilder.page.form.faults import section_of
from mmbuilder.page.form.layout import called
from mmbuilder.page.form.view import html_id
from mmbuilder.problem import Problem

_ACTION = re.compile(r"action (\d+) has ((?:no [a-z ]+(?:, )?)+)")
CONSENT: Path = ("governance", "publication consent")


@dataclass(frozen=True)
class Asked:
    """A field of the form.

    Attributes:
        label: what the form calls it.
        address: where it stands.
    """

    label: str
    address: str


def field(path: Path) -> Asked:
    """Return a field of the case as the form has it."""
    return Asked(called(Case, path), f"/write/{section_of(CASE, path)}/#{html_id(path)}")


def fields(problem: Problem) -> tuple[Asked, ...]:
    """Return every field that a fault asks to be filled in; none where that is one, told as for any fault."""
    return tuple(map(field, _paths(problem)))


def _paths(problem: Problem) -> Iterator[Path]:
    if problem.code == "action-incomplete" and (found := _ACTION.fullmatch(problem.text)):
        for key in found[2].split(", "):
            yield "actions", int(found[1]) - 1, key.removeprefix("no ")
    if problem.code == "consent-or-hold" and problem.found.startswith("consent"):
        yield CONSENT
