"""What the words beside a name of the note say that somebody is. Names are invented; how notes name people is common
practice, no source."""

from __future__ import annotations

import pytest

from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._listed import kind_told
from mmbuilder.page.parts._named import Proposal, _abbreviates, in_note
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._role_beside import role_beside

NAME = "Tam Quennimore"


@pytest.mark.parametrize(
    ("line", "role"),
    [
        ("Team: Mr Tam Quennimore (cons), me Orla Veldrake reg", "surgeon"),  # no doctor by title
        ("Team: Dr Tam Quennimore (cons), me Orla Veldrake reg", "colleague"),
        ("consultant Mr Tam Quennimore, me assisting", "surgeon"),
        ("Dr Tam Quennimore, me assisting", ""),
        ("S/N Tam Quennimore notes green fluid", "nurse"),
        ("cons anaes Dr Tam Quennimore, SpR Dr Orla Veldrake", "anaesthetist"),
        ("Dr Tam Quennimore, cons anaes, came", "anaesthetist"),
        ("Dr Tam Quennimore (anaes cons)", "anaesthetist"),
        ("Gas: Dr Tam Quennimore (cons)", "anaesthetist"),
        ("Surgeon: Mr Tam Quennimore (cons)", "surgeon"),
        ("me Tam Quennimore reg, Dr Veldrake anaes", "trainee"),
        ("me - Tam Quennimore, cons anaes Dr Veldrake", "surgeon"),
        ("Myself: Tam Quennimore SpR", "trainee"),
        ("SpR Tam Quennimore closed", "trainee"),
        ("reg Tam Quennimore closed", "trainee"),
        ("Tam Quennimore, the on-call reg, came", "trainee"),
        ("Tam Quennimore is the scrub nurse", "nurse"),
        ("surg: Mr Tam Quennimore", "surgeon"),
        ("reg me (Tam Quennimore); vasc cons Mr Veldrake", "trainee"),
        ("mw Tam Quennimore", "midwife"),
        ("Tam Quennimore, unit no 4471022", "patient"),
        ("boss = Prof Tam Quennimore", "colleague"),
        ("Tam Quennimore 71M, K1188231", "patient"),
        ("Tam Quennimore, hosp no QX0093312", "patient"),
        ("Tam Quennimore dob 14/02/1961", "patient"),
        ("told her sister Tam Quennimore at 18:00", "relative"),
        ("pt's twin sister, Tam Quennimore, was rung", "relative"),
        ("told husband + pt sister Tam Quennimore", "relative"),
        ("letter by Mrs Tam Quennimore (patient safety)", ""),
        ("sister Tam Quennimore rang the ward", "nurse"),
        # the role is somebody else's, or no role
        ('Tam Quennimore asked "gas?" - gas off', ""),
        ("Dr Tam Quennimore phoned the anaesthetist", ""),
        ("Dr Tam Quennimore, anaes Dr Veldrake", ""),
        ("Dr Tam Quennimore, SpR Orla Veldrake", ""),
        ("Mr Veldrake (cons), Tam Quennimore held the camera", ""),
        ("told me. Tam Quennimore came", ""),
    ],
)
def test_a_role_is_of_whom_it_touches(line: str, role: str) -> None:
    start = line.index(NAME)
    before = line[:start].removesuffix("Dr ").removesuffix("Mr ").removesuffix("Prof ")
    assert role_beside(line, len(before), start + len(NAME)) == (f"people: {role}" if role else "")


@pytest.mark.parametrize(
    ("role", "kind"),
    [
        ("cons", "people: colleague"),
        ("cons anaes", "people: anaesthetist"),
        ("anaes cons", "people: anaesthetist"),
        ("consultant anaesthetist", "people: anaesthetist"),
        ("reg", "people: trainee"),
        ("anaes reg", "people: trainee"),
        ("hospital number", "numbers: record number"),
        ("hosp no", "numbers: record number"),
        ("patient id", "numbers: record number"),
        ("unit no", "numbers: record number"),
        ("nhs number", "numbers: national number"),
        ("suite", "places: ward"),
    ],
)
def test_what_a_word_on_the_list_is(role: str, kind: str) -> None:
    assert kind_told(role) == kind


NOTE = """\
Pt Odette Farrimond TW4471902 dob 14/02/1961 65F, op 06/10/2026 Thornwick Royal Th 4. Single met
Team: Mr Kestleton (cons), me Tam Hazelbourne reg, Dr Lumsley-Vane anaes, Sr Oakhanger scrub
10:48 Kestleton asked "gas?" - gas off
09:05 KTS.
F/U clinic (Medlar Suite) drain out
"""


def test_people_places_and_numbers_of_a_note_are_told_apart(desk: Desk) -> None:
    kept.save(desk.aside, Note(NOTE))
    assert {one.words: one.kind for one in in_note(desk.aside)} == {
        "Odette Farrimond": "people: patient",
        "TW4471902": "numbers: record number",
        "Thornwick Royal": "places: hospital",
        "Kestleton": "people: surgeon",
        "Tam Hazelbourne": "people: trainee",
        "Lumsley-Vane": "people: anaesthetist",
        "Oakhanger": "people: nurse",
        "Medlar Suite": "places: ward",
    }


@pytest.mark.parametrize(
    ("line", "words", "kind"),
    [
        ("Mrs Brannoch Tildesley, hosp no QX0093312, St Elowen's Th 3", "St Elowen's", "places: hospital"),
        ("hospital number 884120093, Veldmoor General theatre 2", "Veldmoor General", "places: hospital"),
        (
            "Winterbourne-Hale 71M, K1188231, Harrowmere Infirmary OT 5",
            "Harrowmere Infirmary",
            "places: hospital",
        ),
        ("born 14/9/1994. Harrowgate Womens theatre 1", "Harrowgate Womens", "places: hospital"),
        ("UR-220918, Pennard District Gen, Thtr 5", "Pennard District Gen", "places: hospital"),
        ("moved to Kestrel Ward", "Kestrel Ward", "places: ward"),
    ],
)
def test_a_hospital_ends_before_the_number_of_its_theatre(
    desk: Desk, line: str, words: str, kind: str
) -> None:
    kept.save(desk.aside, Note(line))
    assert (words, kind) in [(one.words, one.kind) for one in in_note(desk.aside)]


def test_capitals_alone_on_a_line_are_short_for_a_thing() -> None:
    assert _abbreviates(Proposal("KTS", "people: colleague", "09:05 ", "."), [])
    assert not _abbreviates(Proposal("QH", "people: colleague", "09:05 THEN ", " CAME"), [])
