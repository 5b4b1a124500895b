"""Time to tell, against the budget."""

from __future__ import annotations

import pytest

from mmbuilder.safe.terms import Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Bullets, Callout, Facts, Paragraph, Slide, Storyboard
from mmbuilder.storyboard.timing import NEVER_CUT, needed, timing
from tests.storyboard.sample import sample

TEN = wording("one two three four five six seven eight nine ten")


def slide(words: int, kind: str = "events", *, pause: bool = False, seconds: int = 60) -> Slide:
    blocks = (Bullets((TEN,) * (words // 10)),)
    return Slide(kind, wording(""), blocks, seconds=seconds, pause=pause)


def board(*slides: Slide) -> Storyboard:
    return Storyboard(TEN, TEN, TEN, slides, TEN)


# 130 words a minute, 20 s of silence: common practice, no source.
def test_a_hundred_and_thirty_words_take_a_minute() -> None:
    assert needed(slide(130)) == 60


def test_a_pause_waits_twenty_seconds() -> None:
    assert needed(slide(130, pause=True)) == 80


def test_every_word_that_is_read_is_counted() -> None:
    blocks = (Paragraph(TEN), Callout(TEN), Facts(((TEN, TEN),)), Bullets((TEN,), TEN))
    assert needed(Slide("held", TEN, blocks)) == round(70 * 60 / 130)


def test_what_fits_is_not_cut() -> None:
    assert timing(board(slide(130), slide(130)), 120).to_cut == ()


def test_the_longest_that_may_go_goes_first() -> None:
    timed = timing(board(slide(130), slide(260), slide(130)), 200)
    assert [one.number for one in timed.to_cut] == [2]


def test_what_a_meeting_must_have_is_never_cut() -> None:
    timed = timing(board(slide(390, "actions"), slide(130)), 60)
    assert [one.number for one in timed.to_cut] == [2]


def test_the_clock_runs_by_the_budgets() -> None:
    timed = timing(board(slide(10, seconds=45), slide(10), slide(10)), 180)
    assert [one.starts for one in timed.slides] == [0, 45, 105]


@pytest.mark.parametrize("use", Use)
def test_a_deck_that_is_too_long_fits_after_the_cuts(use: Use) -> None:
    whole = timing(compose(sample(), use), 200)
    left = whole.needs - sum(one.needs for one in whole.to_cut)
    musts = sum(one.needs for one in whole.slides if one.slide.kind in NEVER_CUT)
    assert left <= max(200, musts)
