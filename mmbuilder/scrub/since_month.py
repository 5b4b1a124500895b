"""Months that something has lasted since, counted back from Day 0: `known fault since Sept`.

How long a fault was known is often the point, and `since [date]` loses it. A month with its year is certain;
one without is the last of its name, where it lies near Day 0 and none of that name lies between Day 0 and the
meeting. How much of the month had gone by is not known, so it is told as about so many months, and in place of
`since` as well: `known fault for about 2 months`.
The phrasings are common practice, no source.
"""

from __future__ import annotations

import re
from datetime import date

from mmbuilder.case.dates import MONTH, month_of
from mmbuilder.case.freetext import Path
from mmbuilder.case.tidy import tidy
from mmbuilder.scrub.surrogates import MONTHS

_SINCE = re.compile(r"(?<!\w)(?:ever )?since\s$", re.IGNORECASE)
_SAID = re.compile(rf"(?P<word>{MONTH})(?:,? (?P<year>20\d\d))?|(?P<figures>\d{{1,2}})/(?P<of>20\d\d)")
_BEFORE_DAY_ZERO = frozenset(
    {"background", "situation", "patient", "plan", "timeline", "decisions", "factors"}
)
"""Parts of a case that tell what had been and what was; what came of it may last since a month after it."""
_NEAR, _FAR = 6, 24
"""Months back to which a name alone is certain; and from which it is told in years."""


def told(
    path: Path, text: str, start: int, end: int, day_zero: date, meeting: date | None
) -> tuple[int, str] | None:
    """Return where what stands for a month after `since` begins, and what; None where it is none, or not certain.

    Args:
        path: where the text stands in the case.
        text: the text.
        start: where a date begins that was found in it.
        end: where it ends.
        day_zero: of the case.
        meeting: its day, if it is known.
    """
    said = _SAID.fullmatch(tidy(text[start:end]))
    since = _SINCE.search(text, 0, start)
    if said is None or since is None or path[0] not in _BEFORE_DAY_ZERO:
        return None
    back = _back(said, day_zero, meeting)
    if back is None or back < len(MONTHS):
        return None if back is None else (start, MONTHS[back])
    words = _words(back)
    return since.start(), words.capitalize() if since[0][0].isupper() else words


def _back(said: re.Match[str], day_zero: date, meeting: date | None) -> int | None:
    """Return how many months before Day 0 it is, if that is certain."""
    month = month_of(said["word"]) if said["word"] else int(said["figures"])
    if year := said["year"] or said["of"]:
        back = _months(date(int(year), month, 1), day_zero) if month in range(1, 13) else -1
        return back if back >= 0 else None
    back = (day_zero.month - month) % 12
    again = meeting is not None and _months(day_zero, meeting) >= 12 - back
    return None if back > _NEAR or again else back


def _months(first: date, last: date) -> int:
    return (last.year - first.year) * 12 + last.month - first.month


def _words(back: int) -> str:
    return f"for about {back // 12} years" if back >= _FAR else f"for about {back} months"
