"""What a line of the note is read with: the case as it stands, the private list, and the rest of the note."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property
from typing import Any

from mmbuilder.case.dates import orders
from mmbuilder.case.identifiers import Declared
from mmbuilder.casefile.checking import IDENTIFIERS
from mmbuilder.page.desk import Desk
from mmbuilder.page.form.opened import opened
from mmbuilder.page.parts._bare import day_of
from mmbuilder.page.parts._charted import Chart, Row, charts
from mmbuilder.page.parts._compared import compared, letters, other_called
from mmbuilder.page.parts._days import day_near
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._op_day import day_first, op_day
from mmbuilder.page.parts._typed import Clocks, clocks_of, day_zero, typed, word
from mmbuilder.page.parts._weekday import settled
from mmbuilder.scrub.fold import words_of
from mmbuilder.scrub.variants import person, untitled

_VAGUE = frozenset({"patient", "relative", "colleague"})
"""Roles of the private list that own no action, or do not say who does."""


@dataclass(frozen=True)
class Known:
    """What lines of a note are read with.

    Attributes:
        tree: the case as typed.
        source: what the note is called.
        text: the note.
        people: names of the private list with their roles.
    """

    tree: Mapping[str, Any]
    source: str = ""
    text: str = ""
    people: tuple[tuple[str, str], ...] = field(default=(), repr=False)

    @cached_property
    def clocks(self) -> Clocks:
        """The clocks of the case, else those of the note.

        With the word by which the note says that a time is not by the reference, and the letters that mark
        times.
        """
        clocks = clocks_of(dict(self.tree))
        if not clocks.all and (said := compared(self.text)).other and said.reference:
            clocks = Clocks((said.reference, said.other), said.reference)
        word = other_called(self.text) if len(clocks.others) == 1 and clocks.reference else ""
        also = ((clocks.others[0], word),) if word else ()
        return replace(clocks, also=also, letters=letters(self.text, clocks.all))

    @cached_property
    def charts(self) -> tuple[Chart, ...]:
        """The charts that were copied into the note."""
        return tuple(charts(self.text))

    def row_of(self, line: str) -> Row | None:
        """Return the row of a chart that a line of the note is, or begins."""
        return next((row for one in self.charts for row in one.rows if row.line.startswith(line)), None)

    @property
    def presenter(self) -> str:
        """The role of the author, as the case has it."""
        said = self.tree.get("presenter")
        return word(said, "role") if isinstance(said, dict) else ""

    @cached_property
    def near(self) -> date | None:
        """The day beside which others are read: of the case, else of the note."""
        return day_near(dict(self.tree)) or self.noted or self.operated

    @cached_property
    def zero(self) -> date | None:
        """Day 0, as the case has it, else the note."""
        day = day_of(day_zero(dict(self.tree)))
        return day.date if day else self.told_zero

    @property
    def told_zero(self) -> date | None:
        """Day 0 as the note has it: the only date with its weekday, else the day of the operation."""
        return self.noted or self.operated

    @cached_property
    def noted(self) -> date | None:
        """The only date of the note with its weekday; None where there are several."""
        days = {one.date for one in settled(self.text)}
        return days.pop() if len(days) == 1 else None

    @cached_property
    def operated(self) -> date | None:
        """The day of the operation, as the whole dates of the note tell it."""
        near = day_near(dict(self.tree)) or self.noted or datetime.now().astimezone().date()
        return op_day(self.text, self.orders, near)

    @cached_property
    def day_first(self) -> bool | None:
        """Whether the dates of the note that can be read in one way have the day first; None if unclear."""
        told = (one.day_first for one in settled(self.text))
        return day_first(self.text, [one for one in told if one is not None])

    def orders(self, first: int, second: int) -> frozenset[tuple[int, int]]:
        """Return (day, month) of two figures, in each order in which they may be meant in this note."""
        found, pair = orders(first, second), (first, second) if self.day_first else (second, first)
        return frozenset({pair}) if self.day_first is not None and pair in found else found

    @cached_property
    def _roles(self) -> dict[tuple[str, ...], str]:
        return {form: role for name, role in self.people for form in _forms(name)}

    def role_of(self, name: str) -> str | None:
        """Return the role of somebody on the private list; empty if it tells none, None if not on it."""
        role = self._roles.get(words_of(untitled(name.strip())))
        return "" if role in _VAGUE else role


def known(case: Desk, note: Note) -> Known:
    """Return what the lines of a case's note are read with."""
    return Known(typed(case), note.called, note.text, tuple(_people(case)))


def _people(case: Desk) -> Iterator[tuple[str, str]]:
    now = opened(case.text(IDENTIFIERS), Declared)
    people = now.values.get("people") if now is not None else None
    for one in people if isinstance(people, list) else ():
        if isinstance(one, dict):
            also = one.get("also")
            names = [one.get("name"), *(also if isinstance(also, list) else [also])]
            yield from ((str(name), str(one.get("role") or "")) for name in names if name)


def _forms(name: str) -> Iterable[tuple[str, ...]]:
    return {words_of(untitled(name)), *(form.words for form in person(name))}
