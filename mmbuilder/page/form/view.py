"""A section of the form as it is shown: groups, fields and lists with their values, hints and faults.

Made from the models of the case and the words of the form: what a field is, and what may stand in
it, is said in one place only.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path as Folder
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.shape import Slot, example_words, owner, slot_at, slots
from mmbuilder.page.form.choices import (
    ANSWERS,
    ELSEWHERE,
    NAMED,
    OPEN,
    Choice,
    answered,
    choices,
    entry,
    word,
)
from mmbuilder.page.form.faults import Faults, section_of
from mmbuilder.page.form.first import first, told
from mmbuilder.page.form.layout import Group, Key, Section, called, sections, words
from mmbuilder.page.form.nodes import Tree
from mmbuilder.problem import Problem

ALL_OPEN = 25
"""Entries of a list that are sent along with their fields; of a longer one only those that are opened."""


@dataclass(frozen=True)
class Asked:
    """Where the form asks for a field or part.

    Attributes:
        mark: its name on the page.
        address: of the page, and where it stands there.
        label: what the form calls it.
    """

    mark: str
    address: str
    label: str

    @property
    def short(self) -> str:
        """Its label where the entry that it stands in has been told."""
        return self.label.rpartition(": ")[2]


@dataclass(frozen=True)
class Field:
    """One value.

    Attributes:
        path: where it stands.
        widget: line, text, lines, choice or ticks.
        value: as typed; of several, one a line.
        was: a hash of the value in the file, to know later whether it was changed.
        choices: what it may be chosen from, or what is offered.
        takes: what it is called where a line of the note may be put into it; empty where it may not.
        unsaid: what an empty choice is told by.
        see: another field that the hint leads to.
        wanted: whether a fault that is told elsewhere asks for it, and whether that only wishes for it.
        adds: what a new entry is called, where words written here become one.
        half: whether two of its kind stand side by side.
    """

    path: Path
    label: str
    hint: str
    example: str
    widget: str
    value: str
    was: str
    choices: tuple[Choice, ...] = ()
    unsaid: str = ""
    required: bool = False
    half: bool = False
    faults: tuple[Problem, ...] = ()
    see: Asked | None = None
    takes: str = ""
    adds: str = ""
    wanted: bool = False
    wished: bool = False
    kind: str = "field"

    @property
    def id(self) -> str:
        """Its name on the page."""
        return html_id(self.path)

    @property
    def name(self) -> str:
        """Its name in a form."""
        return "=" + json.dumps(self.path)

    @property
    def helps(self) -> bool:
        """Whether there is something to be said of it beyond its label."""
        return bool(self.hint or self.see or (self.example and not self.value))

    @property
    def lines(self) -> int:
        """How many lines of room it needs to begin with."""
        least = 2 if self.widget == "text" else 1
        return max(least, sum(1 + len(line) // 80 for line in self.value.split("\n")))

    @property
    def ticked(self) -> frozenset[str]:
        """The values of several."""
        return frozenset(self.value.split("\n"))


@dataclass(frozen=True)
class Block:
    """A part with keys of its own.

    Attributes:
        rows: what is always shown.
        more: what stands behind "More" because it is empty.
        more_adds: what that is good for.
        odd: words that stand where the keys should.
    """

    path: Path
    label: str
    hint: str
    rows: tuple[Row, ...]
    more: tuple[Row, ...] = ()
    odd: str = ""
    faults: tuple[Problem, ...] = ()
    more_adds: str = ""
    kind: str = "block"

    @property
    def was(self) -> dict[str, str]:
        """The hash of every value in it, by its name in a form."""
        return marks((*self.rows, *self.more))

    @property
    def id(self) -> str:
        """Its name on the page."""
        return html_id(self.path)


@dataclass(frozen=True)
class Entry:
    """An entry of a list.

    Attributes:
        told: what stands for it when it is closed.
        body: its fields; None where it has not been opened.
    """

    path: Path
    number: int
    told: tuple[str, ...]
    stops: int
    looks: int
    body: Block | None
    open: bool = False

    @property
    def id(self) -> str:
        """Its name on the page."""
        return html_id(self.path)


@dataclass(frozen=True)
class List:
    """A list of entries.

    Attributes:
        one: what an entry is called.
        within: the entry that the list stands in; empty where it stands in none.
        nothing: what the word `none` says in its place; `said_nothing` whether it stands there.
        plain: whether its entries are shown as rows, none of them closed.
        alike: what one entry may say of all the others at once.
    """

    path: Path
    label: str
    hint: str
    one: str
    entries: tuple[Entry, ...]
    nothing: str = ""
    said_nothing: bool = False
    required: bool = False
    faults: tuple[Problem, ...] = ()
    plain: bool = False
    alike: str = ""
    within: str = ""
    kind: str = "list"

    @property
    def level(self) -> int:
        """Of its heading: one below the list around it."""
        return 2 + sum(isinstance(step, int) for step in self.path)

    @property
    def id(self) -> str:
        """Its name on the page."""
        return html_id(self.path)


Row = Field | Block | List


@dataclass(frozen=True)
class Shown:
    """A group of a section with its rows.

    Attributes:
        id: its name on the page; only one with a heading has one.
        holds: what it holds, in one line.
        tally: how many faults in it stop, and how many do not.
        folded: whether nothing but its heading and what it holds is in sight to begin with.
    """

    rows: tuple[Row, ...]
    more: tuple[Row, ...] = ()
    heading: str = ""
    id: str = ""
    holds: str = ""
    tally: tuple[int, int] = (0, 0)
    folded: bool = False


class Viewer:
    """Makes what is shown of one file.

    Args:
        model: of the file.
        values: of the file.
        faults: of the case.
        file: its name.
        root: the case folder.
        open: paths of entries that are open.
        typed: values that are not kept yet, to be shown in place of those in the file.
    """

    def __init__(
        self,
        model: type[BaseModel],
        values: dict[str, Tree],
        faults: Faults,
        file: str,
        root: Folder,
        open: frozenset[Path] = frozenset(),
        typed: Mapping[Path, str] | None = None,
    ) -> None:
        self._model, self._values, self._faults = model, values, faults
        self._file, self._root, self._open = file, root, open
        self._typed = typed or {}

    def section(self, section: Section) -> list[Shown]:
        """Return the groups of a section; what the use of the case tells comes first."""
        use = word(self._values, "use")
        ordered = first(section.groups, use)
        return [self._group(group, at > 0 or not told(group, use)) for at, group in enumerate(ordered)]

    def headed(self, section: Section) -> list[Shown]:
        """Return the groups of a section that have a heading of their own, without their rows."""
        groups = (group for group in section.groups if group.heading)
        return [Shown((), (), *self._heading(group)) for group in groups]

    def _group(self, group: Group, later: bool) -> Shown:
        rows, more = self._sorted([self.row(path) for path in group.fields])
        if not group.heading or not rows:
            return Shown(rows, more)
        if len(rows) == 1 and isinstance(rows[0], List):
            # Its heading says what it is.
            return Shown((replace(rows[0], label=group.heading),), more)
        calm = not any(map(self._told_of, group.fields)) and not any(map(self._is_open, group.fields))
        return Shown(rows, more, *self._heading(group), folded=later and calm)

    def _heading(self, group: Group) -> tuple[str, str, str, tuple[int, int]]:
        found = [one for path in group.fields for one in self._faults.within(self._file, path)]
        holds = " · ".join(words for path in group.fields for words in self._holds(path))
        name = html_id(group.fields[0]).replace("at-", "of-", 1)
        return group.heading, name, holds or group.empty, self._faults.tally(found)

    def _holds(self, path: Path) -> Iterator[str]:
        """What stands at a path, in few words."""
        found, slot = entry(self._values, path), slot_at(self._model, path)
        if slot is None or self._empty(path):
            return
        if slot.part is None:
            value = shown(found, slot).replace("\n", ", ")
            asked = slot.closed or slot.kind is bool
            yield f"{self._said(path).label.lower()}: {value}" if asked else value
        elif isinstance(found, str):
            yield found
        elif slot.many:
            count = len(found) if isinstance(found, list) else 1
            yield f"{self._said(path).label.lower()}: {count}"
        else:
            for key in words(slot.part.__name__).keys:
                yield from self._holds((*path, key))

    def row(self, path: Path) -> Row:
        """Return what is shown at a path."""
        key = str(path[-1])
        inner = owner(self._model, path)
        assert inner is not None
        slot, said = slots(inner)[key], words(inner.__name__).keys[key]
        if slot.part is not None and slot.many:
            return self._list(path, slot.part, said, slot)
        if slot.part is not None:
            return self._block(path, slot.part, said.label, said.hint)
        return self._field(path, inner, slot, said)

    def entry(self, path: Path) -> Entry:
        """Return an entry of a list, open."""
        part = self._part_of(path)
        return self._entry(path, part, loaded=True, open=True)

    def _part_of(self, path: Path) -> type[BaseModel]:
        inner = owner(self._model, path[:-1])
        assert inner is not None
        part = slots(inner)[str(path[-2])].part
        assert part is not None
        return part

    # Parts and lists

    def _sorted(self, rows: list[Row]) -> tuple[tuple[Row, ...], tuple[Row, ...]]:
        asked = [row for row in rows if not self._foreign(row)]
        shown = tuple(row for row in asked if not self._behind(row))
        return shown, tuple(row for row in asked if self._behind(row))

    def _behind(self, row: Row) -> bool:
        said = self._said(row.path)
        unasked = said.more or not self._asked_for(row.path)
        return (said.last or (unasked and self._empty(row.path))) and not self._told_of(row.path)

    def _foreign(self, row: Row) -> bool:
        """Whether it is a field of another specialty, with nothing in it and nothing to tell of it."""
        other = "specialty" in self._said(row.path).only and not self._asked_for(row.path)
        return other and self._empty(row.path) and not self._told_of(row.path)

    def _said(self, path: Path) -> Key:
        inner = owner(self._model, path)
        assert inner is not None
        return words(inner.__name__).keys[str(path[-1])]

    def _asked_for(self, path: Path) -> bool:
        only = self._said(path).only
        return not only or any(
            _as_known(key, word(self._values, *path[:-1], key)) in options for key, options in only.items()
        )

    def _empty(self, path: Path) -> bool:
        return entry(self._values, path) in (None, "", [], {})

    def _told_of(self, path: Path) -> bool:
        return path in self._faults.wanted or bool(self._faults.within(self._file, path))

    def _block(self, path: Path, part: type[BaseModel], label: str, hint: str) -> Block:
        rows, more = self._sorted([self.row((*path, key)) for key in words(part.__name__).keys])
        if asked := words(part.__name__).answers:
            rows = (*rows[:1], *self._answers((*path, ANSWERS), asked), *rows[1:])
        odd = word(self._values, *path) if path and isinstance(path[-1], str) else ""
        faults = tuple(self._faults.of(self._file, path))
        return Block(path, label, hint, rows, more, odd, faults, words(part.__name__).more_adds)

    def _answers(self, path: Path, said: Key) -> Iterator[Field]:
        """Which causes an action answers, where there are causes."""
        value = "\n".join(answered(self._values, path[:-1]))
        if offered := tuple(choices("causes", self._values, path, self._root)):
            typed = self._typed.get(path, value)
            yield Field(path, said.label, said.hint, "", "ticks", typed, mark_of(value), offered)

    def _list(self, path: Path, part: type[BaseModel], said: Key, slot: Slot) -> List:
        found = entry(self._values, path)
        count = len(found) if isinstance(found, list) else int(isinstance(found, dict))
        said_of = words(part.__name__)
        made = tuple(
            self._entry(
                (*path, at),
                part,
                loaded=count <= ALL_OPEN,
                open=said_of.rows > 0 or self._is_open((*path, at)),
            )
            for at in range(count)
        )
        said_nothing = bool(said.nothing) and isinstance(found, str) and bool(found)
        faults = tuple(self._faults.of(self._file, path))
        return List(
            path,
            said.label,
            said.hint,
            said_of.one,
            made,
            said.nothing,
            said_nothing,
            slot.required,
            faults,
            said_of.rows > 0,
            ", ".join(said_of.keys[key].label.lower() for key in said_of.alike) if count > 1 else "",
            self._entry_around(path),
        )

    def _entry_around(self, path: Path) -> str:
        entries = [end for end, step in enumerate(path, 1) if isinstance(step, int)]
        return called(self._model, path[: entries[-1]]).lower() if entries else ""

    def _is_open(self, path: Path) -> bool:
        return any(one[: len(path)] == path for one in self._open)

    def _entry(self, path: Path, part: type[BaseModel], *, loaded: bool, open: bool) -> Entry:
        stops, looks = self._faults.tally(self._faults.within(self._file, path))
        number = int(path[-1]) + 1
        said = words(part.__name__)
        body = self._block(path, part, f"{said.one} {number}", "") if loaded or open else None
        return Entry(path, number, self.told(path), stops, looks, body, open)

    def told(self, path: Path) -> tuple[str, ...]:
        """Return what stands for an entry when it is closed."""
        said = words(self._part_of(path).__name__)
        told = [*(self._told(path, key) for key in said.told_by), word(self._values, *path)]
        bare = [words for keys, words in said.bare.items() if self._bare(path, keys.split("/"))]
        return tuple(filter(None, [*told, *(bare if any(told) else ())]))

    def _bare(self, path: Path, keys: list[str]) -> bool:
        return self._asked_for((*path, keys[0])) and all(self._empty((*path, key)) for key in keys)

    def _told(self, path: Path, keys: str) -> str:
        for key in keys.split("/"):
            found = entry(self._values, (*path, key))
            if isinstance(found, str) and found:
                return found
        return ""

    # Values

    def _field(self, path: Path, part: type[BaseModel], slot: Slot, said: Key) -> Field:
        value = shown(entry(self._values, path), slot)
        widget, offered = self._widget(path, slot, said, value)
        example = said.example or example_words(part, str(path[-1])) if not slot.closed else ""
        return Field(
            path,
            said.label,
            said.hint,
            "" if widget in ("choice", "ticks") else example,
            widget,
            self._typed.get(path, value),
            mark_of(value),
            offered,
            _unsaid(part, str(path[-1])) if widget == "choice" else "",
            slot.required and not self._left_out(path[:-1]),
            half=widget in ("line", "choice") and not said.long and not _wide(widget, offered),
            faults=tuple(self._faults.within(self._file, path)),
            see=asked_at(self._file, (said.see,)) if said.see else None,
            adds=self._adds(said),
            wanted=path in self._faults.wanted,
            wished=self._faults.wanted.get(path, False),
            takes=called(self._model, path) if slot.kind is FreeText and not said.choice else "",
        )

    def _adds(self, said: Key) -> str:
        listed = slot_at(self._model, NAMED[said.choice]) if said.new else None
        return words(listed.part.__name__).one if listed is not None and listed.part is not None else ""

    def _left_out(self, path: Path) -> bool:
        """Whether the part around a value may be left out, and is: nothing in it is needed then."""
        if not path or isinstance(path[-1], int):
            return False
        slot = slot_at(self._model, path)
        return slot is not None and not slot.required and not entry(self._values, path)

    def _widget(self, path: Path, slot: Slot, said: Key, value: str) -> tuple[str, tuple[Choice, ...]]:
        if slot.kind is bool:
            return "choice", _with_typed((("yes", "yes"), ("no", "no")), value, _SWITCH)
        if slot.closed:
            return "choice", _with_typed(tuple((one, one) for one in slot.closed), value, _meant(slot, value))
        if said.choice:
            offered = tuple(choices(said.choice, self._values, path, self._root))
            if said.choice in OPEN:
                return "line", offered
            known = frozenset(one for one, _ in offered)
            missing = [one for one in value.split("\n") if one and one not in known]
            also = tuple((one, one + _elsewhere(said.choice, one)) for one in missing)
            return ("ticks" if slot.many else "choice"), (*offered, *also)
        if slot.many:
            return "lines", ()
        offered = tuple((one, one) for one in said.offers)
        return ("text" if said.long and slot.kind is FreeText else "line"), offered


_SWITCH = {"true": "yes", "on": "yes", "false": "no", "off": "no"}


def shown(value: Tree | None, slot: Slot) -> str:
    """Return a value as it is shown in a field: a list one a line, a row of figures with commas."""
    match value:
        case list() if slot.kind is tuple:
            return ", ".join(map(str, value))
        case list():
            return "\n".join(one if isinstance(one, str) else json.dumps(one) for one in value)
        case str():
            return value
        case _:
            return ""


def mark_of(value: str) -> str:
    """Return a short hash of a value."""
    return hashlib.sha256(value.encode()).hexdigest()[:10]


def html_id(path: Path) -> str:
    """Return the name of a place on the page."""
    return "at-" + "-".join(str(step).replace(" ", "_") for step in path)


def asked_at(file: str, path: Path) -> Asked:
    """Return where the form asks for a field or part of a file."""
    section, mark = sections()[section_of(file, path)], html_id(path)
    return Asked(mark, f"/write/{section.name}/#{mark}", called(section.model, path))


def _with_typed(known: tuple[Choice, ...], value: str, meant: dict[str, str]) -> tuple[Choice, ...]:
    """Offer what was typed too where it is not spelled as on the list, so that nothing changes by looking."""
    if not value or value in {one for one, _ in known}:
        return known
    reading = meant.get(value.casefold())
    return (*known, (value, f"{value} (read as {reading})" if reading else f"{value} (not on the list)"))


def _meant(slot: Slot, value: str) -> dict[str, str]:
    if not issubclass(slot.kind, Enum) or not value:
        return {}
    try:
        return {value.casefold(): str(slot.kind(value).value)}
    except ValueError:
        return {}


_HALF = 28
"""Letters of a choice that are whole in half the width of the form, beside the note on 1366 points."""


def _wide(widget: str, offered: tuple[Choice, ...]) -> bool:
    return widget == "choice" and any(len(says) > _HALF for _, says in offered)


def _unsaid(part: type[BaseModel], key: str) -> str:
    """What the empty choice says: how the tool reads it."""
    default = _info(part, key).default
    if isinstance(default, Enum):
        return f"not said ({default.value})"
    if isinstance(default, bool):
        return f"not said ({'yes' if default else 'no'})"
    return "not said"


def _info(part: type[BaseModel], key: str) -> FieldInfo:
    found: dict[str, Any] = {
        info.alias or name.replace("_", " "): info for name, info in part.model_fields.items()
    }
    info = found[key]
    assert isinstance(info, FieldInfo)
    return info


def _elsewhere(choice: str, one: str) -> str:
    """Say what a value is that is not among those offered."""
    if choice == "specialties":
        from mmbuilder.packs import meant

        if found := meant(one):
            return f" (read as {found})"
    return ELSEWHERE.get(choice, " (not in the case)")


def _as_known(key: str, said: str) -> str:
    """Return a value as the form's words know it: a specialty by its name, whatever it is called."""
    from mmbuilder.packs import meant

    plain = said.casefold().replace("-", " ").replace("_", " ")
    return (meant(said) or plain) if key == "specialty" else plain


def fields(rows: Iterable[Row]) -> Iterator[Field]:
    """Yield every field that is in sight: of lists, those of the entries that are open."""
    for row in rows:
        match row:
            case Field():
                yield row
            case Block():
                yield from fields((*row.rows, *row.more))
            case List():
                bodies = (one.body for one in row.entries if one.open)
                yield from fields(body for body in bodies if body is not None)


def marks(rows: Iterable[Row]) -> dict[str, str]:
    """Return the hash of every value in rows by its name in a form; entries of lists tell their own."""
    found: dict[str, str] = {}
    for row in rows:
        if isinstance(row, Field):
            found[row.name] = row.was
        elif isinstance(row, Block):
            found |= row.was
    return found
