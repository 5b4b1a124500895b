"""The rescue as it went, in every use that tells the whole story."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import labels
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Known, Moment
from mmbuilder.safe.terms import EventKind, Noticed, Recognised, Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Facts, Slide
from tests.storyboard.sample import EVENTS, at, sample, say


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


def test_it_goes_by_the_clock_from_the_recognition_and_counts_on_from_the_timeline() -> None:
    # By hand: first sign at 10, recognised at 25, response at 27, resolution at 40 minutes.
    slide = rescued()
    assert slide.headline.reveal() == "This is how the rescue went; response to resolution: 13\u00a0min."
    assert list(lines(slide).items()) == [
        ("T+0:10", "First sign: Squeak from the wheel"),
        ("T+0:25", "Recognised: Bearing found broken"),
        ("T+0:27", "Response: Spare trolley fetched"),
        ("T+0:40", "Resolution: Journey ended safely"),
    ]


def test_a_complication_from_before_the_recognition_stands_among_the_signs() -> None:
    torn = Event(7, EventKind.COMPLICATION, wording("Wheel off"), at(12))
    later = Event(8, EventKind.COMPLICATION, wording("Axle bent"), at(26))
    told = lines(rescued(events=tuple(sorted((*EVENTS, torn, later), key=lambda event: event.at.lo or 0))))
    assert list(told.items())[:4] == [
        ("T+0:10", "First sign: Squeak from the wheel"),
        ("T+0:12", "Complication: Wheel off"),
        ("T+0:25", "Recognised: Bearing found broken"),
        ("T+0:26", "Complication: Axle bent"),
    ]


# practice.md (b) 2: more than one first sign (earliest visible in hindsight; earliest anyone noted), and
# more than one recognition (of the complication; of its cause).
def test_the_sign_seen_in_hindsight_and_the_one_noted_then_both_stand_there_and_the_cause_by_its_name() -> (
    None
):
    more = (
        Event(7, EventKind.FIRST_SIGN, wording("Wheel hot"), at(8), noticed=Noticed.IN_HINDSIGHT),
        Event(8, EventKind.FIRST_SIGN, wording("Smoke"), at(20), noticed=Noticed.AT_THE_TIME),
        Event(9, EventKind.RECOGNITION, wording("Grease gone"), at(30), recognised=Recognised.CAUSE),
    )
    told = lines(rescued(events=tuple(sorted((*EVENTS, *more), key=lambda event: event.at.lo or 0))))
    assert told["T+0:08"] == "First sign, in hindsight: Wheel hot"
    assert told["T+0:20"] == "First sign, noted: Smoke"
    assert "T+0:10" not in told
    assert told["T+0:30"] == "Cause: Grease gone"


def test_help_that_came_after_the_first_deed_stands_below_it() -> None:
    late = Event(7, EventKind.CALL, wording("Porter called"), at(30))
    told = [label for label, _ in lines(rescued(events=(*EVENTS, late))).items()]
    assert told == ["T+0:10", "T+0:25", "T+0:27", "T+0:30", "T+0:40"]


def test_harm_that_came_after_the_recognition_stands_among_what_was_done() -> None:
    harm = Event(7, EventKind.COMPLICATION, wording("Wheel came off"), at(35))
    assert lines(rescued(events=(*EVENTS, harm)))["T+0:35"] == "Complication: Wheel came off"


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
    assert list(told) == ["T+0:10", "T+0:25", "T+0:27", "T+0:28", "T+0:40"]
    assert told["T+0:28"].startswith("Help: Porter called; Porter called (T+0:29); Porter called (T+0:30)")


def test_what_is_done_after_the_response_shares_its_line_where_there_are_too_many() -> None:
    deeds = tuple(Event(10 + n, EventKind.ACTION, wording("Wheel greased"), at(28 + n)) for n in range(10))
    told = lines(rescued(events=(*EVENTS, *deeds)))
    assert list(told) == ["T+0:10", "T+0:25", "T+0:27", "T+0:40"]
    assert told["T+0:27"].startswith("Response: Spare trolley fetched; Wheel greased (T+0:28); ")


def test_where_that_is_still_too_many_help_deeds_and_drugs_share_lines_between_what_was_recognised() -> None:
    kinds = (EventKind.CALL, EventKind.ACTION, EventKind.DRUG, EventKind.ARRIVAL)
    more = tuple(Event(10 + n, kinds[n % 4], wording("Wheel greased"), at(25.1 + n / 10)) for n in range(12))
    cause = Event(30, EventKind.RECOGNITION, wording("Grease gone"), at(26.5), recognised=Recognised.CAUSE)
    hot = Event(31, EventKind.FIRST_SIGN, wording("Wheel hot"), at(8), noticed=Noticed.IN_HINDSIGHT)
    noted = Event(32, EventKind.FIRST_SIGN, wording("Smoke"), at(20), noticed=Noticed.AT_THE_TIME)
    events = sorted((*EVENTS, *more, cause, hot, noted), key=lambda event: event.at.lo or 0)
    (facts,) = rescued(events=tuple(events)).blocks
    assert isinstance(facts, Facts)
    told = [text.reveal() for _, text in facts.rows]
    assert [words.split(":")[0] for words in told] == [
        *("First sign, in hindsight", "First sign, noted", "Recognised"),
        told[3].split(":")[0],  # of several sorts: no word stands before it that would be wrong of some
        *("Cause", "Response", "Resolution"),
    ]
    assert told[3].startswith("Wheel greased; Wheel greased (T+0:25)")
    assert told[3].count("Wheel greased") == len(more)


@pytest.mark.parametrize(("more", "lost"), [(6, 0), (7, 1), (8, 0)])
def test_where_a_slide_is_full_the_sign_that_was_noted_stands_beside_the_first(more: int, lost: int) -> None:
    # Eleven lines stand on a sheet; twelve do, one fewer; thirteen take two in any case.
    kinds = (EventKind.COMPLICATION, EventKind.RESOLUTION)  # nothing shares a line
    later = tuple(Event(10 + n, kinds[n % 2], wording("Wheel off"), at(41 + n)) for n in range(more))
    hot = Event(31, EventKind.FIRST_SIGN, wording("Wheel hot"), at(8), noticed=Noticed.IN_HINDSIGHT)
    noted = Event(32, EventKind.FIRST_SIGN, wording("Smoke"), at(20), noticed=Noticed.AT_THE_TIME)
    events = sorted((*EVENTS, hot, noted, *later), key=lambda event: event.at.lo or 0)
    told = lines(rescued(events=tuple(events)))
    assert len(told) == 5 + more - lost
    assert told["T+0:08"].startswith("First sign, in hindsight: Wheel hot")
    assert ("noted: Smoke (T+0:20)" in told["T+0:08"]) == bool(lost)


def test_without_recognition_and_response_there_is_none() -> None:
    case = sample(events=EVENTS[:3], decisions=())
    board = compose(case, Use.REVIEW)
    assert "rescued" not in [slide.kind for slide in board.slides]
    assert any("rescue as it went" in text.reveal() for text in board.left_out)


def test_it_claims_no_length_that_is_not_known() -> None:
    for events in (EVENTS[:5], EVENTS[3:5]):
        headline = rescued(events=events).headline.reveal()
        assert headline == "This is how the rescue went."


@pytest.mark.parametrize("use", [Use.REVIEW, Use.REPORT])
@pytest.mark.parametrize("events", [EVENTS, EVENTS[:5], EVENTS[3:]])
def test_it_does_not_say_again_what_the_timeline_said(use: Use, events: tuple[Event, ...]) -> None:
    # Common practice, no source: two slides in a row with one headline look like one slide twice.
    headlines = [one.headline for one in compose(sample(events=events), use).slides]
    assert len(set(headlines)) == len(headlines)


def test_it_says_the_same_in_another_language_of_the_same_run() -> None:
    assert rescued().headline.reveal().startswith("This is how the rescue went")
    with labels.speaking("de"):
        told = rescued()
        assert told.headline.reveal() == "So verlief die Rettung; Reaktion bis Behebung: 13\u00a0min."
        assert lines(told)["T+0:27"] == "Reaktion: Spare trolley fetched"


def test_it_is_not_what_a_meeting_leaves_out_first() -> None:
    slides = compose(replace(sample(), use=Use.REVIEW)).slides
    first = min(slide.cut for slide in slides if slide.cut)
    assert next(slide.cut for slide in slides if slide.kind == "rescued") != first


def test_a_decision_that_the_deck_has_no_time_for_is_told_where_it_was_made() -> None:
    case = sample()
    first = case.decisions[0]
    made = [replace(first, number=number, at=at(minute)) for number, minute in ((1, 5), (2, 15), (3, 30))]
    told = lines(rescued(decisions=tuple(made)))
    assert told["T+0:30"] == f"Decided: {first.options[first.chosen].what.reveal()}"
    assert [words for words in told.values() if words.startswith("Decided")] == [told["T+0:30"]]
    early = [*made[:2], replace(made[2], at=at(20))]  # nothing was recognised yet
    assert not any(words.startswith("Decided") for words in lines(rescued(decisions=tuple(early))).values())


def test_what_stops_at_no_decision_tells_none_here() -> None:
    case = sample()
    made = (replace(case.decisions[0], at=at(30)),)
    assert not any("Decided" in words for words in lines(rescued(Use.REPORT, decisions=made)).values())


@pytest.mark.parametrize(
    ("kind", "written", "line"),
    [
        (EventKind.RECOGNITION, "recognised: bearing broken", "Recognised: bearing broken"),
        (EventKind.RECOGNITION, "Recognised by the porter", "Recognised by the porter"),
        (EventKind.CALL, "call for help - second porter", "Call for help - second porter"),
        (EventKind.CALL, "second porter, who could help", "Help: second porter, who could help"),
        (EventKind.CALL, "helpdesk rung", "Help: helpdesk rung"),
    ],
)
def test_what_label_and_text_begin_with_is_said_once(kind: EventKind, written: str, line: str) -> None:
    more = Event(7, kind, say(written), at(39))
    assert lines(rescued(events=(*EVENTS[:-1], more, EVENTS[-1])))["T+0:39"] == line


def test_a_sign_keeps_when_it_was_noticed() -> None:
    noted = Event(7, EventKind.FIRST_SIGN, say("First sign: smoke"), at(5), noticed=Noticed.IN_HINDSIGHT)
    assert lines(rescued(events=(noted, *EVENTS)))["T+0:05"] == "First sign, in hindsight: smoke"


def test_the_label_is_said_once_in_the_language_of_the_reader() -> None:
    more = Event(7, EventKind.CALL, say("Hilfe gerufen"), at(39))
    slide = rescued(events=(*EVENTS[:-1], more, EVENTS[-1]))
    with labels.speaking("de"):
        assert lines(slide)["T+0:39"] == "Hilfe gerufen"


@pytest.mark.parametrize("came", [True, False])
def test_the_presenter_says_who_came_only_where_somebody_was_called(came: bool) -> None:
    more = (Event(7, EventKind.CALL, say("Second porter"), at(39)),) if came else ()
    (note,) = rescued(events=(*EVENTS[:-1], *more, EVENTS[-1])).notes
    assert ("who came" in note.reveal()) is came
