"""A date as it is typed that can only be one day: behind its weekday, or in the case's own order."""

from __future__ import annotations

import re
from datetime import datetime
from functools import partial

from mmbuilder.case.dates import orders
from mmbuilder.case.freetext import Path
from mmbuilder.case.when import Day
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.desk import Desk
from mmbuilder.page.form.days import settled
from mmbuilder.page.form.layout import Section
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._bare import day_of
from mmbuilder.page.parts._days import day_near
from mmbuilder.page.parts._known import known
from mmbuilder.page.parts._typed import day_zero, typed


def as_one_day(case: Desk, section: Section, path: Path, value: str) -> str:
    """Return what is typed into a field; of a date that can only be one day, that day in words.

    A weekday settles which figure is the month; else Day 0 as the case has it, or the dates of the note.
    """
    slot = slot_at(section.model, path)
    dated = slot is not None and (slot.kind is Day or path[-1] == "due")
    if not dated or not re.search(r"\d", value) or day_of(value) is not None:
        return value
    tree = typed(case)
    near = day_near(tree, of_meeting=path == ("meeting",)) or datetime.now().astimezone().date()
    return settled(value, near, partial(_order, case, day_zero(tree))) or value


def _order(case: Desk, zero: str, first: int, second: int) -> frozenset[tuple[int, int]]:
    found = re.match(r"(\d{1,2})[-/.](\d{1,2})[-/.]", zero)
    told = found and len(orders(int(found[1]), int(found[2]))) == 1
    if not found or not told:
        return known(case, kept.load(case.aside)).orders(first, second)
    here, pair = orders(first, second), (first, second) if int(found[1]) > 12 else (second, first)
    return frozenset({pair}) if pair in here else here
