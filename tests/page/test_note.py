"""The pasted note: split, read for times, pulled by hand, kept beside the case and nowhere in it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest
from flask.testing import FlaskClient

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Case
from mmbuilder.casefile import load
from mmbuilder.casefile.shape import slot_at
from mmbuilder.errors import FileRefused
from mmbuilder.page import Desk
from mmbuilder.page.form.targets import Target, offered, targets
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._note import Mark, Note, State
from mmbuilder.page.parts._pull import begun, belongs, filled
from mmbuilder.safe.terms import EventKind
from tests.page.conftest import between

if TYPE_CHECKING:
    from playwright.sync_api import Page

NOTE = """\
0930 knife to skin. Called Dr. Skeltry-Moar at 14:20 approx.
BP 80/40 between 14:15 and 14:20, then again 15:10; 1500 mL given

Closed, sterile dressing
"""


# Times: the forms that practice.md (f) 3 says a clinician writes


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("0930 induction", ("0930",)),
        ("Seen 9.30am by the registrar", ("9.30am",)),
        ("Clip on at 09:30:15.", ("09:30:15",)),
        ("Bleeding (~14:20) from the port", ("~14:20",)),
        ("14:15-14:20 clamp off", ("14:15-14:20",)),
        ("Restless after 13:00", ("after 13:00",)),
        ("Found before 14:20, after 14:05", ("before 14:20, after 14:05",)),
        ("Iris forward, video 0:48:10", ("video 0:48:10",)),
        ("Leak in file 2 06:15", ("file 2 06:15",)),
        ("Drain out day 2 06:30", ("day 2 06:30",)),
        ("Cough at 14:49 and at 14:57", ("14:49", "14:57")),
        ("0921 PM portal made", ("0921",)),  # no evening: it is posteromedial
        ("1121 PM portal made", ("1121",)),
        ("1410 PM 62 on the screen", ("1410",)),
        ("0730 am round", ("0730 am",)),
        ("9:21 pm back in theatre", ("9:21 pm",)),
        ("9.50 puncture, second attempt", ("9.50",)),
        ("approx 10.15 irrigation on, ~ 3 L by then", ("approx 10.15",)),
        ("Turned prone about 9.10 wall.", ("about 9.10",)),
        ("Dilated to 30F, Amplatz in 0956.", ("0956",)),
        ("Irrigation off 1034 wall.", ("1034",)),
        ("Dr Skeltry-Moar came in, called at 1041.", ("1041",)),
        ("CXR in recovery 1130 lung up.", ("1130",)),
        ("10.31 monitor sats 92 Paw 34.", ("10.31",)),
        ("Pulled sheath, nephrostomy in 10.37 wall.", ("10.37",)),
        # what looks like a time and is none
        ("pH 7.35 and Hb 10.35 on the gas", ()),
        ("bleep 2214, room 1204, H481130, DX-118204", ()),
        ("NHS 943 476 1130, phone 0113 496 1130", ()),
        ("EBL 1200, 2010 census, seen on 12.10", ()),
        ("Listed for 14.10.2025", ()),
        ("3.15 L out for 5.40 L in", ()),
        ("1500 mL of saline, 2019 trabeculectomy, adrenaline 1:10 000", ()),
        ("Bed 1420, weight 71 kg, 6/18", ()),
        ("Closed in layers", ()),
    ],
)
def test_only_a_time_that_stands_in_the_line_is_found(line: str, found: tuple[str, ...]) -> None:
    assert kept.times(line) == found
    assert all(time in line for time in found)


def test_the_hours_of_an_eye_are_no_times() -> None:
    assert kept.times("Needle track at 11.30", dial=True) == ()


def test_lines_and_sentences() -> None:
    assert list(kept.pieces(NOTE)) == [
        "0930 knife to skin.",
        "Called Dr. Skeltry-Moar at 14:20 approx.",
        "BP 80/40 between 14:15 and 14:20, then again 15:10; 1500 mL given",
        "Closed, sterile dressing",
    ]


def test_a_mark_stays_with_its_words() -> None:
    note = Note("One. Two. One.")
    first, second, third = note.lines
    assert len({first.key, second.key, third.key}) == 3
    note = note.marked(third, Mark(State.ASIDE))
    edited = Note("Nought. One. One.", marks=note.marks)
    assert [edited.state(line) for line in edited.lines] == [State.LEFT, State.LEFT, State.ASIDE]
    assert edited.marked(edited.lines[0], Mark(State.PULLED)).marks.keys() == {
        edited.lines[0].key,
        third.key,
    }


def test_a_damaged_note_is_told(desk: Desk) -> None:
    desk.aside.mkdir()
    (desk.aside / kept.FILE).write_text("{")
    with pytest.raises(FileRefused, match="Forget everything"):
        kept.load(desk.aside)


# The page


def field(text: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', text)
    assert found, name
    return found[1]


def paste(client: FlaskClient, desk: Desk, text: str = NOTE) -> None:
    form = {"text": text, "called": "operation note", "note": kept.state_of(desk.aside)}
    assert client.post("/note/", data=form).status_code == 303


def form_of(client: FlaskClient, number: int) -> dict[str, str]:
    page = client.get(f"/note/?line={number}").text
    return {name: field(page, name) for name in ("revision", "note", "key", "when", "source")}


def pulled(client: FlaskClient, number: int, **more: str) -> int:
    form = {"kind": "action", "what": f"Pulled from line {number}", "when": "14:20"}
    return client.post("/note/pull", data={**form_of(client, number), **form, **more}).status_code


def test_a_note_is_kept_beside_the_case_and_nowhere_in_it(client: FlaskClient, desk: Desk) -> None:
    before = desk.text()
    paste(client, desk)
    assert "sterile dressing" in client.get("/note/").text
    assert desk.text() == before
    holding = [path for path in desk.root.rglob("*") if path.is_file() and b"sterile" in path.read_bytes()]
    assert holding == [desk.aside / kept.FILE]
    desk.forget()
    assert "sterile dressing" not in client.get("/note/").text


def test_a_line_is_pulled_by_hand(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    page = client.get("/note/?line=2").text
    assert field(page, "when") == "14:20 approx"
    assert field(page, "source") == "operation note"
    assert '<option value="">choose</option>' in page
    assert re.findall(r'value="([^"]*)" selected', page) == [
        "step"
    ]  # of a line with a time; no clock is chosen
    count = len(load(desk.root).case.timeline.events)
    assert pulled(client, 2, kind="call for help", when="14:20 approx") == 303
    last = load(desk.root).case.timeline.events[-1]
    assert len(load(desk.root).case.timeline.events) == count + 1
    assert (last.kind, last.what.value) == (EventKind.CALL, "Pulled from line 2")
    assert last.source is not None
    assert last.source.value == "operation note"
    assert "      when: 14:20 approx\n" in desk.text()
    assert "1 pulled, 0 set aside, 3 left" in client.get("/note/").text


def test_two_times_in_a_line_are_offered_and_none_is_filled_in(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    page = client.get("/note/?line=3").text
    assert field(page, "when") == ""
    assert re.findall(r'data-time="([^"]+)"', page) == ["between 14:15 and 14:20", "15:10"]
    assert field(client.get("/note/?line=4").text, "when") == ""


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"kind": ""}, "choose what it becomes"),
        ({"kind": "catastrophe"}, "choose what it becomes"),
        ({"what": "  "}, "say what happened"),
        ({"when": "03/04/2025 14:20"}, "this date can be read in two ways"),
        ({"when": "teatime"}, "this is not a time that can be read"),
        ({"when": ""}, "this is not a time that can be read"),
    ],
)
def test_what_cannot_be_used_is_told_and_nothing_is_written(
    client: FlaskClient, desk: Desk, wrong: dict[str, str], told: str
) -> None:
    paste(client, desk)
    before = desk.text()
    form = {"kind": "action", "what": "Clip", "when": "14:20", **form_of(client, 1), **wrong}
    answer = client.post("/note/pull", data=form)
    assert answer.status_code == 422
    assert told in answer.text
    assert 'aria-invalid="true"' in answer.text
    assert desk.text() == before
    assert "0 pulled" in client.get("/note/").text


def test_several_lines_become_one_event(client: FlaskClient, desk: Desk) -> None:
    """A full stop parts a time from what belongs to it: the next line is taken along."""
    paste(client, desk)
    first = client.get("/note/?line=1").text
    assert field(first, "when") == "0930"
    assert ">knife to skin.</textarea>" in first  # the time stands in its own field
    both = client.get("/note/?line=1&to=2").text
    assert ">0930 knife to skin. Called Dr. Skeltry-Moar at 14:20 approx.</textarea>" in both
    assert re.findall(r'data-time="([^"]+)"', both) == ["0930", "14:20 approx"]
    keys = re.findall(r'name="key" value="([^"]+)"', both.partition("note-pull")[2])
    assert len(keys) == 2
    sent = {**form_of(client, 1), "kind": "step", "what": "Knife to skin, help called"}
    assert client.post("/note/pull", data={**sent, "key": keys}).status_code == 303
    assert "2 pulled, 0 set aside, 2 left" in client.get("/note/").text
    assert desk.tree()["timeline"]["events"][-1]["what"] == "Knife to skin, help called"


@pytest.mark.parametrize(
    "address", ["/note/?line=0", "/note/?line=x", "/note/?line=5&to=9", "/note/?line=99999"]
)
def test_a_line_that_is_not_there_is_not_pulled(client: FlaskClient, desk: Desk, address: str) -> None:
    paste(client, desk)
    assert "Into the case</h2>" in client.get(address).text


def test_the_field_to_mend_is_where_the_reader_is_put(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    form = {"kind": "action", "what": "Clip", **form_of(client, 1), "when": "teatime"}
    told = client.post("/note/pull", data=form).text
    assert re.findall(r'id="(\w+)"[^>]* autofocus', told) == ["when"]


def test_another_clock_is_offered_before_there_is_one(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    assert "Compare the two clocks" not in client.get("/note/?line=1").text
    desk.change(lambda tree: tree.pop("clocks"), desk.revision())
    assert '<a href="/clocks/">Compare the two clocks</a>' in client.get("/note/?line=1").text


def test_undo_takes_the_event_out_and_the_line_says_so(client: FlaskClient, desk: Desk) -> None:
    before = desk.text()
    paste(client, desk)
    assert pulled(client, 1) == 303
    client.post("/undo")
    assert desk.text() == before
    assert "changed or taken out there since" in client.get("/note/").text


def test_a_line_is_set_aside_and_brought_back(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    for tally in ("0 pulled, 1 set aside, 3 left", "0 pulled, 0 set aside, 4 left"):
        form = form_of(client, 4)
        assert client.post("/note/aside", data=form).status_code == 303
        assert tally in client.get("/note/").text


def test_a_long_note_is_read_with_its_proposals(client: FlaskClient, desk: Desk) -> None:
    """Common practice, no source: who has just pasted a note knows it."""
    paste(client, desk, "\n".join(f"1{hour:02}0 step {hour}" for hour in range(10, 24)))
    assert "<summary>Or one by one</summary>" in client.get("/note/").text
    assert client.post("/note/aside", data=form_of(client, 4)).status_code == 303
    for address in ("/note/", "/note/?line=2"):
        assert "<summary>Or one by one</summary>" not in client.get(address).text


def test_two_tabs_do_not_overwrite_each_other(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    old = form_of(client, 1)
    assert pulled(client, 2) == 303
    form = {**old, "kind": "action", "what": "From the other tab", "when": "14:20"}
    assert client.post("/note/pull", data=form).status_code == 409
    assert client.post("/note/", data={**old, "text": ""}).status_code == 409
    assert "other tab" not in desk.text()
    assert "sterile dressing" in kept.load(desk.aside).text


def test_a_note_too_long_is_refused(client: FlaskClient, desk: Desk) -> None:
    form = {"text": "a " * kept.MOST, "note": kept.state_of(desk.aside)}
    assert client.post("/note/", data=form).status_code == 400
    form["text"] = "a\n" * (kept.MOST_LINES + 1)
    assert client.post("/note/", data=form).status_code == 400
    assert not (desk.aside / kept.FILE).exists()


def test_words_of_the_note_are_no_markup(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, "<script>alert(1)</script> \"at\" 14:20 'quoted'")
    page = client.get("/note/?line=1").text
    assert "<script>alert" not in page
    assert field(page, "when") == "14:20"


def test_a_case_without_a_timeline_gets_one(client: FlaskClient, desk: Desk) -> None:
    desk.change(lambda tree: tree.pop("timeline"), desk.revision())
    paste(client, desk)
    assert pulled(client, 1) == 303
    assert [event["what"] for event in desk.tree()["timeline"]["events"]] == ["Pulled from line 1"]


# Clocks: the names are invented; the words around them are common practice, no source

CLOCKS = """
clocks:
  - {name: wall clock, reference: yes}
  - {name: anaesthetic monitor, offset: -7 min}
  - {name: infusion pump, offset: 2 min}
