"""What is only planned or in doubt in a note, when the operation was, and how strong an action is said to be.

The notes are invented; how such lines are written is common practice, no source.
"""

from __future__ import annotations

from datetime import date

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.parts import _of_action
from mmbuilder.page.parts._head import asked
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._pull import Pull, each_begun, filled
from mmbuilder.safe.terms import GRADES, Scale, Strength
from tests.page.test_note import paste
from tests.page.test_note_proposed import sent

VISIT, GRADE = "outcome/visits/note", "outcome/grades/complication"


def made(note: str, text: str = "") -> list[Pull]:
    return each_begun(Note(note).lines, Known({}, text=text or note))


# A plan is no visit


@pytest.mark.parametrize(
    "note",
    [
        "Plan: lap right hepatectomy, low CVP, Pringle 15/5, home day 5",
        "Plan lap right hepatectomy. Home day 5. Clinic 6/52",
        "plan: clinic 6/52",
        "Plan:\n- clinic 6/52\n- home day 5",
        "Plan\nhome day 3\nclinic 6/52",
        "the plan was home day 2",
        "planned home day 5",
        "aim home day 5",
        "expected home day 5",
        "for clinic 6/52",
        "to be seen in clinic 6/52",
        "clinic 6/52 booked",
        "f/u 6/52 (tba)",
        "home day 5 if well",
        "? home day 5",
        "Plan: CT at 14:00",
    ],
)
def test_what_is_only_planned_is_neither_a_visit_nor_an_event(note: str) -> None:
    assert [one.kind for one in made(note) if one.whole] == []


@pytest.mark.parametrize(
    ("note", "when"),
    [
        ("Home day 5", "Day 5"),
        ("day 4 bile leak, plan drain", "Day 4"),
        ("to HDU, extubated day 1", "Day 1"),
        ("1/7 review 27/10 IOP 28", "Day 1"),  # one day of seven
        ("FU 26/1/26 clinic walking, op 13/1/26", "26 January 2026"),  # no twenty-sixth follow-up
        ("op 2.11.26\nFU: 14/12/26 phone: walking", "14 December 2026"),  # not fourteen months
        ("op 2/11/26, seen 20/11/26\nHome 13/11", "13 November 2026"),
        ("Actions\n1. new tray\n2. teach\nDay 1 gcs 13", "Day 1"),  # no third action
        ("15/10/2026 postnatal clinic, iron ok", "15 October 2026"),
        ("needed dialysis day 3", "Day 3"),
        ("home day 5, clinic 6/52 booked", "Day 5"),
        ("Plan: low CVP\n\nday 2 drain out", "Day 2"),
        ("Plan: low CVP\nday 2 drain out", "Day 2"),
    ],
)
def test_what_happened_beside_a_plan_is_a_visit(note: str, when: str) -> None:
    assert [one.more["when"] for one in made(note) if one.kind == VISIT and one.whole] == [when]


TO_COME = Known({"meeting": "2026-12-02", "timeline": {"day zero": "2026-11-17"}})
WATCHED = "outcome/monitoring/what"


@pytest.mark.parametrize(
    ("line", "what", "until", "whole"),
    [
        ("6/52 due 29/12/26 - NCS booked", "NCS booked", "Day 42", True),
        ("6/52 due 29/12/26, then every year", "then every year", "Day 42", True),
        ("3/12 review w Tam, duplex - pending", "Review: w Tam, duplex - pending", "Day 91", False),
        ("3/12 review duplex - pending", "review duplex - pending", "Day 91", True),
        ("4/52 clinic wound check", "Clinic: wound check", "Day 28", False),  # after the meeting: it is asked
    ],
)
def test_a_visit_still_to_come_is_watched(line: str, what: str, until: str, whole: bool) -> None:
    one = each_begun(Note(f"Visits: 2/52 clinic wound dry\n{line}").lines, TO_COME)[1]
    assert (one.kind, one.what, one.more.get("until"), one.whole) == (WATCHED, what, until, whole)


