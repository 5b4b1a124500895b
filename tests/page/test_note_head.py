"""What a note tells of the patient, the plan, the clocks and the day. The notes are invented; how such heads are
written is common practice, no source."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import yaml
from flask.testing import FlaskClient

from mmbuilder.case.dates import orders
from mmbuilder.casefile import load
from mmbuilder.casefile.checking import CASE
from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._head import asked, put_asked, put_zero
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._op_day import op_day
from mmbuilder.page.parts._pull import each_begun
from tests.page.conftest import Served
from tests.page.test_note import paste
from tests.page.test_note_proposed import sent

if TYPE_CHECKING:
    from playwright.sync_api import Page

NOTE = """\
Mrs Orla Quennimore, 81F, dob 03/02/1945, 17.11.26
R hip hemi for displaced # NOF (fell at home 15/11)
lat approach, spinal + light sed. kts 0915
NB monitor clock 4 min fast vs theatre clock
"""
BARE = """\
mmbuilder: 1
code: hip-02
use: department review
specialty: orthopaedics
"""


def said(note: str, tree: dict[str, object] | None = None) -> dict[str, str]:
    return {one.name: one.value for one in asked(Known(tree or {}, text=note)) if one.value}


def test_the_head_of_a_note_fills_the_patient_the_plan_the_clocks_and_the_day() -> None:
    assert said(NOTE) == {
        "age": "81",
        "sex": "female",
        "side": "right",
        "procedure": "R hip hemi",
        "indication": "displaced # NOF",
        "anaesthesia": "spinal + light sed",
        "day-zero": "2026-11-17",
        "clock": "theatre clock",
        "other-clock": "monitor",
        "offset": "-4 min",
        "zero": "kts 0915",
    }


def test_a_weekday_that_fits_neither_or_both_readings_settles_nothing() -> None:
    """The calendar: 11 March 2026 is a Wednesday, 3 November 2026 a Tuesday."""
    assert "day-zero" not in said("Fri 11/03/2026")
    assert Known({}, text="Wed 11/03/2026").day_first
    assert not Known({}, text="Fri 11/03/2026").day_first


@pytest.mark.parametrize(
    ("note", "name", "value"),
    [
        (
            "71F, BMI 31. Plan: lap R hemicolectomy for caecal cancer, Mr X cons",
            "procedure",
            "lap R hemicolectomy",
        ),
        (
            "71F, BMI 31. Plan: lap R hemicolectomy for caecal cancer, Mr X cons",
            "indication",
            "caecal cancer",
        ),
        ("71F. Plan: lap R hemicolectomy for caecal cancer", "side", "right"),
        ("CT cT1b. Plan: lap R radical nephrectomy, cons", "procedure", "lap R radical nephrectomy"),
        ("theatre wall clock vs monitor - monitor is 6 min FAST. Wall clock below", "clock", "wall clock"),
        ("M&M note - Wed 11/03/2026. written at home", "day-zero", "2026-03-11"),
        ("Tues 03/11/2026", "day-zero", "2026-11-03"),
        ("Wednesday 03/11/2026", "day-zero", "2026-03-11"),
        ("74 year old man, lap chole for stones", "age", "74"),
        ("74yo M", "sex", "male"),
        ("81F and her son 52M", "age", ""),  # two people
        ("14F cannula in", "age", ""),  # its gauge
        ("PLAN: stent\n1016 16F catheter, 1025 lactate 4.8", "age", ""),
        ("1016 22F 3-way catheter in", "age", ""),
        ("pt F, 64, dob 14/03/1961\n1016 16F catheter", "age", "64"),
        ("16F with a stent since May", "age", "16"),  # who has one
        ("81F catheter on arrival", "age", "81"),  # wider than any
        ("pt: F, 64, stone", "sex", "female"),
        ("F 64", "age", "64"),
        ("woman, 64, stone", "age", "64"),
        ("64 F", "age", "64"),
        ("man 71 with stones", "sex", "male"),
        ("F, 64, dob 14/03/1961\nher son 40M drove", "age", "64"),  # the one with the birth
        ("lady, 2 drains", "age", ""),
        ("size F 12, then 14", "age", ""),
        ("seen by F, 9/11/26", "age", ""),
        ("72M, embolectomy Fogarty 2F", "age", "72"),  # the size of a catheter
        ("BP 81/40", "age", ""),
        ("lap chole for stones", "procedure", "lap chole"),
        (
            "planned: elective lap chole + cholangiogram, Theatre 6, St Veldrake's, Fri 13 Nov 2026",
            "procedure",
            "elective lap chole + cholangiogram",
        ),
        ("planned: lap chole, cholangiogram, Veldmoor Infirmary", "procedure", "lap chole, cholangiogram"),
        ("Op: TURP", "procedure", "TURP"),
        ("Plan: L CEA under GA w/ patch, NIRS both sides", "procedure", "L CEA"),
        ("Plan: L CEA under GA w/ patch, NIRS both sides", "side", "left"),
        ("Plan: L CEA under GA w/ patch, NIRS both sides", "anaesthesia", "GA"),
        ("Plan: talk to the family", "procedure", ""),
        ("called for help", "procedure", ""),
        ("listed for L knee replacement for pain", "side", "left"),
        ("knife to skin under GA", "anaesthesia", "GA"),
        ("wall clock 3 min slow", "offset", "3 min"),
        ("it was 3 min", "offset", ""),
        ("anaes monitor clock runs 7 min FAST of theatre wall clock", "clock", "theatre wall clock"),
        ("anaes clock 4 min ahead of theatre", "clock", "theatre clock"),
        ("c-arm clock runs 7 min FAST of anaes monitor. eg", "clock", "anaes monitor"),
        ("c-arm clock runs 7 min FAST of anaes monitor. eg", "other-clock", "c-arm"),
        ("c-arm clock runs 7 min FAST of anaes monitor. eg", "offset", "-7 min"),
        ("Tues 14 Nov 2023. TIA 9/11/23, clinic 27/12/23", "day-zero", "2023-11-14"),
        ("Tues 14 Nov 2023, back on Wed 15 Nov 2023", "day-zero", ""),  # which of them
        ("seen 4/5/26", "day-zero", ""),  # day or month first
        ("op 14/5/26, back in theatre 28/5/26", "day-zero", "2026-05-14"),  # it is said to be
        ("14/5/26 lap chole, wash-out 28/5/26", "day-zero", ""),  # which of them
        ("born 14/5/1950", "day-zero", ""),
        ("OP NOTE / gyn stuff - for tues mtg 07:45", "procedure", ""),  # a title
        (
            "OP NOTE for tues mtg 07:45\nPlan: R RIRS + basket, stent. day case",
            "procedure",
            "R RIRS + basket",
        ),
        ("OP NOTE for tues mtg 07:45\nPlan: R RIRS + basket, stent. day case", "side", "right"),
        ("OP NOTE for tues mtg 07:45\nPlan: R RIRS + basket, stent. day case", "indication", ""),
        ("R hip hemi for tues mtg", "indication", ""),
        ("scan for stent\nProcedure: L PCNL", "procedure", "L PCNL"),
        ("Plan: L CEA + GA", "procedure", "L CEA"),
        ("0831 in\n0844 KTS. wire up", "zero", "0844 KTS"),
        ("0844 - skin incision", "zero", "0844 - skin incision"),
        ("knife to skin at 08:44", "zero", "knife to skin at 08:44"),
        ("0844 KTS, swab out, 0930 incision", "zero", ""),  # which of them
        ("0930 incision extended", "zero", ""),
        ("WHO sign in 0820, KTS 0846. R lobe first", "zero", "KTS 0846"),
        ("0844, KTS. 0850 ports in", "zero", "0844, KTS"),
        ("17/11/26 Ward 4, typed 23:05\nOp: thyroidectomy for goitre", "day-zero", ""),
    ],
)
def test_only_what_can_be_read_in_one_way_is_proposed(note: str, name: str, value: str) -> None:
    assert said(note).get(name, "") == value


def test_what_the_case_says_already_is_not_asked_again() -> None:
    tree: dict[str, object] = {"patient": {"age": "80"}, "clocks": [{"name": "wall"}]}
    names = [one.name for one in asked(Known(tree, text=NOTE))]
    assert "sex" in names
    assert not {"age", "clock", "offset"} & set(names)


def test_what_is_put_reads_as_the_case_and_no_grade_or_cause_is_among_it() -> None:
    text = put_asked(BARE, said(NOTE))
    assert "index event" not in text  # there is no such event yet
    assert re.findall(r"^(\w[\w ]*):", text, re.MULTILINE)[4:] == ["patient", "plan", "clocks", "timeline"]
    assert "reference: yes" in text
    assert "offset: -4 min" in text


def test_an_emptied_field_puts_nothing() -> None:
    assert put_asked(BARE, {"age": "", "clock": "", "other-clock": "", "offset": "-4 min"}) == BARE


def test_the_lines_are_put_in_with_the_head(client: FlaskClient, desk: Desk, case: Path) -> None:
    """A case that lacks the age gets it from the note in the same change, and undo takes both back."""
    text = (case / CASE).read_text("utf-8")
    (case / CASE).write_text(re.sub(r"(?m)^  age: .*\n", "", text, count=1), "utf-8")
    form = {"text": "81F\n0915 knife to skin", "called": "note", "note": kept.state_of(desk.aside)}
    assert client.post("/note/", data=form).status_code == 303
    page = client.get("/note/several").text
    assert 'name="head-age" id="head-age" value="81"' in page
    sent = {
        name: found[1]
        for name in ("revision", "note")
        if (found := re.search(rf'name="{name}" value="([^"]*)"', page))
    }
    assert client.post("/note/several", data={**sent, "head-age": "81"}).status_code == 303
    assert load(desk.root).case.patient.age is not None
    assert "age: 81" in desk.text()


def test_times_are_counted_from_the_cut_where_none_is_told(client: FlaskClient, desk: Desk) -> None:
    """`Counted from (T+0)` is proposed and can be emptied; where the case says it, it is not asked."""
    paste(client, desk, "0831 in\n0844 KTS")
    assert "head-zero" not in client.get("/note/several").text
    desk.change(lambda tree: tree["timeline"].pop("index event"), desk.revision())
    form = sent(client, desk)
    assert form["head-zero"] == ["0844 KTS"]
    assert client.post("/note/several", data=form).status_code == 303
    timeline = desk.tree()["timeline"]
    assert timeline["index event"] == timeline["events"][-1]["id"]
    assert put_zero(BARE, {"zero": "0844 KTS"}) == BARE  # no event of that time


def test_times_are_counted_from_the_cut_by_whichever_clock_it_was_read() -> None:
    clocks = "clocks:\n  - name: ward clock\n    reference: yes\n  - name: theatre\n    offset: -7 min\n"
    told = [("8.31", "theatre"), ("0855", "ward clock"), ("0915", "ward clock"), ("0915", "theatre")]
    events = "".join(
        f"    - kind: step\n      what: one\n      when: '{when}'\n      clock: {clock}\n"
        for when, clock in told
    )
    text = f"{BARE}{clocks}timeline:\n  events:\n{events}"
    zero = yaml.safe_load(put_zero(text, {"zero": "8.31 knife to skin"}))["timeline"]
    assert zero["index event"] == zero["events"][0]["id"]
    assert put_zero(text, {"zero": "0915 incision"}) == text  # by which of them


@pytest.mark.parametrize("line", ["notes - for tues mtg 07:45", "for M&M 0745 tomorrow"])
def test_when_the_meeting_is_is_no_event(line: str) -> None:
    assert [one.whole for one in each_begun(Note(line).lines, Known({}))] == [False]


@pytest.mark.browser
def test_the_head_is_looked_over_and_changed_before_it_is_put(page: Page, served: Served, case: Path) -> None:
    text = (case / CASE).read_text("utf-8")
    (case / CASE).write_text(re.sub(r"(?m)^  age: .*\n", "", text, count=1), "utf-8")
    page.goto(f"{served.base}/note/")
    page.locator("#text").fill("81F\n0915 knife to skin")
    page.get_by_role("button", name="Keep the note").press("Enter")
    page.wait_for_url("**/note/#lines")  # the page before it has this link too
    page.get_by_role("link", name="Pull several at once").press("Enter")
    age = page.get_by_role("textbox", name="Age")
    assert age.input_value() == "81"
    age.fill("82")
    page.get_by_role("button", name="Put the ticked lines into the case").press("Enter")
    page.wait_for_url("**/note/#lines")
    assert "age: 82" in (case / CASE).read_text("utf-8")


@pytest.mark.parametrize(
    ("note", "procedure", "side"),
    [
        ("R knee. Arthroscopic ligament recon w graft + partial meniscectomy. Prev op", "Arthroscopic ligament recon w graft + partial meniscectomy", "right"),
        ("Left shoulder: arthroscopic cuff repair", "arthroscopic cuff repair", "left"),
        ("R knee. Sore since 2014, repair then", "", ""),
        ("R leg marked. graft 0930", "", ""),
    ],
)  # fmt: skip
def test_the_part_before_an_operation_tells_the_side(note: str, procedure: str, side: str) -> None:
    """Common practice, no source."""
    told = {one.name: one.value for one in asked(Known({}, text=note))}
    assert (told["procedure"], told["side"]) == (procedure, side)


def test_the_first_sign_that_a_note_calls_so_is_what_times_are_counted_from() -> None:
    note = "0830 start\n0946 brisk blood <- looking back first sign"
    assert [one.value for one in asked(Known({}, text=note)) if one.name == "zero"] == ["0946"]
    assert [one.value for one in asked(Known({}, text=f"0825 KTS\n{note}")) if one.name == "zero"] == [
        "0825 KTS"
    ]


@pytest.mark.parametrize(
    ("note", "day"),
    [
        (
            "Tues 17/11/26, typed at home\nOp: total thyroidectomy for cancer, on Fri 13/11",
            date(2026, 11, 13),
        ),
        ("Op: hernia on 20/12", date(2025, 12, 20)),  # the nearest year
        ("Op: hernia on 3/4", None),  # day or month first
        ("Op: hernia on 13/11\nOp: wash-out on 15/11", None),  # which of them
    ],
)
def test_the_day_of_an_operation_may_stand_without_its_year(note: str, day: date | None) -> None:
    assert op_day(note, orders, date(2026, 3, 1) if "20/12" in note else date(2026, 11, 29)) == day
