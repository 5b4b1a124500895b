"""The days that a date in a field may be meant as, each with what a button sends to choose it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any

from mmbuilder.case.freetext import Path
from mmbuilder.case.when import When
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.desk import Desk
from mmbuilder.page.form.choices import entry
from mmbuilder.page.form.days import meant
from mmbuilder.page.form.layout import Section
from mmbuilder.page.form.opened import opened
from mmbuilder.page.form.view import html_id
from mmbuilder.page.parts._bare import day_of
from mmbuilder.page.parts._typed import day_zero, typed, word

_MEETING: Path = ("meeting",)


@dataclass(frozen=True)
class Day:
    """A day that is offered.

    Attributes:
        words: as everybody reads it.
        asks: what a button of the form sends.
        mark: of the field.
    """

    words: str
    asks: str
    mark: str


def days(case: Desk, section: Section, path: Path) -> list[Day]:
    """Return the days that what stands in a field may mean; none where it is no part of a date."""
    now = opened(case.text(section.file), section.model)
    said = entry(now.values, path) if now is not None else None
    if not isinstance(said, str):
        return []
    slot = slot_at(section.model, path)
    timed = slot is not None and slot.kind is When
    return [
        Day(words, json.dumps({"do": "set", "path": path, "value": words}), html_id(path))
        for words in meant(said, day_near(typed(case), of_meeting=path == _MEETING), timed=timed)
    ]


def day_near(tree: dict[str, Any], *, of_meeting: bool = False) -> date | None:
    """Return the day beside which others are read: of the meeting, unless that is asked for; else Day 0."""
    meeting = None if of_meeting else day_of(word(tree, "meeting"))
    day = meeting or day_of(day_zero(tree))
    return day.date if day else None
