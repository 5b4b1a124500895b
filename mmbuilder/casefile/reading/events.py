"""Text to a plain tree with the place of every key and value; every scalar stays text.

PyYAML guesses types (09:30 becomes 570) and drops repeated keys without a word. So only its
events are used, one at a time: nothing is resolved, no reference is followed, and the bounds
hold before a tree is built.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml

from mmbuilder.case.freetext import Path, Scalar
from mmbuilder.casefile.mark import Mark, Tree
from mmbuilder.casefile.reading.keys import plain_key
from mmbuilder.casefile.reading.report import Report
from mmbuilder.casefile.reading.yaml_faults import tell_yaml_error
from mmbuilder.problem import Severity

MOST_DEPTH = 20
"""Lists and keys within each other."""
MOST_NODES = 100_000
"""Keys and values in a file."""
MOST_CHARACTERS = 20_000
"""Characters in one value."""

_LOADER: type[yaml.CLoader] | type[yaml.Loader] = getattr(yaml, "CLoader", yaml.Loader)
_NOTHING = frozenset({"", "~", "null", "Null", "NULL"})


class _TooMuch(Exception):
    """A bound was passed; it has been told."""


@dataclass
class Marks:
    """Places found while building.

    Attributes:
        keys: where each key stands.
        values: where each value starts.
        empty: keys given without a value.
        spelled: keys as they were written, where that is not their plain form.
    """

    keys: dict[Path, Mark] = field(default_factory=dict)
    values: dict[Path, Mark] = field(default_factory=dict)
    empty: set[Path] = field(default_factory=set)
    spelled: dict[Path, str] = field(default_factory=dict)


def build(text: str, report: Report, marks: Marks) -> dict[str, Tree] | None:
    """Return the tree of one document whose top is a list of keys; None where there is none to trust."""
    try:
        return _Builder(text, report, marks).document()
    except yaml.YAMLError as error:
        # A tab that was evened out has been told, and any error may only follow from it.
        if not report.has("tab-indent"):
            tell_yaml_error(error, report)
        return None
    except _TooMuch:
        return None


class _Builder:
    def __init__(self, text: str, report: Report, marks: Marks) -> None:
        self._events: Iterator[yaml.Event] = yaml.parse(text, Loader=_LOADER)
        self._report, self._marks = report, marks
        self._nodes = 0

    def document(self) -> dict[str, Tree] | None:
        tree: Tree | None = None
        documents = 0
        for event in self._events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._tell_second(event)
                    break
            elif isinstance(event, yaml.NodeEvent):
                tree = self._node(event, ())
        return self._top(tree)

    def _tell_second(self, event: yaml.Event) -> None:
        self._report.tell(
            _mark(event),
            "several-documents",
            "a line of three dashes starts a second document",
            found="---",
            expected="one case in one file; leave the line out",
            why="nothing below it would be read",
        )

    def _top(self, tree: Tree | None) -> dict[str, Tree] | None:
        if isinstance(tree, dict):
            return tree
        if tree is None and any(problem.stops for problem in self._report.problems()):
            return None
        kind = {"list": "a list", "Scalar": "words without a key"}.get(type(tree).__name__, "nothing")
        self._report.tell(
            Mark(1, 1) if tree is not None else Mark(0, 0),
            "no-keys-at-top",
            "the file has no keys" if tree is not None else "the file is empty",
            found=kind,
            expected="keys at the left edge, each with a colon",
            example="mmbuilder: 1\ncode: case-a\ntitle: Unexpected bleeding during a planned operation",
        )
        return None

    # Nodes

    def _node(self, event: yaml.Event, path: Path) -> Tree | None:
        """Return the value that starts with this event, or None for an empty one."""
        self._bounds(event, path)
        self._marks.values.setdefault(path, _mark(event))
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event, path)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(path)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(path)
        self._tell(
            event,
            "alias-or-anchor",
            "a reference to another part of the file",
            "the words themselves, written out",
        )
        return None

    def _bounds(self, event: yaml.Event, path: Path) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES:
            raise self._too_much(
                event, "too-many-values", f"more than {MOST_NODES:,} keys and values in one file"
            )
        if len(path) > MOST_DEPTH:
            raise self._too_much(event, "too-deep", f"more than {MOST_DEPTH} lists within each other")
        if getattr(event, "anchor", None) is not None and not isinstance(event, yaml.AliasEvent):
            self._tell(
                event, "alias-or-anchor", "a name for a part of the file (&)", "the words, without the name"
            )
        if getattr(event, "tag", None) is not None:
            self._tell(event, "tag", "a type is asked for (!)", "plain words")

    def _scalar(self, event: yaml.ScalarEvent, path: Path) -> Scalar | None:
        value: str = event.value
        if len(value) > MOST_CHARACTERS:
            raise self._too_much(
                event, "value-too-long", f"more than {MOST_CHARACTERS:,} characters in one value"
            )
        if not value.strip() or (event.implicit[0] and value in _NOTHING):
            return None
        return Scalar(value, path, *_mark(event))

    def _sequence(self, path: Path) -> list[Tree]:
        items: list[Tree] = []
        for event in self._events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            item = self._node(event, (*path, len(items)))
            if item is not None:
                items.append(item)
            elif isinstance(event, yaml.ScalarEvent):
                self._marks.values.pop((*path, len(items)), None)
                self._tell_empty(event)
        return items

    def _mapping(self, path: Path) -> dict[str, Tree]:
        tree: dict[str, Tree] = {}
        for event in self._events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            self._pair(event, next(self._events, None), path, tree)
        return tree

    def _pair(self, key: yaml.Event, first: yaml.Event | None, path: Path, tree: dict[str, Tree]) -> None:
        if not isinstance(key, yaml.ScalarEvent):
            raise self._too_much(key, "key-not-a-word", "a list or a reference where a key is expected")
        self._bounds(key, path)
        name = plain_key(key.value[:MOST_CHARACTERS])
        here = (*path, name)
        earlier = self._marks.keys.get(here)
        self._marks.keys.setdefault(here, _mark(key))
        if key.value != name:
            self._marks.spelled.setdefault(here, key.value)
        assert first is not None
        value = self._node(first, here)
        if earlier is not None:
            self._tell_repeated(key, earlier)
        elif value is None:
            self._marks.empty.add(here)
        else:
            tree[name] = value

    # Telling

    def _tell(self, event: yaml.Event, code: str, found: str, expected: str) -> None:
        self._report.tell(
            _mark(event),
            code,
            "only keys, lists and words are read",
            found=found,
            expected=expected,
            why="a file that builds on itself, or asks for a type, can be made to run or to grow without end",
        )

    def _too_much(self, event: yaml.Event, code: str, found: str) -> _TooMuch:
        self._report.tell(
            _mark(event),
            code,
            "this is not a case file, or something went wrong while it was written",
            found=found,
            expected=f"at most {MOST_NODES:,} values, {MOST_DEPTH} lists within each other, "
            f"{MOST_CHARACTERS:,} characters in one value",
            why="reading stops here, so that memory stays bounded",
        )
        return _TooMuch()

    def _tell_repeated(self, key: yaml.Event, earlier: Mark) -> None:
        self._report.tell(
            _mark(key),
            "repeated-key",
            f"this key was given before, on line {earlier.line}",
            found=f"the same key on line {earlier.line} and on line {_mark(key).line}",
            expected="each key once; several entries under one key, as a list",
            why="one of the two would be lost",
            example="history:\n  - first entry\n  - second entry",
        )

    def _tell_empty(self, event: yaml.Event) -> None:
        self._report.tell(
            _mark(event),
            "empty-entry",
            "an entry of this list is empty; it is left out",
            expected="words after the dash, or no dash",
            severity=Severity.WARN,
        )


def _mark(event: yaml.Event) -> Mark:
    mark = event.start_mark
    assert mark is not None
    return Mark(mark.line + 1, mark.column + 1)
