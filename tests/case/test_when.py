from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError
from pydantic_core import PydanticCustomError

from mmbuilder.case.freetext import Scalar
from mmbuilder.case.when import Day, Duration, Stamp, When, parse_day, parse_duration, parse_when
from mmbuilder.safe.moment import Known

MINUTES = st.integers(0, 1439)


def at(
    hours: int, minutes: int = 0, seconds: int = 0, day: int | date | None = None, step: int = 60
) -> Stamp:
    return Stamp(hours * 3600 + minutes * 60 + seconds, day, step)


def refused(text: str) -> PydanticCustomError:
    with pytest.raises(PydanticCustomError) as caught:
        parse_when(text)
    return caught.value


def beats(fault: PydanticCustomError) -> dict[str, str]:
    assert fault.context is not None
    assert set(fault.context) == {"found", "expected", "why", "example"}
    return fault.context


@pytest.mark.parametrize(
    ("text", "stamp"),
    [
        ("0930", at(9, 30)),
        ("930", at(9, 30)),
        ("09:30", at(9, 30)),
        ("9.30", at(9, 30)),
        ("9.30am", at(9, 30)),
        ("9:30 pm", at(21, 30)),
        ("9 p.m.", at(21)),
        ("12:30am", at(0, 30)),
        ("12.30 p.m.", at(12, 30)),
        ("noon", at(12)),
        ("09:30:15", at(9, 30, 15, step=1)),
        ("09:30:15.250", at(9, 30, 15, step=1)),
        ("14h20", at(14, 20)),
        ("0930 hrs", at(9, 30)),
        ("at 14:20", at(14, 20)),
        ("00:00", at(0)),
        ("24:00", at(24)),
        ("“14:20”", at(14, 20)),
        ("14:20\u00a0", at(14, 20)),
        ("\u200e14:20", at(14, 20)),
        ("１４：２０", at(14, 20)),
        ("day 2 06:30", at(6, 30, day=2)),
        ("Day 2, 06:30", at(6, 30, day=2)),
        ("06:30 day 2", at(6, 30, day=2)),
        ("06:30 on day 2", at(6, 30, day=2)),
        ("D2 0630", at(6, 30, day=2)),
        ("day −1 18:00", at(18, day=-1)),
        ("+1 day 00:20", at(0, 20, day=1)),
        ("00:20 +1 day", at(0, 20, day=1)),
        ("day 2", at(0, day=2, step=86400)),
        ("POD 3", at(0, day=3, step=86400)),
        ("post-op day 3", at(0, day=3, step=86400)),
        ("2026-03-14 06:30", at(6, 30, day=date(2026, 3, 14))),
        ("2026-03-14T06:30:10", at(6, 30, 10, date(2026, 3, 14), 1)),
        ("2026‑03‑14 06:30", at(6, 30, day=date(2026, 3, 14))),
        ("14 March 2026 06:30", at(6, 30, day=date(2026, 3, 14))),
        ("06:30, 14 March 2026", at(6, 30, day=date(2026, 3, 14))),
        ("14th of March 2026 at 9.30 pm", at(21, 30, day=date(2026, 3, 14))),
        ("March 14, 2026 06:30", at(6, 30, day=date(2026, 3, 14))),
        ("14-Mar-2026", at(0, day=date(2026, 3, 14), step=86400)),
        ("13/04/2025 06:30", at(6, 30, day=date(2025, 4, 13))),
        ("04/13/2025", at(0, day=date(2025, 4, 13), step=86400)),
        ("04.04.2025", at(0, day=date(2025, 4, 4), step=86400)),
        ("29 Feb 2028", at(0, day=date(2028, 2, 29), step=86400)),
    ],
)
def test_single_times(text: str, stamp: Stamp) -> None:
    assert parse_when(text) == When(Known.EXACT, stamp, stamp)


@pytest.mark.parametrize(
    ("text", "within"),
    [
        ("~14:20", None),
        ("about 14:20", None),
        ("approx. 14:20", None),
        ("c. 14:20", None),
        ("14:20ish", None),
        ("≈14:20 ±5", 300),
        ("14:20±5", 300),
        ("14:20 +/- 5 min", 300),
        ("14:20 give or take 5 minutes", 300),
        ("14:20 ± 30 s", 30),
    ],
)
def test_about(text: str, within: int | None) -> None:
    assert parse_when(text) == When(Known.ABOUT, at(14, 20), at(14, 20), within=within)