@pytest.mark.parametrize("line", ["6/52 clinic walking, scan due", "2/52 clinic pain due to the drain"])
def test_a_visit_that_was_held_stays_one(line: str) -> None:
    assert [one.kind for one in each_begun(Note(f"Visits: {line}").lines, Known({}))] == [VISIT]


def test_a_plan_that_a_time_leads_was_made_then() -> None:
    assert [(one.kind, one.when) for one in made("11:02 plan B: convert")] == [("step", "11:02")]


# The day of the operation, and the order of day and month

LIVER = "dob 14/02/1961, op 06/10/2026\nF/U: 26/10/2026 clinic drain out. 17/11/2026 clinic well\nwalking"


def test_one_date_that_can_only_be_read_day_first_settles_the_others() -> None:
    known = Known({}, text=LIVER)
    assert (known.day_first, known.zero) == (True, date(2026, 10, 6))
    assert {one.name: one.value for one in asked(known)}["day-zero"] == "2026-10-06"
    visits = [one for one in made(LIVER) if one.kind == VISIT]
    assert [(one.what, dict(one.more)) for one in visits] == [
        ("drain out.", {"when": "26 October 2026", "label": "Clinic"}),
        ("well", {"when": "17 November 2026", "label": "Clinic"}),
    ]


@pytest.mark.parametrize(
    ("note", "day"),
    [
        ("op 06/10/2026, seen 26/10/2026", "2026-10-06"),
        ("Op date: 10/06/2026, mtg 10/26/2026", "2026-10-06"),  # month first
        ("surgery on 6 Oct 2026, clinic 3 Nov 2026", "2026-10-06"),
        ("GCS 9/15, op 06/10/2026, discharged 26/10/2026", "2026-10-06"),  # a score is no date
        ("date of surgery 06-10-2026; mdt 20-09-2026", "2026-10-06"),
        ("06/10/2026 lap chole. CT 20/10/2026", "2026-10-06"),
        ("op 06/10/2026 then re-op 26/10/2026", "2026-10-06"),
        ("DOS 7/11/26, seen 7/22/26", "2026-07-11"),
        ("op 06/10/2026, letter 05/11/2026", ""),  # nothing tells the order
        ("op 06/10/2026, seen 26/10/2026, ct 10/26/2026", ""),  # it is told both ways
        ("op 06/10/2026, op 26/10/2026", ""),  # two
        ("CT 20/10/2026", ""),
    ],
)
def test_the_day_of_the_operation_is_day_0(note: str, day: str) -> None:
    assert {one.name: one.value for one in asked(Known({}, text=note))}["day-zero"] == day


# A grade in doubt


@pytest.mark.parametrize(
    ("line", "grade", "of"),
    [
        ("Intraop ClassIntra III?", "III", ""),
        ("ClassIntra ?II for the tear", "II", "tear"),
        ("Clavien-Dindo IIIb?", "IIIb", ""),
        ("leak ?CD IIIa", "IIIa", "leak"),
        ("CD IIIa/b", "IIIa", ""),
        ("CD IIIa or IIIb", "IIIa", ""),
        ("prob Clavien 2 for leak", "II", "leak"),
        ("Clavien 3a (?)", "IIIa", ""),
    ],
)
def test_a_grade_in_doubt_is_not_ticked_told_and_makes_no_entry(line: str, grade: str, of: str) -> None:
    for note in (line, f"Outcome: extubated next day. {line}"):
        one = made(note)[-1]
        assert (one.kind, one.whole, one.what) == (GRADE, False, of)
        assert "grade" not in one.more
        assert one.why["grade"].startswith(f"{grade} is in doubt")
    said = {"what": one.what, "when": "", "kind": GRADE, "clock": "", "source": ""}
    assert filled(one.lines, Known({}), said, one.more).faults["grade"]
    sure = filled(one.lines, Known({}), said, {**one.more, "grade": grade})
    assert not sure.faults


