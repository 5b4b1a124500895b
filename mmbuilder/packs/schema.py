"""What a specialty's file may hold, and how it is read."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import chain
from typing import TypeAlias, TypeVar

import yaml
from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    field_validator,
    model_validator,
)

from mmbuilder import own_yaml
from mmbuilder.errors import PackInvalid
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.terms import EventKind, FactorRow, Sex, Side, Use
from mmbuilder.safe.text import SafeText, ours
from mmbuilder.schemas import complete

_FOLDER = files("mmbuilder.packs")
_SHARED = _FOLDER / "shared"

Words: TypeAlias = tuple[str, ...]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Measure(_Part):
    """A quantity that is often read off or drawn.

    Attributes:
        low, high: readings outside are a device's nonsense and are not drawn; in `unit`.
        source: where the limits come from.
    """

    name: str
    unit: str
    low: float
    high: float
    source: str = "common practice, no source"

    @model_validator(mode="after")
    def _in_order(self) -> Measure:
        if self.low >= self.high:
            raise ValueError("low is not below high")
        return self


class Whom(StrEnum):
    """Whom a reference range holds for. A range for one never stands in for another."""

    ADULT = "adult"
    CHILD = "child"
    PREGNANCY = "pregnancy"


class Reference(_Part):
    """What is usual in the healthy: the band behind a measure that is followed over visits.

    Attributes:
        names: how cases write the measure, the usual one first; without the side of the body.
        unit: empty where it is a bare figure: a ratio of two pressures.
        low, high: ends of the range, in `unit`; one may be missing where only the other matters.
        sex: whose it is, where it differs; without it, of both.
        whom: `for:` adult (also where it is not said), child (under 16) or pregnancy.
        source: where it comes from; always said, because laboratories differ.
    """

    names: Words = Field(min_length=1)
    unit: str = ""
    low: float | None = None
    high: float | None = None
    sex: Sex | None = None
    whom: Whom = Field(default=Whom.ADULT, alias="for")
    source: str = Field(min_length=1)

    @model_validator(mode="after")
    def _in_order(self) -> Reference:
        if self.low is None and self.high is None:
            raise ValueError("neither low nor high is given")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError("low is not below high")
        return self

    @property
    def safe_unit(self) -> SafeText:
        """The unit, as a slide shows it."""
        return SafeText(KEY, self.unit)

    @property
    def safe_source(self) -> SafeText:
        """The source, as a slide or its notes tell it."""
        return ours(KEY, self.source)


class Shared(_Part):
    """What several specialties measure: a file of the folder `shared`, which packs name behind `also:`."""

    measures: tuple[Measure, ...]
    references: tuple[Reference, ...]


class Edge(_Part):
    """How cases say that the skin was cut, or closed.

    Attributes:
        events: first words of an event that is it.
        phases: whole names of a phase that starts with it, or ends with it.
    """

    events: Words = ()
    phases: Words = ()


class Example(_Part):
    """A tiny invented case that the scaffold starts from; the author writes over it."""

    age: int = 58
    sex: Sex = Sex.NOT_STATED
    side: Side = Side.RIGHT
    title: str
    situation: str
    background: str
    asked: str
    procedure: str
    indication: str
    anaesthesia: str
    finding: str
    foreseen: str
    told: str
    start: str
    first_sign: str
    recognition: str
    response: str
    resolution: str
    question: str
    option: str
    option_reason: str
    other_option: str
    other_reason: str
    because: str
    outcome: str
    factor: str
    evidence: str
    contributed: str
    counterfactual: str
    held: str
    action: str
    measure: str
    discuss: str
    take_away: str


class Pack(_Part):
    """The vocabulary of one specialty.

    Attributes:
        name: as it stands behind `specialty:` in a case.
        called: other names and abbreviations of it.
        serves: specialties without a pack of their own that its words fit best, with what they are called.
        phases: usual phases, in order.
        events: words for the usual events of each kind, as prompts.
        factors: questions to ask for each of the seven rows of the root-cause grid.
        also: files of `shared`, whose measures and references stand before the pack's own.
        measures: usual quantities with units and limits for drawing.
        references: usual ranges in the healthy, for what is followed over visits.
        opening, closing: words for the skin incision and closure, between which ClassIntra counts.
        slides: slide kinds in an order of the specialty's own, by use; empty keeps the use's order.
        example: what the scaffold is filled with.
    """

    name: str
    called: Words = ()
    serves: dict[str, Words] = {}
    phases: Words = Field(min_length=1)
    events: dict[EventKind, Words]
    factors: dict[FactorRow, Words]
    also: Words = ()
    measures: tuple[Measure, ...] = Field(min_length=1)
    references: tuple[Reference, ...] = Field(default=(), validate_default=True)
    opening: Edge = Field(default_factory=Edge)
    closing: Edge = Field(default_factory=Edge)
    slides: dict[Use, Words] = {}
    example: Example

    @field_validator("factors")
    @classmethod
    def _every_row(cls, rows: dict[FactorRow, Words]) -> dict[FactorRow, Words]:
        missing = [row.value for row in FactorRow if not rows.get(row)]
        if missing:
            raise ValueError(f"no question for: {', '.join(missing)}")
        return rows

    @field_validator("also")
    @classmethod
    def _there(cls, names: Words) -> Words:
        there = _names(_SHARED)
        missing = [name for name in names if name not in there]
        if missing:
            raise ValueError(f"nothing shared is called {', '.join(missing)}; there are: {', '.join(there)}")
        return names

    @field_validator("measures", "references")
    @classmethod
    def _with_shared(cls, own: tuple[_Part, ...], info: ValidationInfo) -> tuple[_Part, ...]:
        drawn = (getattr(_shared(name), str(info.field_name)) for name in info.data.get("also", ()))
        return (*chain.from_iterable(drawn), *own)

    @field_validator("references")
    @classmethod
    def _one_range_each(cls, ranges: tuple[Reference, ...]) -> tuple[Reference, ...]:
        seen: dict[tuple[str, Whom], set[Sex | None]] = {}
        for found in ranges:
            for name in found.names:
                sexes = seen.setdefault((name.casefold(), found.whom), set())
                if found.sex in sexes or (sexes and None in {found.sex, *sexes}):
                    raise ValueError(f"two ranges for {name}; one name and sex has one, of each `for`")
                sexes.add(found.sex)
        return ranges

    @property
    def title(self) -> SafeText:
        """The specialty's name, as a slide shows it."""
        return ours(KEY, self.name)


