"""The note beside the form: its lines are put where the writer is, and the note shows what is left."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._note import State
from tests.browser import axe_faults
from tests.page.conftest import Served, between
from tests.page.test_note import paste
from tests.page.test_write_page import ask, form_of, named

if TYPE_CHECKING:
    from playwright.sync_api import Page

NOTE = "0930 knife to skin\nWhy: nobody looked. pad was dry\nHe was told at noon\nGood: help came at once\n"


def put(client: FlaskClient, desk: Desk, section: str, number: int, *path: str | int, **more: Any) -> Any:
    key = kept.load(desk.aside).lines[number - 1].key
    return ask(client, section, desk, **({"do": "line", "path": path, "value": key} | more))


def beside(client: FlaskClient, section: str) -> str:
    return between(client.get(f"/write/{section}/").text, 'id="beside"', "</details>")


def test_there_is_no_empty_place_for_a_note(client: FlaskClient, desk: Desk) -> None:
    assert 'id="beside"' not in client.get("/write/causes/").text
    paste(client, desk, NOTE)
    assert 'id="beside"' in client.get("/write/causes/").text
    assert 'id="beside"' not in client.get("/write/names/").text  # names are taken on their own page


def test_a_line_goes_into_a_field_behind_what_stands_there(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, NOTE)
    before = desk.tree()["factors"][0]
    answer = put(client, desk, "causes", 2, "factors", 0, "evidence").json
    assert answer["said"] == "Put into Factor 1: Evidence."
    assert desk.tree()["factors"][0]["evidence"] == [*before["evidence"], "nobody looked."]
    put(client, desk, "causes", 3, "factors", 0, "contributed")
    joined = desk.tree()["factors"][0]["contributed"]
    assert " ".join(joined.split()) == " ".join(before["contributed"].split()) + ". pad was dry"
    page = beside(client, "causes")
    assert "3 lines left" in page
    assert page.count("✓ Factor 1:") == 2
    assert "2 pulled" in client.get("/note/").text
    for _ in range(2):
        client.post("/undo")
    assert desk.tree()["factors"][0] == before
    assert "5 lines left" in beside(client, "causes")  # what was taken out again is still to be looked at


def test_a_line_becomes_a_new_entry_wherever_it_is_sent_from(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, NOTE)
    count = len(desk.tree()["held"])
    answer = put(client, desk, "causes", 5, "held", "what").json
    assert (answer["said"], answer["open"]) == ("Put into What held: new entry.", f"at-held-{count}")
    assert desk.tree()["held"][-1] == {"what": "help came at once"}


def test_without_script_a_line_goes_with_the_rest_of_the_form(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, NOTE)
    page = client.get("/write/learning/").text
    assert between(page, '<select id="into"', "</select>").count(" selected") == 1
    sent = form_of(page)
    assert sent["into"] == ['["learning"]']
    sent[named("take away")] = ["Look twice."]
    sent["do"] = [json.dumps({"do": "line", "value": kept.load(desk.aside).lines[3].key})]
    answer = client.post("/write/learning/", data=sent)
    assert answer.status_code == 303
    assert answer.location.endswith("#beside")
    assert desk.tree()["take away"] == "Look twice."
    assert desk.tree()["learning"][-1] == "He was told at noon"
    note = kept.load(desk.aside)
    assert [note.state(line) for line in note.lines].count(State.PULLED) == 1


@pytest.mark.parametrize(
    ("section", "path"),
    [
        ("events", ("timeline", "events", 0, "when")),
        ("patient", ("patient", "sex")),
        ("causes", ("factors", 0)),
        ("causes", ("factors",)),
        ("causes", ("nothing",)),
        ("names", ("other",)),
        ("names", ("held", "what")),
    ],
)
def test_no_line_goes_where_no_words_belong(
    client: FlaskClient, desk: Desk, section: str, path: tuple[str | int, ...]
) -> None:
    paste(client, desk, NOTE)
    before = desk.text()
    assert put(client, desk, section, 1, *path).status_code == 400
    assert (desk.text(), kept.load(desk.aside).marks) == (before, {})


def test_a_line_that_is_gone_changes_nothing(client: FlaskClient, desk: Desk) -> None:
    paste(client, desk, NOTE)
    before = desk.text()
    assert put(client, desk, "causes", 1, "held", "what", value="0" * 16).status_code == 409
    assert put(client, desk, "causes", 1, "held", "what", revision="old").status_code == 409
    assert (desk.text(), kept.load(desk.aside).marks) == (before, {})


def test_only_fields_of_words_say_that_they_take_a_line(client: FlaskClient) -> None:
    page = client.get("/write/events/?open=at-timeline-events-0").text
    takes = set(re.findall(r'id="at-timeline-events-0-(\w+)"[^>]* data-takes="([^"]+)"', page))
    assert takes >= {("what", "Event 1: What happened"), ("source", "Event 1: Source")}
    assert not {name for name, _ in takes} & {"when", "kind", "clock"}


@pytest.mark.browser
def test_lines_are_put_in_by_keyboard_alone(page: Page, served: Served, desk: Desk) -> None:
    page.goto(f"{served.base}/note/")
    page.get_by_label("Your note, as it is").fill(NOTE)
    page.get_by_role("button", name="Keep the note").press("Enter")
    page.goto(f"{served.base}/write/held/")
    page.locator("#at-held-0 > summary").press("Enter")
    evidence = page.locator("#at-held-0-evidence")
    evidence.fill("switch log")  # typed and not yet kept: it is kept with the line
    chosen = page.locator("#into")
    assert chosen.evaluate("one => one.selectedOptions[0].text") == "Entry 1: Evidence"
    page.get_by_role("button", name="Put line 4 in").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    page.get_by_text("Put into Entry 1: Evidence.").wait_for()
    assert evidence.input_value() == "switch log. He was told at noon"
    assert page.evaluate("document.activeElement.id") == "beside-5"  # what is used is no longer in sight
    assert not page.locator("#beside-4").is_visible()
    page.get_by_label("Show lines that are used").press("Space")
    assert page.locator("#beside-4").is_visible()
    page.get_by_role("button", name="Put line 5 in").focus()
    page.keyboard.press("Escape")
    assert page.evaluate("document.activeElement.id") == "at-held-0-evidence"
    assert page.locator("#beside-left").inner_text() == "4 lines left"
    chosen.focus()
    chosen.select_option(label="Causes: new factor")
    page.get_by_role("button", name="Put line 2 in").press("Enter")
    page.get_by_text("Put into Causes: new factor.").wait_for()
    assert desk.tree()["factors"][-1] == {"what": "nobody looked."}
    for wide, high in ((1366, 768), (683, 384)):
        page.set_viewport_size({"width": wide, "height": high})
        page.locator("#beside").evaluate("one => { one.open = true; }")
        assert page.evaluate("document.documentElement.scrollWidth") <= wide
        button = page.get_by_role("button", name="Put line 5 in")
        button.focus()
        place = button.bounding_box()
        assert place is not None
        assert 0 <= place["y"] <= high - place["height"]
        assert axe_faults(page) == []
