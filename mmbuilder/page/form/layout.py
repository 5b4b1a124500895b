"""The form's order and words, from `sections.yaml` and `words.yaml`: words are mended without code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

import yaml
from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE, IDENTIFIERS
from mmbuilder.casefile.shape import owner, slot_at

_FOLDER = files("mmbuilder.page.form")
LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
"""Every value as text: `on` is a key here."""


@dataclass(frozen=True)
class Key:
    """What is said of one key.

    Attributes:
        label: its name in the form.
        hint: what to write.
        example: a correct value, where the schema's own does not fit.
        long: whether it holds sentences.
        more: whether it stands behind "More" while it is empty.
        last: whether it stands there whatever it holds.
        choice: what it is chosen from; see `choices`.
        only: the words of another key for which it is asked; otherwise it stands behind "More", and where
            that is the specialty not at all.
        nothing: what the word `none` says in place of a list.
        new: the key of a new entry that other words than those to choose from become.
        see: another field of the case, which the hint leads to.
        offers: usual answers; any other may be written.
        alike: whether it is often the same in every entry, so that it can be said of all of them at once.
    """

    label: str
    hint: str = ""
    example: str = ""
    long: bool = False
    more: bool = False
    last: bool = False
    choice: str = ""
    only: Mapping[str, list[str]] = field(default_factory=dict)
    nothing: str = ""
    new: str = ""
    see: str = ""
    offers: tuple[str, ...] = ()
    alike: bool = False


@dataclass(frozen=True)
class PartWords:
    """What is said of a part.

    Attributes:
        one: what an entry of a list of it is called.
        told_by: keys that stand for an entry when it is closed; `a/b` is b where there is no a.
        keys: every key of it.
        rows: how many a new entry around it begins with; they are shown as plain rows, none of them closed.
        more_adds: what the keys behind "More" are good for.
        answers: of an action, how it is asked which causes it answers.
        bare: what is said of a closed entry that has none of some keys, by these keys: `a/b`.
    """

    keys: Mapping[str, Key]
    one: str = "entry"
    told_by: tuple[str, ...] = ()
    rows: int = 0
    more_adds: str = ""
    answers: Key | None = None
    bare: Mapping[str, str] = field(default_factory=dict)

    @property
    def alike(self) -> tuple[str, ...]:
        """The keys that are often the same in every entry."""
        return tuple(name for name, key in self.keys.items() if key.alike)


@dataclass(frozen=True)
class Group:
    """Fields under one heading.

    Attributes:
        empty: what is said of it while it holds nothing.
        slides: the slide kinds that tell it; empty where every use does.
    """

    fields: tuple[Path, ...]
    heading: str = ""
    empty: str = "nothing yet"
    slides: tuple[str, ...] = ()


@dataclass(frozen=True)
class Section:
    """A page of the form.

    Attributes:
        name: in its address.
        file: that it reads and writes.
        page: another page that helps with it, and what it helps with.
        slides: the slide kinds that tell it; empty where every use does.
        model: of that file.
    """

    name: str
    title: str
    lead: str
    groups: tuple[Group, ...]
    file: str = CASE
    page: str = ""
    page_says: str = ""
    slides: tuple[str, ...] = ()

    @property
    def model(self) -> type[BaseModel]:
        """The schema of its file."""
        return Declared if self.file == IDENTIFIERS else Case

    @property
    def fields(self) -> tuple[Path, ...]:
        """The paths of all its fields."""
        return tuple(path for group in self.groups for path in group.fields)


@cache
def sections() -> dict[str, Section]:
    """Return the sections by name, in the order of the form."""
    return {one["name"]: _section(one) for one in read("sections.yaml")}


@cache
def words(part: str) -> PartWords:
    """Return what is said of a part, by the name of its model.

    Raises:
        KeyError: nothing is said of it.
    """
    said = read("words.yaml")[part]
    keys = {key: _key(told) for key, told in said["keys"].items()}
    told_by, rows = tuple(said.get("told by", ())), int(said.get("rows", 0))
    answers = _key(said["answers"]) if "answers" in said else None
    return PartWords(
        keys,
        said.get("one", "entry"),
        told_by,
        rows,
        said.get("more adds", ""),
        answers,
        said.get("bare", {}),
    )


def called(model: type[BaseModel], path: Path) -> str:
    """Return what the form calls a field or part, after the entries that it stands in."""
    told = []
    for end, step in enumerate(path, 1):
        slot = slot_at(model, path[:end]) if isinstance(step, int) else None
        if slot is not None and slot.part is not None:
            told.append(f"{words(slot.part.__name__).one} {int(step) + 1}")
    field = path if isinstance(path[-1], str) else path[:-1]
    slot, inner = slot_at(model, field), owner(model, field)
    entry = field is not path and slot is not None and slot.part is not None
    label = "" if entry or inner is None else words(inner.__name__).keys[str(field[-1])].label
    name = ": ".join(filter(None, (", ".join(told), label)))
    return name[:1].upper() + name[1:]


@cache
def read(name: str) -> Any:
    """Return a file of this folder; every value is text."""
    return yaml.load((_FOLDER / name).read_text("utf-8"), LOADER)


def _key(told: dict[str, Any]) -> Key:
    switches = {name: told[name] == "yes" for name in ("long", "more", "last", "alike") if name in told}
    offers = tuple(told.get("offers", ()))
    return Key(**{name: one for name, one in (told | switches).items() if name != "offers"}, offers=offers)


def _section(said: dict[str, Any]) -> Section:
    groups = tuple(
        Group(
            tuple(tuple(path.split("/")) for path in group["fields"]),
            group.get("heading", ""),
            group.get("empty", Group.empty),
            tuple(group.get("slides", ())),
        )
        for group in said["groups"]
    )
    file = IDENTIFIERS if said.get("file") == "identifiers" else CASE
    page, says = said.get("page", ("", ""))
    return Section(
        said["name"], said["title"], said["lead"], groups, file, page, says, tuple(said.get("slides", ()))
    )
