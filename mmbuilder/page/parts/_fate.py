"""What became of each line of the note, as the case is now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
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
        """Whether it is still to be looked at."""
        return self.state is State.LEFT or self.gone


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
        gone = mark.state is State.PULLED and mark.what not in told
        made.append(Fate(line, mark.state, mark.where or "Events", gone))
    return made


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
            yield " ".join(str(node).split())
