"""The private list filled at once: a pasted list, and what the note names. All names here are invented."""

from __future__ import annotations

import re
import time
from concurrent.futures import Future
from typing import TYPE_CHECKING

import pytest
from flask.testing import FlaskClient

from mmbuilder.casefile.checking import DECISIONS, IDENTIFIERS, load_declared
from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._listed import KINDS, MOST, kind_told, kinds_told
from mmbuilder.page.parts._named import Proposal, _abbreviates, in_note, proposals, read_list
from mmbuilder.page.parts._note import Mark, Note, State

if TYPE_CHECKING:
    from playwright.sync_api import Page

NOTE = """Mr Ansgar Quorrendale, dob 03/07/1967, hosp no H482917.
Anaesthetist Dr Tavish Wieldrake, ODP Gaz Hollinstead.
Mr Quorrendale went to Kestrel Ward; Dr Wieldrake saw him there.
contact me bleep 2214 or tavish.wieldrake@hospital.example"""


def people(desk: Desk) -> list[tuple[str, str]]:
    return [(one.name.value, one.role.value) for one in load_declared(desk.root / IDENTIFIERS).people]


@pytest.fixture
def empty(desk: Desk) -> Desk:
    (desk.root / IDENTIFIERS).unlink()
    return desk


# A list


@pytest.mark.parametrize(
    ("line", "words", "kind"),
    [
        ("Orla Quennimore, patient", "Orla Quennimore", "people: patient"),
        ("Quennimore, Orla, patient", "Quennimore, Orla", "people: patient"),
        ("Bex Quarnlow; scrub nurse", "Bex Quarnlow", "people: nurse"),
        ("Tam Veldrake - anaesthetic registrar", "Tam Veldrake", "people: trainee"),
        ("Ottiline Hale\tODP", "Ottiline Hale", "people: technician"),
        ("Quarnmoor Infirmary, hospital", "Quarnmoor Infirmary", "places: hospital"),
        ("H9990417, hospital number", "H9990417", "numbers: record number"),
        ("2214, bleep", "2214", "numbers: phone number"),
        ("first.last@hospital.example, e-mail", "first.last@hospital.example", "other: "),
    ],
)
def test_a_line_is_a_name_and_what_it_is(line: str, words: str, kind: str) -> None:
    assert read_list(f"\n{line}\n") == ([(words, kind)], [])


@pytest.mark.parametrize(
    ("role", "kind"),
    [
        *(
            (grade, "trainee")
            for grade in ("ST6", "SpR", "CT2", "F1", "FY3", "ST6 anaes", "ﬁrst ST6 anaes", "ITU SpR", "IMT2")
        ),
        *((role, "technician") for role in ("ODP", "ODP anaes", "radiographer")),
        *((role, "nurse") for role in ("scrub", "float", "RGN", "ANP", "scrub nurse")),
        *(("SCP", "assistant"), ("physiotherapist", "colleague"), ("cons anaesthetist", "anaesthetist")),
    ],
)
def test_grades_and_roles_of_a_theatre(role: str, kind: str) -> None:  # common practice, no source
    assert kind_told(role) == f"people: {kind}"


def test_a_role_is_not_taken_from_another_person_and_pt_is_asked(client: FlaskClient, empty: Desk) -> None:
    kept.save(empty.aside, Note("Dr Oona Quarnstrake cons anaesthetist came."))
    assert [one.kind for one in in_note(empty.aside)] == ["people: anaesthetist"]
    note = "Dr Jo Quarnmarsk ST3 anaes, Mr Ravi Quennimore locum cons. PT Jo Veldrake mobilised. pt Ida Wieldrake well"
    kept.save(empty.aside, Note(note))
    told = {one.words: one.kind for one in in_note(empty.aside)}
    assert told["Jo Quarnmarsk"] == "people: trainee"
    assert told["Ravi Quennimore"] == "people: surgeon"
    assert (told["Jo Veldrake"], told["Ida Wieldrake"]) == ("people: ", "people: patient")
    rows = {f"words-{row}": words for row, words in enumerate(told)}
    rows |= {f"kind-{row}": kind for row, kind in enumerate(told.values())}
    sent = {**rows, "do": "all", "revision": empty.revision()}
    assert client.post("/names/found", data=sent).status_code == 303
    assert "Jo Veldrake" not in [name for name, _ in people(empty)]
    assert len(people(empty)) == len(told) - 1
    one = {**rows, "do": f"put-{[*told].index('Jo Veldrake')}", "revision": empty.revision()}
    assert client.post("/names/found", data=one).status_code == 400


