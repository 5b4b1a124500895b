"""Days that a date may be meant as: offered in words beside the field, chosen with one key.

Each expectation is read off a calendar (ISO 8601); the meeting is on Thursday 12 November 2026.
"""

from __future__ import annotations

import json
import re
from datetime import date
from html import unescape
from typing import TYPE_CHECKING

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.form.days import meant, settled

if TYPE_CHECKING:
    from playwright.sync_api import Page

MEETING = date(2026, 11, 12)


@pytest.mark.parametrize(
    ("words", "days"),
    [
        ("12/11/2026", ("12 November 2026", "11 December 2026")),
        ("12.11.26", ("12 November 2026", "11 December 2026")),
        ("30/10", ("30 October 2026",)),
        ("12 Nov", ("12 November 2026",)),
        ("Jan 3rd", ("3 January 2027",)),
        ("3 Jan 27", ("3 January 2027",)),
        ("end Jan", ("31 January 2027",)),
        ("by end of February", ("28 February 2027",)),
        ("mid-Feb", ("15 February 2027",)),
        ("early December", ("1 December 2026",)),
        ("end Jan 2028", ("31 January 2028",)),
        # no day of the calendar, or no date
        ("31/2/2026", ()),
        ("13/13/2026", ()),
        ("29 Feb", ()),
        ("teatime", ()),
        ("12 units", ()),
    ],
)
def test_every_day_that_may_be_meant_is_told(words: str, days: tuple[str, ...]) -> None:
    assert meant(words, MEETING) == days


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("Wed 2/12/26", "2 December 2026"),
        ("Thu 12.2.26", "12 February 2026"),  # 2 December is a Wednesday
        ("Thursday, 12/2/2026", "12 February 2026"),
        ("weds 2 Dec", "2 December 2026"),
        ("Wed 2 December 2026", "2 December 2026"),
        ("Fri 2/12/26", ""),  # neither 2 December nor 12 February
        ("2/12/26", ""),
        ("teatime", ""),
    ],
)
def test_a_weekday_settles_the_day(words: str, day: str) -> None:
    assert settled(words, MEETING) == day
    assert meant(words, MEETING) == ((day,) if day else meant(words, MEETING))


def keep_meeting(client: FlaskClient, desk: Desk, words: str) -> str:
    sent = {"revision": desk.revision(), "do": "set", "path": ["meeting"], "value": words}
    answer = client.post("/write/story/", json=sent, headers={"Accept": "application/json"})
    assert answer.status_code == 200
    assert answer.json is not None
    kept = str(desk.tree()["meeting"])
    assert answer.json["again"] is (kept != words)  # the field is shown anew
    return kept


def test_a_day_is_kept_as_it_is_meant(client: FlaskClient, desk: Desk) -> None:
    """Figures alone are asked for, unless Day 0 was typed in figures that have one order."""
    desk.change(lambda tree: tree["timeline"].pop("day zero", None), desk.revision())
    assert keep_meeting(client, desk, "Wed 2/12/2026") == "2 December 2026"
    assert keep_meeting(client, desk, "2/12/2026") == "2/12/2026"
    desk.change(lambda tree: tree["timeline"].update({"day zero": "13/11/2026"}), desk.revision())
    assert keep_meeting(client, desk, "2/12/26") == "2 December 2026"
    assert keep_meeting(client, desk, "2026-12-03") == "2026-12-03"
    desk.change(lambda tree: tree["timeline"].update({"day zero": "11/13/2026"}), desk.revision())
    assert keep_meeting(client, desk, "12/2/26") == "2 December 2026"


def test_without_a_day_to_count_from_a_year_is_not_guessed() -> None:
    for words in ("12.11.26", "30/10", "12 Nov", "end Jan"):
        assert meant(words, None) == ()
    assert meant("1/2/2001", None) == ("2 January 2001", "1 February 2001")


@pytest.mark.parametrize(
    ("words", "times"),
    [
        ("13/11 0310", ("13 November 2026 03:10",)),
        ("26/11", ("26 November 2026",)),
        ("2/11 at 23:50", ("11 February 2027 23:50", "2 November 2026 23:50")),
        ("13 Nov 03:10", ("13 November 2026 03:10",)),
        ("12 Nov 2026", ()),  # a year, and no date that lacks anything
        ("0310", ()),
    ],
)
def test_a_time_keeps_the_time_of_day_behind_its_date(words: str, times: tuple[str, ...]) -> None:
    assert set(meant(words, MEETING, timed=True)) == set(times)


def test_a_day_is_offered_for_a_time_that_begins_with_a_date(client: FlaskClient, desk: Desk) -> None:
    def change(tree: object) -> None:
        assert isinstance(tree, dict)
        tree["meeting"] = "12 November 2026"
        tree["timeline"]["events"][0]["when"] = "30/10 0310"

    desk.change(change, desk.revision())
    days = offered(client.get("/write/events/?open=at-timeline-events-0").text)
    assert [*days] == ["30 October 2026 03:10"]


def offered(page: str) -> dict[str, str]:
    found = re.findall(r'<button name="do" value="([^"]*)" data-field="[^"]*">([^<]*)</button>', page)
    return {words: unescape(asks) for asks, words in found}


def test_both_readings_are_offered_beside_the_field(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.update(meeting="12/11/2026"), desk.revision())
    page = client.get("/write/story/").text
    days = offered(page)
    assert [*days] == ["12 November 2026", "11 December 2026"]
    assert "<pre>meeting:" not in page
    sent = {"revision": desk.revision(), "do": days["12 November 2026"]}
    assert client.post("/write/story/", data=sent).status_code == 303  # without script
    assert desk.tree()["meeting"] == "12 November 2026"
    assert offered(client.get("/write/story/").text) == {}


def test_a_due_day_is_offered_from_the_meeting(client: FlaskClient, desk: Desk) -> None:
    def change(tree: object) -> None:
        assert isinstance(tree, dict)
        tree["meeting"] = "12 November 2026"
        tree["actions"][0]["due"] = "end Jan"

    desk.change(change, desk.revision())
    days = offered(client.get("/write/actions/?open=at-actions-0").text)
    assert [*days] == ["31 January 2027"]
    sent = {"revision": desk.revision(), **json.loads(days["31 January 2027"])}
    answer = client.post("/write/actions/", json=sent, headers={"Accept": "application/json"})
    assert answer.status_code == 200
    assert desk.tree()["actions"][0]["due"] == "31 January 2027"


def test_an_example_is_told_as_it_is_typed(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.update(meeting="when the room is free"), desk.revision())
    page = client.get("/write/story/").text
    assert "2001-02-13 or 13 February 2001</span></dd>" in page
    assert "meeting: 2001" not in page


@pytest.mark.browser
def test_a_day_is_chosen_by_keyboard(page: Page, desk: Desk) -> None:
    from playwright.sync_api import expect

    desk.change(lambda tree: tree.update(meeting="12/11/2026"), desk.revision())
    page.goto(page.url.partition("/start")[0] + "/write/story/")
    page.get_by_role("button", name="11 December 2026").focus()
    page.keyboard.press("Enter")
    field = page.locator("#at-meeting")
    expect(field).to_have_value("11 December 2026")
    expect(field).to_be_focused()
    assert desk.tree()["meeting"] == "11 December 2026"
