"""The slide on what earlier meetings agreed: late first, done but not measured is open, no date at all."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import ActionStatus
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Paragraph, Slide, Table
from tests.storyboard.sample import sample, say
from tests.storyboard.telling import told

ROW = LoggedAction(
    say("A1"), say("case-b"), say("A second pump"), owner=say("lead nurse"), measure=say("Pumps")
)


def slide(*rows: LoggedAction) -> Slide:
    board = compose(sample(previous=rows))
    return next(slide for slide in board.slides if slide.kind == "previous_actions")


def cells(row: LoggedAction) -> list[str]:
    table = slide(row).blocks[0]
    assert isinstance(table, Table)
    return [f"{cell.text.reveal()} {cell.stamp.reveal()}".strip() for cell in table.rows[0]]


def test_it_stands_before_the_last_sentence_in_its_time() -> None:
    board = compose(sample(previous=(ROW,)))
    assert [one.kind for one in board.slides[-2:]] == ["previous_actions", "take_away"]
    assert board.slides[-2].seconds == 45
    assert sum(one.seconds for one in board.slides) == 15 * 60


def test_due_is_told_by_its_month_and_never_as_a_length() -> None:
    # A length beside the day in the log would tell the day of the meeting.
    assert cells(replace(ROW, due=say("May"), passed=True))[2] == "late: May"
    assert cells(replace(ROW, due=say("May")))[2] == "May"
    assert cells(replace(ROW, due=say("next audit")))[2] == "next audit"
    assert cells(ROW)[2] == "not stated"


def test_what_is_closed_is_not_late() -> None:
    for status in (ActionStatus.DONE, ActionStatus.DROPPED):
        assert cells(replace(ROW, status=status, passed=True))[2] == "no longer due"


def test_done_and_not_measured_is_late_and_not_closed() -> None:
    row = cells(replace(ROW, status=ActionStatus.NOT_MEASURED, due=say("May"), passed=True))
    assert row[2] == "late: May"
    assert row[5] == "Done, not measured NOT CLOSED"


def test_the_result_stands_beside_what_it_was_before() -> None:
    assert (
        cells(replace(ROW, result=say("19 of 20"), baseline=say("4 of 20")))[4] == "19 of 20; before: 4 of 20"
    )
    assert cells(ROW)[4] == "not measured"


def test_a_dropped_action_has_its_reason() -> None:
    assert (
        cells(replace(ROW, status=ActionStatus.DROPPED, reason=say("Pump withdrawn")))[5]
        == "Dropped: Pump withdrawn"
    )


def test_what_there_is_no_room_for_is_counted() -> None:
    blocks = slide(*[ROW] * 5).blocks
    assert isinstance(blocks[0], Table)
    assert len(blocks[0].rows) == 3
    assert isinstance(blocks[1], Paragraph)
    assert blocks[1].text.reveal() == "and 2 more in the log"
    assert len(slide(*[ROW] * 3).blocks) == 1


def test_the_headline_counts_what_matters() -> None:
    late = replace(ROW, passed=True)
    done = replace(ROW, status=ActionStatus.DONE)
    unmeasured = replace(ROW, status=ActionStatus.NOT_MEASURED)
    assert (
        slide(late, late, unmeasured, done).headline.reveal()
        == "Four previous actions: two late, one done and not measured."
    )
    assert slide(done).headline.reveal() == "One previous action: all closed."
    assert slide(ROW).headline.reveal() == "One previous action: none late."


def test_no_day_of_the_calendar_is_on_the_slide() -> None:
    assert "2031" not in told((slide(replace(ROW, due_day=date(2031, 5, 2), passed=True)),))
