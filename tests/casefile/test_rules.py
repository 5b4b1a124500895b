"""Every rule, found by walking the folder: its own good example is quiet, its bad one is told."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from mmbuilder import registry
from mmbuilder.casefile import check
from mmbuilder.casefile.checking import RULES
from tests.casefile.minimal import changed, minimal_case

NAMES = registry.names(RULES)


def _rule(name: str):
    return registry.discover(RULES, "CODE", "WHY", "GOOD", "BAD", "check")[name]


@pytest.mark.parametrize("name", NAMES)
def test_good_example_is_quiet(name: str, tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed(_rule(name).GOOD), readings="readings" in _rule(name).GOOD)
    assert not check(root).problems


@pytest.mark.parametrize("name", NAMES)
def test_bad_example_is_told_and_placed(name: str, tmp_path: Path) -> None:
    rule = _rule(name)
    root = minimal_case(tmp_path, changed(rule.BAD), readings="readings" in rule.BAD)
    told = [problem for problem in check(root).problems if problem.code == rule.CODE]
    assert told
    for problem in told:
        assert problem.why == rule.WHY
        assert problem.line > 0 or name == "files_used"


@pytest.mark.parametrize("name", NAMES)
def test_leaf_explains_itself(name: str) -> None:
    rule = _rule(name)
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.CODE)
    assert rule.__doc__
    assert rule.check.__doc__
    # No word of a case may be put into a sentence: only lines, counts, closed words and times.
    tree = ast.parse(Path(rule.__file__).read_text(encoding="utf-8"))
    quoted = [
        ast.unparse(value)
        for node in ast.walk(tree)
        if isinstance(node, ast.FormattedValue)
        for value in [node.value]
        if ast.unparse(value).endswith(".value") and "scale" not in ast.unparse(value)
    ]
    assert all("consent" in words or "case.use" in words for words in quoted), quoted


def test_codes_are_distinct() -> None:
    codes = [_rule(name).CODE for name in NAMES]
    assert len(set(codes)) == len(codes)


def test_there_is_the_number_of_rules_we_think() -> None:
    assert len(NAMES) >= 25


@pytest.mark.parametrize("side", ["both", "not applicable"])
def test_clock_hours_need_one_eye(side: str, tmp_path: Path) -> None:
    change = f"{{patient: {{side: {side}}}, orientation: {{seat: temporal, findings: [{{what: Wound, hour: 9, view: anatomical}}]}}}}"
    told = [
        problem
        for problem in check(minimal_case(tmp_path, changed(change))).problems
        if problem.code == "wrong-side"
    ]
    assert [problem.text for problem in told] == ["clock hours need one eye"]


@pytest.mark.parametrize(
    ("role", "named"),
    [
        ("Nurse Practitioner", False),
        ("Nurse Anaesthetist", False),
        ("Nurse in charge", False),
        ("Nurse Practitioner and Sister in Charge", False),
        ("Nurse Practitioner, Mr Orrastal", True),
        ("Ward Sister, Sister Manager, Nurse Orrastal", True),
        ("Sister Velloth", True),
    ],
)
def test_a_name_behind_any_title_of_a_role_is_told(role: str, named: bool, tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed(f"presenter: {{role: '{role}'}}"))
    told = [one.text for one in check(root).problems if one.code == "role-names-somebody"]
    assert told == (["`role` seems to name somebody"] if named else [])


@pytest.mark.parametrize("sign", ["", "~", "≈", "<", ">", "≤", "≥"])
def test_a_figure_alone_has_no_unit_whatever_sign_stands_before_it(sign: str, tmp_path: Path) -> None:
    change = f"""{{timeline: {{events: {{3: {{kind: drug, dose: adrenaline 0.5 mg IM, volume: "{sign}300"}}}}}},
      outcome: {{visits: [{{when: Day 3, measures: [{{name: CRP, value: "{sign}168"}}]}}]}}}}"""
    told = [one.code for one in check(minimal_case(tmp_path, changed(change))).problems]
    assert {"dose-no-unit", "measure-no-unit"} <= set(told)


@pytest.mark.parametrize(("at", "told"), [("sign", True), ("acted", False)])
def test_a_reason_before_the_recognition_holds_nothing_back(at: str, told: bool, tmp_path: Path) -> None:
    change = f"""{{hold back: [bile leak], decisions: [{{at: {at}, question: 'What now?', chosen: 1, because: Quick,
      options: [{{option: Wait, reason: A bile leak is rare}}, {{option: Open, reason: It shows the duct}}]}}]}}"""
    found = [one for one in check(minimal_case(tmp_path, changed(change))).problems]
    said = [one.text for one in found if one.code == "gives-the-answer-away"]
    assert said == (["`reason` holds words you asked to hold back"] if told else [])


# Porter's Snowball, English: stems of its published vocabulary, read with the library.
@pytest.mark.parametrize(
    ("situation", "told"),
    [
        ("The duct was avulsed at the second pull", "holds a word of the complication"),
        ("The bile had been leaking for an hour", "holds words you asked to hold back"),
        ("Something gave way at the second pull", ""),
    ],
)
def test_another_form_of_a_word_gives_the_answer_away_too(situation: str, told: str, tmp_path: Path) -> None:
    change = f"""{{hold back: [bile leak], situation: {situation},
      timeline: {{events: {{2: {{kind: complication, what: Avulsion of the duct}}}}}}}}"""
    if "leaking" in situation:
        change = change.replace("[bile leak]", "[leak]")
    found = check(minimal_case(tmp_path, changed(change))).problems
    said = [one.text for one in found if one.code == "gives-the-answer-away" and "situation" in one.text]
    assert said == ([f"`situation` {told}"] if told else [])


def giving_away(change: str, tmp_path: Path) -> list[tuple[str, str]]:
    """Return what warns that it tells the complication, and the line of the words it tells."""
    found = check(minimal_case(tmp_path, changed(change))).problems
    return [(one.text, one.found) for one in found if one.code == "gives-the-answer-away"]


# Common practice, no source: the sentence that opens the deck names neither the complication nor its recognition.
@pytest.mark.parametrize(
    ("situation", "seen", "warned"),
    [
        ("Perforation during laser", "'recognised: ureteric perforation, urosepsis'", True),
        ("Urosepsis in theatre", "'recognised: ureteric perforation, urosepsis'", True),
        ("Cloudy urine in theatre", "'recognised: ureteric perforation, urosepsis'", False),
        ("The surgeon asked for help", "'The surgeon suspected a tear'", False),
        ("Ooze behind the instrument", "'The ooze behind the instrument is named'", False),
        ("A clamp had slipped", "{what: A clamp had slipped, recognised: cause}", False),
    ],
)
def test_the_situation_does_not_tell_what_was_recognised(
    situation: str, seen: str, warned: bool, tmp_path: Path
) -> None:
    event = seen if seen.startswith("{") else f"{{what: {seen}}}"
    change = f"""{{situation: {situation}, plan: {{indication: Ureteric stone}}, timeline: {{events: {{
      1: {{what: Ooze behind the instrument}}, 2: {event}}}}}}}"""
    texts = [text for text, _ in giving_away(change, tmp_path)]
    assert texts == (["`situation` holds a word of the complication"] if warned else [])


@pytest.mark.parametrize(
    ("situation", "warned"),
    [("The ureter was tight", False), ("Contrast ran out at the ureter", True)],
)
def test_a_site_that_stands_in_the_name_of_the_operation_tells_nothing(
    situation: str, warned: bool, tmp_path: Path
) -> None:
    change = f"""{{situation: {situation}, plan: {{procedure: Left ureterorenoscopy}},
      timeline: {{events: {{2: {{kind: complication, what: Contrast leaks at the ureter}}}}}}}}"""
    texts = [text for text, _ in giving_away(change, tmp_path)]
    assert texts == (["`situation` holds a word of the complication"] if warned else [])


@pytest.mark.parametrize(("at", "told"), [("sign", True), ("seen", False), ("acted", False)])
def test_a_decision_from_the_recognition_on_may_tell_it_in_any_of_its_words(
    at: str, told: bool, tmp_path: Path
) -> None:
    change = f"""{{timeline: {{events: {{0: {{kind: complication, what: Perforation}}}}}}, decisions: [{{at: {at},
      question: 'Perforation, what now?', visible: [A perforation], chosen: 1, because: Quick,
      options: [{{option: Leave the perforation, reason: Small perforation}}, {{option: Open, reason: Safe}}]}}]}}"""
    texts = {text.split("`")[1] for text, _ in giving_away(change, tmp_path)}
    assert texts == ({"question", "visible", "option", "reason"} if told else set())


@pytest.mark.parametrize(
    ("side", "finding", "stops"),
    [
        # The temporal side is at 9 o'clock of a right eye and at 3 of a left one: check-values.md E3.
        ("right", "what: Wound, hour: 3, view: anatomical, wound: yes", [True]),
        ("right", "what: Main wound, hour: 3, view: anatomical", [False]),
        ("right", "what: Haupttunnel, hour: 3, view: anatomical", [False]),
        ("left", "what: Main incision, hour: 9, view: anatomical", [False]),
        ("right", "what: Main wound, hour: 9, view: anatomical", []),
        ("right", "what: Paracentesis, hour: 3, view: anatomical", []),
        ("right", "what: Bleb beside the wound, hour: 3, view: anatomical", []),
    ],
)
def test_the_main_wound_lies_before_the_surgeon(
    side: str, finding: str, stops: list[bool], tmp_path: Path
) -> None:
    change = f"{{patient: {{side: {side}}}, orientation: {{seat: temporal, findings: [{{{finding}}}]}}}}"
    told = [
        one for one in check(minimal_case(tmp_path, changed(change))).problems if one.code == "wrong-side"
    ]
    assert [one.stops for one in told] == stops


@pytest.mark.parametrize(("eye", "count"), [("left", 1), ("OS", 1), ("OD", 0), ("right", 0)])
def test_clock_hours_are_of_the_operated_eye(eye: str, count: int, tmp_path: Path) -> None:
    """OD is the right eye, OS the left: check-values.md E3."""
    given = f"[{{name: eye, value: {eye}}}, {{name: seat, value: temporal}}, {{name: seen at, value: 11}}]"
    change = f"{{patient: {{side: right}}, compute: [{{what: clock hours, from: {given}}}]}}"
    told = [one.code for one in check(minimal_case(tmp_path, changed(change))).problems]
    assert told == ["wrong-side"] * count


@pytest.mark.parametrize(
    ("words", "count"),
    [
        ("Told at 16:10 by the consultant", 1),
        ("Told the same afternoon by the consultant", 0),
        ("Drained at 9 o'clock", 0),  # an hour of the eye, in a case of eyes
    ],
)
def test_an_outcome_tells_no_time_of_day(words: str, count: int, tmp_path: Path) -> None:
    change = f'{{specialty: ophthalmology, outcome: {{summary: Healed, told: "{words}"}}}}'
    told = [
        one for one in check(minimal_case(tmp_path, changed(change))).problems if one.code == "time-in-words"
    ]
    assert len(told) == count
    assert not any(one.stops for one in told)
