"""What can be drawn of a case that is not finished: its events, whatever else it still lacks.

The rest is left out on a copy that is only looked at; what a case cannot be without is filled in there with
its example, and is not drawn.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

import yaml

from mmbuilder.case.decided import Decisions
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import check
from mmbuilder.casefile.editing import edited
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.casefile.shape import example, slots
from mmbuilder.page.form.opened import opened
from mmbuilder.problem import Problem
from mmbuilder.scrub.plan import RedactionPlan

_DRAWN = frozenset({"specialty", "use", "language", "clocks", "timeline"})
_ALONG = (frozenset({"decisions", "readings"}), frozenset({"decisions"}), frozenset[str]())
"""What is drawn with the events: as much of it as has no fault."""


@dataclass(frozen=True)
class Drawable:
    """A part of a case.

    Attributes:
        folder: the case with nothing but what is drawn; None where that has faults.
        text: the same as a file.
        stops: what stops it, where anything does.
    """

    folder: CaseFolder | None
    text: bytes
    stops: tuple[Problem, ...]


@lru_cache(maxsize=2)
def drawable(root: Path, text: str, state: str) -> Drawable | None:
    """Return what can be drawn of a case; None where its text has to be mended first.

    Args:
        root: the case folder.
        text: of the case.
        state: of the folder, which it is remembered for.
    """
    tried = None
    for tried in _tries(root, text):
        if tried.folder is not None:
            break
    return tried


def _tries(root: Path, text: str) -> Iterator[Drawable]:
    now = opened(text, Case)
    for along in _ALONG if now is not None and now.values else ():
        assert now is not None
        alone = edited(now.text, partial(_leave, kept=_DRAWN | along)).encode()
        found = check(root, instead=alone)
        stops = tuple(one for one in found.problems if one.stops)
        yield Drawable(found.folder, alone, stops)


def _leave(tree: Any, kept: frozenset[str]) -> None:
    """Take everything out of a case but what is kept, and fill in what no case can be without."""
    for key in [key for key in tree if key not in kept]:
        del tree[key]
    for key, slot in slots(Case).items():
        if slot.required and key not in tree and key != "timeline":
            tree[key] = yaml.load(example(Case, key), Loader=yaml.BaseLoader)[key]


def in_words(root: Path, text: bytes) -> RedactionPlan:
    """Return what is found in the words of a part of a case, in the process that searches."""
    from mmbuilder.scrub.propose import in_words as found_in_words

    folder = check(root, instead=text).folder
    assert folder is not None
    return found_in_words(replace(folder, decided=Decisions()))
