"""Where the story stops, and that no chart or picture ahead of a stop shows what is asked there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import uses
from mmbuilder.analysis import build_timeline, cause_grid, cut
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.moment import Known, Moment
from mmbuilder.safe.terms import Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Picture, Slide, TimeChart
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides import course
from mmbuilder.storyboard.timing import needed
from tests.storyboard.sample import DECISIONS, EVENTS, at, sample
from tests.storyboard.telling import told

TOLD = (Use.REVIEW, Use.TEACHING)


def early() -> ScrubbedCase:
    """A case whose first decision was made before the first sign."""
    events = (EVENTS[0], replace(EVENTS[1], at=at(16)), *EVENTS[2:])
    return sample(events=events, frames=(replace(sample().frames[0], at=at(16)),))


def charts(slides: tuple[Slide, ...]) -> list[TimeChart]:
    return [block for slide in slides for block in slide.blocks if isinstance(block, TimeChart)]


@pytest.mark.parametrize("use", TOLD)
def test_no_chart_ahead_of_a_decision_shows_what_was_decided(use: Use) -> None:
    case = early()
    slides = compose(case, use).slides
    for decision in case.decisions:
        asked = next(
            place
            for place, slide in enumerate(slides)
            if slide.kind == "options" and slide.headline == decision.question
        )
        deed = next(event for event in case.events if event.number == decision.event)
        assert deed.what.reveal() not in told(slides[: asked + 1])
        for block in charts(slides[:asked]):
            shown = cut(block.chart)
            assert decision.number not in {number for number, _, _ in shown.decisions}
            assert deed.number not in {event.number for event in shown.events}


def test_a_time_known_only_about_is_cut_before_its_earliest() -> None:
    loose = Moment(12, 16, Known.ABOUT)
    events = tuple(replace(event, at=loose) if event.number == 3 else event for event in EVENTS)
    case = sample(events=events, decisions=(replace(DECISIONS[0], at=loose),))
    (block,) = (
        block
        for slide in compose(case, Use.TEACHING).slides
        if slide.kind == "timeline_slice"
        for block in charts((slide,))
    )
    assert block.chart.until is not None
    assert block.chart.until < 12


@pytest.mark.parametrize("use", TOLD)
def test_no_two_charts_ahead_of_the_outcome_are_the_same(use: Use) -> None:
    for case in (early(), sample()):
        shown = [cut(block.chart) for block in charts(compose(case, use).slides)]
        assert all(one != other for place, one in enumerate(shown) for other in shown[:place])


def test_a_picture_without_a_question_waits_until_all_are_asked() -> None:
    (frame,) = sample().frames
    plain = replace(
        frame, number=2, pause=False, event=3, at=None, caption=wording("Pushed against the wall")
    )
    kinds = [slide.kind for slide in compose(sample(frames=(frame, plain)), Use.TEACHING).slides]
    last = max(place for place, kind in enumerate(kinds) if kind == "options")
    assert [place > last for place, kind in enumerate(kinds) if kind == "frame_marked"] == [False, True]


def test_the_only_cut_takes_the_width_and_cuts_of_one_story_share_an_axis() -> None:
    alone = {use: next(iter(charts(compose(sample(), use).slides))).chart.alone for use in TOLD}
    assert alone == {Use.REVIEW: True, Use.TEACHING: False}


def test_a_picture_told_after_later_ones_says_when_it_was() -> None:
    # Common practice, no source.
    frame = replace(sample().frames[0], pause=False, at=at(3))
    slides = compose(sample(frames=(frame,)), Use.TEACHING).slides
    (picture,) = (
        block
        for slide in slides
        if slide.kind == "frame_marked"
        for block in slide.blocks
        if isinstance(block, Picture)
    )
    assert picture.caption.reveal().split(" · ")[0] == "T+0:03"


@pytest.mark.parametrize("minutes", [0.9, 1, 2.35, 4.25, 7.5])
def test_the_parts_of_the_middle_have_its_time_to_the_second(minutes: float) -> None:
    case, planned = sample(), uses.Planned(kind="course", minutes=minutes, frames=1, decisions=2)
    context = Context(case, build_timeline(case), cause_grid(case), uses.load(Use.REVIEW), planned)
    slides = course.make(context)
    assert len(slides) > 2
    assert sum(slide.seconds for slide in slides) == context.seconds


def test_what_is_told_in_the_middle_has_the_time_of_its_words_and_pauses_share_the_rest() -> None:
    """Common practice, no source: a choice takes longer to tell than the next chart."""
    case, planned = sample(), uses.Planned(kind="course", minutes=4.25, frames=1, decisions=2)
    context = Context(case, build_timeline(case), cause_grid(case), uses.load(Use.REVIEW), planned)
    slides = course.make(context)
    assert all(abs(one.seconds - needed(one)) <= 1 for one in slides if not one.pause)
    rest = [one.seconds - needed(one) for one in slides if one.pause]
    assert max(rest) - min(rest) <= 2 < min(rest)
