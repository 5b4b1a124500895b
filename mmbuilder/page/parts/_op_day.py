"""The day of the operation as the dates of a note tell it: the one that is said to be it, else the only one.

The words around dates are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from datetime import date

from mmbuilder.case.dates import MONTH, month_of
from mmbuilder.page.form.days import in_full

Orders = Callable[[int, int], Iterable[tuple[int, int]]]
"""(day, month) of two figures, in each order in which they may be meant."""

_FIGURES = (
    r"(?<![\d/.-])(?P<first>\d{1,2})(?P<by>[/.-])(?P<second>\d{1,2})(?P=by)(?P<year>\d{4}|\d\d)"
    r"(?![\d/.-]\d|\d)"
)
_NAMED = (
    rf"(?<![\d/.-])(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[ -](?:of )?(?P<month>{MONTH}),?[ -](?P<in>\d{{4}})\b"
)
_DATE = re.compile(rf"{_FIGURES}|{_NAMED}", re.IGNORECASE)
_BORN = re.compile(r"\b(?:d\.?o\.?b|born|birth)\b[\s.:]*(?:on\s)?$", re.IGNORECASE)
_OPERATED = (
    r"(?:op(?:n|eration|erated)?|surgery|procedure|index|dos|theatre list|list of|day (?:0|zero)"
    r"|done|performed)"
)
_OF_OPERATION = re.compile(
    rf"(?<!re-)(?<!re )\b(?:date of )?(?:the )?{_OPERATED}(?: (?:date|day))?\s*[:=,(–-]?\s*(?:was |done )?"
    r"(?:on )?(?:the )?$",
    re.IGNORECASE,
)
"""Right before the date of the operation: `op 06/10/2026`, `date of surgery: 6 October 2026`."""
_OF_ANOTHER = re.compile(
    r"\b(?:f/?u|follow[- ]?up|clinic|opd|review(?:ed)?|seen|letter|ct|mri|uss?|scan|echo|scope|colonoscopy"
    r"|biopsy|histo(?:logy)?|meeting|mtg|m&m|m\+m|mdt|referred|ref|admitted|adm|discharged?|d/c|home|typed"
    r"|written|dictated|re-?look|re-?op|redo|signed|due|by|next|last|prev(?:ious)?|until|from|sent|bloods?)\b[^,;.\d]{0,12}$",
    re.IGNORECASE,
)
_OF_ANOTHER_BEHIND = re.compile(
    r"[\s:,–—-]*(?:clinic|f/?u|follow|review|opd|ct|mri|scan|seen|letter|home|discharged?)\b"
    r"|[^.;\n]*\b(?:typed|written|dictated)\b",
    re.IGNORECASE,
)
"""Behind a date of another thing; `17/11/26, Ward 4, typed 23:05` is the day of the note."""
_HEADED = re.compile(
    r"^\W*(?:op(?:eration)?|procedure)\s*[:=].*?\bon (?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*,? )?"
    r"(?P<first>\d{1,2})/(?P<second>\d{1,2})(?![\d/])",
    re.IGNORECASE | re.MULTILINE,
)
"""`Op: total thyroidectomy, on Fri 13/11`: the day of the operation without its year."""


def op_day(text: str, orders: Orders, near: date) -> date | None:
    """Return the day of the operation; None where the note tells none, or several.

    Args:
        text: the note.
        orders: how figures of a date are read.
        near: the day beside which a year of two figures is read.
    """
    said, others = set[date | None](), set[date | None]()
    for found in _DATE.finditer(text):
        before = text[max(0, found.start() - 40) : found.start()].rpartition("\n")[2]
        if _BORN.search(before):
            continue
        if _OF_OPERATION.search(before):
            said |= {*_days(found, orders, near)}
        elif not (_OF_ANOTHER.search(before) or _OF_ANOTHER_BEHIND.match(text, found.end())):
            others |= {*_days(found, orders, near)}
    said |= {
        in_full(day, month, "", near)
        for found in _HEADED.finditer(text)
        for day, month in orders(int(found["first"]), int(found["second"]))
    }
    told = said or others
    return told.pop() if len(told) == 1 else None


def _days(found: re.Match[str], orders: Orders, near: date) -> Iterator[date | None]:
    if found["month"]:
        yield in_full(int(found["day"]), month_of(found["month"].lower()), found["in"], near)
    else:
        for day, month in orders(int(found["first"]), int(found["second"])):
            yield in_full(day, month, found["year"], near)


def day_first(text: str, settled: Iterable[bool]) -> bool | None:
    """Return whether the dates of a note have the day first; None where they do not say, or not all the same.

    Dates with a year tell it before figures without one, which may be a score: `GCS 9/15`.

    Args:
        text: the note.
        settled: what dates behind a weekday tell of it.
    """
    for shape in (_DATE, _PAIR):
        pairs = [(int(one["first"]), int(one["second"])) for one in shape.finditer(text) if one["first"]]
        sure = [day > 12 for day, month in pairs if (day > 12) is not (month > 12)]
        sure += settled if shape is _DATE else []
        if sure:
            return sure[0] if len({*sure}) == 1 else None
    return None


_PAIR = re.compile(r"(?<![\d/.])(?P<first>\d{1,2})/(?P<second>\d{1,2})(?![\d/])")