@pytest.mark.parametrize(
    ("line", "scale", "grade", "of"),
    [
        ("Intraop ClassIntra III", Scale.CLASSINTRA, "III", ""),
        ("classintra grade 2, tear of vein", Scale.CLASSINTRA, "II", "tear of vein"),
        ("CLASSINTRA 4 (haemorrhage)", Scale.CLASSINTRA, "IV", "haemorrhage"),
        ("bile leak, Clavien 3a.", Scale.CLAVIEN_DINDO, "IIIa", "bile leak"),
    ],
)
def test_a_grade_that_is_sure_is_ticked(line: str, scale: Scale, grade: str, of: str) -> None:
    """The grades of the two scales: `safe.terms.GRADES`."""
    (one,) = made(line)
    assert (one.kind, one.whole, one.what) == (GRADE, True, of)
    assert dict(one.more) == {"scale": scale.value, "grade": grade}
    assert grade in GRADES[scale]


def test_a_grade_in_doubt_is_refused_beside_its_line_until_it_is_chosen(
    client: FlaskClient, desk: Desk
) -> None:
    before = desk.text()
    paste(client, desk, "Intraop ClassIntra III?")
    form = sent(client, desk)
    (key,) = form["key"]
    assert not form.get("take")
    answer = client.post("/note/several", data={**form, "take": key})
    assert answer.status_code == 422
    assert f'id="fault-grade-{key}">Grade: choose its grade, or leave the line out' in answer.text
    assert desk.text() == before


def test_two_grades_in_one_line_are_one_too_many() -> None:
    (one,) = made("leak: CD IIIa, ClassIntra II")
    assert (one.kind, one.whole, one.why["grade"]) == (GRADE, False, "two are told: put in one here")


# The strength of an action

STAFF = Known({"meeting": "2026-12-03"}, people=(("Bel Oakhanger", "nurse"),))


@pytest.mark.parametrize(
    ("line", "what", "strength", "why"),
    [
        ("new card (strong) - Sr Oakhanger, by 31/1/27", "new card", "stronger", ""),
        ("new port (strong: forcing function), Sr Oakhanger", "new port", "stronger", "forcing function"),
        ("new port (Sr Oakhanger, strong, by 31/1/27)", "new port", "stronger", ""),
        ("leaflet (weaker, Sr Oakhanger, mar 2027)", "leaflet", "weaker", ""),
        ("pressure monitor - Sr Oakhanger - strong - by 1/3/27", "pressure monitor", "stronger", ""),
        ("alarm on (STRONGER)", "alarm on", "stronger", ""),
        ("buy a light (strong action)", "buy a light", "stronger", ""),
        ("card [intermediate strength]", "card", "intermediate", ""),
        ("checklist, strength: intermediate, by 31/1/27", "checklist", "intermediate", ""),
        ("second check (moderate - needs people)", "second check", "intermediate", "needs people"),
        ("remind staff - weak", "remind staff", "weaker", ""),
        ("poster - strength weak because it is read once", "poster", "weaker", "it is read once"),
        ("a strong suture on the shelf", "a strong suture on the shelf", "", ""),
        ("fast, strong glue", "fast, strong glue", "", ""),
        ("strong lead at the brief", "strong lead at the brief", "", ""),
        ("weak acid (0.5%) only", "weak acid (0.5%) only", "", ""),
    ],
)
def test_a_strength_that_is_written_is_proposed(line: str, what: str, strength: str, why: str) -> None:
    found = _of_action.parted(line, STAFF)
    told = (found.what, found.fields.get("strength", ""), found.fields.get("strength reason", ""))
    assert told == (what, strength, why)
    assert strength in {"", *(one.value for one in Strength)}
    if "Oakhanger" in line:
        assert found.fields["owner"] == "nurse"


def test_a_due_month_before_the_measure_and_a_regular_check_are_taken_out() -> None:
    found = _of_action.parted("SOP - Sr Oakhanger, Jan 2027, measure 10 observed cases", STAFF)
    assert (found.what, found.fields["due"], found.fields["measure"]) == (
        "SOP",
        "Jan 2027",
        "10 observed cases",
    )
    found = _of_action.parted("alarm at 28 - Sr Oakhanger by 31/1/27, monthly check of monitors", STAFF)
    assert (found.what, found.fields["measure"]) == ("alarm at 28", "monthly check of monitors")
