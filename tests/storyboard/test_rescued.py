"""The rescue as it went, in every use that tells the whole story."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Known, Moment
from mmbuilder.safe.terms import EventKind, Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Facts, Slide
from tests.storyboard.sample import EVENTS, at, sample


def rescued(use: Use = Use.REVIEW, **changes: object) -> Slide:
    (slide,) = [one for one in compose(sample(**changes), use).slides if one.kind == "rescued"]
    return slide


def lines(slide: Slide) -> dict[str, str]:
    (facts,) = slide.blocks
    assert isinstance(facts, Facts)
    return {label.reveal(): text.reveal() for label, text in facts.rows}


# Order: common practice, no source (timeline, then management, then outcome).
@pytest.mark.parametrize("use", [Use.REVIEW, Use.REPORT])
def test_it_stands_between_the_timeline_and_the_outcome(use: Use) -> None:
    kinds = [slide.kind for slide in compose(sample(), use).slides]
    place = kinds.index("rescued")
    assert kinds[place - 1 : place + 2] == ["timeline_whole", "rescued", "outcome"]


def test_it_goes_by_the_clock_from_the_recognition_and_says_from_which_mark_to_which() -> None:
    # By hand: recognised at 25, response at 27, resolution at 40 minutes.
    slide = rescued()
    assert (
        slide.headline.reveal() == "Recognition to response: 2\u00a0min; response to resolution: 13\u00a0min."
    )
    assert list(lines(slide).items()) == [
        ("T+0:25", "Recognised: Bearing found broken"),
        ("T+0:27", "Done: Spare trolley fetched"),
        ("T+0:40", "Under control: Journey ended safely"),
    ]


def test_help_that_came_after_the_first_deed_stands_below_it() -> None:
    late = Event(7, EventKind.CALL, wording("Porter called"), at(30))
    told = [label for label, _ in lines(rescued(events=(*EVENTS, late))).items()]
    assert told == ["T+0:25", "T+0:27", "T+0:30", "T+0:40"]


def test_what_has_a_dose_was_given_and_what_has_no_time_says_so() -> None:
    more = (
        Event(7, EventKind.RESPONSE, wording("Oil on the axle"), at(28), dose=wording("oil 2 mL")),
        Event(8, EventKind.CALL, wording("Porter called"), Moment(None, None, Known.ORDER_ONLY)),
    )
    told = lines(rescued(events=(*EVENTS, *more)))
    assert told["T+0:28"] == "Given: Oil on the axle"
    assert told["no time"] == "Help: Porter called"


def test_too_many_deeds_for_a_slide_share_lines_by_their_sort() -> None:
    calls = tuple(Event(10 + n, EventKind.CALL, wording("Porter called"), at(28 + n)) for n in range(10))
    told = lines(rescued(events=(*EVENTS, *calls)))
    assert list(told) == ["T+0:25", "T+0:27", "T+0:28", "T+0:40"]
    assert told["T+0:28"].startswith("Help: Porter called; T+0:29 Porter called; T+0:30 ")


def test_without_recognition_and_response_there_is_none() -> None:
    case = sample(events=EVENTS[:3], decisions=())
    board = compose(case, Use.REVIEW)
    assert "rescued" not in [slide.kind for slide in board.slides]
    assert any("rescue as it went" in text.reveal() for text in board.left_out)


def test_without_a_length_it_claims_none() -> None:
    assert rescued(events=EVENTS[:5]).headline.reveal() == "This is what was done once it was recognised."


def test_it_is_not_what_a_meeting_leaves_out_first() -> None:
    slides = compose(replace(sample(), use=Use.REVIEW)).slides
    assert next(slide.cut for slide in slides if slide.kind == "rescued") == 0
