"""Minutes into a case: what they do not speak of survives to the letter."""

from __future__ import annotations

import difflib
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.casefile.editing import edited
from mmbuilder.casefile.recording import blank, recorded
from mmbuilder.cli.commands.record import command
from mmbuilder.errors import CaseInvalid

CASES = resources.bundled_cases()

MINUTES = """\
day: 2025-07-16
attendance:
  - {role: consultant, number: 4}
  - {role: registrar, number: 9}
decided:
  - The tray list is changed this week
learning:
  - Two signs, and the hands come off.
actions:
  - {id: card, due: 15 October 2025}
  - {id: film, what: "Film of the drill: shown at induction", owner: registrar, due: 1 November 2025,
     measure: new starters shown the film, strength: weaker, strength reason: teaching alone}
"""


@pytest.fixture
def case(tmp_path: Path) -> Path:
    root = next(path for path in CASES if path.name.startswith("eye"))
    return Path(shutil.copytree(root, tmp_path / "eye"))


@pytest.fixture
def minutes(tmp_path: Path) -> Path:
    path = tmp_path / "minutes.yaml"
    path.write_text(MINUTES, "utf-8")
    return path


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_a_file_that_nothing_changes_comes_back_to_the_letter(root: Path) -> None:
    text = (root / "case.yaml").read_text("utf-8")
    assert edited(text, lambda tree: None) == text


# YAML 1.1 reads each of these as something else (yaml.org/type: int, bool, float, timestamp).
@pytest.mark.parametrize("value", ["0912", "no", "09:30", "1e3", "2025-01-02", "0o17", "~", "1_000"])
def test_no_value_is_taken_for_a_number_a_date_or_a_yes(value: str) -> None:
    text = f"# head\nwhen: {value}  # as written\nother: x\n"
    assert edited(text, lambda tree: None) == text
    assert edited(text, lambda tree: tree.__setitem__("other", "y")) == text.replace("other: x", "other: y")


@settings(max_examples=60, deadline=None)
@given(
    st.text(
        st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp", "Cf", "Co", "Cn")),
        min_size=1,
    )
)
def test_whatever_is_put_in_is_read_back(said: str) -> None:
    from mmbuilder.casefile.reader import read

    text = edited("a: 1\n", lambda tree: tree.__setitem__("b", said))
    source = read(text.encode(), "case.yaml", frozenset({"a", "b"}))
    assert source.tree is not None or source.problems
    if source.tree is not None and source.tree.get("b") is not None:
        assert "".join(str(source.tree["b"]).split()) == "".join(said.split()) or source.problems


def test_lists_flush_with_their_key_stay_flush() -> None:
    text = "learning:\n- one\n- two\nactions:\n- {what: x}\n"
    assert edited(text, lambda tree: tree["learning"].append("three")) == text.replace(
        "- two\n", "- two\n- three\n"
    )


def test_minutes_change_what_they_speak_of_and_nothing_else(case: Path, minutes: Path) -> None:
    before = (case / "case.yaml").read_text("utf-8")
    after, checked = recorded(case, minutes)
    assert checked.folder is not None
    told = checked.folder.case
    assert [one.value for one in told.learning] == ["Two signs, and the hands come off."]
    due = {action.id: action.due.value for action in told.actions if action.due}
    assert due["card"] == "15 October 2025"
    assert due["film"] == "1 November 2025"
    assert [(one.role.value, one.number) for one in told.meetings[0].attendance] == [
        ("consultant", 4),
        ("registrar", 9),
    ]
    lost = [
        line[1:]
        for line in difflib.unified_diff(before.split("\n"), after.split("\n"), n=0)
        if line[:2] == "- "
    ]
    allowed = ("In a long eye", "Shallow chamber, new", "Clot does not drain", "due: 30 September 2025")
    assert all(any(words in line for words in allowed) for line in lost)
    assert after.startswith("# Wholly invented.")


def test_the_same_minutes_twice_are_one_meeting(case: Path, minutes: Path) -> None:
    first, _ = recorded(case, minutes)
    (case / "case.yaml").write_text(first, "utf-8")
    again, _ = recorded(case, minutes)
    assert again == first


