"""Parts of a case that a line of the note may go to, besides the events: from `targets.yaml`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.form.faults import section_of
from mmbuilder.page.form.keeping import New
from mmbuilder.page.form.layout import called, read, sections, words


@dataclass(frozen=True)
class Target:
    """A part of a case.

    Attributes:
        path: of the field; the entry of a list that it stands in has no number.
        opens: how a line that belongs there often begins.
    """

    path: Path
    opens: tuple[str, ...]

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
        return f"{sections()[self.section].title}: {what}"

    def new(self, said: str) -> New:
        """Return words as what is put there."""
        return New(self.path[:-1], {str(self.path[-1]): said}) if self._in_entry else New(self.path, said)

    @property
    def _in_entry(self) -> bool:
        holder = slot_at(Case, self.path[:-1])
        return holder is not None and holder.many

    def opened_by(self, line: str) -> bool:
        """Whether a line begins as one that belongs there."""
        return self._with_colon.match(line) is not None or self._begin.match(line) is not None

    def rest(self, line: str) -> str:
        """Return a line without its opening, if that ends in a colon."""
        found = self._with_colon.match(line)
        return line[found.end() :] if found else line

    @cached_property
    def _with_colon(self) -> re.Pattern[str]:
        return _any_of([one.removesuffix(":") for one in self.opens], r"\s*:\s*")

    @cached_property
    def _begin(self) -> re.Pattern[str]:
        return _any_of([one for one in self.opens if not one.endswith(":")], r"\b")


def _any_of(openings: list[str], end: str) -> re.Pattern[str]:
    return re.compile(rf"\W*(?:{'|'.join(map(re.escape, openings)) or '(?!)'}){end}", re.IGNORECASE)


@cache
def targets() -> Mapping[str, Target]:
    """Return them by name, in the order in which they are offered."""
    made = (Target(tuple(one["field"].split("/")), tuple(one["opens"])) for one in read("targets.yaml"))
    return {one.name: one for one in made}


def said(text: str, line: str) -> str:
    """Return a sentence of a line without the word that says where the line belongs."""
    target = offered(line)
    return target.rest(text) if target else text


def offered(line: str) -> Target | None:
    """Return where a line of the note seems to belong, by how it begins; None where that does not tell."""
    return next((one for one in targets().values() if one.opened_by(line)), None)
