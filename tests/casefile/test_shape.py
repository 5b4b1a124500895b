"""Every example that a problem may print is right: the schema itself reads it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import yaml
from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.places import ordinal, place
from mmbuilder.casefile.shape import all_keys, example, slots


def _parts(model: type[BaseModel], seen: set[type[BaseModel]]) -> Iterator[type[BaseModel]]:
    if model not in seen:
        seen.add(model)
        yield model
        for slot in slots(model).values():
            if slot.part is not None:
                yield from _parts(slot.part, seen)


PAIRS = [
    (part, key)
    for seen in [set[type[BaseModel]]()]
    for root in (Case, Declared)
    for part in _parts(root, seen)
    for key in slots(part)
]


@pytest.mark.parametrize(("part", "key"), PAIRS, ids=lambda item: getattr(item, "__name__", item))
def test_example_is_accepted(part: type[BaseModel], key: str) -> None:
    tree = yaml.load(example(part, key), Loader=yaml.BaseLoader)
    assert list(tree) == [key]
    # Only what else the part requires may be missing; the example itself has no fault.
    assert not [
        error for error in _errors(part, tree) if error["loc"][0] == key or error["type"] != "missing"
    ]


def _errors(part: type[BaseModel], tree: object) -> list[ErrorDetails]:
    try:
        part.model_validate(tree)
    except ValidationError as wrong:
        return wrong.errors()
    return []


def test_keys_are_what_the_schema_reads() -> None:
    assert {"take away", "index event", "from", "to"} <= all_keys(Case)
    assert "take_away" not in all_keys(Case)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ((), ""),
        (("title",), "`title`"),
        (("timeline", "events", 2, "when"), "`when` of event 3"),
        (("decisions", 0, "options", 1), "option 2 of decision 1"),
        (("timeline",), "`timeline`"),
        (("patient", "history", 1), "history, entry 2 of `patient`"),
    ],
)
def test_places_in_words(path: tuple[str | int, ...], words: str) -> None:
    assert place(path) == words


def test_ordinals() -> None:
    assert [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 102, 111)] == (
        ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "102nd", "111th"]
    )
