"""Time to tell, against the budget."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.formats import deck_pptx
from mmbuilder.safe.case import Action
from mmbuilder.safe.terms import Strength, Use
from mmbuilder.safe.text import join, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import (
    Bullets,
    Callout,
    Cell,
    Facts,
    Paragraph,
    Picture,
    Slide,
    Storyboard,
    Table,
    Tone,
)
from mmbuilder.storyboard.timing import LOOK, guessed, needed, timing
from tests.storyboard.sample import picture, sample, say

TEN = wording("one two three four five six seven eight nine ten")


def slide(words: int, *, pause: bool = False, seconds: int = 60, cut: int = 0, sheets: int = 1) -> Slide:
    blocks = (Bullets((TEN,) * (words // 10)),)
    return Slide("events", wording(""), blocks, seconds=seconds, pause=pause, cut=cut, sheets=sheets)


def board(*slides: Slide, discussion: int = 0) -> Storyboard:
    return Storyboard(TEN, TEN, TEN, slides, TEN, discussion=discussion)


# 130 words a minute, 20 s of silence: common practice, no source.
def test_a_hundred_and_thirty_words_take_a_minute() -> None:
    assert needed(slide(130)) == 60


def test_a_pause_waits_twenty_seconds_and_what_stands_on_it_is_read() -> None:
    assert needed(slide(240, pause=True)) == 80


def test_every_word_that_is_read_is_counted() -> None:
    blocks = (Paragraph(TEN), Callout(TEN), Facts(((TEN, TEN),)), Bullets((TEN,), TEN))
    assert needed(Slide("held", TEN, blocks)) == round(70 * 60 / 130)


def test_small_print_is_not_read_out() -> None:
    assert needed(Slide("title", TEN, (Paragraph(TEN), Paragraph(TEN, Tone.QUIET)))) == round(20 * 60 / 130)


# From a tenth above: the rates have no source, and no second of them is certain.
@pytest.mark.parametrize(("seconds", "over"), [(60, 0), (55, 0), (54, 6), (30, 30)])
def test_a_slide_is_over_from_a_tenth_above_its_budget(seconds: int, over: int) -> None:
    (timed,) = timing(board(slide(130, seconds=seconds))).slides
    assert timed.over == over


def test_a_table_is_read_and_not_read_out() -> None:
    table = Table((TEN,), ((Cell(TEN),),) * 23, (1,), TEN)
    assert needed(Slide("actions", wording(""), (table,))) == 60


def test_what_fits_is_not_cut() -> None:
    assert timing(board(slide(130, cut=1), slide(130)), 120).to_cut == ()


def test_slides_are_cut_in_the_order_of_the_use_and_no_more_than_need_be() -> None:
    timed = timing(board(slide(130, cut=2), slide(260), slide(130, cut=1), slide(130, cut=3)), 200)
    assert [one.number for one in timed.to_cut] == [1, 3]


def test_what_a_slide_of_several_sheets_makes_up_for_is_not_cut_as_well() -> None:
    slides = (slide(10, cut=1), slide(10, cut=2, sheets=2), slide(10), slide(10))
    whole = board(*slides)
    assert [one.number for one in timing(replace(whole, most=4)).to_cut] == [1]
    assert [one.number for one in timing(replace(whole, most=3)).to_cut] == [2]
    assert [one.number for one in timing(replace(whole, most=2)).to_cut] == [1, 2]


def test_what_a_meeting_must_have_is_never_cut() -> None:
    timed = timing(board(slide(390), slide(130, cut=1)), 60)
    assert [one.number for one in timed.to_cut] == [2]


def test_the_time_of_the_room_is_kept_free() -> None:
    slides = (slide(130, cut=1), slide(130))
    assert timing(board(*slides, discussion=60), 180).to_cut == ()
    assert timing(board(*slides, discussion=69), 180).to_cut == ()
    assert [one.number for one in timing(board(*slides, discussion=70), 180).to_cut] == [1]


def test_the_silence_of_a_pause_is_the_rooms() -> None:
    assert timing(board(slide(240, pause=True), slide(130)), 200).left == 80


def test_a_slide_is_called_by_the_numbers_of_its_sheets() -> None:
    timed = timing(board(slide(130), slide(130, cut=1, sheets=2), slide(130)), 60)
    assert [list(one.sheets) for one in timed.slides] == [[1], [2, 3], [4]]


def test_the_clock_runs_by_the_budgets() -> None:
    timed = timing(board(slide(10, seconds=45), slide(10), slide(10)), 180)
    assert [one.starts for one in timed.slides] == [0, 45, 105]


# Seen on a finished deck, in which such a row is three lines high: four rows stand on one sheet, six on two.
@pytest.mark.parametrize(("rows", "sheets"), [(1, 1), (4, 1), (6, 2), (12, 3)])
def test_a_long_table_is_thought_to_take_more_sheets(rows: int, sheets: int) -> None:
    cell = Cell(join("", (wording("The request asked about a leak and named the bruise, and nobody "),) * 3))
    table = Table((TEN, TEN), ((cell, Cell(TEN)),) * rows, (1, 1), TEN)
    assert guessed(Slide("cause_grid", TEN, (table,))) == sheets


def test_a_drawing_takes_a_sheet_beside_its_table() -> None:
    table = Table((TEN,), ((Cell(TEN),),), (1,), TEN)
    figure = Picture(picture(), TEN)
    assert guessed(Slide("follow_up", TEN, (figure, table))) == 2
    assert guessed(Slide("options", TEN, (figure, table), beside=True)) == 1


@pytest.mark.parametrize("use", Use)
def test_a_deck_that_is_too_long_fits_after_the_cuts(use: Use) -> None:
    whole = timing(compose(sample(), use), 200)
    freed = sum(one.needs for one in whole.to_cut)
    assert whole.left + freed > whole.discussion - LOOK or len(whole.to_cut) == sum(
        bool(one.slide.cut) for one in whole.slides
    )


def test_labelled_lines_stand_apart_and_take_more_sheets_for_it() -> None:
    """Seen on finished decks: ten of two lines each take two sheets, five of two one."""
    ten = Facts(((say("T+0:10"), say("word " * 20)),) * 10)
    five = Facts(((say("T+0:10"), say("word " * 30)),) * 5)
    assert guessed(Slide("rescued", TEN, (ten,))) == 2
    assert guessed(Slide("rescued", TEN, (five,))) == 1


def test_a_headline_of_two_lines_leaves_less_of_the_sheet() -> None:
    """Seen on a finished deck: eleven lines are one sheet under a short headline."""
    lines = Facts(((say("T+0:10"), say("Helped")),) * 11)
    short = say("This is how the rescue went; response to resolution: 31 min.")
    long = say("This is how the rescue went; response to resolution: 17 h 29 min.")
    assert guessed(Slide("rescued", short, (lines,))) == 1
    assert guessed(Slide("rescued", long, (lines,))) == 2


# A row is never torn, and a headline that says which sheet it is may take a second line.
@pytest.mark.parametrize("words", [3, 5, 8, 14])
def test_long_actions_take_no_more_sheets_than_guessed(words: int) -> None:
    many = tuple(
        Action(
            number,
            say("one size of clip on each tray " * words),
            Strength.STRONGER,
            owner=say("lead theatre practitioner for laparoscopy and day surgery"),
            due=say("September"),
            measure=say("trays with one size of clip, counted by the store " * words),
        )
        for number in range(1, 6)
    )
    (told,) = (one for one in compose(sample(actions=many)).slides if one.kind == "actions")
    (laid,) = deck_pptx.lay_out(board(told)).board.slides
    assert 1 < laid.sheets <= guessed(told) <= laid.sheets + 1
