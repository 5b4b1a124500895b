"""The case file as it was typed: plain mappings, lists and text, for what a page shows beside a form."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from mmbuilder.case.model import Case
from mmbuilder.case.tidy import tidy
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.reader import read
from mmbuilder.casefile.shape import all_keys
from mmbuilder.page.desk import Desk


def typed(desk: Desk) -> dict[str, Any]:
    """Return the case file as it was typed; nothing of it if it is not readable as it stands."""
    source = read(desk.text().encode(), CASE, all_keys(Case))
    return dict(source.tree or {})


def entries(tree: Any, *path: str) -> list[dict[str, Any]]:
    """Return the entries of a list in the file; none where there is no such list."""
    for key in path:
        tree = tree.get(key) if isinstance(tree, dict) else None
    return [entry for entry in tree if isinstance(entry, dict)] if isinstance(tree, list) else []


def word(entry: dict[str, Any], key: str) -> str:
    """Return one value of an entry as it was typed; empty where there is none."""
    value = entry.get(key)
    return str(value) if isinstance(value, str) else ""


def day_zero(tree: dict[str, Any]) -> str:
    """Return the date of Day 0 as it was typed; empty where there is none."""
    timeline = tree.get("timeline")
    return word(timeline, "day zero") if isinstance(timeline, dict) else ""


def of_an_eye(tree: dict[str, Any]) -> bool:
    """Whether "at 11.30" tells a place on the clock face of an eye."""
    from mmbuilder.packs import meant

    return meant(word(tree, "specialty")) == "ophthalmology"


def reference_of(tree: dict[str, Any]) -> str:
    """Return the name of the reference clock: the one that says so, or the only one that is no recording."""
    clocks = entries(tree, "clocks")
    said = [word(clock, "name") for clock in clocks if tidy(word(clock, "reference")) in ("yes", "true")]
    told = said or [word(clock, "name") for clock in clocks if "starts" not in clock]
    return told[0] if len(told) == 1 else ""


@dataclass(frozen=True)
class Clocks:
    """The clocks of a case by their names, in their order.

    Attributes:
        reference: the one all others are shifted to; empty where it is not known.
        also: other words by which a note calls one of them, each behind its name.
        letters: capitals with which a note marks the times of one of them, each behind its name.
    """

    all: tuple[str, ...]
    reference: str
    also: tuple[tuple[str, str], ...] = ()
    letters: tuple[tuple[str, str], ...] = ()

    @property
    def others(self) -> tuple[str, ...]:
        """Those that are not the reference."""
        return tuple(name for name in self.all if name != self.reference)


def clocks_of(tree: dict[str, Any]) -> Clocks:
    """Return the clocks of a case."""
    names = tuple(name for clock in entries(tree, "clocks") if (name := word(clock, "name")))
    return Clocks(names, reference_of(tree))


def used(tree: dict[str, Any], key: str) -> list[str]:
    """Return every value of a key among the events, once, in the order of the file."""
    return list(dict.fromkeys(_values(tree, key)))


def _values(tree: dict[str, Any], key: str) -> Iterator[str]:
    for event in entries(tree, "timeline", "events"):
        if value := word(event, key):
            yield value