@cache
def available() -> Words:
    """Return the names of all packs, sorted; a new file in this folder is a new name here."""
    return _names(_FOLDER)


@cache
def specialties() -> Words:
    """Return the names of all specialties that a pack has words for, sorted."""
    return tuple(sorted((*available(), *_served())))


def meant(name: str) -> str | None:
    """Return the specialty that a name or an abbreviation stands for; None where it is none of ours."""
    plain = " ".join(name.casefold().replace("_", " ").replace("-", " ").split())
    return plain if plain in available() else _meanings().get(_letters(name))


def every() -> tuple[Pack, ...]:
    """Return the packs of all specialties, sorted by name."""
    return tuple(load(name) for name in specialties())


@cache
def load(name: str) -> Pack:
    """Read the pack of a specialty.

    Args:
        name: of a specialty, or what it is called.

    Raises:
        PackInvalid: there is none of that name, or its file is wrong; tells every fault by line.
    """
    found = meant(name)
    if found is None:
        raise PackInvalid(f"there is no such specialty here; there are: {', '.join(specialties())}")
    if found not in available():
        return load(_served()[found]).model_copy(update={"name": found})
    return parse(_FOLDER.joinpath(_file(found)).read_text("utf-8"), _file(found))


@cache
def _served() -> dict[str, str]:
    """Return the pack of each specialty that has none of its own."""
    return {name: pack.name for pack in map(load, available()) for name in pack.serves}


@cache
def _meanings() -> dict[str, str]:
    """Return the specialty of each name, by its letters."""
    found: dict[str, str] = {}
    for pack in map(load, available()):
        for name, called in ((pack.name, pack.called), *pack.serves.items()):
            found |= {_letters(word): name for word in (name, *called)}
    return found


def _letters(name: str) -> str:
    """`tando` of `T & O`: how it is spaced and stopped does not matter."""
    return "".join(filter(str.isalnum, name.casefold().replace("&", "and")))


def parse(text: str, file: str) -> Pack:
    """Return the pack in `text`.

    Raises:
        PackInvalid: with one line for each fault, as file:line: what.
    """
    return _parsed(Pack, text, file)


@cache
def _shared(name: str) -> Shared:
    return _parsed(Shared, _SHARED.joinpath(_file(name)).read_text("utf-8"), f"shared/{_file(name)}")


def _names(folder: Traversable) -> Words:
    found = (entry.name for entry in folder.iterdir() if entry.name.endswith(".yaml"))
    return tuple(sorted(name.removesuffix(".yaml").replace("-", " ") for name in found))


def _file(name: str) -> str:
    return f"{name.replace(' ', '-')}.yaml"


_Kind = TypeVar("_Kind", bound=_Part)


def _parsed(kind: type[_Kind], text: str, file: str) -> _Kind:
    try:
        complete(Edge, Shared, Pack)
        return kind.model_validate(own_yaml.read(text))
    except yaml.MarkedYAMLError as fault:
        line = fault.problem_mark.line + 1 if fault.problem_mark else 1
        raise PackInvalid(f"{file}:{line}: {fault.problem}") from fault
    except ValidationError as fault:
        raise PackInvalid("\n".join(_told(fault, text, file))) from fault


def _told(fault: ValidationError, text: str, file: str) -> Iterator[str]:
    top = yaml.compose(text, yaml.SafeLoader)
    for error in fault.errors(include_url=False, include_input=False):
        where = ".".join(str(step) for step in error["loc"])
        yield f"{file}:{_line(top, error['loc'])}: {where}: {error['msg'].removeprefix('Value error, ')}"


def _line(node: yaml.Node | None, path: tuple[str | int, ...]) -> int:
    """Line of the key or entry at `path`, or of the part that lacks it; from 1."""
    line = 1
    for step in path:
        found = _child(node, step)
        if found is None:
            break
        mark, node = found
        line = mark.start_mark.line + 1
    return line


def _child(node: yaml.Node | None, step: str | int) -> tuple[yaml.Node, yaml.Node] | None:
    """Return (where it starts, what it holds) of an entry, or None."""
    if isinstance(node, yaml.MappingNode):
        return next(((key, value) for key, value in node.value if key.value == step), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
        return node.value[step], node.value[step]
    return None