"""


def clocked(desk: Desk) -> None:
    from ruamel.yaml import YAML

    clocks = YAML().load(CLOCKS)["clocks"]
    other = {"clocks": clocks, "specialty": "general surgery"}  # of an eye, 10.31 is a place
    desk.change(lambda tree: tree.update(other), desk.revision())


@pytest.mark.parametrize(
    ("line", "clock", "what"),
    [
        ("10:20 (monitor) then 96", "anaesthetic monitor", "then 96"),
        ("10.31 monitor sats 92", "anaesthetic monitor", "sats 92"),
        ("mon 1038 MAP 52", "anaesthetic monitor", "MAP 52"),
        ("Dose at 10:42 on the pump", "infusion pump", "Dose at 10:42 on the pump"),
        ("10:38 by the anaesthetic monitor: STOP", "anaesthetic monitor", "STOP"),
        ("Irrigation off 1034 wall", "", "Irrigation off 1034 wall"),
        ("10:38 monitor, chest wall swollen", "anaesthetic monitor", "chest wall swollen"),
        ("10:38 the anaesthetic room was closed", "", "the anaesthetic room was closed"),
        ("10:38 stop", "", "stop"),
    ],
)
def test_a_line_that_names_a_clock_has_it_chosen(
    client: FlaskClient, desk: Desk, line: str, clock: str, what: str
) -> None:
    clocked(desk)
    paste(client, desk, line)
    page = client.get("/note/?line=1").text
    menu = between(page, '<select id="clock"', "</select>")
    assert re.findall(r"<option selected>([^<]*)", menu) == ([clock] if clock else [])
    assert f">{what}</textarea>" in page


def test_the_reference_clock_is_listed_once(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    paste(client, desk)
    for address, of in (("/note/?line=1", "clock"), ("/note/several", "clock-")):
        menu = between(client.get(address).text, f'name="{of}', "</select>")
        assert menu.count("wall clock") == 1, address
        assert '<option value="">wall clock</option>' in menu


@pytest.mark.parametrize(
    ("line", "when", "clock", "what"),
    [
        ("0404 MOH call 2222.", "0404", "", "MOH call 2222."),
        (
            "0402 I came, HR 136 on the monitor (0408 their time)",
            *("0402", "", "I came, HR 136 on the monitor (0408 their time)"),
        ),
        ("TXA 1 g at 0409, 2nd gram 0440.", "0409", "", "TXA 1 g at 0409, 2nd gram 0440."),
        ("Monitor 0257 HR 108 BP 101/58", "0257", "anaesthetic monitor", "HR 108 BP 101/58"),
        ("monitor: 03.46 HR 127", "03.46", "anaesthetic monitor", "HR 127"),
        ("0930 hr knife to skin", "0930 hr", "", "knife to skin"),
        ("rung 0406, arrives 0431", "", "", "rung 0406, arrives 0431"),  # either could be meant
    ],
)
def test_the_time_that_tells_when_is_filled_in(
    client: FlaskClient, desk: Desk, line: str, when: str, clock: str, what: str
) -> None:
    clocked(desk)
    paste(client, desk, line)
    note = kept.load(desk.aside)
    one = begun(note.lines, Known(desk.tree()))
    assert (one.when, one.clock, one.what) == (when, clock, what)


def test_a_time_typed_into_its_field_leaves_the_words(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    paste(client, desk, "rung 0406, arrives 0431\n0402 I came at last")
    note, tree = kept.load(desk.aside), Known(desk.tree())
    said = {"kind": "action", "when": "04:02", "clock": "", "source": "", "what": "0402 I came at last"}
    assert filled(note.lines[1:], tree, said).words == "I came at last"
    assert filled(note.lines[1:], tree, {**said, "when": "0405"}).words == "0402 I came at last"
    words = "rung 0406, arrives 0431"
    assert filled(note.lines[:1], tree, {**said, "when": "0406", "what": words}).words == words


def test_each_of_two_times_has_the_clock_beside_it(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    paste(client, desk, "STOP at 10:38 on the monitor, 10:31 by the wall clock")
    page = client.get("/note/?line=1").text
    found = re.findall(r'data-time="([^"]+)" data-clock="([^"]*)"', page)
    assert found == [("10:38", "anaesthetic monitor"), ("10:31", "")]


# Several at once


def several(client: FlaskClient, **more: str | list[str]) -> dict[str, str | list[str]]:
    """What the page of several lines would send with every kind chosen."""
    page = client.get("/note/several").text
    form: dict[str, str | list[str]] = {name: field(page, name) for name in ("revision", "note", "source")}
    form["key"] = re.findall(r'name="key" value="([^"]+)"', page)
    form["take"] = re.findall(r'name="take" value="([^"]+)" checked', page)
    for key in form["key"]:
        form[f"kind-{key}"] = "step"
        found = re.search(rf'name="when-{key}" id="when-{key}" value="([^"]*)"', page)
        assert found
        form[f"when-{key}"] = found[1]
        words = re.search(rf'<textarea name="what-{key}"[^>]*>([^<]*)', page)
        assert words
        form[f"what-{key}"] = words[1]
    return form | more


def test_several_lines_are_pulled_in_one_round(client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    paste(client, desk, "0930 knife to skin\n10:20 (monitor) sats 96\nNobody wrote this down\nOff 1034 wall")
    count = len(desk.tree()["timeline"]["events"])
    form = several(client, rest="yes")
    assert len(form["take"]) == 3  # those with a time
    menus = client.get("/note/several").text
    assert menus.count("<option selected>anaesthetic monitor</option>") == 1
    form[f"clock-{form['key'][1]}"] = "anaesthetic monitor"
    assert client.post("/note/several", data=form).status_code == 303
    events = [dict(one) for one in desk.tree()["timeline"]["events"]][count:]
    assert [(one["when"], one.get("clock", ""), one["what"]) for one in events] == [
        ("0930", "", "knife to skin"),
        ("10:20", "anaesthetic monitor", "sats 96"),
        ("1034", "", "Off 1034 wall"),
    ]
    assert {one["source"] for one in events} == {"operation note"}
    assert "3 pulled, 1 set aside, 0 left" in client.get("/note/").text
    client.post("/undo")  # one change
    assert len(desk.tree()["timeline"]["events"]) == count


def test_one_line_to_mend_and_none_is_pulled(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, "0930 knife to skin\nClip on at 09:30:15")
    before, form = desk.text(), several(client)
    form[f"kind-{form['take'][0]}"] = ""
    answer = client.post("/note/several", data=form)
    assert answer.status_code == 422
    assert "Not pulled yet: 1 line has something to mend" in answer.text
    assert answer.text.count('aria-invalid="true" autofocus') == 1
    none = client.post("/note/several", data={**form, "take": []})
    assert (none.status_code, "tick at least one line" in none.text) == (422, True)
    assert desk.text() == before


# Other parts of the case: the openings are common practice, no source; the words are invented

SORTED = """\
0930 knife to skin
Why: the pad looked dry. bleep went to somebody scrubbed
Good: the nurse came back twice
Do: weigh everything. senior in 10 min
Told husband 0600, letter sent
Q: would you have looked behind the flap?
Learn a dry pad says nothing
PMH: one earlier section
"""


def test_each_line_is_offered_where_it_says_it_belongs() -> None:
    found = {line.text: (belongs(line) or Target(())).name for line in Note(SORTED).lines}
    assert found == {
        "0930 knife to skin": "",
        "Why: the pad looked dry.": "factors/what",
        "bleep went to somebody scrubbed": "factors/what",
        "Good: the nurse came back twice": "held/what",
        "Do: weigh everything.": "actions/what",
        "senior in 10 min": "actions/what",
        "Told husband 0600, letter sent": "outcome/told",
        "Q: would you have looked behind the flap?": "questions/ask",
        "Learn a dry pad says nothing": "",
        "PMH: one earlier section": "patient/history",
    }


@pytest.mark.parametrize(
    ("heading", "name"),
    [
        ("Why it happened (my view):", "factors/what"),
        ("Actions [draft]:", "actions/what"),
        ("What went ok:", "held/what"),
    ],
)
def test_a_remark_in_brackets_leaves_a_heading_one(heading: str, name: str) -> None:
    below = Note(f"{heading}\n- no spare in the store\n- nobody said stop").lines[1:]
    assert [(belongs(line).name, line.said) for line in below] == [
        (name, "no spare in the store"),
        (name, "nobody said stop"),
    ]
    assert offered(f"{heading} calm all along") is targets()[name]


def test_every_target_is_a_field_of_words_and_is_called_as_in_the_form() -> None:
    for one in targets().values():
        slot = slot_at(Case, one.path)
        assert slot is not None, one.name
        assert slot.kind is FreeText, one.name
    assert targets()["factors/what"].label == "Causes: new factor"
    assert targets()["outcome/told"].label == "Outcome: What was said afterwards"
    openings = [opening for one in targets().values() for opening in one.opens]
    assert len(openings) == len(set(openings))


def test_lines_go_to_other_parts_of_the_case_in_one_round(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, SORTED)
    before = load(desk.root).case
    form = several(client)
    kinds = between(client.get("/note/several").text, 'action="/note/several"', "</form>")
    chosen = re.findall(r'value="([a-z ]+/?[a-z]*)" selected', kinds)
    for key, name in zip(form["take"], chosen, strict=True):
        form[f"kind-{key}"] = name
    assert client.post("/note/several", data=form).status_code == 303
    tree, told = desk.tree(), desk.tree()["outcome"]["told"]
    assert [dict(one) for one in tree["factors"]][-2:] == [
        {"what": "the pad looked dry."},
        {"what": "bleep went to somebody scrubbed"},
    ]
    assert tree["held"][-1] == {"what": "the nurse came back twice"}
    assert [one["what"] for one in tree["actions"]][-2:] == ["weigh everything.", "senior in 10 min"]
    assert told.startswith(before.outcome.told.value)  # behind what stood there
    assert told.endswith(". Told husband 0600, letter sent")
    assert tree["questions"][-1] == {"ask": "would you have looked behind the flap?"}
    assert tree["patient"]["history"][-1] == "one earlier section"
    page = client.get("/note/").text
    assert "9 pulled, 0 set aside, 1 left" in page
    assert "✓ pulled: Causes: new factor" in page
    client.post("/undo")  # one change
    assert load(desk.root).case == before
    assert client.get("/note/").text.count("changed or taken out there since") == 9


def test_one_line_goes_where_the_user_says(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, "0600 husband was rung\nWhy: nobody looked")
    assert 'value="factors/what" selected' in client.get("/note/?line=2").text
    sent = {**form_of(client, 1), "kind": "held/what", "what": "husband was rung"}
    assert client.post("/note/pull", data=sent).status_code == 303
    assert desk.tree()["held"][-1]["what"] == "husband was rung"  # no When is seen there
    unsaid = {**form_of(client, 2), "kind": "learning", "what": "Look again", "when": ""}
    assert client.post("/note/pull", data=unsaid).status_code == 303
    assert desk.tree()["learning"][-1] == "Look again"


def test_the_first_entry_and_the_word_none(client: FlaskClient, desk: Desk) -> None:
    def emptied(tree: dict[str, object]) -> None:
        for key in ("held", "learning", "outcome"):
            tree.pop(key, None)

    desk.change(emptied, desk.revision())
    paste(client, desk, "Good: calm. Learn: ask. Told: all of it")
    lines = {"held/what": "calm", "learning": "ask", "outcome/told": "all of it"}
    for name, words in lines.items():
        sent = {**form_of(client, 1), "kind": name, "what": words}
        assert client.post("/note/pull", data=sent).status_code == 303
    tree = desk.tree()
    assert (tree["held"], tree["learning"], tree["outcome"]) == (
        [{"what": "calm"}],
        ["ask"],
        {"told": "all of it"},
    )


@pytest.mark.browser
def test_a_line_that_is_used_is_seen_when_asked_for(page: Page, client: FlaskClient, desk: Desk) -> None:
    paste(client, desk)
    assert client.post("/note/aside", data=form_of(client, 1)).status_code == 303
    page.goto(page.url.partition("/start")[0] + "/note/")
    first, second = page.locator("#line-1"), page.locator("#line-2")
    assert (first.is_visible(), second.is_visible()) == (False, True)
    page.get_by_label("Show lines that are used").check()
    assert first.is_visible()


@pytest.mark.browser
def test_pulled_by_keyboard_alone(page: Page, desk: Desk) -> None:
    page.goto(page.url.partition("/start")[0] + "/note/")
    page.get_by_label("Your note, as it is").focus()
    page.keyboard.insert_text(NOTE)
    page.keyboard.press("Tab")
    page.keyboard.type("operation note")
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Pull line 3 into the case").focus()
    page.keyboard.press("Enter")
    page.locator("#kind:focus").wait_for()
    page.keyboard.type("reading")
    page.get_by_role("button", name="15:10").focus()
    page.keyboard.press("Enter")
    assert page.get_by_label("When").input_value() == "15:10"
    page.keyboard.press("Enter")
    page.get_by_text("1 pulled, 0 set aside, 3 left").wait_for()
    page.locator("#kind:focus").wait_for()  # on to the next line
    assert "when: 15:10" in desk.text()


def test_what_another_part_asks_for_is_given_at_once(client: FlaskClient, desk: Desk) -> None:
    """Common practice, no source."""
    paste(client, desk, "1410 second suction on every trolley - theatre lead, by end of January 2027")
    before = desk.text()
    key = between(client.get("/note/?line=1").text, 'name="key" value="', '"')
    said = {
        "keys": key,
        "kind": "actions/what",
        "what": "second suction - theatre lead, by end of January 2027",
    }
    told = client.post("/note/parts", json=said).get_json()
    assert told["asks"] is True
    assert told["what"] == "second suction"
    assert re.search(r'id="of-owner" name="of-owner" value="[Tt]heatre lead"', told["html"])
    assert re.search(r'id="of-due" name="of-due" value="[^"]*January 2027"', told["html"])
    several = client.post("/note/parts", json={**said, "several": "yes"}).get_json()
    assert f'name="of-owner-{key}"' in several["html"]
    assert client.post("/note/parts", json={**said, "kind": "step"}).get_json()["asks"] is False
    timed = {**said, "kind": "decisions/question", "what": "second suction, or wait?", "when": "1410"}
    assert 'id="of-at" name="of-at" value="1410"' in client.post("/note/parts", json=timed).get_json()["html"]
    assert client.post("/note/parts", json=[]).status_code == 400
    assert desk.text() == before


@pytest.mark.browser
def test_owner_and_day_are_asked_for_as_an_action_is_chosen(
    page: Page, client: FlaskClient, desk: Desk
) -> None:
    paste(client, desk, "1410 second suction on every trolley - theatre lead, by end of January 2027")
    page.goto(page.url.partition("/start")[0] + "/note/?line=1")
    words = page.input_value("#what")
    page.select_option("#kind", "actions/what")
    page.locator("#of-owner:visible").wait_for()
    assert page.input_value("#of-owner").lower() == "theatre lead"
    page.fill("#of-owner", "Matron")
    page.select_option("#kind", "step")
    assert not page.locator("#of-owner").is_visible()
    assert page.input_value("#what") == words
    page.select_option("#kind", "actions/what")
    assert page.input_value("#of-owner") == "Matron"


@pytest.mark.browser
def test_a_clock_is_told_for_a_run_of_lines(page: Page, client: FlaskClient, desk: Desk) -> None:
    clocked(desk)
    lines = ("10:20 sats 96", "10:24 sats 92", "10:31 monitor sats 88", "10:33 stop")
    paste(client, desk, "\n".join(lines))
    page.goto(page.url.partition("/start")[0] + "/note/several")
    clocks = page.locator("select[name^=clock-]")
    clocks.nth(0).select_option("infusion pump")
    page.get_by_role("button", name="So the next line").press("Enter")
    assert [clocks.nth(place).input_value() for place in range(4)] == [
        "infusion pump",
        "infusion pump",
        "anaesthetic monitor",
        "",
    ]
    assert page.locator(".note-below").count() == 0
    clocks.nth(3).select_option("infusion pump")
    assert page.locator(".note-below").count() == 0
