"""Worked examples are those of the trade reference, practice.md section (e), by number."""

from __future__ import annotations

import pickle
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.when import parse_when
from mmbuilder.safe.moment import Known, Moment, between, clock, duration
from tests.case.build import case, event, reckoner

WALL = {"name": "wall", "reference": "yes"}
RECORDER = {"name": "recorder", "anchor": {"reads": "11:04:10", "reference": "11:01:55"}}
FILES = [
    WALL,
    {"name": "file 1", "starts": "13:50:00", "runs": "25 min"},
    {"name": "file 2", "starts": "14:20:30", "runs": "31 min"},
]


def moment(made: Reckoner, text: str, on: str | None = None) -> Moment:
    return made.moment(parse_when(text), on)


def fault(made: Reckoner, text: str, on: str | None = None) -> ClockFault:
    with pytest.raises(ClockFault) as caught:
        moment(made, text, on)
    return caught.value


def codes(made: Reckoner) -> list[str]:
    return [found.code for found in made.faults()]


def seconds(hours: int, minutes: int, whole: int = 0) -> float:
    return hours * 60 + minutes + whole / 60


def anchored(reads: str) -> dict[str, Any]:
    return {"name": "b", "anchor": {"reads": reads, "reference": "11:02"}}


def face(minute: int) -> str:
    return f"{minute // 60:02d}:{minute % 60:02d}"


def test_e1_an_interval_keeps_the_uncertainty_of_both_ends() -> None:
    made = reckoner("20:00")
    sign, recognition = moment(made, "20:10-20:40"), moment(made, "21:05±5")
    elapsed = between(sign, recognition, ordered=True)
    assert (elapsed.lo, elapsed.hi) == (20, 60)
    assert duration(elapsed).reveal() == "20 to 60 min"


def test_e2_an_anchor_pair_gives_the_offset() -> None:
    made = reckoner("00:00", [WALL, RECORDER], **{"day zero": "2001-02-13"})
    (_, recorder) = made.offsets()
    assert recorder.offset is not None
    assert recorder.offset.lo == recorder.offset.hi == -2.25  # -2 min 15 s
    assert moment(made, "11:30:00", "recorder").lo == seconds(11, 27, 45)


def test_e3_time_into_the_second_file() -> None:
    made = reckoner("14:00:00", FILES)
    assert moment(made, "file 2 06:15").lo == seconds(0, 26, 45)  # 14:26:45
    (_, end), (start, _) = (made.recording(clock) for clock in case([event("14:00:00")], FILES).clocks[1:])
    gap = between(end, start, ordered=True)
    assert gap.lo == gap.hi == 5.5  # 14:15:00 to 14:20:30


def test_e4_days_are_counted_over_a_leap_day() -> None:
    made = reckoner("30 Jan 2028 08:00")
    assert made.days_from_zero(date(2028, 3, 3)) == 33
    assert clock(moment(made, "3 March 2028")).reveal() == "Day 33"
    assert made.days_from_zero(date(2027, 3, 3)) == -333


@given(st.integers(0, 1439), st.integers(-700, 700))
def test_an_offset_is_the_same_told_as_a_length_or_as_an_anchor(minute: int, offset: int) -> None:
    reads, there = minute, (minute + offset) % 1440
    anchor = {
        "reads": f"{reads // 60:02d}:{reads % 60:02d}",
        "reference": f"{there // 60:02d}:{there % 60:02d}",
    }
    told = reckoner("12:00", [WALL, {"name": "a", "offset": f"{offset} min"}]).offsets()[1].offset
    read = reckoner("12:00", [WALL, {"name": "a", "anchor": anchor}]).offsets()[1].offset
    assert told is not None
    assert read is not None
    assert told.lo == read.lo == offset


@pytest.mark.parametrize(
    ("text", "lo", "hi", "known", "loose"),
    [
        ("14:20", 20, 20, Known.EXACT, False),
        ("about 14:20", 20, 20, Known.ABOUT, True),
        ("14:20 ±5", 15, 25, Known.ABOUT, False),
        ("14:15-14:20", 15, 20, Known.BETWEEN, False),
        ("about 14:15-14:20", 15, 20, Known.BETWEEN, True),
        ("before 14:20", None, 20, Known.BEFORE, False),
        ("after 13:00", -60, None, Known.AFTER, False),
        ("unknown", None, None, Known.UNKNOWN, False),
        ("order only", None, None, Known.ORDER_ONLY, False),
    ],
)
def test_every_way_of_knowing(
    text: str, lo: float | None, hi: float | None, known: Known, loose: bool
) -> None:
    found = reckoner("14:00").moment(parse_when(text), None, sequence=4)
    assert (found.lo, found.hi, found.known, found.loose) == (lo, hi, known, loose)
    assert found.sequence == 4


