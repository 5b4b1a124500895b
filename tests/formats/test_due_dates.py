"""Due dates as a calendar file, read back by a library of calendars: RFC 5545."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from mmbuilder.formats import due_dates_ics
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.terms import ActionStatus
from mmbuilder.safe.text import SafeText


def say(text: str) -> SafeText:
    return SafeText(KEY, text)


ROW = LoggedAction(
    id=say("A1"),
    case=say("case-b"),
    what=say("A second pump; on every trolley, in reach"),
    owner=say("lead nurse"),
    due_day=date(2031, 5, 2),
    measure=say("Trolleys with two pumps"),
    evidence=say("Photographs"),
)


def entries(*rows: LoggedAction) -> list:
    return Calendar.from_ical(due_dates_ics.write(rows)).walk("VEVENT")


def test_an_entry_is_the_whole_day_with_action_and_role() -> None:
    (entry,) = entries(ROW)
    assert entry.decoded("dtstart") == date(2031, 5, 2)
    assert entry["dtstart"].params["VALUE"] == "DATE"
    assert str(entry["summary"]) == "A second pump; on every trolley, in reach (lead nurse)"
    assert entry["transp"] == "TRANSPARENT"


def test_an_entry_has_what_the_standard_asks_for_and_nothing_else() -> None:
    # RFC 5545, 3.6.1: UID and DTSTAMP are required, DTSTART without METHOD; 3.6: PRODID and VERSION.
    (entry,) = entries(ROW)
    assert set(entry) == {"UID", "DTSTAMP", "DTSTART", "SUMMARY", "TRANSP"}
    assert set(Calendar.from_ical(due_dates_ics.write([ROW]))) == {"PRODID", "VERSION"}
    for word in (b"case-b", b"ORGANIZER", b"ATTENDEE", b"Photographs"):
        assert word not in due_dates_ics.write([ROW])


@pytest.mark.parametrize("status", ActionStatus)
def test_what_is_closed_is_not_in_the_calendar(status: ActionStatus) -> None:
    closed = status in (ActionStatus.DONE, ActionStatus.DROPPED)
    assert len(entries(replace(ROW, status=status))) == (not closed)


def test_what_is_due_on_no_day_is_not_in_the_calendar() -> None:
    assert entries(replace(ROW, due_day=None, due=say("next audit"))) == []


def test_an_action_keeps_its_mark_when_its_words_and_date_change() -> None:
    moved = replace(ROW, due_day=date(2031, 9, 1), what=say("Other words"), id=say("a1"))
    other, elsewhere = replace(ROW, id=say("A2")), replace(ROW, case=say("case-c"))
    marks = [str(entry["uid"]) for entry in entries(ROW, moved, other, elsewhere)]
    assert marks[0] == marks[1]
    assert len(set(marks)) == 3


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=300))
def test_lines_are_of_75_octets_and_say_the_same_when_unfolded(text: str) -> None:
    data = due_dates_ics.write([replace(ROW, what=say(text), owner=say(""))])
    assert data == due_dates_ics.write([replace(ROW, what=say(text), owner=say(""))])
    assert data.endswith(b"END:VCALENDAR\r\n")
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) <= 75  # RFC 5545, 3.1
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    (entry,) = Calendar.from_ical(data).walk("VEVENT")
    assert str(entry["summary"]).split() == text.split()