def test_every_closed_word_is_understood_as_itself() -> None:
    for _, name, words in KINDS:
        for word in words:
            assert kind_told(word) == f"{name}: {word}"


def test_a_word_that_tells_is_found_where_it_stands_behind_letters_that_fold_to_two() -> None:
    line = "Großweiß Œuvrenn, ward nurse"
    told = [(line[start:end], kind) for start, end, kind in kinds_told(line)]
    assert told == [("ward", "places: ward"), ("nurse", "people: nurse")]


def test_an_entry_has_a_bound_in_a_pasted_list_too(client: FlaskClient, empty: Desk) -> None:
    for length, code in ((MOST + 1, 400), (MOST, 303)):
        text = f"Bex Quarnlow, nurse\n{'Q' * length}, patient"
        answer = client.post("/names/list", data={"text": text, "revision": empty.revision()})
        assert answer.status_code == code
        assert ("Bex Quarnlow" in empty.text(IDENTIFIERS)) is (code == 303)  # all of them, or none


def test_nobody_is_listed_twice_for_spaces_alone(client: FlaskClient, empty: Desk) -> None:
    for text in ("Orla  Quennimore, patient", "ORLA   Quennimore, patient"):
        client.post("/names/list", data={"text": text, "revision": empty.revision()})
    assert len(people(empty)) == 1


def test_a_pasted_list_is_taken_in_one_change(client: FlaskClient, empty: Desk) -> None:
    text = "Orla Quennimore, patient\nBex Quarnlow, scrub nurse\nQuarnmoor Infirmary, hospital\nH9990417, record number"
    answer = client.post("/names/list", data={"text": text, "revision": empty.revision()})
    assert answer.status_code == 303
    assert people(empty) == [("Orla Quennimore", "patient"), ("Bex Quarnlow", "nurse")]
    declared = load_declared(empty.root / IDENTIFIERS)
    assert [one.name.value for one in declared.places] == ["Quarnmoor Infirmary"]
    assert [one.value.value for one in declared.numbers] == ["H9990417"]
    client.post("/names/list", data={"text": text, "revision": empty.revision()})
    assert len(people(empty)) == 2  # nobody twice
    client.post("/undo")
    assert not empty.text(IDENTIFIERS)


def test_a_list_with_a_line_that_is_not_understood_stays_in_the_box(client: FlaskClient, empty: Desk) -> None:
    text = "Orla Quennimore, patient\nBex Quarnlow\nTam Veldrake, wizard"
    answer = client.post("/names/list", data={"text": text, "revision": empty.revision()})
    assert answer.status_code == 422
    assert "line 2 has no role behind a comma; line 3 has a role that is not known" in answer.text
    assert f">{text}</textarea>" in answer.text
    assert not empty.text(IDENTIFIERS)


# From the note


def test_what_the_note_names_is_found_with_its_line_and_its_role(desk: Desk) -> None:
    kept.save(desk.aside, Note(NOTE))
    found = {one.words: one for one in in_note(desk.aside)}
    assert {words: one.kind for words, one in found.items()} == {
        "Ansgar Quorrendale": "people: patient",
        "H482917": "numbers: record number",
        "Tavish Wieldrake": "people: anaesthetist",
        "Gaz Hollinstead": "people: technician",
        "Kestrel Ward": "places: ward",
        "2214": "numbers: phone number",
        "tavish.wieldrake@hospital.example": "other: ",
    }
    assert all(one.before + one.words + one.after in NOTE for one in found.values())