def test_an_index_event_that_is_a_range_counts_from_its_middle() -> None:
    made = reckoner("14:00-14:10")
    assert moment(made, "14:00-14:10") == Moment(-5, 5, Known.BETWEEN)


def test_precision_is_that_of_the_coarsest_source() -> None:
    clocks = [WALL, RECORDER, {"name": "notes", "offset": "0", "precision": "15 min"}]
    made = reckoner("11:00", clocks)
    assert moment(made, "11:30").precision == 1
    assert moment(made, "11:30:00").precision == pytest.approx(1 / 60)
    assert moment(made, "11:30:00", "notes").precision == 15
    assert moment(made, "day 2").precision == 1440


def test_an_anchor_to_the_minute_yields_no_seconds() -> None:
    made = reckoner("11:00", [WALL, {"name": "a", "anchor": {"reads": "11:04", "reference": "11:02"}}])
    assert moment(made, "11:30:00", "a").precision == 1


def test_a_recording_that_starts_on_the_minute_yields_no_seconds() -> None:
    made = reckoner("14:00", [WALL, {"name": "video", "starts": "14:10"}])
    assert moment(made, "video 06:15").precision == 1


# Midnight and days


def test_midnight_is_crossed_with_a_day_or_asked_about() -> None:
    made = reckoner("23:50")
    assert moment(made, "day 1 00:10").lo == 20
    assert moment(made, "23:55-00:10") == Moment(5, 20, Known.BETWEEN)
    asked = fault(made, "00:10")
    assert asked.code == "time-needs-day"
    assert "00:10" in asked.found


def test_twenty_four_hundred_is_the_end_of_its_day() -> None:
    made = reckoner("23:50")
    assert moment(made, "24:00").lo == moment(made, "day 1 00:00").lo == 10


def test_times_without_a_day_belong_to_the_day_of_the_index_event() -> None:
    made = reckoner("day 2 08:00")
    assert moment(made, "09:00").lo == 60
    assert moment(made, "day 0 09:00").lo == 60 - 2 * 1440


@pytest.mark.parametrize("index", ["00:00", "00:01", "08:00", "23:59"])
def test_day_labels_do_not_depend_on_the_hour_of_the_index_event(index: str) -> None:
    made = reckoner(index)
    for text, label in [
        ("day 0", "Day 0"),
        ("day 2", "Day 2"),
        ("day -1", "Day -1"),
        ("about day 3", "about Day 3"),
    ]:
        assert clock(moment(made, text)).reveal() == label
    assert clock(moment(made, "before day 2")).reveal() == "before Day 2"
    assert clock(moment(made, "after day 2")).reveal() == "after Day 2"
    assert clock(moment(made, "day 2-4")).reveal() == "Day 2 to Day 4"


def test_a_day_is_all_of_it() -> None:
    made = reckoner("08:00")
    day = moment(made, "day 2")
    assert day.lo == moment(made, "day 2 00:00").lo
    assert day.hi == pytest.approx(moment(made, "day 2 24:00").lo or 0, abs=1 / 60 + 1e-9)
    assert moment(made, "before day 2").hi == day.lo
    assert moment(made, "after day 2").lo == moment(made, "day 3 00:00").lo


def test_dates_need_day_zero() -> None:
    assert fault(reckoner("14:00"), "2028-03-03 10:00").code == "day-zero-missing"
    made = reckoner("14:00", **{"day zero": "2028-03-02"})
    assert moment(made, "2028-03-03 10:00").lo == 1200


def test_day_zero_is_the_date_of_the_index_event_be_it_into_a_recording() -> None:
    made = reckoner(
        "video 0:10:00", [WALL, {"name": "tower", "starts": "2027-03-14 09:00:00", "runs": "1 h"}]
    )
    assert moment(made, "2027-03-15 09:10").lo == 1440
    assert moment(made, "09:30").lo == 20


# Clocks that disagree, drift or are not told


