"""The schema as its author meets it: which keys a part has, and what may stand under each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.case.when import Day, Duration, When


@dataclass(frozen=True)
class Slot:
    """What may stand under a key.

    Attributes:
        kind: the part, closed list or value type; `tuple` for a row of figures.
        many: whether it is a list.
        required: whether the key has to be given.
        length: figures in the row, for `kind` tuple.
    """

    kind: type
    many: bool
    required: bool
    length: int = 0

    @property
    def part(self) -> type[BaseModel] | None:
        """The part that stands there, if it has keys of its own."""
        return self.kind if issubclass(self.kind, BaseModel) else None

    @property
    def closed(self) -> tuple[str, ...]:
        """The words of a closed list, in its order; empty for anything else."""
        return tuple(str(word.value) for word in self.kind) if issubclass(self.kind, Enum) else ()


@cache
def slots(model: type[BaseModel]) -> dict[str, Slot]:
    """Every key of a part, in the order of the schema."""
    return {_key(name, info): _slot(info) for name, info in model.model_fields.items()}


@cache
def all_keys(model: type[BaseModel]) -> frozenset[str]:
    """Every key of a part and of the parts within it."""
    found = set(slots(model))
    for slot in slots(model).values():
        if slot.part is not None:
            found |= all_keys(slot.part)
    return frozenset(found)


@cache
def vocabulary(model: type[BaseModel]) -> frozenset[str]:
    """Every single word of the keys and closed lists of a part and of the parts within it."""
    found = {word for key in slots(model) for word in key.split()}
    for slot in slots(model).values():
        found |= {part.casefold() for word in slot.closed for part in word.replace("-", " ").split()}
        if slot.part is not None:
            found |= vocabulary(slot.part)
    return frozenset(found)


def owner(root: type[BaseModel], path: Path) -> type[BaseModel] | None:
    """The part in which the last key of `path` stands; None where the path leaves the schema."""
    model: type[BaseModel] | None = root
    for step in path[:-1]:
        if isinstance(step, str):
            slot = slots(model).get(step) if model is not None else None
            model = slot.part if slot is not None else None
    return model


def slot_at(root: type[BaseModel], path: Path) -> Slot | None:
    """What may stand at `path`; positions in a list are passed over."""
    keys = tuple(step for step in path if isinstance(step, str))
    model = owner(root, keys) if keys else None
    return slots(model).get(keys[-1]) if model is not None else None


def _key(name: str, info: FieldInfo) -> str:
    return info.alias or name.replace("_", " ")


def _slot(info: FieldInfo) -> Slot:
    kind, many, length = _inner(info.annotation)
    return Slot(kind, many, info.is_required(), length)


def _inner(annotation: Any) -> tuple[type, bool, int]:
    origin, args = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return _inner(args[0])
    if origin in (Union, UnionType):
        return _inner(next(arg for arg in args if arg is not NoneType))
    if origin is tuple and args[1:] == (...,):
        return _inner(args[0])[0], True, 0
    if origin is tuple:
        return tuple, False, len(args)
    return annotation, False, 0


_WORDS = {
    "age": "71",
    "answer": "Yes, the bag was not seen before it was cut",
    "asked": "Agree on when to call for a second surgeon",
    "because": "The field was clear and the patient was stable",
    "caption": "The edge of the tear, seen looking back",
    "chosen": "1",
    "code": "case-a",
    "column": "MAP",
    "every": "5 min",
    "exact": "09:30",
    "file": "images/first frame.png",
    "grade": "IIIb",
    "id": "incision",
    "at": "incision",
    "event": "incision",
    "index event": "incision",
    "clock": "theatre clock",
    "on": "theatre clock",
    "indication": "Symptomatic gallstones",
    "mmbuilder": "1",
    "name": "theatre clock",
    "offset": "-2 min 15 s",
    "option": "Convert to an open operation",
    "reason": "Better view and two hands",
    "owner": "Theatre lead",
    "procedure": "Laparoscopic cholecystectomy",
    "question": "What would you do now?",
    "ask": "What would you do now?",
    "reads": "11:04:10",
    "reference": "11:01:55",
    "role": "Operating surgeon",
    "scale": "Clavien-Dindo",
    "shows": "The operating field at the first sign",
    "situation": "Sudden bleeding during a planned keyhole operation",
    "specialty": "general surgery",
    "summary": "Recovered and home on Day 5",
    "take away": "Call early, a second pair of eyes costs nothing",
    "title": "An unexpected finding during a planned operation",
    "unit": "mmHg",
    "value": "6/12",
    "what": "Skin incision",
    "when": "14:30",
    "why": "Name on the screen",
}
"""Words for examples, by key; ours, so nothing of the case is repeated."""

_OWN_WORDS = {
    ("Person", "name"): "the name as it stands in the notes",
    ("Place", "name"): "the name as it stands in the notes",
    ("Number", "value"): "999 000 0000",
    ("Phase", "name"): "Dissection",
    ("ReadingLine", "name"): "Mean arterial pressure",
    ("Measure", "name"): "Visual acuity, right eye",
    ("Person", "role"): "surgeon",
}
"""The same where a key means something else in one part."""


def example_words(root: type[BaseModel], key: str) -> str:
    """Return the words an example has under a key of a part."""
    slot = slots(root)[key]
    own = _OWN_WORDS.get((root.__name__, key))
    if own or slot.closed:
        return own or slot.closed[0]
    if slot.kind is tuple:
        return "[" + ", ".join(("120", "80", "300", "40")[: slot.length]) + "]"
    plain = {When: "14:30", Day: "2031-02-13", Duration: "5 min", bool: "yes", int: "1", float: "40"}
    if slot.kind in plain and not (slot.kind is When and key in ("reads", "reference")):
        return _WORDS.get(key, plain[slot.kind]) if slot.kind is Duration else plain[slot.kind]
    return _WORDS.get(key, "a few words" if slot.kind is FreeText else "incision")


def example(root: type[BaseModel], key: str, indent: str = "") -> str:
    """Return correct lines for one key of a part, with all that the part under it requires."""
    slot = slots(root)[key]
    if slot.part is None:
        return f"{indent}{key}: {example_words(root, key)}"
    inner = [
        example(slot.part, name, indent + ("    " if slot.many else "  "))
        for name, under in slots(slot.part).items()
        if under.required
    ]
    if not inner:
        first = next(iter(slots(slot.part)))
        inner = [example(slot.part, first, indent + ("    " if slot.many else "  "))]
    body = "\n".join(inner)
    if slot.many:
        body = f"{indent}  - {body.lstrip()}"
    return f"{indent}{key}:\n{body}"