@pytest.mark.parametrize(
    ("line", "words", "kind"),
    [
        ("recovery nurse Tamsyne bleeped me", "Tamsyne", "people: nurse"),
        ("seen by Sister Tamsyne", "Tamsyne", "people: nurse"),
        ("told the ward sister Tamsyne Quarnlow", "Tamsyne Quarnlow", "people: nurse"),
        ("me (Dr P Quarnlow ST5) 1st op", "P Quarnlow", "people: trainee"),
    ],
)
def test_a_name_is_proposed_without_its_role(desk: Desk, line: str, words: str, kind: str) -> None:
    kept.save(desk.aside, Note(line))
    assert [(one.words, one.kind) for one in in_note(desk.aside)] == [(words, kind)]


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("Me (Orla Quennimore), asst and scrub later", "people: surgeon"),
        ("I, Orla Quennimore, opened the neck", "people: surgeon"),
        ("Sr Quennimore said so on the ward", "people: nurse"),
        ("SN Quennimore called", "people: nurse"),
        ("anaes Dr Orla Quennimore", "people: anaesthetist"),
        ("ref by Dr Quennimore's SpR", "people: colleague"),
    ],
)
def test_a_role_is_read_from_the_word_that_goes_with_the_name(desk: Desk, line: str, kind: str) -> None:
    kept.save(desk.aside, Note(line))
    assert [one.kind for one in in_note(desk.aside) if "Quennimore" in one.words] == [kind]


@pytest.mark.parametrize(
    ("line", "words", "kind"),
    [
        (
            "rang the liver unit at Queen Veldrake's (Prof Orla Quennimore)",
            "Queen Veldrake",
            "places: hospital",
        ),
        (
            "of 4 Fern Close, Larkhythe LK4 7QZ\nlist was late and Mr Tam Quennimore had clinic at 11 in Larkhythe",
            "Larkhythe",
            "places: town",
        ),
        ("seen on Ward 9B by me", "Ward 9B", "places: ward"),
        ("Theatre 6, first on the list", "Theatre 6", "places: theatre"),
        ("she was next door in Th 5", "Th 5", "places: theatre"),
    ],
)
def test_a_place_is_told_by_what_stands_in_it_and_rooms_by_their_number(
    desk: Desk, line: str, words: str, kind: str
) -> None:
    kept.save(desk.aside, Note(line))
    assert {one.words: one.kind for one in in_note(desk.aside)}[words] == kind


@pytest.mark.parametrize(
    "line", ["bed 12:30 ready", "theatre 1030 in", "F1 alone for 2 wards", "ward 3:15 pm", "HDU bed 4"]
)
def test_a_time_or_a_bed_is_no_room(desk: Desk, line: str) -> None:
    kept.save(desk.aside, Note(line))
    assert not [one for one in in_note(desk.aside) if one.kind in ("places: ward", "places: theatre")]


def test_two_people_of_one_finding_a_relative_and_initials_are_each_proposed(desk: Desk) -> None:
    """Invented names; how such notes are written is common practice, no source."""
    note = (
        "gas Dr Ines Quorren-Hale, scrub sr Orla Quennimore, Veldmoor General, theatre 4\n"
        "revised by Mr Quorren-Hale & Miss Perdita Lindqvane\n"
        "Dr Q-H agreed, X-R done. Told husband Reg and daughter Clementine"
    )
    kept.save(desk.aside, Note(note))
    found = {one.words: one.kind for one in in_note(desk.aside)}
    assert found["Ines Quorren-Hale"] == "people: anaesthetist"
    assert found["Veldmoor General"] == "places: hospital"
    assert "Perdita Lindqvane" in found
    assert found["Reg"] == found["Clementine"] == "people: relative"
    assert found["Q-H"] == "people: anaesthetist"
    assert "X-R" not in found


def test_capitals_that_are_short_for_a_thing_are_no_names(desk: Desk) -> None:
    """Common practice, no source. Initials of somebody who is named, or behind a role, may be somebody."""
    note = (
        "0910 KTS, pneumo 12, cons Dunstan Ostrander\n"
        "1036 MHP called by Colm Tiernaghan, phone no on old poster\n"
        'Fenella asked twice, DO said "one min". Dr QH agreed'
    )
    kept.save(desk.aside, Note(note))
    found = {one.words for one in in_note(desk.aside)}
    assert not found & {"KTS", "MHP"}
    assert {"Dunstan Ostrander", "Colm Tiernaghan"} <= found
    somebody = [Proposal("Dunstan Ostrander", "people: colleague", "", "")]
    told = {
        (before, words): _abbreviates(Proposal(words, "people: colleague", before, " said it"), somebody)
        for before, words in [
            ("then ", "DO"),
            ("then ", "MHP"),
            ("Dr ", "QH"),
            ("sister ", "QH"),
            ("THEN ", "QH"),
        ]
    }
    assert [*told.values()] == [False, True, False, False, True]


