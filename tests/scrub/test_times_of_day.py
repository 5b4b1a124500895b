"""Times of day within sentences: proposed like every finding, decided like every finding, and reported.

Sentences are invented; T+ values by hand from the index event of the minimal case, at 09:30.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from mmbuilder.case import counted_time
from mmbuilder.case.decided import Decisions
from mmbuilder.casefile import load
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.decided import open_words
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import Decision, RedactionPlan
from mmbuilder.scrub.plan_file import load_plan, save_plan
from mmbuilder.scrub.propose import propose
from mmbuilder.scrub.reasons import TYPED, own
from mmbuilder.scrub.report import as_json, of_case
from mmbuilder.scrub.times_of_day import KIND, PERHAPS
from mmbuilder.scrub.walk import Texts
from tests.casefile.minimal import changed, minimal_case

CASE = """{background: "Clip slipped, done 10:10; last eaten at 05:10",
  governance: {publication consent: given},
  timeline: {events: {3: {what: "Pressure, called at 1025"}}}}"""


def folder_of(into: Path, use: Use = Use.REVIEW, **decided: str) -> CaseFolder:
    entries = [{"words": "10:10", "why": "the hour is the lesson", **decided}] if decided else []
    folder = load(minimal_case(into, changed(CASE)), use)
    return replace(folder, decided=Decisions.model_validate({"findings": entries}))


def plan_of(folder: CaseFolder) -> RedactionPlan:
    return propose(folder, names=NoNameModel())


def told(folder: CaseFolder) -> tuple[str, str]:
    case = apply(folder, plan_of(folder))
    return case.background.reveal(), case.events[3].what.reveal()


def test_a_time_goes_as_slides_tell_it_and_an_uncertain_one_stays(tmp_path: Path) -> None:
    assert told(folder_of(tmp_path)) == (
        "Clip slipped, done T+0:40; last eaten at 05:10",
        "Pressure, called at T+0:55",
    )


def test_outside_no_time_of_day_stays(tmp_path: Path) -> None:
    assert told(folder_of(tmp_path, Use.REPORT, ruling="keep"))[0] == (
        "Clip slipped, done T+0:40; last eaten at [time]"
    )


def test_outside_an_hour_beside_a_date_goes_too(tmp_path: Path) -> None:
    case = """{governance: {publication consent: given}, timeline: {day zero: 2026-11-13,
      events: {0: {when: "~09:30"}, 3: {what: "Extubated Sat 14/11 at 10.30 by the nurse"}}}}"""
    folder = load(minimal_case(tmp_path, changed(case)), Use.REPORT)
    assert told(folder)[1] == "Extubated Day 1 at [time] by the nurse"


def test_what_was_decided_counts(tmp_path: Path) -> None:
    assert told(folder_of(tmp_path / "a", ruling="keep"))[0].startswith("Clip slipped, done 10:10;")
    removed = folder_of(tmp_path / "b", ruling="remove", words="05:10")
    assert told(removed)[0].endswith("last eaten at [time]")


def test_the_report_counts_what_goes_and_says_why_the_rest_stays(tmp_path: Path) -> None:
    report = of_case(plan_of(folder_of(tmp_path)))
    assert [(one.letter, one.count) for one in report.removed if one.kind == KIND] == [("C", 2)]
    assert [(one.count, one.reason) for one in report.kept if one.kind == KIND] == [(1, counted_time.FAR)]
    assert counted_time.FAR in as_json(report)


def test_every_reason_may_stand_in_a_report() -> None:
    names = (
        "NO_ZERO",
        "LATER",
        "OTHER_DAY",
        "OTHER_CLOCK",
        "UNREAD",
        "FIGURE",
        "FAR",
        "OUTCOME",
        "SEVERAL_DAYS",
        "VISIT",
    )
    reasons = [getattr(counted_time, name) for name in names]
    assert [own(reason) for reason in reasons] == reasons
    assert TYPED not in reasons


def test_a_date_that_was_found_before_a_time_may_be_its_day(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("{background: Brought in on Christmas Eve. Seen at 10:10}"))
    folder = load(root)
    spans = [span for spans in plan_of(folder).texts.values() for span in spans if span.kind == KIND]
    assert [(span.decision, span.reason) for span in spans] == [(Decision.KEEP, counted_time.OTHER_DAY)]


def test_a_plan_comes_back_until_a_time_of_the_case_changes(tmp_path: Path) -> None:
    folder, file = folder_of(tmp_path), tmp_path / "plan.json"
    plan = plan_of(folder)
    save_plan(plan, file)
    assert load_plan(file, folder) == plan
    text = (folder.root / "case.yaml").read_text("utf-8")
    assert text.count("09:30") == 1
    (folder.root / "case.yaml").write_text(text.replace("09:30", "09:29"), "utf-8")
    with pytest.raises(FileRefused):
        load_plan(file, load(folder.root))


# Four bare figures

BARE = """{background: "Clip slipped, surgeon came 1010. EBL 1000. Repair 2014; in the afternoon of Day 2 seen again",
  situation: "SITUATION", governance: {publication consent: given},
  timeline: {events: {0: {when: '0930'}, 1: {when: '1005'}, 2: {when: '1015'}, 3: {when: '1020'}}}}"""


def bare_folder(into: Path, situation: str, use: Use = Use.REVIEW, *, ruling: str = "") -> CaseFolder:
    folder = load(minimal_case(into, changed(BARE.replace("SITUATION", situation))), use)
    entries = [{"words": "1840", "why": "no time of day", "ruling": ruling}] if ruling else []
    return replace(folder, decided=Decisions.model_validate({"findings": entries}))


def asked(folder: CaseFolder) -> list[str]:
    texts = Texts(folder.case, folder.previous)
    return [*open_words(texts.items, plan_of(folder), folder.decided)]


def test_a_bare_time_is_counted_and_no_volume_and_no_year_is(tmp_path: Path) -> None:
    folder = bare_folder(tmp_path, "Called 1010")
    case = apply(folder, plan_of(folder))
    assert case.situation.reveal() == "Called T+0:40"
    assert case.background.reveal().startswith("Clip slipped, surgeon came T+0:40. EBL 1000. Repair 2014;")
    assert asked(folder) == []


def test_a_bare_time_that_cannot_be_counted_is_asked_about_until_it_is_decided(tmp_path: Path) -> None:
    words = "The surgeon came 1840"
    folder = bare_folder(tmp_path / "a", words)
    spans = [span for spans in plan_of(folder).texts.values() for span in spans if span.kind == PERHAPS]
    assert [(span.decision, span.stand_in) for span in spans] == [(Decision.REPLACE, counted_time.LOST)]
    assert asked(folder) == ["1840"]
    for place, ruling, said in (("b", "keep", words), ("c", "remove", "The surgeon came [time]")):
        decided = bare_folder(tmp_path / place, words, ruling=ruling)
        assert asked(decided) == []
        assert apply(decided, plan_of(decided)).situation.reveal() == said


def test_what_its_author_says_is_no_time_stays_for_readers_elsewhere_too(tmp_path: Path) -> None:
    folder = bare_folder(tmp_path, "The surgeon came 1840", Use.REPORT, ruling="keep")
    assert apply(folder, plan_of(folder)).situation.reveal() == "The surgeon came 1840"
    assert asked(folder) == []


def test_the_report_names_the_class_of_what_is_perhaps_a_time(tmp_path: Path) -> None:
    report = of_case(plan_of(bare_folder(tmp_path, "The surgeon came 1840")))
    assert [(one.letter, one.count) for one in report.removed if one.kind == PERHAPS] == [("C", 1)]