@pytest.mark.parametrize(
    "text",
    [
        *("14:15-14:20", "14:15–14:20", "14:15 − 14:20", "1415-1420", "14.15-14.20"),
        *(
            "14:15 or 14:20",
            "14:15 or maybe 14:20",
            "14:15 to 14:20",
            "between 14:15 and 14:20",
            "from 14:15 to 14:20",
            "14:15 until 14:20",
        ),
        *("after 14:15, before 14:20", "before 14:20, after 14:15", "before 14:20 and after 14:15"),
    ],
)
def test_between(text: str) -> None:
    assert parse_when(text) == When(Known.BETWEEN, at(14, 15), at(14, 20))


def test_one_bound() -> None:
    assert parse_when("after 13:00") == When(Known.AFTER, at(13), None)
    assert parse_when("before 13:00") == When(Known.BEFORE, None, at(13))
    assert parse_when("by 13:00") == When(Known.BEFORE, None, at(13))
    assert parse_when("after about 13:00") == When(Known.AFTER, at(13), None, loose=True)


@pytest.mark.parametrize("text", ["unknown", "Unknown", "not recorded", "time not recorded", "?"])
def test_unknown(text: str) -> None:
    assert parse_when(text) == When(Known.UNKNOWN)


@pytest.mark.parametrize("text", ["order only", "order known, time unknown"])
def test_order_only(text: str) -> None:
    assert parse_when(text) == When(Known.ORDER_ONLY)


@pytest.mark.parametrize(
    ("text", "clock", "seconds", "step"),
    [
        ("video 0:48:10", "video", 2890, 1),
        ("video 48:10", "video", 2890, 1),
        ("video 48 min 10 s", "video", 2890, 1),
        ("video 48 min", "video", 2880, 60),
        ("file 2 06:15", "file 2", 375, 1),
        ("file 2 at 06:15", "file 2", 375, 1),
        ("06:15 into file 2", "file 2", 375, 1),
        ("video file 2 06:15", "file 2", 375, 1),
        ("Video 2, 06:15", "video 2", 375, 1),
    ],
)
def test_time_into_a_recording(text: str, clock: str, seconds: int, step: int) -> None:
    stamp = Stamp(seconds, None, step)
    assert parse_when(text) == When(Known.EXACT, stamp, stamp, clock=clock, elapsed=True)


def test_uncertain_time_into_a_recording() -> None:
    first, last = Stamp(375, None, 1), Stamp(400, None, 1)
    assert parse_when("video 06:15-06:40") == When(Known.BETWEEN, first, last, clock="video", elapsed=True)
    assert parse_when("about video 06:15") == When(Known.ABOUT, first, first, clock="video", elapsed=True)
    assert parse_when("before file 2 06:15") == When(Known.BEFORE, None, first, clock="file 2", elapsed=True)


def test_a_range_over_midnight_needs_no_day() -> None:
    assert parse_when("23:50-00:10") == When(Known.BETWEEN, at(23, 50), at(0, 10))
    assert parse_when("day 2 23:50 to 00:10").last == at(0, 10, day=3)
    assert parse_when("31 Dec 2027 23:50 - 00:10").last == at(0, 10, day=date(2028, 1, 1))


def test_days_as_a_range() -> None:
    both = (at(0, day=2, step=86400), at(0, day=4, step=86400))
    for text in ("day 2-4", "days 2 to 4", "day 2 to day 4"):
        assert parse_when(text) == When(Known.BETWEEN, *both)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("25:00", "time-out-of-range"),
        ("24:01", "time-out-of-range"),
        ("9.75", "time-out-of-range"),
        ("video 6:75", "time-out-of-range"),
        ("13:30 pm", "time-am-pm"),
        ("0:30 am", "time-am-pm"),
        ("midnight", "time-ambiguous"),
        ("14:20-14:10", "time-range-reversed"),
        ("after 14:20, before 14:10", "time-range-reversed"),
        ("day 4 to day 2", "time-range-reversed"),
        ("2026-03-14T06:30Z", "time-zone"),
        ("2026-03-14 06:30+01:00", "time-zone"),
        ("14 March 06:30", "date-no-year"),
        ("03/04/2025", "date-ambiguous"),
        ("03.04.2025 10:00", "date-ambiguous"),
        ("3-4-2025", "date-ambiguous"),
        ("10:00 on 03/04/2025", "date-ambiguous"),
        ("03/04/2025 10:00 - 10:20", "date-ambiguous"),
        ("13/04/25", "date-two-digit-year"),
        ("13 Apr 25", "date-two-digit-year"),
        ("29 Feb 2027", "date-not-in-calendar"),
        ("2026-02-30", "date-not-in-calendar"),
        ("31 April 2027 10:00", "date-not-in-calendar"),
        ("video 1 h 2:05", "duration-not-read"),
        ("video 48", "time-not-read"),
        ("14:20 ± 0:05", "duration-ambiguous"),
        ("14:15-20", "time-not-read"),
        ("when the tide turned", "time-not-read"),
        ("after", "time-not-read"),
        ("after 13:00 or so they say", "time-not-read"),
        ("video", "time-not-read"),
        ("-", "time-not-read"),
        ("", "time-not-read"),
    ],
)
def test_asked_and_never_guessed(text: str, code: str) -> None:
    fault = refused(text)
    assert fault.type == code
    assert all(beats(fault).values())