def test_what_was_typed_into_the_box_goes_with_all_that_was_found(client: FlaskClient, empty: Desk) -> None:
    sent = {
        "words-1": "Quorrendale",
        "kind-1": "people: surgeon",
        "words-2": "Hale",
        "kind-2": "people: nurse",
    }
    sent["revision"] = empty.revision()
    wrong = client.post("/names/found", data={**sent, "do": "all", "text": "Bex Quarnlow"})
    assert wrong.status_code == 422
    assert ">Bex Quarnlow</textarea>" in wrong.text
    assert not empty.text(IDENTIFIERS)
    one = client.post("/names/found", data={**sent, "do": "list-1", "text": "Bex Quarnlow, technician"})
    assert ">Bex Quarnlow, technician</textarea>" in one.text  # it stays until it is taken
    rest = {name: value for name, value in sent.items() if not name.endswith("-1")}
    rest |= {"revision": empty.revision(), "do": "all", "text": "Bex Quarnlow, technician"}
    assert client.post("/names/found", data=rest).status_code == 303
    assert people(empty) == [("Quorrendale", "surgeon"), ("Hale", "nurse"), ("Bex Quarnlow", "technician")]


CLINICAL = """Evening notes, bed 11pm, ex smoker 40py
bifurcation high-ish, I said no its fine. hm
box said 0941 and the letter sent 16/10
tcd 1054 MCA 31 (1101) said again louder
1117-1142 extended arteriotomy
12 min from first hits to reopen (1052-1105)
HDU bed 4. BP target <160"""


def test_figures_and_words_of_the_clinic_are_no_names(desk: Desk) -> None:
    kept.save(desk.aside, Note(CLINICAL))
    assert [one.words for one in in_note(desk.aside)] == []


def test_a_number_of_somebody_is_still_proposed(desk: Desk) -> None:
    lines = (
        "job 55812 chased",
        "collar no 4418",
        "ref DOC-2026-118",
        "bag nos G0912 24 118 773 K",
        "bed 14 on Fern Ward",
    )
    kept.save(desk.aside, Note("\n".join(lines)))
    found = [one.words for one in in_note(desk.aside)]
    assert all(any(words in line for words in found) for line in lines)


def test_a_town_behind_a_street_is_a_place_and_proposed_by_itself(desk: Desk) -> None:
    kept.save(desk.aside, Note("lives Tamsin Lane Wexcombe, retired (ex mayor of Wexcombe!)"))
    found = [(one.words, one.kind) for one in in_note(desk.aside)]
    assert found == [("Tamsin Lane Wexcombe", "places: place"), ("Wexcombe", "places: place")]


