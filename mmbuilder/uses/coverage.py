"""Which items of a reporting checklist a case holds something for: present, missing, not applicable.

Present means that the case has words for it, not that the words are good.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files

from pydantic import BaseModel, ConfigDict, Field

from mmbuilder import own_yaml
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, fill, ours
from mmbuilder.schemas import complete

CHECKLISTS = ("care", "scare")


class State(StrEnum):
    """Whether an item has anything in the case."""

    PRESENT = "present"
    MISSING = "missing"
    NOT_APPLICABLE = "not applicable"


class Item(BaseModel):
    """One item.

    Attributes:
        item: as the checklist numbers or names it.
        met_by: fields of the case, any of which holds something.
        earlier: whether the first edition counts it by itself.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    item: str
    topic: str
    text: str
    met_by: tuple[str, ...] = Field(alias="met by", min_length=1)
    earlier: bool = True

    @property
    def name(self) -> SafeText:
        """Its number or name, as the table shows it."""
        return ours(KEY, self.item)

    @property
    def asks(self) -> SafeText:
        """What it asks for."""
        return fill("{topic}: {text}", topic=ours(KEY, self.topic), text=ours(KEY, self.text))


class Checklist(BaseModel):
    """A checklist, as its file says."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    name: str
    source: str
    items: tuple[Item, ...]

    @property
    def title(self) -> SafeText:
        """Its name."""
        return ours(KEY, self.name)

    @property
    def origin(self) -> SafeText:
        """Where it was published, and what of it is from memory."""
        return ours(KEY, self.source)


@dataclass(frozen=True)
class Covered:
    """An item and whether the case has it."""

    item: Item
    state: State


@cache
def checklist(name: str) -> Checklist:
    """Return a checklist by the name of its file."""
    text = files("mmbuilder.uses").joinpath(f"checklists/{name}.yaml").read_text("utf-8")
    complete(Checklist)
    return Checklist.model_validate(own_yaml.read(text))


def coverage(listed: Checklist, case: object, excused: Collection[str]) -> tuple[Covered, ...]:
    """Hold a case against a checklist.

    Args:
        listed: the checklist.
        case: anything with the fields that the checklist names.
        excused: numbers, names or topics of items that the case has no place for.
    """
    return tuple(Covered(item, _state(item, case, excused)) for item in listed.items)


def _state(item: Item, case: object, excused: Collection[str]) -> State:
    if any(value for path in item.met_by for value in _values(case, path.split("."))):
        return State.PRESENT
    return State.NOT_APPLICABLE if reason(item, excused) else State.MISSING


def reason(item: Item, excused: Collection[str]) -> str:
    """Return the name under which an item is excused, or nothing."""
    names = {item.item.casefold(), item.topic.casefold(), item.text.casefold()}
    return next((name for name in excused if name.casefold() in names), "")


def _values(value: object, path: list[str]) -> Iterator[object]:
    """Yield what stands at a path; through a list, of each of its members."""
    if not path:
        yield value
    elif isinstance(value, tuple):
        for member in value:
            yield from _values(member, path)
    elif value is not None:
        yield from _values(getattr(value, path[0]), path[1:])
