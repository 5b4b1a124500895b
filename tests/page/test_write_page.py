"""The form over HTTP: each change kept, faults in the words of the command line, two tabs, without script."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.casefile.checking import CASE, IDENTIFIERS, check
from mmbuilder.page import Desk
from mmbuilder.page.form.layout import sections
from tests.page.conftest import between, let_in

JSON = {"Accept": "application/json"}


def ask(client: FlaskClient, section: str, desk: Desk, **body: Any) -> Any:
    sent = {"revision": desk.revision(), "do": "set"} | body
    return client.post(f"/write/{section}/", json=sent, headers=JSON)


def form_of(page: str) -> dict[str, list[str]]:
    """What a browser without script would send for a page: a small reader of our own templates."""
    sent: dict[str, list[str]] = {}
    for tag in re.findall(r"<input\b[^>]*>", page):
        got = {name: unescape(value) for name, value in re.findall(r'([a-z-]+)="([^"]*)"', tag)}
        if got.get("type") != "checkbox" or re.search(r"\schecked[\s>]", tag):
            sent.setdefault(got["name"], []).append(got.get("value", ""))
    for head, body in re.findall(r"<textarea\b([^>]*)>\n?(.*?)</textarea>", page, re.DOTALL):
        sent.setdefault(unescape(re.findall(r'name="([^"]*)"', head)[0]), []).append(
            unescape(body).replace("\n", "\r\n")
        )
    for head, body in re.findall(r"<select\b([^>]*)>(.*?)</select>", page, re.DOTALL):
        chosen = re.findall(r'<option value="([^"]*)" selected', body) or [""]
        sent.setdefault(unescape(re.findall(r'name="([^"]*)"', head)[0]), []).append(unescape(chosen[0]))
    return sent


def named(*path: str | int) -> str:
    return "=" + json.dumps(path)


@pytest.mark.parametrize("name", list(sections()))
def test_every_section_is_shown_with_labels_on_all_its_fields(client: FlaskClient, name: str) -> None:
    page = client.get(f"/write/{name}/").text
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    labelled = set(re.findall(r'<label for="([^"]+)"', page))
    for kind, attributes in re.findall(r"<(input|select|textarea)\b([^>]*)>", page):
        if 'type="hidden"' not in attributes and 'type="checkbox"' not in attributes:
            own = re.findall(r'\sid="([^"]+)"', attributes)[0]
            assert own in labelled, kind
            described = re.findall(r'aria-describedby="([^"]+)"', attributes)[0].split()
            assert set(described) <= set(ids)


@pytest.mark.parametrize("name", list(sections()))
def test_a_form_sent_as_it_was_shown_changes_no_byte(client: FlaskClient, case: Path, name: str) -> None:
    before = {file: (case / file).read_bytes() for file in (CASE, IDENTIFIERS)}
    answer = client.post(f"/write/{name}/", data=form_of(client.get(f"/write/{name}/").text))
    assert answer.status_code == 303
    assert before == {file: (case / file).read_bytes() for file in before}


def test_a_change_is_kept_and_its_fault_told_in_the_words_of_the_command_line(
    client: FlaskClient, desk: Desk, case: Path
) -> None:
    answer = ask(client, "events", desk, path=["timeline", "events", 4, "when"], value="25:99").json
    assert "      when: 25:99\n" in (case / CASE).read_text("utf-8")
    assert answer["revision"] == desk.revision()
    (problem,) = [one for one in check(case).problems if one.stops]
    told = unescape(answer["faults"]["at-timeline-events-4-when"])
    text = problem.text.replace("`when`", "“When”")  # the field as the form calls it
    for words in (text, problem.found, problem.expected, problem.why, problem.example, problem.code):
        assert words in told
    assert "Stop" in told
    assert unescape(answer["list"]).count(text) == 1
    assert "1 needed" in answer["counts"]["events"]
    assert "1 needed" in answer["tallies"]["at-timeline-events-4"]
    assert answer["told"]["at-timeline-events-4"].startswith("25:99 · ")


@pytest.mark.parametrize("typed", ["0930", "~14:20", "no", "0912", "14:15-14:20", "9.30 pm", "unknown"])
def test_times_are_kept_as_typed(client: FlaskClient, desk: Desk, typed: str) -> None:
    path = ["timeline", "events", 4, "when"]
    assert ask(client, "events", desk, path=path, value=typed).status_code == 200
    assert desk.tree()["timeline"]["events"][4]["when"] == typed


def test_a_value_set_and_set_back_leaves_the_file_as_it_was(
    client: FlaskClient, desk: Desk, case: Path
) -> None:
    before = (case / CASE).read_bytes()
    for path, value in ((["patient", "age"], "75"), (["patient", "age"], "74")):
        ask(client, "patient", desk, path=path, value=value)
    assert (case / CASE).read_bytes() == before


def test_two_tabs_do_not_overwrite_each_other(client: FlaskClient, desk: Desk) -> None:
    old = desk.revision()
    assert ask(client, "patient", desk, path=["patient", "age"], value="75").status_code == 200
    late = ask(client, "patient", desk, revision=old, path=["patient", "weight"], value="70 kg")
    assert late.status_code == 409
    assert "another tab" in late.json["fault"]
    assert desk.tree()["patient"]["age"] == "75"
    assert desk.tree()["patient"]["weight"] == "71 kg"


def test_two_tabs_without_script_keep_what_was_typed(client: FlaskClient, desk: Desk) -> None:
    mine = form_of(client.get("/write/patient/").text)
    ask(client, "patient", desk, path=["patient", "age"], value="75")
    mine[named("patient", "weight")] = ["70 kg"]
    late = client.post("/write/patient/", data=mine)
    assert late.status_code == 409
    assert "Changed in another tab" in late.text
    again = form_of(late.text)
    assert again[named("patient", "weight")] == ["70 kg"]
    assert again[named("patient", "age")] == ["75"]
    assert client.post("/write/patient/", data=again).status_code == 303
    assert (desk.tree()["patient"]["age"], desk.tree()["patient"]["weight"]) == ("75", "70 kg")


def test_without_script_fields_are_kept_with_the_button_that_was_pressed(
    client: FlaskClient, desk: Desk
) -> None:
    sent = form_of(client.get("/write/held/").text)
    sent[named("held", 0, "what")] = ["Closing began at once"]
    sent["do"] = [json.dumps({"do": "add", "path": ["held"]})]
    answer = client.post("/write/held/", data=sent)
    assert answer.status_code == 303
    assert desk.tree()["held"][0]["what"] == "Closing began at once"
    assert len(desk.tree()["held"]) == 4
    shown = client.get(answer.location).text
    assert re.search(r'id="at-held-3"[^>]* open', shown)
    assert "Kept at" in shown


def test_entries_are_added_moved_and_removed(client: FlaskClient, desk: Desk, case: Path) -> None:
    before = (case / CASE).read_bytes()
    events = ["timeline", "events"]
    added = ask(client, "events", desk, do="add", path=events).json
    assert added["open"] == "at-timeline-events-25"
    assert "at-timeline-events-25-when" in added["faults"]
    up = ask(client, "events", desk, do="up", path=[*events, 25]).json
    assert up["said"] == "Event 26 is now number 25."
    gone = ask(client, "events", desk, do="remove", path=[*events, 24]).json
    assert "Undo brings it back" in gone["said"]
    assert (case / CASE).read_bytes() == before
    assert ask(client, "events", desk, do="up", path=[*events, 0]).status_code == 400
    assert ask(client, "events", desk, do="remove", path=[*events, 99]).status_code == 400
    assert (case / CASE).read_bytes() == before


def test_the_private_list_is_written_in_its_own_file(client: FlaskClient, desk: Desk, case: Path) -> None:
    before = (case / CASE).read_bytes()
    ask(client, "names", desk, path=["people", 0, "also"], value="Ivo R. Quessenby\nMr Quessenby\nIvo Q")
    assert "Ivo Q" in (case / IDENTIFIERS).read_text("utf-8")
    assert (case / CASE).read_bytes() == before
    (case / IDENTIFIERS).unlink()
    ask(client, "names", desk, do="add", path=["people"])
    ask(client, "names", desk, path=["people", 0, "name"], value="Orla Quennimore")
    assert (case / IDENTIFIERS).read_text("utf-8") == "people:\n  - name: Orla Quennimore\n"


def test_no_words_of_the_case_stand_in_an_address(client: FlaskClient) -> None:
    for name in sections():
        page = client.get(f"/write/{name}/").text
        for address in re.findall(r'(?:href|action|src)="([^"]+)"', page):
            assert re.fullmatch(r"[/#a-z0-9_.-]*", address)


@pytest.mark.parametrize(
    "body",
    [
        {"path": ["__class__"], "value": "x"},
        {"path": ["timeline", "events", 0], "value": "x"},
        {"path": ["code"], "value": 7},
        {"path": ["code"], "value": "x", "do": "delete"},
        {"path": ["code"], "do": "remove"},
        {"path": ["people", 0, "name"], "value": "x"},
        {"path": ["title"], "value": "x" * 20_001},
    ],
)
def test_what_no_form_of_ours_sends_is_refused(
    client: FlaskClient, desk: Desk, case: Path, body: dict[str, Any]
) -> None:
    before = (case / CASE).read_bytes()
    answer = ask(client, "story", desk, **body)
    assert answer.status_code == 400
    assert answer.json["fault"]
    assert (case / CASE).read_bytes() == before


def test_a_nearly_empty_case_is_written_from_nothing(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    client = let_in(desk)
    assert client.get("/write/story/").location == "/start/"
    client.post("/start/", data={"code": "eye-02", "specialty": "ophthalmology", "use": "teaching"})
    for name in sections():
        assert client.get(f"/write/{name}/").status_code == 200
    ask(client, "story", desk, path=["presenter", "role"], value="registrar")
    ask(client, "events", desk, do="add", path=["timeline", "events"])
    ask(client, "events", desk, path=["timeline", "events", 0, "what"], value="Skin incision: first cut #1")
    assert desk.tree()["timeline"]["events"][0]["what"] == "Skin incision: first cut #1"
    assert desk.tree()["presenter"]["role"] == "registrar"


def test_a_file_that_is_not_readable_is_told_and_left_alone(
    client: FlaskClient, desk: Desk, case: Path
) -> None:
    (case / CASE).write_text("title: x\n\tuse: teaching\n", "utf-8")
    page = client.get("/write/story/").text
    assert "The form cannot be shown yet" in page
    assert "this line is moved in with a tab" in page
    assert ask(client, "story", desk, path=["title"], value="y").status_code == 400
    assert (case / CASE).read_text("utf-8") == "title: x\n\tuse: teaching\n"


def test_windows_line_ends_survive(client: FlaskClient, desk: Desk, case: Path) -> None:
    text = (case / CASE).read_bytes().replace(b"\n", b"\r\n")
    (case / CASE).write_bytes(text)
    ask(client, "patient", desk, path=["patient", "age"], value="75")
    assert (case / CASE).read_bytes() == text.replace(b"age: 74", b"age: 75")


@pytest.fixture
def long_case(case: Path) -> Path:
    text = (case / CASE).read_text("utf-8")
    made = "".join(
        f"    - kind: step\n      what: Invented step {at}\n      when: file 1 0:{at // 20:02}:{at * 3 % 60:02}\n      source: video\n"
        for at in range(275)
    )
    (case / CASE).write_text(text.replace("    - id: opening\n", f"{made}    - id: opening\n", 1), "utf-8")
    return case


def test_the_entries_of_a_case_of_300_events_are_shown_closed_and_filled_one_by_one(long_case: Path) -> None:
    """How long that takes `tests.bench.page` measures."""
    client = let_in(Desk(long_case))
    page = client.get("/write/events/").text
    assert page.count('<details class="entry"') == 300
    assert "Invented step 149" not in re.sub(r"<summary.*?</summary>", "", page, flags=re.DOTALL)
    body = client.post("/write/events/entry", json={"path": ["timeline", "events", 150]}, headers=JSON).json
    assert "Invented step 149" in body["html"]


def test_what_is_not_written_yet_is_asked_for_in_the_words_of_the_form(tmp_path: Path) -> None:
    """In an empty form nothing is wrong yet: each field says in one line that and why it is needed."""
    desk = Desk(tmp_path)
    client = let_in(desk)
    client.post("/start/", data={"code": "kidney-01", "specialty": "anaesthesia", "use": "department review"})
    shown = client.get("/write/outcome/").text
    assert re.search(r'<a href="#at-outcome-summary">How it ended</a>', shown)
    assert 'id="at-outcome-summary"' in shown
    beside = between(shown, 'id="at-outcome-summary-faults"', "</div>")
    assert "a review without the outcome cannot be closed" in beside
    assert "outcome:" not in beside  # no keys of a file: this is a form
    assert "line 1" not in beside


def test_a_fault_told_on_another_page_leads_to_its_field(tmp_path: Path) -> None:
    desk = Desk(tmp_path)
    client = let_in(desk)
    client.post("/start/", data={"code": "kidney-01", "specialty": "anaesthesia", "use": "department review"})
    for page in ("timeline", "start", "words"):
        told = client.get(f"/{page}/").text
        for problem in desk.checked().problems:
            own = "`timeline`" in problem.text  # that page asks for nothing else
            assert problem.why in unescape(told) or not problem.stops or (page == "timeline" and not own)
        for address, mark in re.findall(r'href="(/write/[a-z-]+/)#(at-[\w-]+)"', told):
            assert f'id="{mark}"' in client.get(address).text
    assert "/write/names/#at-people" in client.get("/start/").text  # no list yet, so no line of one


def test_what_is_missing_is_not_called_wrong(tmp_path: Path) -> None:
    """A field that nobody wrote in yet is needed; only what was written can be invalid (WAI-ARIA 1.2)."""
    desk = Desk(tmp_path)
    client = let_in(desk)
    client.post("/start/", data={"code": "kidney-01", "specialty": "anaesthesia", "use": "department review"})
    title = re.search(r'<textarea id="at-title"[^>]*>', client.get("/write/story/").text)
    assert title is not None
    assert 'aria-required="true"' in title[0]
    assert "aria-invalid" not in title[0]
    ask(client, "patient", desk, path=["patient", "age"], value="old")
    age = re.search(r'<input id="at-patient-age"[^>]*>', client.get("/write/patient/").text)
    assert age is not None
    assert 'aria-invalid="true"' in age[0]


# Told beside the field it concerns, while the rest of the case is still to be written


def beside(client: FlaskClient, section: str, mark: str) -> str:
    page = client.get(f"/write/{section}/").text
    return between(page, f'id="{mark}-faults"', "</div>")


BEGUN = """mmbuilder: 1
code: begun-01
specialty: general surgery
use: department review
situation: A kidney was operated on and the left chest filled with fluid
patient: {age: 58, weight: 108}
outcome:
  grades: [{scale: Clavien-Dindo, grade: IVa, complication: fluid in the chest}]