def test_a_mark_on_a_line_begins_no_new_search(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[Future[tuple[()]]] = []

    def do(*_: object) -> Future[tuple[()]]:
        begun.append(Future())
        return begun[-1]

    monkeypatch.setattr(desk.worker, "do", do)
    note = Note(NOTE)
    assert proposals(desk, note).running
    assert proposals(desk, note.marked(note.lines[0], Mark(State.ASIDE))).running
    assert len(begun) == 1
    assert proposals(desk, Note(f"{NOTE}\nOne line more")).running
    assert len(begun) == 2
    assert not proposals(desk, Note(" \n")).running  # none is kept
    assert len(begun) == 2


def found(client: FlaskClient) -> list[str]:
    end = time.monotonic() + 120
    while (told := client.get("/names/state").json) and told["running"] and time.monotonic() < end:
        time.sleep(0.2)
    return re.findall(r"<strong>([^<]+)</strong>\n<select", client.get("/names/").text)


def test_one_key_each(client: FlaskClient, empty: Desk) -> None:
    client.post("/note/", data={"text": NOTE, "called": "", "note": kept.state_of(empty.aside)})
    first, *rest = found(client)
    page = client.get("/names/").text
    assert re.search(
        rf'value="list-1" class="strong" autofocus aria-label="Put {first} on the private list"', page
    )
    form = {**dict(re.findall(r'name="(words-\d+)" value="([^"]*)"', page)), "revision": empty.revision()}
    for row, block in enumerate(page.split("<li><input")[1:], 1):
        chosen = re.search(r'value="([^"]*)" selected', block)
        assert chosen
        form[f"kind-{row}"] = chosen[1]
    assert "Keep" not in page  # on "Words", what is kept stays in
    assert client.post("/names/found", data={**form, "do": "list-1"}).status_code == 303
    assert people(empty) == [(first, "patient")]
    assert found(client) == rest
    assert (
        client.post("/names/found", data={**form, "do": "list-2"}).status_code == 409
    )  # made on an older state
    form["revision"] = empty.revision()
    assert client.post("/names/found", data={**form, "do": f"not-{len(rest) + 1}"}).status_code == 303
    assert found(client) == rest[:-1]
    form["revision"] = empty.revision()
    assert (
        client.post("/names/found", data={**form, "do": "list-2", "kind-2": "people: wizard"}).status_code
        == 400
    )
    assert "Quorrendale" not in empty.text()  # the case itself is not touched
    empty.forget()  # what was decided stays with the case
    assert [one["words"] for one in empty.tree(DECISIONS)["findings"]] == [rest[-1]]


@pytest.mark.parametrize("button", ["not-2", "list-2"])
def test_what_was_chosen_for_others_stays_chosen(client: FlaskClient, empty: Desk, button: str) -> None:
    client.post("/note/", data={"text": NOTE, "called": "", "note": kept.state_of(empty.aside)})
    every = found(client)
    form = {f"words-{row}": words for row, words in enumerate(every, 1)}
    form |= {f"kind-{row}": "people: midwife" for row in range(1, len(every) + 1)}
    page = client.post("/names/found", data={**form, "revision": empty.revision(), "do": button}).text
    left = [block for block in page.split("<li><input")[1:] if "<select" in block]
    assert len(left) == len(every) - 1
    for block in left:
        assert re.findall(r'value="([^"]*)" selected', block) == ["people: midwife"]
    assert 'id="put-2" name="do" value="list-2" autofocus' in page  # and the next is at hand


# One person under two names


PEOPLE = """people:
  - {name: Orsin Quenby-Vald, role: surgeon}  # the consultant
  - {name: Mr Q-V, role: surgeon}
  - {name: Quenby-Vald, role: surgeon, also: Quennie}
  - {name: Orla Tresk, role: nurse}
  - {name: Orla, role: nurse}
  - {name: OT, role: technician}
  - {name: Orla Tresk-Moor, role: relative}
  - {name: nurse Odile, role: nurse}
  - {name: Callum Drewick, role: anaesthetist}
  - {name: Mr D, role: colleague}
"""


def asked_twice(page: str) -> list[tuple[str, str]]:
    return re.findall(
        r'name="shorter" value="([^"]*)"><input type="hidden" name="longer" value="([^"]*)"', page
    )


def test_a_part_or_initials_of_another_of_the_role_are_asked_about(client: FlaskClient, desk: Desk) -> None:
    desk.rewrite(lambda _: PEOPLE, desk.revision(), IDENTIFIERS)
    asked = asked_twice(client.get("/names/").text)
    assert asked == [
        ("Mr Q-V", "Orsin Quenby-Vald"),
        ("Mr Q-V", "Quenby-Vald"),
        ("Quenby-Vald", "Orsin Quenby-Vald"),
        ("Orla", "Orla Tresk"),
        ("Mr D", "Callum Drewick"),  # a colleague may be anybody
    ]  # neither of another role, nor of no likeness


def test_one_person_becomes_one_entry_with_every_form(client: FlaskClient, desk: Desk) -> None:
    desk.rewrite(lambda _: PEOPLE, desk.revision(), IDENTIFIERS)
    while asked := asked_twice(client.get("/names/").text):
        shorter, longer = asked[0]
        sent = {"revision": desk.revision(), "shorter": shorter, "longer": longer, "do": "one"}
        if shorter in ("Orla", "Mr D"):
            sent["do"] = "two"
        assert client.post("/names/same", data=sent).status_code == 303
    listed = load_declared(desk.root / IDENTIFIERS).people
    surgeons = [one for one in listed if one.role.value == "surgeon"]
    assert [[one.name.value, *(form.value for form in one.also)] for one in surgeons] == [
        ["Orsin Quenby-Vald", "Mr Q-V", "Quenby-Vald", "Quennie"]
    ]
    assert [one.name.value for one in listed if one.role.value == "nurse"] == [
        "Orla Tresk",
        "Orla",
        "nurse Odile",
    ]
    assert "# the consultant" in desk.text(IDENTIFIERS)
    desk.undo()
    assert (
        len([one for one in load_declared(desk.root / IDENTIFIERS).people if one.role.value == "surgeon"])
        == 2
    )
    gone = {"revision": desk.revision(), "shorter": "Nobody", "longer": "Orla Tresk", "do": "one"}
    assert client.post("/names/same", data=gone).status_code == 400


def test_what_is_no_name_is_not_asked_again_in_words(client: FlaskClient, empty: Desk) -> None:
    empty.change(lambda tree: tree.update(background="Hand held Doppler, Mordaunt there"), empty.revision())
    form = {"words-1": "Mordaunt", "kind-1": "people: colleague", "revision": empty.revision()}
    assert "no name" not in empty.text(DECISIONS)
    answer = client.post("/names/found", data={**form, "do": "not-1"})
    assert answer.location == "/names/#found"  # nothing else is left
    assert empty.tree(DECISIONS)["findings"] == [
        {"words": "Mordaunt", "ruling": "keep", "why": "a word, not a name"}
    ]
    client.post("/undo")
    assert not empty.tree(DECISIONS).get("findings")


@pytest.mark.browser
def test_what_was_decided_leads_to_the_next_with_place_and_focus(page: Page, desk: Desk) -> None:
    kept.save(
        desk.aside, Note("\n".join(f"Dr Quorrendale{letter} was there" for letter in "abcdefghijklmnopq"))
    )
    page.goto(page.url.partition("/start")[0] + "/names/")
    page.locator("#put-12").wait_for(timeout=180_000)
    for now, then in (("Quorrendalel", "Quorrendalem"), ("Quorrendalem", "Quorrendalen")):
        page.locator(f'button[aria-label="{now}: no name, stays"]').click()
        page.locator(f'button:focus[aria-label="Put {then} on the private list"]').wait_for()
        assert page.evaluate("scrollY") > 0
    page.keyboard.press("Enter")
    page.locator('button:focus[aria-label="Put Quorrendaleo on the private list"]').wait_for()


@pytest.mark.browser
def test_kept_by_enter_alone(page: Page, desk: Desk) -> None:
    kept.save(desk.aside, Note(NOTE))
    page.goto(page.url.partition("/start")[0] + "/names/")
    for words in ("Ansgar Quorrendale", "H482917"):
        page.locator(f'button:focus[aria-label="Put {words} on the private list"]').wait_for(timeout=180_000)
        page.keyboard.press("Enter")
    page.locator('button:focus[aria-label="Put Tavish Wieldrake on the private list"]').wait_for()
    assert ("Ansgar Quorrendale", "patient") in people(desk)


@pytest.mark.parametrize(
    ("line", "kinds"),
    [
        ("laser Ho:YAG 1.2J 8Hz to the stone", {}),
        ("theatre readings csv from machine", {}),
        ("next planned: repair at Quarnmoor Univ Hosp MDT", {"Quarnmoor Univ Hosp": "places: hospital"}),
        (
            "Scrub Sr Dowland, ODP Tob\npump photo taken on Tobs phone",
            {"Dowland": "people: nurse", "Tob": "people: technician", "Tobs": "people: technician"},
        ),
    ],
)
def test_words_of_a_device_or_a_meeting_are_no_name_and_a_name_with_an_s_is_somebody(
    empty: Desk, line: str, kinds: dict[str, str]
) -> None:
    """The names are invented; how such words are written is common practice, no source."""
    kept.save(empty.aside, Note(line))
    found = {one.words: one.kind for one in in_note(empty.aside)}
    assert found == kinds