def test_an_ambiguous_date_gets_both_readings_as_an_example() -> None:
    example = beats(refused("03/04/2025"))["example"]
    readings = [parse_day(part.split(" if ")[0]) for part in example.split(", ")]
    assert len({reading.date for reading in readings}) == 2
    assert {(r.date.day, r.date.month) for r in readings} == {(1, 2), (2, 1)}


def test_the_leap_day_is_explained() -> None:
    assert "not a leap year" in beats(refused("29 Feb 2027"))["found"]


@given(st.dates(date(1900, 1, 1), date(2100, 12, 31)), st.sampled_from(["%d/%m/%Y", "%m.%d.%Y", "%d-%m-%y"]))
def test_no_refusal_repeats_a_date(day: date, form: str) -> None:
    text = day.strftime(form)
    try:
        parse_when(text)
    except PydanticCustomError as fault:
        told = f"{fault} {fault.context}"
        assert text not in told
        # The year of the examples is ours.
        assert str(day.year) not in told or day.year == 2001


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused_in_words_without_repeating_it(text: str) -> None:
    try:
        parse_when(text)
    except PydanticCustomError as fault:
        words = beats(fault)
        letters = [word for word in text.split() if len(word) > 3 and word.isalpha() and not word.isascii()]
        assert not any(word in " ".join(words.values()) for word in letters)