def test_minutes_with_faults_change_nothing_and_are_told_by_line(case: Path, minutes: Path) -> None:
    before = (case / "case.yaml").read_bytes()
    minutes.write_text("day: 2025-07-16\natendance:\n  - {role: consultant, number: many}\n", "utf-8")
    with pytest.raises(CaseInvalid) as caught:
        recorded(case, minutes)
    assert {problem.line for problem in caught.value.problems if problem.stops} >= {2}
    assert (case / "case.yaml").read_bytes() == before


def test_a_case_that_would_have_a_fault_afterwards_is_left_alone(case: Path, minutes: Path) -> None:
    before = (case / "case.yaml").read_bytes()
    minutes.write_text(
        "day: 2025-07-16\nactions:\n  - {what: Do it, due: 03/04/2026, owner: lead, measure: x}\n", "utf-8"
    )
    with pytest.raises(CaseInvalid) as caught:
        recorded(case, minutes)
    assert "due-ambiguous" in {problem.code for problem in caught.value.problems}
    assert (case / "case.yaml").read_bytes() == before


def test_the_command_writes_minutes_to_fill_in_and_then_takes_them_in(case: Path, tmp_path: Path) -> None:
    runner, paper = CliRunner(), tmp_path / "minutes.yaml"
    first = runner.invoke(command, [str(case), str(paper), "--no-build"], standalone_mode=False)
    assert first.return_value == 0
    blank = paper.read_text("utf-8")
    assert "In a long eye without vitreous" in blank
    # Run again by mistake: nothing of the example gets into the case.
    with pytest.raises(CaseInvalid) as caught:
        runner.invoke(
            command, [str(case), str(paper), "--no-build"], standalone_mode=False, catch_exceptions=False
        )
    assert {problem.line for problem in caught.value.problems if problem.stops} == {3}
    assert not (case / "case-before-1.yaml").exists()
    paper.write_text(blank.replace("day: ", "day: 2025-07-16 "), "utf-8")
    second = runner.invoke(command, [str(case), str(paper), "--no-build"], standalone_mode=False)
    assert second.return_value == 0, second.output
    assert (case / "case-before-1.yaml").exists()
    told = load(case).case
    assert len(told.meetings) == 1
    assert [action.id for action in told.actions] == ["infusion", "ceiling", "card"]


def test_blank_minutes_can_be_read_whatever_the_case_has_learned(case: Path, tmp_path: Path) -> None:
    learned = ["Any two signs: hands off.", '#1 it\'s "stop"', "- {braces} & [brackets], 100 %", "no"]
    paper = tmp_path / "minutes.yaml"
    paper.write_text(blank(learned, []).replace("day: ", "day: 2025-07-16 "), "utf-8")
    (case / "case.yaml").write_text(recorded(case, paper)[0], "utf-8")
    assert [one.value for one in load(case).case.learning] == learned


def test_minutes_that_are_mended_change_what_they_added_and_keep_their_place(
    case: Path, minutes: Path
) -> None:
    new = "  - {what: Card at the scope, owner: lead, due: 1 December 2025, measure: x of y, strength: weaker}\n"
    minutes.write_text(MINUTES + new, "utf-8")
    (case / "case.yaml").write_text(recorded(case, minutes)[0], "utf-8")
    later = minutes.with_name("later.yaml")
    later.write_text("day: 2025-10-01\n", "utf-8")
    (case / "case.yaml").write_text(recorded(case, later)[0], "utf-8")
    mended = minutes.read_text("utf-8").replace("number: 4", "number: 5").replace("1 December", "2 December")
    minutes.write_text(mended, "utf-8")
    (case / "case.yaml").write_text(recorded(case, minutes)[0], "utf-8")
    told = load(case).case
    assert [meeting.attendance[0].number for meeting in told.meetings if meeting.attendance] == [5]
    assert [bool(meeting.attendance) for meeting in told.meetings] == [True, False]
    assert [one.due.value for one in told.actions if one.due][-1] == "2 December 2025"
    assert len(told.actions) == 5


@pytest.mark.usefixtures("seen")
def test_what_was_decided_is_on_the_handout(case: Path, minutes: Path, tmp_path: Path) -> None:
    from mmbuilder.pipeline import BuildOptions, build

    (case / "case.yaml").write_text(recorded(case, minutes)[0], "utf-8")
    report = build(case, BuildOptions(tmp_path / "out", skip_names=True))
    (page,) = [path for path in report.papers if path.name.endswith("handout-DRAFT.html")]
    text = page.read_text("utf-8")
    assert "The tray list is changed this week" in text
    assert "4 consultant, 9 registrar" in text
