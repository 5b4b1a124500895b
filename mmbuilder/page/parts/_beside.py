"""The note beside the form: its lines, where each may go, and how it gets there."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.desk import Desk
from mmbuilder.page.form import keeping
from mmbuilder.page.form.keeping import Did, New, NotKept
from mmbuilder.page.form.layout import Section, called
from mmbuilder.page.form.scalars import tidied
from mmbuilder.page.form.targets import Target, targets
from mmbuilder.page.form.view import Row, fields
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._fate import Fate, edits, fates, follow, line_of
from mmbuilder.page.parts._known import known
from mmbuilder.page.parts._note import Mark, State
from mmbuilder.page.parts._pull import begun, belongs, put
from mmbuilder.page.parts._typed import typed


@dataclass(frozen=True)
class Beside:
    """The note beside a section of the form.

    Attributes:
        lines: each with whether it seems to belong to this section.
        here: the fields in sight that take a line, each by its path and what it is called.
        elsewhere: other parts of the case, in the same way.
        chosen: the path that is chosen to begin with.
    """

    lines: tuple[tuple[Fate, bool], ...]
    here: tuple[tuple[str, str], ...]
    elsewhere: tuple[tuple[str, str], ...]
    chosen: str

    @property
    def left(self) -> int:
        """How many lines are still to be looked at."""
        return sum(fate.open for fate, _ in self.lines)


def beside(case: Desk, section: Section, rows: Iterable[Row]) -> Beside | None:
    """Return the note as it stands beside a section of the case; None where there is none."""
    note = kept.load(case.aside)
    if section.file != CASE or not note.text:
        return None
    own = [one for one in targets().values() if one.section == section.name]
    here = {json.dumps(one.path): one.takes for one in fields(rows) if one.takes}
    others = {json.dumps(one.path): one.label for one in targets().values()}
    first = [json.dumps(one.path) for one in own] or [*here]
    return Beside(
        tuple((fate, belongs(fate.line) in own) for fate in fates(note, typed(case))),
        tuple(here.items()),
        tuple((path, label) for path, label in others.items() if path not in here),
        next(iter(first), ""),
    )


def field_of(sent: Any, model: type[BaseModel]) -> Path:
    """Return where a form wants a line of the note: another part of the case, or a field of words.

    Raises:
        NotKept: no line can be put there.
    """
    path: Path = tuple(sent) if isinstance(sent, list) else ()
    if model is Case and _target(path):
        return path
    slot = slot_at(model, path := keeping.path_of(sent, model))
    if model is not Case or slot is None or slot.kind is not FreeText:
        raise NotKept("a line of the note cannot be put there; choose a field of words")
    return path


def put_line(case: Desk, text: str, path: Path, key: str) -> tuple[str, Did]:
    """Return the text of a case with a line of the note put in.

    Raises:
        Moved: the line is no longer in the note.
    """
    note = kept.load(case.aside)
    line = line_of(note, key)
    if target := _target(path):
        pull = begun((line,), known(case, note), target)
        after, places = put(text, [pull])
        return after, Did(f"Put into {target.label}.", places[pull.key])
    after, made = keeping.put_in(text, Case, [New(path, tidied(line.said))])
    return after, Did(f"Put into {called(Case, path)}.", made[0])


def mark_line(case: Desk, path: Path, key: str) -> None:
    """Mark a line of the note that was put in."""
    with kept.LOCK:
        note = kept.load(case.aside)
        line, target = line_of(note, key), _target(path)
        mark = Mark(State.PULLED, (tidied(line.said),), called(Case, path))
        if target:
            mark = begun((line,), known(case, note), target).mark
        kept.save(case.aside, note.marked(line, mark))


def follow_edits(case: Desk, changed: Iterable[tuple[str, str]]) -> None:
    """Keep lines of the note marked whose words were edited in the case.

    Args:
        case: the case.
        changed: values as they were, and as they are.
    """
    with kept.LOCK:
        note = kept.load(case.aside)
        after = follow(note, [pair for old, new in changed for pair in edits(old, new)])
        if after is not note:
            kept.save(case.aside, after)


def _target(path: Path) -> Target | None:
    return next((one for one in targets().values() if one.path == path), None)