actions:
  - {what: A thing, owner: Sister Quarnlow}
  - {what: Another, owner: the nurse Ottiline}
  - {what: A third, owner: Sister in Charge}
"""


def begun(desk: Desk) -> None:
    (desk.root / "case.yaml").write_text(BEGUN, "utf-8")
    (desk.root / "identifiers.yaml").write_text(
        "people: [{name: Ottiline Brandreth, role: nurse}]\n", "utf-8"
    )


@pytest.mark.parametrize(
    ("section", "mark", "code"),
    [
        ("patient", "at-patient-weight", "figure-cannot-be"),
        ("story", "at-situation", "gives-the-answer-away"),
        ("actions", "at-actions-0-owner", "role-names-somebody"),
        ("actions", "at-actions-1-owner", "role-names-somebody"),
        ("actions", "at-actions-2-owner", ""),
    ],
)
def test_it_is_told_beside_its_field(
    client: FlaskClient, desk: Desk, section: str, mark: str, code: str
) -> None:
    begun(desk)
    assert re.findall(r'data-code="([a-z-]+)"', beside(client, section, mark)) == ([code] if code else [])


def test_the_story_leads_to_the_words_to_hold_back(client: FlaskClient) -> None:
    page = client.get("/write/story/").text
    hint = between(page, 'id="at-situation-hint"', "</span>")
    assert "must not be told here" in hint
    assert '<a href="/write/governance/#at-hold_back">Words to hold back</a>' in hint
    assert 'id="at-hold_back"' in client.get("/write/governance/").text


# An action is named where a cause asks for it


def test_a_cause_names_an_action_that_was_not_there_yet(client: FlaskClient, desk: Desk) -> None:
    count = len(desk.tree()["actions"])
    path = ["factors", 0, "actions"]
    kept = "\n".join([*desk.tree()["factors"][0]["actions"], "Second retractor on every tray"])
    answer = ask(client, "causes", desk, path=path, value=kept).json
    assert answer["again"] is True  # it is offered to the other causes too
    made = desk.tree()["actions"][count]
    assert dict(made) == {"id": f"action {count + 1}", "what": "Second retractor on every tray"}
    assert desk.tree()["factors"][0]["actions"][-1] == made["id"]
    client.post("/undo")  # one change
    assert len(desk.tree()["actions"]) == count


def test_without_script_an_action_is_named_with_the_rest_of_the_form(client: FlaskClient, desk: Desk) -> None:
    count = len(desk.tree()["actions"])
    sent = form_of(client.get("/write/causes/?open=at-factors-1").text)
    sent[named("factors", 1, "actions")].append("Weigh every swab")
    assert client.post("/write/causes/", data=sent).status_code == 303
    assert desk.tree()["actions"][count]["what"] == "Weigh every swab"
    again = client.get("/write/causes/?open=at-factors-1").text
    assert re.search(rf'value="action {count + 1}" checked', again)
    assert client.post("/write/causes/", data=form_of(again)).status_code == 303
    assert len(desk.tree()["actions"]) == count + 1  # what is ticked is not written again


def test_a_name_that_no_action_has_stays_as_it_was_typed(client: FlaskClient, desk: Desk, case: Path) -> None:
    text = (case / CASE).read_text("utf-8")
    assert "actions: [infusion]" in text
    (case / CASE).write_text(text.replace("actions: [infusion]", "actions: [infusion, gone]", 1), "utf-8")
    before = (case / CASE).read_text("utf-8")
    assert client.post("/write/causes/", data=form_of(client.get("/write/causes/").text)).status_code == 303
    assert (case / CASE).read_text("utf-8") == before


# What an action needs


WHOLE = {
    "what": "Second retractor on every tray",
    "owner": "Theatre lead",
    "due": "30 June 2026",
    "strength": "stronger",
}


def test_a_new_action_is_asked_for_all_it_needs_and_its_examples_pass(
    client: FlaskClient, desk: Desk
) -> None:
    """The fields in sight of a new action, filled in with their own examples, leave nothing to look at."""
    mark = ask(client, "actions", desk, do="add", path=["actions"]).json["open"]
    at = int(mark.rpartition("-")[2])
    page = client.get(f"/write/actions/?open={mark}").text
    body = between(page, f'id="{mark}"', '<details class="more"')
    asked = dict(
        re.findall(rf'<label for="{mark}-(\w+)">.*?(?:Such as: ([^<]*)</span>)?</span>', body, re.DOTALL)
    )
    assert {"measure", "baseline", "review", "period", "strength_reason"} <= set(asked)
    for key, example in asked.items():
        name = key.replace("_", " ")
        value = WHOLE.get(name) or unescape(example)
        assert ask(client, "actions", desk, path=["actions", at, name], value=value).status_code == 200
    told = [one for one in desk.checked().problems if f"action {at + 1}" in one.text]
    assert told == []


def test_what_an_action_lacks_is_said_beside_each_field(client: FlaskClient, desk: Desk) -> None:
    path = ["actions", 0]
    ask(client, "actions", desk, path=[*path, "out of"], value="")
    ask(client, "actions", desk, path=[*path, "target"], value="")
    ask(client, "actions", desk, path=[*path, "measure"], value="better awareness")
    answer = ask(client, "actions", desk, path=[*path, "baseline"], value="").json
    lacks = {mark for mark, told in answer["faults"].items() if "May be added</p>" in told}
    assert {"at-actions-0-baseline", "at-actions-0-out_of"} <= lacks
    page = client.get("/write/actions/?open=at-actions-0").text
    assert "May be added</p>" in between(page, 'id="at-actions-0-baseline-faults"', "</div>")
    shown = between(page, 'id="at-actions-0"', '<details class="more"')
    assert 'id="at-actions-0-out_of"' in shown  # what is asked for does not stand behind "More"
    answer = ask(client, "actions", desk, path=[*path, "baseline"], value="4 of 20").json
    assert "May be added</p>" not in answer["faults"].get("at-actions-0-baseline", "")
