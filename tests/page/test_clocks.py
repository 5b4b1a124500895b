"""Two readings in, an offset out: by the project's own clocks, in words, and into the case."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.when import parse_duration
from mmbuilder.casefile import load
from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._compared import compared, moments
from mmbuilder.page.parts._compared import letters as marked
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._offset import Pair, told
from mmbuilder.page.parts._stamped import stamped_by
from mmbuilder.page.parts._typed import Clocks
from tests.page.conftest import between

if TYPE_CHECKING:
    from playwright.sync_api import Page

NONE = Pair("", "")


@pytest.mark.parametrize(
    ("first", "said"),
    [
        # practice.md (e) 2: recorder 11:04:10 at wall 11:01:55 is 2 min 15 s; 11:30:00 is then 11:27:45
        (Pair("11:04:10", "11:01:55"), "The recorder is 2 min 15 s fast: 2 min 15 s is taken off"),
        # the brief of this page
        (Pair("09:41:30", "09:40:00"), "The recorder is 1 min 30 s fast"),
        (Pair("09:40", "09:43"), "The recorder is 3 min slow: 3 min is added"),
        # across midnight the shorter way is meant
        (Pair("23:58:00", "00:03:00"), "The recorder is 5 min slow"),
        (Pair("10:00:00", "10:00:00"), "The recorder shows the same time as the wall clock."),
    ],
)
def test_the_direction_is_said(first: Pair, said: str) -> None:
    assert told("recorder", "wall clock", first, NONE).words[0].startswith(said)


def test_drift() -> None:
    # 1 min 45 s fast, then 3 min 44 s fast: gained 1 min 59 s (CALC); the words of the check stand with it
    answer = told("recorder", "wall clock", Pair("14:06:10", "14:04:25"), Pair("15:32:03", "15:28:19"))
    assert answer.words[1] == "Between the two pairs the recorder gained 1 min 59 s."
    assert [look["code"] for look in answer.looks] == ["clock-drift"]
    assert answer.looks[0]["found"] == "a drift of 119 s between its two anchors"
    # one second is the step of both readings
    within = told("recorder", "wall clock", Pair("14:06:10", "14:04:25"), Pair("15:32:03", "15:30:19"))
    assert "lost 1 s: no more than its readings can tell" in within.words[1]
    assert within.looks == ()


@pytest.mark.parametrize(
    ("pair", "field", "text"),
    [
        (Pair("25:00", "09:00"), "first-reads", "no clock shows this time"),
        (Pair("09:00", "teatime"), "first-reference", "this is not a time that can be read"),
        (Pair("about 09:41", "09:40"), "first-reads", "an anchor needs two exact readings"),
        (Pair("day 1 09:41", "09:40"), "first-reads", "this anchor has a day on one side only"),
    ],
)
def test_what_cannot_be_used_is_told_at_its_field(pair: Pair, field: str, text: str) -> None:
    answer = told("recorder", "wall clock", pair, NONE)
    assert answer.words == ()
    assert [(place, beats["text"]) for place, beats in answer.faults] == [(field, text)]


# The page


def revision(client: FlaskClient) -> str:
    found = re.search(r'name="revision" value="(\w+)"', client.get("/clocks/").text)
    assert found
    return found[1]


def sent(client: FlaskClient, **more: str) -> Any:
    pair = {"first-reads": "11:04:10", "first-reference": "11:01:55"}
    return client.post("/clocks/", data={**pair, "revision": revision(client), "do": "write", **more})


def test_working_out_writes_nothing(client: FlaskClient, desk: Desk) -> None:
    before = desk.text()
    answer = sent(client, clock="recorder", do="work")
    assert "The recorder is 2 min 15 s fast" in answer.text
    assert "those of the theatre clock" in answer.text
    assert desk.text() == before
    pair = {"first-reads": "09:40", "first-reference": "09:43"}
    told_ = client.post("/clocks/work", json={"new": "monitor", **pair})
    assert told_.json == {
        "words": [
            "The monitor is 3 min slow: 3 min is added to its times to get those of the theatre clock."
        ],
        "faults": {},
        "looks": [],
    }
    assert desk.text() == before


def test_the_anchors_of_a_clock_are_written(client: FlaskClient, desk: Desk) -> None:
    more = {"second-reads": "12:04:10", "second-reference": "12:01:56"}
    assert sent(client, clock="recorder", **more).status_code == 303
    assert '    anchor: {reads: "11:04:10", reference: "11:01:55"}\n' in desk.text()
    assert '    second anchor: {reads: "12:04:10", reference: "12:01:56"}\n' in desk.text()
    recorder = Reckoner(load(desk.root).case).offsets()[1]
    assert recorder.offset is not None
    assert recorder.offset.lo == pytest.approx(-2.25)  # practice.md (e) 2
    assert sent(client, clock="recorder").status_code == 303  # the second pair was taken out of the form
    assert "second anchor" not in desk.text()
    client.post("/undo")
    client.post("/undo")
    assert '    anchor: {reads: "14:06:10", reference: "14:04:25"}\n' in desk.text()


def test_an_offset_gives_way_to_the_readings(client: FlaskClient, desk: Desk) -> None:
    assert "+3 min, is taken out" in client.get("/clocks/?clock=5").text
    assert sent(client, clock="anaesthetic record").status_code == 303
    clock = desk.tree()["clocks"][4]
    assert "offset" not in clock
    assert dict(clock["anchor"]) == {"reads": "11:04:10", "reference": "11:01:55"}
    assert load(desk.root).case.clocks[4].precision is not None  # what else it has stays


@pytest.mark.parametrize(
    ("note", "reference", "told"),
    [
        ("c-arm said 10:07 when anaes monitor 10:00", "anaes monitor", ("c-arm", "10:07", "10:00")),
        ("box 7 min slow - when wall said 0948 box said 0941", "wall clock", ("box", "0941", "0948")),
        ("theatre clock 1400 = monitor 1404", "theatre clock", ("monitor", "1404", "1400")),
        ("theatre clock 1400 = monitor 1404", "wall clock", None),
        ("knife 0912 when HR 1200", "theatre clock", None),
    ],
)
def test_a_note_reads_two_clocks_at_one_moment(
    note: str, reference: str, told: tuple[str, str, str] | None
) -> None:
    """Common practice, no source."""
    assert [one.on(reference) for one in moments(note)] == [told]


def shown(page: str, name: str) -> str:
    found = re.search(rf'<input id="{name}" name="{name}" value="([^"]*)"', page)
    return found[1] if found else ""


def test_what_a_note_compares_is_filled_in_until_the_case_has_it(client: FlaskClient, desk: Desk) -> None:
    kept.save(
        desk.aside,
        Note("gas chart said 10:04 when theatre clock 10:01. later gas chart 11:05 = theatre 11:01"),
    )
    page = client.get("/clocks/").text
    names = ("new", "first-reads", "first-reference", "second-reads", "second-reference")
    told = ("gas chart", "10:04", "10:01", "11:05", "11:01")
    assert tuple(shown(page, name) for name in names) == told
    assert "<q>gas chart said 10:04 when theatre clock 10:01</q>" in page
    assert sent(client, new="gas chart").status_code == 303
    assert shown(client.get("/clocks/").text, "first-reads") == ""  # the case has it now
    desk.change(lambda tree: tree.pop("clocks"), desk.revision())
    kept.save(desk.aside, Note("anaes clock 4 min ahead of theatre"))
    page = client.get("/clocks/").text
    assert (shown(page, "new"), shown(page, "reference")) == ("anaes", "theatre clock")
    assert "<strong>4 min fast</strong>" in page


def test_a_difference_that_the_note_says_is_taken_over(client: FlaskClient, desk: Desk) -> None:
    kept.save(desk.aside, Note("NB tower clock is 7 min fast of theatre clock"))
    page = client.get("/clocks/").text
    assert (shown(page, "new"), between(page, 'name="offset" value="', '"')) == ("tower", "-7 min")
    told = {"new": "tower", "do": "offset", "first-reads": "", "first-reference": ""}
    assert sent(client, **told, offset="a while").status_code == 422
    assert sent(client, **told | {"new": ""}, offset="-7 min").status_code == 422
    assert sent(client, **told, offset="-7 min").status_code == 303
    assert dict(desk.tree()["clocks"][-1]) == {"name": "tower", "offset": "-7 min"}
    assert "Write that into the case" not in client.get("/clocks/").text
    desk.change(lambda tree: tree.pop("clocks"), desk.revision())
    assert sent(client, **told, offset="-7 min", reference="theatre clock").status_code == 303
    assert [one["name"] for one in desk.tree()["clocks"]] == ["theatre clock", "tower"]


@pytest.mark.parametrize(
    ("note", "letters"),
    [
        ("times with T are tower, rest are wall (W)", {"T": "tower", "W": "theatre wall clock"}),
        ("T = tower, W = theatre wall clock", {"T": "tower", "W": "theatre wall clock"}),
        ("times marked (T) come from the tower", {"T": "tower"}),
        ("T = temperature. K = 4. tower moved (R)", {}),
        ("T = tower. T = wall clock", {}),  # of two
    ],
)
def test_a_note_marks_the_times_of_a_clock_by_a_letter(note: str, letters: dict[str, str]) -> None:
    """Common practice, no source."""
    assert {letter: name for name, letter in marked(note, ("theatre wall clock", "tower"))} == letters


def test_a_case_without_clocks_gets_two(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.pop("clocks"), desk.revision())
    refused = sent(client, new="monitor")
    assert refused.status_code == 422
    assert "say which clock all times are told by" in refused.text
    assert sent(client, new="monitor", reference="wall clock").status_code == 303
    assert [(clock["name"], clock.get("reference")) for clock in desk.tree()["clocks"]] == [
        ("wall clock", "yes"),
        ("monitor", None),
    ]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({}, "say which clock it is"),
        ({"new": "Theatre clock"}, "this is the reference clock itself"),
        ({"clock": "recorder", "first-reads": "teatime"}, "this is not a time that can be read"),
        ({"clock": "recorder", "second-reads": "11:00"}, "this is not a time that can be read"),
    ],
)
def test_nothing_is_written_with_a_fault(
    client: FlaskClient, desk: Desk, more: dict[str, str], words: str
) -> None:
    before = desk.text()
    answer = sent(client, **more)
    assert answer.status_code == 422
    assert words in answer.text
    assert desk.text() == before


def test_an_older_state_is_refused(client: FlaskClient, desk: Desk) -> None:
    old = revision(client)
    assert sent(client, clock="recorder").status_code == 303
    assert sent(client, clock="recorder", revision=old).status_code == 409


def test_what_is_no_form_is_refused(client: FlaskClient) -> None:
    bodies: tuple[object, ...] = ([], {"clock": ["recorder"]}, {"clock": {"a": 1}})
    for body in bodies:
        assert client.post("/clocks/work", json=body).status_code == 400


def test_every_clock_is_listed_with_how_it_stands(client: FlaskClient) -> None:
    page = client.get("/clocks/").text
    assert "the reference clock: all times are told by it" in page
    assert "a recording that starts at 14:21:40 on recorder" in page
    assert "The recorder is 1 min 45 s fast" in page  # 14:06:10 at 14:04:25 (CALC)
    assert "+3 min is added to its times" in page


@pytest.mark.browser
def test_said_while_typing(page: Page, desk: Desk) -> None:
    page.goto(page.url.partition("/start")[0] + "/clocks/")
    page.get_by_label("Name of another clock").fill("monitor")
    page.get_by_label("This clock showed", exact=True).fill("09:41:30")
    page.get_by_label("when the theatre clock said").fill("09:40:00")
    page.get_by_role("status").get_by_text("The monitor is 1 min 30 s fast").wait_for()
    page.get_by_label("This clock showed then").fill("25:00")
    page.get_by_text("no clock shows this time").wait_for()
    page.get_by_label("This clock showed then").fill("")
    page.get_by_role("button", name="Write it into the case").focus()
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Compare monitor").wait_for()
    assert 'reads: "09:41:30"' in desk.text()


def test_a_case_without_clocks_is_asked_for_a_name_alone(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.pop("clocks"), desk.revision())
    page = client.get("/clocks/").text
    assert "<select" not in page
    assert '<label for="new">The clock</label>' in page


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("theatre wall clock is right. anaes monitor runs 6 min FAST (monitor 10:47 = wall 10:41)", ("wall clock", "monitor", "-6 min")),
        ("monitor 10:47 = wall 10:41. so fast clock", ("wall clock", "monitor", "-6 min")),
        ("10:47 on the monitor = 10:41 on the wall clock", ("wall clock", "monitor", "-6 min")),
        ("monitor 10:47 (wall 10:41)", ("wall clock", "monitor", "-6 min")),
        ("monitor 10:47:30 = wall 10:41:00", ("wall clock", "monitor", "-6 min 30 s")),
        ("monitor 10:47 = wall 10:41, later monitor 12:50 = wall 12:43", ("wall clock", "monitor", "")),  # it drifts
        ("monitor 6 min fast (monitor 10:47 = wall 10:40)", ("wall clock", "monitor", "")),  # 6 or 7
        ("anaesthetic machine 6 min fast. times by wall clock", ("wall clock", "anaesthetic machine", "-6 min")),
        ("anaesthetic machine 6 min fast", ("", "anaesthetic machine", "-6 min")),
        ("monitor ahead of wall by 6 min", ("wall clock", "monitor", "-6 min")),
        ("times here are wall unless I say monitor. monitor slow by 3 min", ("wall clock", "monitor", "3 min")),
        ("monitor = wall + 6 min", ("wall clock", "monitor", "-6 min")),
        ("wall = monitor - 6 min", ("wall clock", "monitor", "-6 min")),
        ("add 4 min to the monitor times, the rest is theatre clock", ("theatre clock", "monitor", "4 min")),
        ("CTG 5 mins slow against room clock", ("room clock", "CTG", "5 min")),
        ("list 20 min behind", ("", "", "")),
        ("surgeon ran 30 min slow", ("", "", "")),
        ("knife 0912 (HR 1200)", ("", "", "")),
        ("monitor 6 min fast, pump 2 min slow", ("", "", "")),  # two
        ("NB tower clock is 7 min fast of theatre wall clock!! rest are wall (W)", ("theatre wall clock", "tower", "-7 min")),
    ],
)  # fmt: skip
def test_a_note_says_how_far_a_clock_is_off(note: str, told: tuple[str, str, str]) -> None:
    """Common practice, no source; the sums by hand."""
    found = compared(note)
    assert (found.reference, found.other, found.offset) == told
    assert not found.offset or parse_duration(found.offset).seconds


CLOCKS = Clocks(("wall clock", "monitor", "anaesthetic machine"), "wall clock")


@pytest.mark.parametrize(
    ("note", "clock"),
    [
        ("readings file from monitor (so fast clock) -1 = probe off. stills 3: tower", "monitor"),
        ("csv off the machine", "anaesthetic machine"),
        ("trends exported from mon", "monitor"),
        ("data file: anaesthetic machine", "anaesthetic machine"),
        ("csv is wall clock", "wall clock"),
        ("Chart off the ward monitor (monitor, 7 fast!!):", "monitor"),
        ("chart photographed by the nurse", ""),
        ("09:40 monitor readings fell", ""),  # an event
        ("video file from the monitor", ""),
        ("csv from monitor. export of the machine", ""),  # two
        ("monitor alarm was off", ""),
        ("op note, dictated by me + bits from monitor printout", ""),  # what the note was made of
        ("vitals printout from the monitor", "monitor"),
    ],
)
def test_a_note_says_which_clock_stamped_its_readings(note: str, clock: str) -> None:
    """Common practice, no source."""
    assert stamped_by(note, CLOCKS) == clock