@given(MINUTES)
def test_round_trip_of_the_ways_to_write_a_clock_time(minute: int) -> None:
    hours, minutes = divmod(minute, 60)
    half, hour = ("am", "pm")[hours // 12], hours % 12 or 12
    ways = [
        f"{hours:02d}:{minutes:02d}",
        f"{hours}.{minutes:02d}",
        f"{hours:02d}{minutes:02d}",
        f"{hour}.{minutes:02d}{half}",
        f"{hour}:{minutes:02d} {half[0]}.m.",
        f"day 0 {hours:02d}:{minutes:02d}",
    ]
    found = [parse_when(way).first for way in ways]
    assert {stamp and stamp.seconds for stamp in found} == {minute * 60}


@given(MINUTES, MINUTES)
def test_round_trip_of_a_range(start: int, end: int) -> None:
    text = f"{start // 60:02d}:{start % 60:02d}-{end // 60:02d}:{end % 60:02d}"
    length = (end - start) % 1440
    if end < start and length > 720:
        assert refused(text).type == "time-range-reversed"
    else:
        when = parse_when(text)
        assert when.first is not None
        assert when.last is not None
        assert (when.first.seconds, when.last.seconds) == (start * 60, end * 60)


@given(st.dates(date(1950, 1, 1), date(2150, 1, 1)))
def test_round_trip_of_dates(day: date) -> None:
    # The calendar of the standard library is the reference.
    for form in ("%Y-%m-%d", "%d %B %Y", "%d %b %Y", "%B %d, %Y", "%Y/%m/%d"):
        assert parse_day(day.strftime(form)).date == day


@given(st.integers(0, 3 * 86400), st.booleans())
def test_round_trip_of_durations(seconds: int, negative: bool) -> None:
    days, rest = divmod(seconds, 86400)
    parts = [(days, "d"), (rest // 3600, "h"), (rest // 60 % 60, "min"), (rest % 60, "s")]
    text = " ".join(f"{number} {unit}" for number, unit in parts if number) or "0"
    expected = timedelta(seconds=seconds).total_seconds() * (-1 if negative else 1)
    assert parse_duration(("−" if negative and seconds else "") + text).seconds == expected


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("-2 min 15 s", -135),
        ("−2 min 15 s", -135),
        ("2 min 15 s fast", -135),
        ("2 min 15 s slow", 135),
        ("90 s", 90),
        ("1 h 20 min", 4800),
        ("1h20", 4800),
        ("2.5 min", 150),
        ("2,5 min", 150),
        ("1:02:30", 3750),
        ("10 minutes, 5 seconds", 605),
        ("+1 day", 86400),
        ("0", 0),
    ],
)
def test_durations(text: str, seconds: int) -> None:
    assert parse_duration(text) == Duration(seconds)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("+1:30", "duration-ambiguous"),
        ("-2:15", "duration-ambiguous"),
        ("5", "duration-no-unit"),
        ("-2.5", "duration-no-unit"),
        ("10 min 1 h", "duration-not-read"),
        ("-2 min fast", "duration-not-read"),
        ("0.333 s", "duration-not-read"),
        ("a while", "duration-not-read"),
        ("", "duration-not-read"),
    ],
)
def test_durations_that_are_asked_about(text: str, code: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        parse_duration(text)
    assert caught.value.type == code
    assert all(beats(caught.value).values())


@pytest.mark.parametrize(
    ("text", "code"), [("03/04/2025", "date-ambiguous"), ("soon", "day-not-read"), ("day 2", "day-not-read")]
)
def test_days_that_are_asked_about(text: str, code: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        parse_day(text)
    assert caught.value.type == code


class Line(BaseModel):
    when: When | None = None
    day: Day | None = None
    length: Duration | None = None


def test_models_keep_the_place_of_each_value() -> None:
    line = Line.model_validate(
        {
            "when": Scalar("14:20", ("events", 0, "when"), 12, 9),
            "day": Scalar("2026-03-14", ("meeting",), 3, 10),
            "length": Scalar("5 min", ("clocks", 0, "offset"), 7, 2),
        }
    )
    assert line.when == When(
        Known.EXACT, at(14, 20), at(14, 20), path=("events", 0, "when"), line=12, column=9
    )
    assert line.day == Day(date(2026, 3, 14), ("meeting",), 3, 10)
    assert line.length == Duration(300, ("clocks", 0, "offset"), 7, 2)
    assert Line.model_validate(dict(line)) == line


@pytest.mark.parametrize("key", ["when", "day", "length"])
@pytest.mark.parametrize("value", [["14:20"], {"a": "b"}, 870])
def test_models_refuse_what_is_not_one_line_of_text(key: str, value: object) -> None:
    with pytest.raises(ValidationError) as caught:
        Line.model_validate({key: value})
    assert caught.value.errors()[0]["type"] == "time-not-read"


def test_a_date_is_not_in_the_repr() -> None:
    assert "2026" not in repr(parse_when("2026-03-14 06:30")) + repr(parse_day("2026-03-14"))


@pytest.mark.parametrize(
    ("text", "known", "first", "last", "days"),
    [
        ("day 3 ~14:20", Known.ABOUT, 51600, 51600, (3, 3)),
        ("day 3 about 14:20", Known.ABOUT, 51600, 51600, (3, 3)),
        ("3 April 2025 ~14:20", Known.ABOUT, 51600, 51600, (date(2025, 4, 3), date(2025, 4, 3))),
        ("day 3 14:15-14:20", Known.BETWEEN, 51300, 51600, (3, 3)),
        ("day 3 23:50-00:10", Known.BETWEEN, 85800, 600, (3, 4)),
        ("day 3 between 14:00 and 15:00", Known.BETWEEN, 50400, 54000, (3, 3)),
    ],
)
def test_a_day_in_front_holds_for_the_whole_time(
    text: str, known: Known, first: int, last: int, days: tuple[object, object]
) -> None:
    when = parse_when(text)
    assert when.first is not None
    assert when.last is not None
    assert when.known is known
    assert (when.first.seconds, when.last.seconds) == (first, last)
    assert (when.first.day, when.last.day) == days


def test_a_bound_may_have_a_day_in_front() -> None:
    when = parse_when("day 3 after 13:00")
    assert (when.known, when.last) == (Known.AFTER, None)
    assert when.first is not None
    assert when.first.day == 3
