"""The example of a fault as it is typed into the form: by label and words, with no lines of a file in it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import yaml
from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.shape import Slot, owner, slot_at, slots
from mmbuilder.page.form.choices import OF_THE_CASE
from mmbuilder.page.form.layout import LOADER, words

_EITHER = re.compile(r"\n(or\b[^\n]*)\n")
_REMARK = re.compile(r"\s{2,}(\([^()]*\))$")
_FIELD = re.compile(r"([a-z][a-z -]*): (.+)")


@dataclass(frozen=True)
class Typed:
    """What is typed into one field.

    Attributes:
        label: of the field; empty for the one that the fault is told at.
        words: to type there, several one a line.
        before: what joins it to the lines above, where it is another way.
        after: a remark on it.
    """

    label: str
    words: str
    before: str = ""
    after: str = ""


def as_typed(example: str, path: Path, model: type[BaseModel]) -> list[Typed]:
    """Return an example, written as lines of a file, as it is typed.

    Args:
        example: of a fault.
        path: of the field or part that the fault concerns.
        model: of the file.
    """
    remark = _REMARK.search(example)
    first, *others = _EITHER.split(_REMARK.sub("", example))
    made = [*_one_way(first, path, model)]
    for before, lines in zip(others[::2], others[1::2], strict=True):
        other = [*_one_way(lines, path, model)]
        made += [replace(one, before="" if at else before) for at, one in enumerate(other)]
    if made and remark:
        made[-1] = replace(made[-1], after=remark[1])
    return made


def holders(path: Path, model: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """Yield the parts whose keys a fault may speak of, from those next to its field to the whole file."""
    for end in range(len(path), 0, -1):
        slot = slot_at(model, path[:end]) if isinstance(path[end - 1], str) else None
        around = owner(model, path[:end])
        yield from (one for one in (slot.part if slot else None, around) if one is not None)
    yield model


def _one_way(lines: str, path: Path, model: type[BaseModel]) -> Iterator[Typed]:
    tree = _read(lines)
    found = next((one for one in _around(path, model) if _knows(one[0], tree)), None)
    if found is None:
        yield from _plain(tree, lines)
        return
    holder, within = found
    field = path[-1] if path and owner(model, path) is holder else None
    for entry in tree if isinstance(tree, list) else [tree]:
        yield from _leaves(entry, holder, within, field)


def _plain(tree: Any, lines: str) -> Iterator[Typed]:
    """Words that are no field of the form; of one that the form does not have there, nothing is said."""
    if isinstance(tree, list):
        yield Typed("", "\n".join(str(one) for one in tree if isinstance(one, str)))
    elif not isinstance(tree, dict):
        yield Typed("", lines)


def _around(path: Path, model: type[BaseModel]) -> Iterator[tuple[type[BaseModel], str]]:
    """Yield the parts whose keys an example may have, each with the label that it stands under."""
    for part in holders(path, model):
        yield part, ""
        for key, slot in slots(part).items() if part is not model else ():
            if slot.part is not None:
                yield slot.part, words(part.__name__).keys[key].label


def _read(lines: str) -> Any:
    """The lines as a file is read; one that is no such line as a field and its words."""
    try:
        return yaml.load(lines, LOADER)
    except yaml.YAMLError:
        found = _FIELD.fullmatch(lines)
        return {found[1]: found[2]} if found else lines


def _knows(part: type[BaseModel], tree: Any) -> bool:
    entries = tree if isinstance(tree, list) else [tree]
    return all(isinstance(one, dict) and one and one.keys() <= slots(part).keys() for one in entries)


def _leaves(tree: dict[str, Any], part: type[BaseModel], within: str, field: Any = None) -> Iterator[Typed]:
    for key, value in tree.items():
        slot, said = slots(part)[key], words(part.__name__).keys[key]
        label = f"{within}: {said.label}" if within else said.label
        inner = [one for one in (value if isinstance(value, list) else [value]) if isinstance(one, dict)]
        if slot.part is not None and inner:
            for one in inner:
                yield from _leaves(one, slot.part, said.label)
        elif said.nothing and value == "none":
            yield Typed(label, said.nothing)
        elif said.choice in OF_THE_CASE and not said.new:
            yield Typed("" if key == field else label, "one of those to choose from")
        else:
            yield Typed("" if key == field else label, _words(value, slot))


def _words(value: Any, slot: Slot) -> str:
    if not isinstance(value, list):
        return str(value)
    return (", " if slot.kind is tuple else "\n").join(map(str, value))
