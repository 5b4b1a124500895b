"""Parts of a case that a line of the note may go to, besides the events: from `targets.yaml`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.shape import owner, slot_at
from mmbuilder.page.form.faults import section_of
from mmbuilder.page.form.keeping import New
from mmbuilder.page.form.layout import Key, PartWords, called, read, sections, words
from mmbuilder.page.form.patch import Value


@dataclass(frozen=True)
class Target:
    """A part of a case.

    Attributes:
        path: of the field; the entry of a list that it stands in has no number.
        says: in a few words, what belongs there.
        opens: how a line that belongs there often begins.
        holds: patterns of what such a line holds.
        unless: patterns of what a line holds that does not belong there for all that.
        asks: other keys of the new entry that are taken out of the words.
        lists: whether commas part several of them on one line: "yes", or "sentences" where one may be a
            sentence; else empty.
        leads: openings that are left out of the words without a colon, too.
        timed: openings before which a time may stand.
    """

    path: Path
    says: str = ""
    opens: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    lists: str = ""
    leads: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    timed: tuple[str, ...] = ()

    @property
    def section(self) -> str:
        """The section of the form that it stands in."""
        return section_of(CASE, self.path)

    @property
    def name(self) -> str:
        """Names it in a form."""
        return "/".join(map(str, self.path))

    @cached_property
    def label(self) -> str:
        """What the form calls it: its section, and the entry or field."""
        part = slot_at(Case, self.path[:-1]) if self._in_entry else None
        what = f"new {words(part.part.__name__).one}" if part and part.part else called(Case, self.path)
        title = sections()[self.section].title.partition(" and ")[0]  # whole in a narrow choice
        return f"{title}: {what}"

    def new(self, said: str, more: Mapping[str, Value] | None = None) -> New:
        """Return words, and what else is known of the entry, as what is put there."""
        if not self._in_entry:
            return New(self.path, said)
        own: dict[str, Value] = {str(self.path[-1]): said} if said else {}
        return New(self.path[:-1], {**own, **(more or {})})

    @property
    def of_words(self) -> str:
        """What the form calls the field that the words go to; empty where they stand behind others there."""
        return self._part_words.keys[str(self.path[-1])].label if self._in_entry else ""

    def key(self, name: str) -> Key:
        """What the form says of another key of its entry."""
        return self._part_words.keys[name]

    def closed(self, name: str) -> tuple[str, ...]:
        """The words that another key of its entry is chosen from; empty where any will do."""
        slot = slot_at(Case, (*self.path[:-1], name))
        return slot.closed if slot is not None else ()

    @property
    def _part_words(self) -> PartWords:
        holder = owner(Case, self.path)
        assert holder is not None
        return words(holder.__name__)

    @property
    def _in_entry(self) -> bool:
        holder = slot_at(Case, self.path[:-1])
        return holder is not None and holder.many

    def opened_by(self, line: str) -> bool:
        """Whether a line begins as one that belongs there."""
        return any(
            one.match(line) for one in (self._with_colon, self._timed, self._lead, self._capital, self._begin)
        )

    def heads(self, line: str) -> bool:
        """Whether a line is nothing but an opening: the heading of lines below it."""
        return self._alone.fullmatch(line.strip()) is not None

    def held_by(self, line: str) -> bool:
        """Whether a line holds what belongs there."""
        return any(re.search(one, line, re.IGNORECASE) for one in self.holds)

    def refuses(self, line: str) -> bool:
        """Whether a line that seems to belong there does not, by what else it holds."""
        return any(re.search(one, line, re.IGNORECASE) for one in self.unless)

    def rest(self, line: str) -> str:
        """Return a line without its opening, if that ends in a colon; a time that stands in it leads then."""
        shapes = (self._with_colon, self._timed, self._lead, self._capital)
        found = next(filter(None, (one.match(line) for one in shapes)), None)
        if found is None:
            return line
        told = found.groupdict()
        return " ".join(filter(None, (told.get("led") or told.get("at"), line[found.end() :])))

    @cached_property
    def _titles(self) -> list[str]:
        return [one.removesuffix(":") for one in self.opens if one.endswith(":")]

    @cached_property
    def _alone(self) -> re.Pattern[str]:
        return _any_of(self._titles, rf"{self._told}\W*")

    @cached_property
    def _with_colon(self) -> re.Pattern[str]:
        titles = [one.removesuffix(":") for one in self.opens]
        end = rf"{self._told}(?:\s*:\s*|\s*\?\s+|\s+[-–—]\s+)"
        return _any_of(titles, end)

    @cached_property
    def _timed(self) -> re.Pattern[str]:
        return _any_of([one.removesuffix(":") for one in self.timed], r"\s*:\s*", _LED)

    @property
    def _told(self) -> str:
        """What may stand between an opening and its end: a number, a time of what has one, a remark."""
        return r"(?:\s#?\d{1,2})?" + (_AT if "at" in self.asks else "") + _REMARK

    @cached_property
    def _lead(self) -> re.Pattern[str]:
        return _any_of([*self.leads], r"\s+(?=\w)")

    @cached_property
    def _capital(self) -> re.Pattern[str]:
        long = [re.escape(one.upper()) for one in self._titles if len(one) >= _LEAST]
        return re.compile(rf"\W*(?:{'|'.join(long) or '(?!)'}){_AS_HEADING}")

    @cached_property
    def _begin(self) -> re.Pattern[str]:
        return _any_of([one for one in self.opens if not one.endswith(":")], r"\b")


_AT = r"(?:\s+[(\[]?(?:at\s+|@\s?)?(?P<at>~?(?:[01]?\d|2[0-3])[:.]?[0-5]\d)[)\]]?)?"


_LEAST = 3
"""Letters of an opening that capitals alone make a heading: `DO NOT` is none."""
_AS_HEADING = (
    r"\s+(?=\d{1,2}[.)]?\s+[^\W\d]|[^\W\d_])(?!(?:of|was|is|did|were|the|to|for|at|on|in|with|(?i:not))\b)"
    r"(?=[^\n]*[a-z]{2})(?![^\n]*\?\W*$)"
)
"""`WENT WELL wire kept in`, `WHY 1 no owner`: capitals with small letters behind them, and nothing asked."""


_LED = r"(?P<led>~?(?:[01]\d|2[0-3])[:.]?[0-5]\d)[\s:,–—-]+"
"""`1031 Decision: …`: the time before the opening."""
_REMARK = r"(?:\s*[(\[][^()\[\]\d]{1,40}[)\]])?"
"""`Why it happened (my view):`."""


def _any_of(openings: list[str], end: str, led: str = "") -> re.Pattern[str]:
    return re.compile(rf"\W*{led}(?:{'|'.join(map(re.escape, openings)) or '(?!)'}){end}", re.IGNORECASE)


@cache
def targets() -> Mapping[str, Target]:
    """Return them by name, in the order in which they are offered."""
    made = (_target(one) for one in read("targets.yaml"))
    return {one.name: one for one in made}


def _target(said: Mapping[str, Any]) -> Target:
    names = ("opens", "holds", "asks", "leads", "unless", "timed")
    opens, holds, asks, leads, unless, timed = (tuple(said.get(name, ())) for name in names)
    path = tuple(said["field"].split("/"))
    return Target(path, said["says"], opens, holds, asks, said.get("lists", ""), leads, unless, timed)


def offered(line: str) -> Target | None:
    """Return where a line of the note seems to belong, by how it begins; None where that does not tell."""
    return next((one for one in targets().values() if one.opened_by(line) or one.heads(line)), None)


def held(line: str) -> Target | None:
    """Return where a line of the note seems to belong, by what it holds; None where that does not tell."""
    return next((one for one in targets().values() if one.held_by(line)), None)
