"""By which clock the lines of a note were read. The notes are invented; how such clocks are named is common
practice, no source."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.parts._by_clock import UNSURE
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._linked import events_at
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._pull import Pull, each_begun
from tests.page.test_note import paste
from tests.page.test_note_proposed import sent

TOLD = "NB gas machine clock is 4 min FAST of theatre clock. times are theatre unless I say (mon)\n"


def of(*names: str) -> dict[str, Any]:
    first, *others = names
    return {"clocks": [{"name": first, "reference": "yes"}, *({"name": one} for one in others)]}


def first(line: str, tree: dict[str, Any], told: str = "") -> Pull:
    note = Note(line)
    return each_begun(note.lines, Known(tree, text=told + line))[0]


@pytest.mark.parametrize(
    ("line", "clock"),
    [
        ("0712 into gas room", ""),
        ("0712 Dr Pellworth (gas) came", ""),
        ("0712 gas consultant asked to come", ""),
        ("0712 gas machine alarm", "gas machine"),
        ("0712 (gas machine) pulse 104", "gas machine"),
        ("0712 (gas) pulse 104", "gas machine"),
        ("pulse 104 (gas 0712)", "gas machine"),
        ("0712 by the gas clock pulse 104", "gas machine"),
        ("0712 back in theatre", ""),
    ],
)
def test_a_word_for_a_place_or_a_role_is_no_clock(line: str, clock: str) -> None:
    assert first(line, of("theatre clock", "gas machine")).clock == clock


@pytest.mark.parametrize("line", ["pulse 104 (mon 0712)", "mon 0712 pulse 104", "0712 (mon) pulse 104"])
def test_a_clock_goes_by_the_word_with_which_the_note_marks_its_times(line: str) -> None:
    one = first(line, of("theatre clock", "gas machine"), TOLD)
    assert (one.clock, one.whole) == ("gas machine", True)


@pytest.mark.parametrize(
    "line", ["pulse 104 (mon 0712)", "pulse 104 (0712 on the pump)", "0712 (tower) light out"]
)
def test_a_device_beside_a_time_that_is_none_of_the_clocks_is_asked(line: str) -> None:
    one = first(line, of("theatre clock", "gas machine"))
    assert (one.clock, one.whole) == (UNSURE, False)
    assert events_at({"timeline": {"events": [{"when": "0712"}]}}, [("0712", UNSURE)]) == []


@pytest.mark.parametrize(
    "line", ["pulse 104 (0712)", "0712 pulse 104 on the pump", "Mon 0712 back in theatre"]
)
def test_what_is_not_in_brackets_with_a_time_asks_nothing(line: str) -> None:
    assert first(line, of("theatre clock", "gas machine")).clock == ""
    assert first("pulse 104 (mon 0712)", of("theatre clock")).clock == ""  # the case has no other clock


def test_a_time_by_a_clock_that_is_in_doubt_is_refused_until_one_is_chosen(
    client: FlaskClient, desk: Desk
) -> None:
    desk.change(lambda tree: tree.update(of("theatre clock", "gas machine")), desk.revision())
    paste(client, desk, "pulse 104 (mon 0712)")
    form = sent(client, desk)
    (key,) = form["key"]
    assert (form.get("take"), form[f"clock-{key}"]) == (None, [UNSURE])
    answer = client.post("/note/several", data=form | {"take": [key]})
    assert (answer.status_code, "choose the clock that it was read from" in answer.text) == (422, True)
    chosen = {"take": [key], f"clock-{key}": "gas machine"}
    assert client.post("/note/several", data=form | chosen).status_code == 303
    assert desk.tree()["timeline"]["events"][-1]["clock"] == "gas machine"


def test_the_clocks_of_the_note_can_be_chosen_before_the_case_has_them(
    client: FlaskClient, desk: Desk
) -> None:
    desk.change(lambda tree: tree.pop("clocks"), desk.revision())
    paste(client, desk, TOLD + "pulse 104 (mon 0712)")
    form = sent(client, desk)
    key = form["take"][0]
    assert form[f"clock-{key}"] == ["gas machine"]
    answer = client.post("/note/several", data=form | {"head-other-clock": ""})
    assert (answer.status_code, "name this clock above" in answer.text) == (422, True)
    assert client.post("/note/several", data=form | {"head-other-clock": "ventilator"}).status_code == 303
    tree = desk.tree()
    assert [one["name"] for one in tree["clocks"]] == ["theatre clock", "ventilator"]
    assert tree["timeline"]["events"][-1]["clock"] == "ventilator"


MARKED = "NB tower clock is 7 min fast of theatre wall clock!! times with T are tower, rest are wall (W)\n"


@pytest.mark.parametrize(
    ("line", "when", "clock", "what"),
    [
        ("T 0846 scope in", "0846", "tower", "scope in"),
        ("T: 0846 scope in", "0846", "tower", "scope in"),
        ("T0846 scope in", "0846", "tower", "scope in"),
        ("T08:46: scope in", "08:46", "tower", "scope in"),
        ("W0815 sign in", "0815", "", "sign in"),
        ("0846 (T) scope in", "0846", "tower", "scope in"),
        ("scope in, flow low 0846 T", "0846", "tower", "scope in, flow low 0846 T"),
        ("W 0815 sign in", "0815", "", "sign in"),
        ("0815 sign in", "0815", "", "sign in"),
        ("0815 T 37.2", "0815", "", "T 37.2"),
        ("T 0921 PM portal made", "0921", "tower", "PM portal made"),
    ],
)
def test_a_letter_beside_a_time_says_which_clock(line: str, when: str, clock: str, what: str) -> None:
    for tree in ({}, of("theatre wall clock", "tower")):
        one = first(line, tree, MARKED)
        assert (one.when, one.clock, one.what) == (when, clock, what)
    assert first("T 0846 scope in", of("wall clock", "tower")).clock == ""  # no note says what T is
