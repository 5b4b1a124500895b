"""A case file as a tree that knows where each part of it stands, to the character.

Changes are made to the text itself, at these places, so that all the rest stays as it is: comments,
order, spacing, quotes. Values are text, keys are in their plain form, and empty entries of a list
are not counted: the same as `casefile.reader` has it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeAlias

import yaml

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.reading.keys import plain_key

_NOTHING = ("~", "null", "Null", "NULL")
"""Plain words that stand for nothing."""
_LOADER: type[yaml.CBaseLoader] | type[yaml.BaseLoader] = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


class Tangled(ValueError):
    """The text is not one that can be changed in place: a reference, a type, two documents."""


@dataclass
class Words:
    """A text value; `style` is its quote, `|`, `>`, or nothing. Empty where only the key stands."""

    start: int
    end: int
    value: str
    style: str


@dataclass
class Item:
    """An entry of a list; `dash` is where its dash stands, or its value in brackets."""

    dash: int
    node: Node


@dataclass
class Listed:
    """A list; `flow` where it stands in brackets."""

    start: int
    end: int
    flow: bool
    items: list[Item]


@dataclass
class Pair:
    """A key with its value; `colon` is the place after the colon."""

    start: int
    colon: int
    node: Node


@dataclass
class Part:
    """Keys with their values."""

    start: int
    end: int
    flow: bool
    pairs: dict[str, Pair] = field(default_factory=dict)


Node: TypeAlias = Words | Listed | Part
Tree: TypeAlias = "dict[str, Tree] | list[Tree] | str"


@lru_cache(maxsize=4)  # a change is made on the text that the form was shown from
def parsed(text: str) -> Part | None:
    """Return the tree of a file; None for one without keys.

    Raises:
        Tangled: it is not readable, or holds what cannot be changed in place.
    """
    try:
        top = yaml.compose(text, Loader=_LOADER)
    except yaml.YAMLError:
        raise Tangled("not readable") from None
    if top is None:
        return None
    made = _Reader(text).node(top)
    if not isinstance(made, Part):
        raise Tangled("no keys at the top")
    return made


class _Reader:
    def __init__(self, text: str) -> None:
        self._text, self._seen = text, set[int]()

    def node(self, read: yaml.Node) -> Node:
        if id(read) in self._seen:
            raise Tangled("a reference")
        self._seen.add(id(read))
        start, end = read.start_mark.index, read.end_mark.index
        match read:
            case yaml.ScalarNode():
                if read.style in ("|", ">"):
                    end = start + len(self._text[start:end].rstrip())
                nothing = not read.style and read.value in _NOTHING
                return Words(start, end, "" if nothing else read.value, read.style or "")
            case yaml.SequenceNode():
                return self._list(read, start, end)
            case yaml.MappingNode():
                return self._part(read, start, end)
            case _:
                pass
        raise Tangled("an unknown kind of node")

    def _list(self, read: yaml.SequenceNode, start: int, end: int) -> Listed:
        items = []
        for at, one in enumerate(read.value):
            node = self.node(one)
            dash = node.start if read.flow_style else start if at == 0 else self._dash(read, node)
            if isinstance(node, Words) and node.end <= node.start:
                node = Words(dash + 1, dash + 1, "", "")  # its own place would be the next word's
            end = end if read.flow_style else node.end
            if not (isinstance(node, Words) and not node.value.strip()):
                items.append(Item(dash, node))
        return Listed(start, end, bool(read.flow_style), items)

    def _dash(self, read: yaml.SequenceNode, node: Node) -> int:
        """The dash of an entry that is not the first: on its line, or on one above."""
        column = read.start_mark.column
        line = line_start(self._text, node.start)
        while (
            self._text[line + column : line + column + 1] != "-" or self._text[line : line + column].strip()
        ):
            if line == 0:
                raise Tangled("an entry without a dash")
            line = line_start(self._text, line - 1)
        return line + column

    def _part(self, read: yaml.MappingNode, start: int, end: int) -> Part:
        part = Part(start, end, bool(read.flow_style))
        for key, value in read.value:
            if not isinstance(key, yaml.ScalarNode):
                raise Tangled("a key that is no word")
            node = self.node(value)
            colon = self._text.find(":", key.end_mark.index) + 1
            if not colon or self._text[key.end_mark.index : colon - 1].strip():
                raise Tangled("a key without a colon")
            if isinstance(node, Words) and not node.style and node.end <= node.start:
                node = Words(colon, colon, "", "")
            part.end = end if part.flow else node.end
            part.pairs.setdefault(plain_key(key.value), Pair(key.start_mark.index, colon, node))
        return part


def line_start(text: str, at: int) -> int:
    """Return where the line of a place begins."""
    return text.rfind("\n", 0, at) + 1


def line_end(text: str, at: int) -> int:
    """Return where the line of a place ends, before the line break."""
    found = text.find("\n", at)
    return len(text) if found < 0 else found


def plain(node: Node | None) -> Tree | None:
    """Return the values of a tree without their places; single spaces, and no empty values."""
    match node:
        case None:
            return None
        case Words():
            return " ".join(node.value.split())
        case Listed():
            return [value for item in node.items if (value := plain(item.node)) is not None]
        case Part():
            return {key: value for key, value in _values(node) if value not in (None, "")}


def _values(node: Part) -> Iterator[tuple[str, Tree | None]]:
    for key, pair in node.pairs.items():
        yield key, plain(pair.node)


def at(node: Node | None, path: Path) -> Node | None:
    """Return what stands at a path. One entry may stand for a list of one."""
    for step in path:
        match node:
            case Part() if isinstance(step, str):
                pair = node.pairs.get(step)
                node = pair.node if pair is not None else None
            case Listed() if isinstance(step, int):
                node = node.items[step].node if 0 <= step < len(node.items) else None
            case Part() | Words() if step == 0:
                pass
            case _:
                return None
    return node
