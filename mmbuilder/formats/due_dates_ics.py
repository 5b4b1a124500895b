"""Due dates as a calendar file: an all-day entry for each action that is not closed.

RFC 5545: DTSTART as a DATE without an end is that whole day (3.6.1), TRANSPARENT so that nobody
is busy by it (3.8.2.7), CRLF and lines of 75 octets (3.1). An event and not a VTODO: common
calendar programs leave out to-dos when a file is brought in (common practice, no source).
The entry tells what and which role, no title of a case, no organiser, nobody by name.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

from mmbuilder.formats._sink import plain
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import PaperSize
from mmbuilder.safe.text import fill

if TYPE_CHECKING:
    from icalendar import Event

LOG = "ics"
"""What a use calls it; it is written from the rows of the action log and not from a storyboard."""

SUFFIX = ".ics"

_MAKER = "-//mmbuilder//due dates//EN"
_STAMP = datetime(2000, 1, 1, tzinfo=UTC)
"""The same rows give the same bytes: when the file was made is nobody's concern."""


def write(rows: Iterable[LoggedAction], size: PaperSize = PaperSize.A4) -> bytes:
    """Write an entry for each row that is not closed and is due on a day; it is not printed on a sheet."""
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", _MAKER)
    calendar.add("version", "2.0")
    for row in rows:
        if row.due_day is not None and not row.closed:
            calendar.add_component(_entry(row, row.due_day))
    written: bytes = calendar.to_ical()
    return written


def _entry(row: LoggedAction, day: date) -> Event:
    from icalendar import Event

    entry = Event()
    entry.add("uid", _uid(row))
    entry.add("dtstamp", _STAMP)
    entry.add("dtstart", day)
    entry.add(
        "summary", plain(fill("{what} ({owner})", what=row.what, owner=row.owner) if row.owner else row.what)
    )
    entry.add("transp", "TRANSPARENT")
    return entry


def _uid(row: LoggedAction) -> str:
    """The same action has the same mark at every meeting, so that a calendar moves it and adds no second."""
    words = f"{plain(row.case)}\0{plain(row.id)}".casefold()
    return hashlib.sha256(words.encode()).hexdigest()[:32]
