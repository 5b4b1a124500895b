"""Which field a fault concerns, and how many faults each section has.

A fault is told by file, line and column; the reader knows where each key and value stands.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path as Folder

from pydantic import BaseModel

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.checking import IDENTIFIERS
from mmbuilder.casefile.mark import Mark
from mmbuilder.casefile.reader import Source
from mmbuilder.casefile.shape import owner, slots
from mmbuilder.page.form.layout import Section, sections
from mmbuilder.problem import Problem

LACKING = frozenset({"missing-key", "empty-key"})
"""Codes of what was not written yet: nothing is wrong with what stands there."""

WISHED = frozenset({"action-incomplete"})
"""Codes of what a slide could tell and can do without: the room fills it in."""

CONSENT: Path = ("governance", "publication consent")
HARM: Path = ("outcome", "harm")
_FACTS = ("treatments", "symptoms")
"""Keys of a grade that it is held against; any other goes by what befell the patient."""
_ACTION = re.compile(r"action (\d+) has ((?:no [a-z ]+(?:, )?)+)")
_MEASURE = re.compile(r"the measure of action (\d+) says")
_OF_A_CAUSE = {"excluded-without-reason": ("reason",), "root-without-action": ("actions", "reason")}
_LACKS = re.compile(r"has (?:no|nothing under) `([^`]+)`")


def wanted_by(problem: Problem, place: Path) -> tuple[Path, ...]:
    """Return the fields of a case that a fault asks to be filled in; none for one told at its own place.

    Args:
        problem: the fault.
        place: the field or part where it stands.
    """
    if problem.code == "action-incomplete" and (found := _ACTION.fullmatch(problem.text)):
        keys = (key.removeprefix("no ") for key in found[2].split(", "))
        return tuple(("actions", int(found[1]) - 1, key) for key in keys)
    if problem.code == "action-incomplete" and (found := _MEASURE.match(problem.text)):
        return (("actions", int(found[1]) - 1, "out of"),)
    if problem.code in _OF_A_CAUSE:
        return tuple((*place, key) for key in _OF_A_CAUSE[problem.code])
    if problem.code == "consent-or-hold" and problem.found.startswith("consent"):
        return (CONSENT,)
    if problem.code == "grade-without-facts":
        asked = dict.fromkeys(line.partition(":")[0] for line in problem.example.splitlines())
        return tuple((*place[:-1], key) for key in asked if key in _FACTS) or (HARM,)
    return ()


@dataclass(frozen=True)
class Faults:
    """Faults by the field or part they concern.

    Attributes:
        at: file and path to faults; the path is in the form's own spelling, as `home` has it.
        elsewhere: faults of other files.
    """

    at: dict[tuple[str, Path], list[Problem]] = field(default_factory=dict)
    elsewhere: list[Problem] = field(default_factory=list)

    def of(self, file: str, path: Path) -> list[Problem]:
        """Return the faults of exactly this field or part."""
        return self.at.get((file, path), [])

    def within(self, file: str, path: Path) -> list[Problem]:
        """Return the faults of a part and of all that is in it."""
        return [
            problem
            for (other, place), found in self.at.items()
            if other == file and place[: len(path)] == path
            for problem in found
        ]

    @staticmethod
    def tally(found: Iterable[Problem]) -> tuple[int, int]:
        """Return how many faults stop, and how many are to be looked at; what may be added is neither."""
        told = [problem.stops for problem in found if problem.code not in WISHED]
        return sum(told), len(told) - sum(told)

    def tallies(self, file: str) -> dict[Path, tuple[int, int]]:
        """Return, for every entry of a list that has faults, how many of them stop and how many do not."""
        within: dict[Path, list[Problem]] = {}
        for (other, place), found in self.at.items():
            for end in range(1, len(place) + 1) if other == file else ():
                if isinstance(place[end - 1], int):
                    within.setdefault(place[:end], []).extend(found)
        return {place: self.tally(found) for place, found in within.items()}

    @cached_property
    def places(self) -> dict[Problem, tuple[str, Path]]:
        """File and path of the field or part that each fault concerns."""
        return {problem: place for place, found in self.at.items() for problem in found}

    @cached_property
    def wanted(self) -> Mapping[Path, bool]:
        """The fields of the case that faults told elsewhere ask for, and whether each is only wished."""
        asked = {one: self.wanted_by(one) for one in self.places}
        wished = {path: True for one, paths in asked.items() if one.code in WISHED for path in paths}
        return wished | {
            path: False for one, paths in asked.items() if one.code not in WISHED for path in paths
        }

    def wanted_by(self, problem: Problem) -> tuple[Path, ...]:
        """Return the fields of the case that a fault asks to be filled in."""
        return wanted_by(problem, self.places.get(problem, ("", ()))[1])

    def of_section(self, section: Section) -> list[Problem]:
        """Return the faults of a section, in the order of the file."""
        own = (problem for problem, place in self.places.items() if section_of(*place) == section.name)
        return sorted(own, key=lambda one: (one.line, one.column))

    def counts(self) -> dict[str, tuple[int, int]]:
        """Return how many faults of each section stop, and how many do not."""
        within: dict[str, list[Problem]] = {name: [] for name in sections()}
        for (file, place), found in self.at.items():
            within[section_of(file, place)].extend(found)
        return {name: self.tally(found) for name, found in within.items()}


def sorted_by_field(
    problems: Iterable[Problem], root: Folder, sources: dict[str, tuple[Source, type[BaseModel]]]
) -> Faults:
    """Return faults by the field they concern.

    Args:
        problems: as `check` tells them.
        root: the case folder.
        sources: file name to what was read of it, and its model.
    """
    faults = Faults()
    finders = {name: _Finder(source, model) for name, (source, model) in sources.items()}
    for problem in problems:
        name = Folder(problem.file).name if Folder(problem.file).parent == root else problem.file
        if name == "previous actions":
            faults.at.setdefault(("case.yaml", ("previous actions",)), []).append(problem)
        elif name in finders:
            place = _asked_at(name, finders[name].home(problem), problem)
            faults.at.setdefault((name, place), []).append(problem)
        else:
            faults.elsewhere.append(problem)
    return faults


def section_of(file: str, path: Path) -> str:
    """Return the section that holds a field or part; the first one for the file as a whole."""
    plain = tuple(step for step in path if isinstance(step, str))
    own = [section for section in sections().values() if section.file == file]
    for section in own:
        if any(plain[: len(one)] == one for one in section.fields):
            return section.name
    for section in own:
        if plain and any(one[: len(plain)] == plain for one in section.fields):
            return section.name
    return own[0].name


def _asked_at(file: str, path: Path, problem: Problem) -> Path:
    """Where the form asks for a place: the first of the fields that a part is spread over.

    A fault of a private list that is not there concerns the first of its lists, a file that the case does not
    name the list that would.
    """
    if problem.code == "file-not-used":
        return ("readings",) if "readings/" in problem.text else ("frames",)
    fields = [one for section in sections().values() if section.file == file for one in section.fields]
    if file == IDENTIFIERS and not problem.line:
        return fields[0]
    if not path or any(path[: len(one)] == one for one in fields):
        return path
    return next((one for one in fields if one[: len(path)] == path), path)


def home(path: Path, model: type[BaseModel]) -> Path:
    """Return the field or part of the form that a path leads to; lists are numbered."""
    made: list[str | int] = []
    inner: type[BaseModel] | None = model
    many = False
    for step in path:
        if isinstance(step, int):
            made.append(step)
            many = False
            continue
        if many:
            made.append(0)  # one entry stands for a list of one
        slot = slots(inner).get(step) if inner is not None else None
        if slot is None:
            break
        made.append(step)
        inner, many = slot.part, slot.many
        if inner is None:
            break
    return tuple(made)


class _Finder:
    def __init__(self, source: Source, model: type[BaseModel]) -> None:
        self._model = model
        self._values: dict[Mark, Path] = {}
        for path, mark in source.values.items():
            self._values.setdefault(mark, path)
        self._keys = {mark: path for path, mark in source.keys.items()}
        placed = [(mark, path) for path, mark in source.values.items()]
        placed += [(mark, path) for path, mark in source.keys.items()]
        self._sorted = sorted(placed, key=lambda one: one[0])

    def home(self, problem: Problem) -> Path:
        mark = Mark(problem.line, problem.column)
        lacks = _LACKS.search(problem.text) if problem.code in LACKING else None
        if lacks:
            return self._lacking(mark, lacks[1])
        if not problem.line:
            return ()
        first, second = self._values, self._keys
        if problem.code == "unknown-key":
            first, second = second, first
        path = first.get(mark, second.get(mark))
        return home(self._near(mark) if path is None else path, self._model)

    def _lacking(self, mark: Mark, key: str) -> Path:
        here = [self._values.get(mark), self._keys.get(mark), ()]
        for part in (path for path in here if path is not None):
            if part and part[-1] == key:
                return home(part, self._model)
            inner = owner(self._model, (*part, key))
            if inner is not None and key in slots(inner) and (part or not mark.line or self._top(mark)):
                return home((*part, key), self._model)
        return ()

    def _top(self, mark: Mark) -> bool:
        return self._values.get(mark) == ()

    def _near(self, mark: Mark) -> Path:
        """The last value or key that begins before a place."""
        at = bisect_right(self._sorted, mark, key=lambda one: one[0])
        return self._sorted[at - 1][1] if at else ()
