"""What became of each line of the note, as the case is now."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from typing import Any

from mmbuilder.page.desk import Moved
from mmbuilder.page.parts._note import Line, Note, State


@dataclass(frozen=True)
class Fate:
    """What became of a line.

    Attributes:
        state: as it was marked.
        where: where its words were put, as the form calls it.
        gone: whether its words were put into the case, and have been changed or taken out since.
    """

    line: Line
    state: State
    where: str
    gone: bool

    @property
    def open(self) -> bool:
        """Whether it is still to be looked at; a heading only says what the lines below it are."""
        return not self.line.heading and (self.state is State.LEFT or self.gone)


def fates(note: Note, tree: dict[str, Any]) -> list[Fate]:
    """Return what became of each line.

    Args:
        note: the note.
        tree: the case as typed.
    """
    told = "\n".join(_texts(tree)) if note.marks else ""
    made = []
    for line in note.lines:
        mark = note.mark(line)
        gone = mark.state is State.PULLED and not any(words in told for words in mark.what)
        made.append(Fate(line, mark.state, mark.where or "Events", gone))
    return made


def follow(note: Note, edits: Iterable[tuple[str, str]]) -> Note:
    """Return the note with its marks told what became of words that were edited in the case.

    Words that were edited are still those of the line; with an undo they are as they were. Only what is taken
    out gives its line back.

    Args:
        note: the note.
        edits: a text as it was, and as it is.
    """
    pairs = [(_squeezed(old), _squeezed(new)) for old, new in edits]
    moved = {}
    for key, mark in note.marks.items():
        new = [new for old, new in pairs if any(words in old and words not in new for words in mark.what)]
        if mark.state is State.PULLED and new:
            moved[key] = replace(mark, what=tuple(dict.fromkeys((*mark.what, *new)))[-_KEPT:])
    return note.all_marked(moved) if moved else note


_KEPT = 20
"""Forms of its words that a mark remembers: so far back an undo still finds the line used."""


def edits(old: str, new: str) -> list[tuple[str, str]]:
    """Return what was edited in a value, line by line: neither what was put in nor what was taken out."""
    before, after = old.splitlines(), new.splitlines()
    codes = SequenceMatcher(None, before, after, False).get_opcodes()
    return [
        pair
        for code, left, right, first, last in codes
        if code == "replace"
        for pair in zip(before[left:right], after[first:last], strict=False)
    ]


def _squeezed(words: str) -> str:
    return " ".join(words.split())


def line_of(note: Note, key: str) -> Line:
    """Return the line that a page named.

    Raises:
        Moved: it is no longer there.
    """
    for line in note.lines:
        if line.key == key:
            return line
    raise Moved("this line is no longer in the note; nothing was changed. Load the page again")


def _texts(node: Any) -> Iterator[str]:
    match node:
        case dict():
            yield from (text for value in node.values() for text in _texts(value))
        case list():
            yield from (text for value in node for text in _texts(value))
        case _:
            yield _squeezed(str(node))
