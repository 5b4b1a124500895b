"""Exact ages and times of day within sentences: found, generalised, and nothing else taken for one.

The sentences are invented; their phrasings are common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from mmbuilder.case import told_age, told_time, told_year
from mmbuilder.casefile import check, load
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan_file import load_plan, save_plan
from mmbuilder.scrub.propose import propose
from tests.casefile.minimal import changed, minimal_case

AGES = {
    "Man, 74, right eye pressure 34 mmHg": "Man in his 70s, right eye pressure 34 mmHg",
    "a 74-year-old man": "a 70- to 79-year-old man",
    "an 18-year-old woman": "a 10- to 19-year-old woman",
    "an 82-year-old": "an 80- to 89-year-old",
    "a 54 year old man": "a 50 to 59 year old man",
    "She is 71 years old": "She is 70 to 79 years old",
    "Woman of 71 with pain": "Woman in her 70s with pain",
    "aged 62": "aged 60 to 69",
    "at the age of 62": "at the age of 60 to 69",
    "aged 7": "aged under 10",
    "a 7-year-old boy": "a [age] boy",
    "a 6-week-old girl": "a [age] girl",
    "seventy-four-year-old lady": "70- to 79-year-old lady",
    "He is 74 and lives alone": "He is in his 70s and lives alone",
    "74F, fall": "[age], fall",
    "eine 74-jährige Patientin": "eine 70- bis 79-jährige Patientin",
    "his daughter, 45, was there": "his daughter in her 40s, was there",
    "Girl, 14, with a lump": "Girl aged 10 to 19, with a lump",
    "Girl, 5 weeks, day 1 after pyloromyotomy": "Girl under 10, day 1 after pyloromyotomy",
    "a boy of 8 months with a cough": "a boy under 10 with a cough",
}
NO_AGES = (
    "a 6-week-old fracture",
    "Girl, 5 weeks after pyloromyotomy",
    "patient, 5 days, then home",
    "a 93-year-old",  # told as "90 or older" by the detector of ages over 89
    "woman of 60 kg",
    "25 years of experience",
    "pulse 72, man 80 kg",
    "Right trabeculectomy 2016",
    "in his 70s",
    "mean pressure 118 mmHg, heart rate 80",
    "page 12, average 12",
)
TIMES = {
    "Told at 16:10 by the consultant": ["16:10"],
    "monitor file 14:43 to 14:55": ["14:43", "14:55"],
    "nursing notes 02.00 and 04.00": ["02.00", "04.00"],
    "at 0930, again at 4 pm": ["0930", "4 pm"],
    "half past three": ["half past three"],
    "between 9:30 and 9:45": ["9:30", "9:45"],
    "tryptase at 12.15": ["12.15"],
    "help came, called at 1041. Drain at 14.30.": ["1041", "14.30"],
    "clamped 12:40-13:10": ["12:40", "13:10"],
    "from 1240 to 1310, then 1325": ["1240", "1310", "1325"],
    "seen between 0915 and 0940": ["0915", "0940"],
    "first set at 02.00, 04.00 and 06.00": ["02.00", "04.00", "06.00"],
    "bis 14:10 Uhr": ["14:10 Uhr"],
}
NO_TIMES = (
    "video file 2 0:03:35 to 0:08:10",
    "drainage at 7.30 and 4.30",
    "mobile from 9.30 to 12 o'clock",
    "adrenaline 1:10 000, ratio 1:20",
    "since 2019",
    "disc cupped 0.95, at 13.45 mmol/L",
    "T+1:10",
    "T + 01:10",
    "diluted to 1:20, 12:10 dilution",
    "titre at 1:40, I:E ratio 01:30",
    "adrenaline at 1:10,000",
    "took 01:45 h, tourniquet time 01:12",
    "after 02:30 min, for 12:40 min",
    "rose from 1000 to 1500 mL",
    "bleeding seen at 01:12:30 on the video",
    "held at 1200 mL/h, at 1200 rpm, at 1000 feet",
)


def _told(text: str) -> str:
    for one in reversed([*told_age.find(text)]):
        text = text[: one.start] + one.instead + text[one.end :]
    return text


@pytest.mark.parametrize(("text", "expected"), AGES.items())
def test_an_age_is_told_by_its_decade(text: str, expected: str) -> None:
    assert _told(text) == expected


@pytest.mark.parametrize("text", NO_AGES)
def test_what_is_no_exact_age_stays(text: str) -> None:
    assert _told(text) == text


@pytest.mark.parametrize(("text", "expected"), TIMES.items())
def test_a_time_of_day_is_found(text: str, expected: list[str]) -> None:
    assert [text[one.start : one.end] for one in told_time.find(text)] == expected


@pytest.mark.parametrize("text", NO_TIMES)
def test_what_is_no_time_of_day_stays(text: str) -> None:
    assert [*told_time.find(text)] == []


def test_hours_of_a_dial_are_places_in_an_eye() -> None:
    text = "Paracentesis at 11.30, seen at 14.30"
    assert [text[one.start : one.end] for one in told_time.find(text, dial=True)] == ["14.30"]


CASE = """{situation: "Woman of 71, seen at 10:05", background: "Seen on Day 2 at 10:05; aged 71 then",
  governance: {publication consent: given}, references: ["Aged 45 at 10:20. J Test 2001;3:4-5."]}"""


def test_a_report_tells_decades_and_elapsed_times_and_a_review_the_age(tmp_path: Path) -> None:
    # By hand: the index event of the minimal case is at 09:30, so 10:05 is T+0:35.
    root = minimal_case(tmp_path, changed(CASE))
    said = {}
    for use in (Use.REPORT, Use.REVIEW):
        folder = load(root, use)
        case = apply(folder, propose(folder, names=NoNameModel()))
        said[use] = [case.situation.reveal(), case.background.reveal(), case.references[0].reveal()]
    published = "Aged 45 at 10:20. J Test 2001;3:4-5."
    assert said[Use.REPORT] == [
        "Woman in her 70s, seen at T+0:35",
        "Seen on Day 2 at [time]; aged 70 to 79 then",
        published,
    ]
    assert said[Use.REVIEW] == [
        "Woman of 71, seen at T+0:35",
        "Seen on Day 2 at 10:05; aged 71 then",
        published,
    ]


def test_each_text_is_told_with_its_line_and_what_will_stand_there(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed(CASE))
    told = [(one.code, one.text, one.line > 0) for one in check(root, Use.REPORT).problems]
    assert told == [
        ("age-told", "`situation` tells an exact age; the report will say 'in her 70s'", True),
        ("time-told", "`situation` tells a time of day; the report will say 'T+0:35'", True),
        ("age-told", "`background` tells an exact age; the report will say '70 to 79'", True),
        ("time-told", "`background` tells a time of day; the report will say '[time]'", True),
    ]
    assert [one.code for one in check(root, Use.REVIEW).problems] == []


def test_a_plan_with_decades_and_times_comes_back(tmp_path: Path) -> None:
    folder = load(minimal_case(tmp_path, changed(CASE)), Use.REPORT)
    plan, file = propose(folder, names=NoNameModel()), tmp_path / "plan.json"
    save_plan(plan, file)
    assert load_plan(file, folder) == plan


# By hand, from a Day 0 in 2025: 2016 is nine calendar years before it.
YEARS = {
    "Right trabeculectomy 2016, scarred": "Right trabeculectomy about 9 years before, scarred",
    "gas in 2019; implant since 2020": "gas about 6 years before; implant since about 5 years before",
    "Caesarean 1989, no other": "Caesarean about 36 years before, no other",
    "mended in 2024, again 2026": "mended the year before, again the year after",
    "seen earlier in 2025": "seen earlier the same year",
    "stent 2016-2018, removed": "stent [year], removed",
    "treated in the 1990s": "treated [year]",
    "since '16": "since about 9 years before",
    "Smoker since '98": "Smoker since [year]",  # 1998: two figures tell no century
    "letter of 2019 on page 41": "letter of about 6 years before on page 41",
}
NO_YEARS = (
    "balanced crystalloid 2000 mL IV",
    "2,016 steps, 1950 g, room 2015",
    "2000-2500 mL",
    "1:2000 dilution",
    "T+20:16, 20.16, 2016.5",
    "platelets 1990/µL",
    "2000 to 2500 ml in the bag",
)


class _From2025(told_year.Years):
    def __init__(self) -> None:
        self._reckoner = type("Reckoner", (), {"day_zero": date(2025, 1, 1)})()


@pytest.mark.parametrize(("text", "expected"), YEARS.items())
def test_a_year_is_counted_from_the_year_of_day_zero(text: str, expected: str) -> None:
    for one, instead in reversed([*_From2025().find(text)]):
        text = text[: one.start] + instead + text[one.end :]
    assert text == expected


@pytest.mark.parametrize("text", NO_YEARS)
def test_what_is_no_year_stays(text: str) -> None:
    assert [*told_year.find(text)] == []


DATED = """{background: "A detachment was mended in 1998", timeline: {day zero: 2001-02-13},
  governance: {publication consent: given}, references: ["Test J. 1998;3:4-5."]}"""


def crossed(root: Path, use: Use) -> ScrubbedCase:
    folder = load(root, use)
    return apply(folder, propose(folder, names=NoNameModel()))


def year_told(root: Path, use: Use) -> list[str]:
    return [one.text for one in check(root, use).problems if one.code == "year-told"]


def test_a_report_tells_no_year_and_says_so_and_a_review_keeps_it(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed(DATED))
    told = {use: crossed(root, use) for use in (Use.REPORT, Use.REVIEW)}
    said = {use: (case.background.reveal(), case.references[0].reveal()) for use, case in told.items()}
    assert said[Use.REPORT] == ("A detachment was mended about 3 years before", "Test J. 1998;3:4-5.")
    assert said[Use.REVIEW] == ("A detachment was mended in 1998", "Test J. 1998;3:4-5.")
    assert year_told(root, Use.REPORT) == [
        "`background` tells a calendar year; the report will say 'about 3 years before'"
    ]
    assert year_told(root, Use.REVIEW) == []


def test_without_a_day_zero_a_year_cannot_be_counted(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed(DATED.replace("day zero: 2001-02-13", "day zero: null")))
    assert crossed(root, Use.REPORT).background.reveal() == "A detachment was mended [year]"
    assert year_told(root, Use.REPORT) == ["`background` tells a calendar year; the report will say '[year]'"]


def test_a_year_is_no_crash_where_the_index_event_has_no_clock(tmp_path: Path) -> None:
    change = """{use: case report, background: A detachment was mended in 1998,
      timeline: {events: {0: {when: "video 0:03:35"}}}}"""
    told = {one.code: one.text for one in check(minimal_case(tmp_path, changed(change))).problems}
    assert told["recording-unclear"]
    assert told["year-told"] == "`background` tells a calendar year; the report will say '[year]'"
