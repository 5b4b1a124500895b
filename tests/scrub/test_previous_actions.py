"""The action log across the line: its words are scrubbed like all others, and no date stands beside an offset."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from mmbuilder import resources
from mmbuilder.analysis.action_log import action_log
from mmbuilder.casefile import load
from mmbuilder.formats import action_log_csv, action_log_xlsx, due_dates_ics
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.scrub.sweep import known, sweep
from mmbuilder.scrub.sweep.known import Known
from tests.casefile.minimal import changed, minimal_case

HEAD = "id,case,action,strength,owner role,due,measure,baseline,result,status,reason,evidence"
ROWS = (
    "A1,b,Wendeline Orrastal to be rung by 2 May 2031,,nurse to Mrs Orrastal,2031-05-02,Calls,,,open,,",
    "A2,Orrastal,Pump,,,2031-04-01,,,,done not measured,,Signed by Dr Quillmarkton on 3 March 2031",
    "A3,b,Card,,,at the next audit,,,,dropped,Not wanted by W. Orrastal,",
)
NEW = "actions: [{what: Second pump, owner: lead, due: 2031-06-03, measure: in use, strength: stronger}]"


def crossed(
    folder: Path, change: str = f"meeting: 2031-04-13\n{NEW}", rows: tuple[str, ...] = ROWS
) -> ScrubbedCase:
    root = minimal_case(folder, changed(f"previous actions: actions.csv\n{change}"))
    (root / "actions.csv").write_text("\n".join((HEAD, *rows)), "utf-8")
    case = load(root)
    return apply(case, propose(case, names=NoNameModel()))


def written(case: ScrubbedCase) -> str:
    return action_log_csv.write(action_log(case)).decode("utf-8-sig")


def test_names_in_every_column_are_gone(tmp_path: Path) -> None:
    said = written(crossed(tmp_path))
    for name in ("Orrastal", "Wendeline", "Quillmarkton"):
        assert name not in said
    assert "the patient" in said


def test_slides_have_the_month_and_the_log_has_the_day(tmp_path: Path) -> None:
    case = crossed(tmp_path)
    assert [(row.id.reveal(), row.due.reveal(), row.late) for row in case.previous] == [
        ("A2", "April", True),
        ("A1", "May", False),
        ("A3", "at the next audit", False),
    ]
    assert [row.due_day for row in case.previous] == [date(2031, 4, 1), date(2031, 5, 2), None]


def test_without_a_meeting_nothing_is_called_late(tmp_path: Path) -> None:
    case = crossed(tmp_path, NEW)
    assert not any(row.late for row in case.previous)


@pytest.mark.parametrize(
    "change", [f"meeting: 2031-04-13\n{NEW}", NEW, f"timeline: {{day zero: 2031-03-01}}\n{NEW}"]
)
def test_a_date_in_the_words_of_the_log_is_no_offset(change: str, tmp_path: Path) -> None:
    # "by 2 May 2031" told as an offset beside the due day would tell the meeting, or Day 0.
    said = written(crossed(tmp_path, change))
    assert "[date]" in said
    for words in ("this meeting", "Day ", "weeks", "days"):
        assert words not in said, words


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Second pump", "Second pump"),
        ("Second pump by 3 June 2031", "Second pump by [date]"),
        ("Second pump by 3 June", "Second pump by [date]"),
        ("Lists since March", "Lists since [date]"),
    ],
)
@pytest.mark.parametrize("due", ["2031-06-03", "by 3 June 2031", "51 days after this meeting"])
def test_an_action_that_is_due_on_a_day_has_it_in_the_calendar_whatever_its_words_name(
    words: str, told: str, due: str, tmp_path: Path
) -> None:
    # "within 51 days of this meeting" beside 2031-06-03 would tell when the meeting was.
    new = NEW.replace("Second pump", words).replace("2031-06-03", due)
    case = crossed(tmp_path, f"meeting: 2031-04-13\n{new}", ())
    assert [action.due_day for action in case.actions] == [date(2031, 6, 3)]
    assert case.actions[0].due.reveal() == "June"
    assert case.actions[0].what.reveal() == told
    entry = due_dates_ics.write(action_log(case)).decode()
    assert "DTSTART;VALUE=DATE:20310603\r\n" in entry
    assert f"SUMMARY:{told} (lead)\r\n" in entry


def test_an_action_that_is_due_on_no_day_tells_its_dates_from_the_meeting(tmp_path: Path) -> None:
    new = NEW.replace("Second pump", "Second pump by 3 June 2031").replace("2031-06-03", "at the next audit")
    case = crossed(tmp_path, f"meeting: 2031-04-13\n{new}", ())
    assert case.actions[0].what.reveal() == "Second pump within 51 days of this meeting"
    assert "2031" not in written(case)


def test_a_due_date_in_words_is_no_day(tmp_path: Path) -> None:
    case = crossed(
        tmp_path, f"meeting: 2031-04-13\n{NEW.replace('2031-06-03', 'after the audit of 3 June 2031')}"
    )
    assert case.actions[0].due_day is None
    assert case.actions[0].due.reveal() == "after the audit of 51 days after this meeting"


@pytest.mark.parametrize(
    ("review", "said"),
    [
        ("June 2031", "June"),
        ("at the meeting in June 2031", "June"),
        ("the June 2031 meeting", "June"),
        ("2031-06-03", "June"),
        ("June 2033", "in a year or later"),
        ("at the meeting in 4 months", "at the meeting in 4 months"),
        ("once the pump is in use", "once the pump is in use"),
    ],
)
def test_when_it_is_looked_at_again_is_told_by_the_month(review: str, said: str, tmp_path: Path) -> None:
    change = f"meeting: 2031-04-13\n{NEW.replace('strength', f'review: {review}, strength')}"
    (action,) = crossed(tmp_path, change).actions
    assert action.review.reveal() == said
    assert action.due.reveal() == "June"


def test_beside_the_month_of_its_review_a_date_is_no_offset(tmp_path: Path) -> None:
    new = NEW.replace("Second pump", "By 3 June 2031").replace("strength", "review: 2031-06-10, strength")
    (action,) = crossed(
        tmp_path, f"meeting: 2031-04-13\n{new.replace('due: 2031-06-03', 'due: soon')}"
    ).actions
    assert action.review.reveal() == "June"
    assert action.what.reveal() == "By [date]"


def test_the_day_is_in_no_repr(tmp_path: Path) -> None:
    case = crossed(tmp_path)
    assert "2031" not in repr((case.previous, case.actions))


def test_a_change_in_the_log_makes_the_plan_another(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("previous actions: actions.csv"))
    (root / "actions.csv").write_text("\n".join((HEAD, *ROWS)), "utf-8")
    plan = propose(load(root), names=NoNameModel())
    (root / "actions.csv").write_text("\n".join((HEAD, ROWS[0])), "utf-8")
    with pytest.raises(ValueError, match="another case"):
        apply(load(root), plan)


BUNDLED = [
    root
    for root in resources.bundled_cases()
    if "\nprevious actions:" in (root / "case.yaml").read_text("utf-8")
]


def test_a_bundled_case_shows_a_log() -> None:
    assert BUNDLED


@pytest.mark.usefixtures("seen")
@pytest.mark.parametrize("root", BUNDLED, ids=lambda path: path.name)
def test_the_log_of_a_bundled_case_passes_the_sweep(root: Path) -> None:
    folder = load(root)
    case = apply(folder, propose(folder, names=NoNameModel()))
    rows = action_log(case)
    looked: Known = known(folder)
    for name, leaf in (("a.csv", action_log_csv), ("a.xlsx", action_log_xlsx), ("a.ics", due_dates_ics)):
        assert sweep(f"{folder.case.code}-{name}", leaf.write(rows), looked) == ()
    raw = (root / "actions.csv").read_bytes()
    assert sweep("a.csv", raw, looked), "the log as it was written names somebody"