def test_anchors_across_midnight_without_a_day() -> None:
    made = reckoner("23:00", [WALL, {"name": "a", "anchor": {"reads": "23:58", "reference": "00:01"}}])
    offset = made.offsets()[1].offset
    assert offset is not None
    assert offset.lo == 3


def test_a_clock_that_is_wrong_by_a_year_is_mended_by_a_dated_anchor() -> None:
    anchor = {"reads": "2019-02-13 11:04", "reference": "2027-02-13 11:02"}
    made = reckoner("2027-02-13 11:00", [WALL, {"name": "a", "anchor": anchor}])
    assert moment(made, "2019-02-13 11:30", "a").lo == 28


def test_drift_widens_what_comes_after_the_first_anchor_and_is_told() -> None:
    drifting = RECORDER | {"second anchor": {"reads": "13:04:10", "reference": "13:01:00"}}
    made = reckoner("11:00:00", [WALL, drifting])
    told = made.offsets()[1]
    assert told.offset is not None
    assert told.drift is not None
    assert (told.offset.lo, told.drift.lo) == (-2.25, pytest.approx(-55 / 60))
    there = moment(made, "11:04:10", "recorder")
    assert there.lo == there.hi == pytest.approx(seconds(0, 1, 55))
    later = moment(made, "12:00:00", "recorder")
    assert (later.lo, later.hi) == (pytest.approx(seconds(0, 56, 50)), pytest.approx(seconds(0, 57, 45)))
    assert later.known is Known.BETWEEN
    assert codes(made) == ["clock-drift"]


def test_drift_below_the_step_of_the_source_changes_nothing() -> None:
    drifting = RECORDER | {
        "second anchor": {"reads": "13:04:10", "reference": "13:01:54"},
        "precision": "1 min",
    }
    made = reckoner("11:00:00", [WALL, drifting])
    found = moment(made, "12:00:00", "recorder")
    assert found.lo == found.hi
    assert codes(made) == []


def test_a_clock_nobody_compared_is_loose_and_warned_of() -> None:
    made = reckoner("11:00", [WALL, {"name": "monitor"}])
    assert moment(made, "11:30", "monitor") == Moment(30, 30, Known.EXACT, loose=True)
    (told,) = made.faults()
    assert (told.code, told.warns, told.path) == ("clock-offset-unknown", True, ("clocks", 1))


def test_conflicting_times_are_kept_apart() -> None:
    made = reckoner("11:00", [WALL, {"name": "nursing", "offset": "+3 min"}])
    assert (moment(made, "11:30").lo, moment(made, "11:30", "nursing").lo) == (30, 33)


# Recordings


def test_video_means_the_only_recording() -> None:
    made = reckoner("14:00", [WALL, {"name": "tower", "starts": "14:10:00"}])
    assert moment(made, "video 0:48:10").lo == pytest.approx(10 + seconds(0, 48, 10))
    assert fault(reckoner("14:00", FILES), "video 06:15").code == "recording-unclear"


def test_a_recording_can_be_named_in_the_line_clock() -> None:
    made = reckoner("14:00:00", FILES)
    assert moment(made, "06:15", "file 2") == moment(made, "file 2 06:15")
    assert moment(made, "video 06:15", "file 2") == moment(made, "file 2 06:15")
    assert fault(made, "file 1 06:15", "file 2").code == "clock-named-twice"


def test_a_reading_that_could_be_time_of_day_or_time_into_it_is_asked_about() -> None:
    asked = fault(reckoner("14:00:00", FILES), "14:26", "file 2")
    assert asked.code == "elapsed-or-time"
    assert "14:26" in asked.found


def test_time_past_the_end_of_a_recording() -> None:
    assert fault(reckoner("14:00", FILES), "file 2 31:01").code == "elapsed-beyond-recording"
    assert moment(reckoner("14:00", FILES), "file 2 31:00").lo == pytest.approx(51.5)


def test_a_recording_on_a_shifted_clock_on_another_recording() -> None:
    clocks = [
        WALL,
        RECORDER,
        {"name": "file 1", "starts": "11:30:00", "on": "recorder"},
        {"name": "film 1", "starts": "file 1 10:00"},
    ]
    made = reckoner("11:00:00", clocks)
    assert moment(made, "film 1 05:00").lo == seconds(0, 42, 45)  # 11:27:45 + 10 min + 5 min


