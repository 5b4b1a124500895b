"""Read a case file as a clinician meant it: bytes to a plain tree with places, or every slip explained.

Bounds, so that any file is read in bounded time and memory: 2 MB, 20 lists within each
other, 100,000 keys and values, 20,000 characters in one value. Nothing is executed, no
reference is followed, no type is guessed: `09:30`, `1:4`, `0912` and `no` stay as written.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.mark import START, Mark, Tree
from mmbuilder.casefile.reading.characters import tidy
from mmbuilder.casefile.reading.decode import MOST_BYTES, decode
from mmbuilder.casefile.reading.events import MOST_CHARACTERS, MOST_DEPTH, MOST_NODES, Marks, build
from mmbuilder.casefile.reading.lines import LineScan
from mmbuilder.casefile.reading.report import Report
from mmbuilder.problem import Problem

__all__ = ["MOST_BYTES", "MOST_CHARACTERS", "MOST_DEPTH", "MOST_NODES", "Source", "read"]


@dataclass(frozen=True)
class Source:
    """One file as read.

    Attributes:
        file: its name as told in problems.
        tree: keys in their plain form, every value as text; None where nothing can be trusted.
        keys, values: where keys and values stand.
        empty: keys given without a value; they are not in the tree.
        spelled: keys as written, where that differs from their plain form.
        problems: what the reader itself had to tell.
    """

    file: str
    tree: dict[str, Tree] | None = field(repr=False)
    keys: Mapping[Path, Mark] = field(repr=False)
    values: Mapping[Path, Mark] = field(repr=False)
    empty: frozenset[Path] = field(repr=False)
    spelled: Mapping[Path, str] = field(repr=False)
    problems: tuple[Problem, ...] = ()

    def text(self, path: Path) -> str | None:
        """Return the value at `path` as it was written; None where there is none, or where it is no text."""
        node: Tree | None = self.tree
        for step in path:
            if isinstance(node, dict):
                node = node.get(str(step))
            elif isinstance(node, list):
                node = node[step] if isinstance(step, int) and step < len(node) else None
            else:
                return None
        return node if isinstance(node, str) else None

    def at_value(self, path: Path) -> Mark:
        """Where a value starts; for one that is not there, the part around it; () is the whole file."""
        if not path:
            return START
        while path and path not in self.values:
            path = path[:-1]
        return self.values.get(path, START)

    def at_key(self, path: Path) -> Mark:
        """Where a key stands; an entry of a list, or a part without a key, where it starts."""
        while path and path not in self.keys and path not in self.values:
            path = path[:-1]
        return self.keys.get(path) or self.values.get(path, START)


def read(data: bytes, file: str, known: Collection[str] = ()) -> Source:
    """Read one file.

    Args:
        data: its bytes.
        file: its name, as problems will tell it.
        known: the keys of its schema in their plain form; only these are ever repeated in a problem.
    """
    source = _understood(data, frozenset(known))
    told = tuple(replace(problem, file=file) for problem in source.problems)
    return replace(source, file=file, problems=told)


def forget() -> None:
    """Forget the files that were read last."""
    _understood.cache_clear()


@lru_cache(maxsize=4)  # the page asks for the same text many times between two changes
def _understood(data: bytes, known: frozenset[str]) -> Source:
    report, marks = Report(""), Marks()
    text = decode(data, report)
    tree = None
    if text is not None:
        mended = LineScan(tidy(text, report), report, known).run()
        tree = build(mended, report, marks)
        if report.has("tab-indent"):
            tree = None  # which line belongs to which is not known
    return Source(
        "", tree, marks.keys, marks.values, frozenset(marks.empty), marks.spelled, report.problems()
    )
