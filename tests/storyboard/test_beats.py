"""Where the story stops, and that no chart or picture ahead of a stop shows what is asked there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import uses
from mmbuilder.analysis import build_timeline, cause_grid, cut
from mmbuilder.safe.case import Frame, ScrubbedCase
from mmbuilder.safe.moment import Known, Moment
from mmbuilder.safe.terms import Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Picture, Slide, TimeChart
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides import course
from mmbuilder.storyboard.timing import needed
from tests.storyboard.sample import DECISIONS, EVENTS, at, sample, say
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


def test_ahead_of_a_decision_with_which_it_all_began_no_empty_chart_stands() -> None:
    first = replace(DECISIONS[0], event=EVENTS[0].number, at=EVENTS[0].at)
    slides = compose(sample(decisions=(first, DECISIONS[1]), frames=()), Use.TEACHING).slides
    drawn = [cut(block.chart).events for block in charts(slides)]
    assert drawn
    assert all(drawn)


@pytest.mark.parametrize("use", TOLD)
def test_no_two_charts_ahead_of_the_outcome_are_the_same(use: Use) -> None:
    for case in (early(), sample()):
        shown = [cut(block.chart) for block in charts(compose(case, use).slides)]
        assert all(one != other for place, one in enumerate(shown) for other in shown[:place])


def plain(**changes: object) -> Frame:
    (frame,) = sample().frames
    told = {"number": 2, "pause": False, "at": None, "event": None, "arrows": (), **changes}
    return replace(frame, **told)  # type: ignore[arg-type]


def order(*frames: Frame, **changes: object) -> list[str]:
    """What the middle of a teaching deck stops at or explains, by its headline."""
    slides = compose(sample(frames=(*sample().frames, *frames), **changes), Use.TEACHING).slides
    told = ("frame", "frame_marked", "options")
    return [slide.headline.reveal() for slide in slides if slide.kind in told]


SEEN = ["What do you see at T+0:14?", "The axle stands out of line."]
ASKED = ["What would you do about the noise?", "Where would you go from here?"]


# Common practice, no source: a picture is told where it belongs, if it gives no answer there.
def test_a_picture_without_a_question_stands_where_its_time_lies() -> None:
    door = wording("Door held open")
    assert order(plain(at=at(3), caption=door, shows=door)) == ["Door held open.", *SEEN, *ASKED]
    assert order(plain(at=at(17), caption=door, shows=door)) == [*SEEN, ASKED[0], "Door held open.", ASKED[1]]


def test_a_picture_of_what_was_decided_waits_until_that_was_asked() -> None:
    pushed = wording("Pushed against the wall")
    told = order(plain(event=3, caption=pushed, shows=pushed))
    assert told == [*SEEN, ASKED[0], "Pushed against the wall.", ASKED[1]]


def test_a_picture_whose_time_nobody_knows_waits_until_all_are_asked() -> None:
    assert order(plain(caption=wording("The corridor")))[-1] == "The corridor."


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ("The bearing lies on the floor", 4),  # held back until the recognition, at the second decision
        ("A second one stood in the next room", 4),  # the reason of the second decision
        ("The carrier with its load, swapped before", 0),  # words that the room reads as options
        ("The corridor at night", 0),
    ],
)
def test_a_picture_that_tells_an_answer_waits_until_that_was_asked(words: str, place: int) -> None:
    told = order(plain(at=at(3), caption=say(words), shows=say("The corridor")))
    assert told.index(f"{words}.") == place


def test_a_picture_tells_no_answer_by_words_that_the_story_has_told_by_then() -> None:
    early_words = "A second one stood in the next room"  # else of the reason of the second decision
    told_before = replace(EVENTS[0], what=say(early_words))
    frame = plain(at=at(3), caption=say(early_words), shows=say("The corridor"))
    assert order(frame, events=(told_before, *EVENTS[1:])).index(f"{early_words}.") == 0


def test_a_picture_nobody_was_asked_about_stands_on_no_slide_of_a_pause() -> None:
    # practice.md (a): a pause slide carries one question and nothing else new.
    frame = plain(at=at(3), caption=wording("Door held open"))
    slides = compose(sample(frames=(frame,))).slides
    assert not [
        slide for slide in slides if slide.pause and any(isinstance(b, Picture) for b in slide.blocks)
    ]
    assert "frame_marked" in {slide.kind for slide in slides}


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