def test_a_recording_tied_by_an_anchor_that_reads_time_into_it() -> None:
    clocks = [WALL, {"name": "video", "anchor": {"reads": "video 0:10:00", "reference": "14:20:00"}}]
    assert moment(reckoner("14:00", clocks), "video 0:15:00").lo == 25


def test_recordings_that_lead_back_to_each_other() -> None:
    clocks = [
        WALL,
        {"name": "a", "starts": "0:10:00", "on": "b"},
        {"name": "b", "starts": "0:10:00", "on": "a"},
    ]
    assert set(codes(reckoner("12:00", clocks))) == {"clock-cycle"}
    made = reckoner("video 06:15", [WALL, {"name": "a", "starts": "video 06:15"}])
    assert set(codes(made)) == {"clock-cycle"}


def test_a_recording_that_starts_about_then_makes_its_times_loose() -> None:
    made = reckoner("14:00", [WALL, {"name": "video", "starts": "about 14:10"}])
    assert moment(made, "video 06:15").loose
    made = reckoner("14:00", [WALL, {"name": "video", "starts": "14:10-14:12"}])
    found = moment(made, "video 06:00")
    assert (found.lo, found.hi, found.known) == (16, 18, Known.BETWEEN)


# Faults of the clocks


@pytest.mark.parametrize(
    ("clocks", "code"),
    [
        ([{"name": "a"}, {"name": "b"}], "clock-no-reference"),
        ([WALL, {"name": "b", "reference": "yes"}], "clock-no-reference"),
        ([WALL, {"name": "b", "offset": "1 min", "anchor": RECORDER["anchor"]}], "clock-offset-twice"),
        ([WALL | {"offset": "1 min"}], "clock-offset-twice"),
        ([WALL, {"name": "b", "starts": "14:00", "on": "c"}], "clock-not-listed"),
        ([WALL, {"name": "b", "offset": "0", "second anchor": RECORDER["anchor"]}], "anchor-missing"),
        ([WALL, {"name": "b", "anchor": {"reads": "about 11:04", "reference": "11:02"}}], "anchor-not-exact"),
        (
            [WALL, {"name": "b", "anchor": {"reads": "day 0 11:04", "reference": "11:02"}}],
            "anchor-half-dated",
        ),
    ],
)
def test_faults_of_clocks(clocks: list[dict[str, Any]], code: str) -> None:
    found = list(reckoner("12:00", clocks).faults())
    assert code in [one.code for one in found]
    assert all(one.found and one.expected and one.example and one.why and one.path for one in found)


def test_the_only_clock_is_the_reference() -> None:
    made = reckoner("12:00", [{"name": "a"}])
    assert codes(made) == []
    assert made.offsets()[0].reference


@pytest.mark.parametrize("when", ["unknown", "before 14:00", "order only"])
def test_an_index_event_without_a_time(when: str) -> None:
    made = reckoner(when)
    assert codes(made) == ["index-event-no-time"]
    assert fault(made, "14:00").code == "index-event-no-time"


def test_an_index_event_that_is_not_listed() -> None:
    made = Reckoner(case([event("14:00", "a")], index="b"))
    assert codes(made) == ["index-event-not-listed"]


def test_a_clock_that_is_not_listed() -> None:
    made = reckoner("14:00")
    assert fault(made, "14:00", "sundial").code == "clock-not-listed"
    assert fault(made, "file 3 06:15").code == "clock-not-listed"


def test_names_of_clocks_and_dates_stay_out_of_faults() -> None:
    found = fault(reckoner("14:00"), "2028-03-03 10:00", None)
    named = fault(reckoner("14:00"), "14:00", "Quillfeather's watch")
    for one in (found, named):
        told = " ".join((one.text, one.found, one.expected, one.example, one.why))
        assert "2028" not in told
        assert "Quillfeather" not in told


def test_a_fault_survives_the_way_to_another_process() -> None:
    asked = fault(reckoner("23:50"), "00:10")
    again = pickle.loads(pickle.dumps(asked))
    assert (again.code, again.found, again.path, str(again)) == (
        asked.code,
        asked.found,
        asked.path,
        str(asked),
    )


@given(st.integers(0, 1439), st.integers(-720, 720))
def test_minutes_from_the_index_event_are_plain_subtraction(index: int, apart: int) -> None:
    day, minute = divmod(index + apart, 1440)
    assert moment(reckoner(face(index)), f"day {day} {face(minute)}").lo == apart
