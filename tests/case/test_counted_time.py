"""Times of day within sentences, counted from the index event: only where the day and the clock are certain.

Sentences are invented. T+ values by hand from the index event at 09:30 of the minimal case, whose last event
is at 10:20.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.case import counted_time
from mmbuilder.case.counted_time import Counting
from mmbuilder.case.freetext import Path as Place
from mmbuilder.case.model import Case
from mmbuilder.casefile import load
from tests.casefile.minimal import changed, minimal_case
from tests.scrub.sets.passages import parsed

LESSONS = Path(__file__).parents[1] / "scrub" / "judging"


def case_of(into: Path, change: str = "{}") -> Case:
    return load(minimal_case(into, changed(change))).case


def told(case: Case, text: str, path: Place = ("situation",)) -> list[str]:
    """What stands in place of each time, or why it stays."""
    return [time.why or time.instead for time in Counting(case).find(text, path)]


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Case:
    return case_of(tmp_path_factory.mktemp("plain"), "{outcome: {visits: [{when: Day 30, label: Clinic}]}}")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Clip slipped, done 10:10", ["T+0:40"]),
        ("Called at 1041", ["T+1:11"]),
        ("Consent at 08.45 by the surgeon", ["T−0:45"]),
        ("Clamped 09:50-10:15", ["T+0:20", "T+0:45"]),
        ("Marked at 9:40 in May's clinic", [counted_time.OTHER_DAY]),
        ("The decision was marked at 9:40, the junior may say 9:50", ["T+0:10"]),
        ("Um 10:05 Uhr gerufen", ["T+0:35"]),
        ("Swabs at 10:00:30", ["T+0:30:30"]),
        ("Seen at 9.40 am", ["T+0:10"]),
        ("Port at 3 o'clock, out at 10:05", ["T+0:35"]),
    ],
)
def test_a_time_within_the_story_is_counted(plain: Case, text: str, expected: list[str]) -> None:
    assert told(plain, text) == expected


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Seen on Day 2 at 10:05", counted_time.OTHER_DAY),
        ("Sat 10:05 in the clinic", counted_time.OTHER_DAY),
        ("Seen 14.3. 10:05", counted_time.OTHER_DAY),
        ("The list starts daily at 10:05", counted_time.OTHER_DAY),
        ("The wall clock showed 10:05", counted_time.OTHER_CLOCK),
        ("The recording shows it at 10:05", counted_time.OTHER_CLOCK),
        ("Last seen well at 05:10", counted_time.FAR),
        ("At half past nine", counted_time.UNREAD),
        ("Letter, valid to 09.45", counted_time.UNREAD),
        ("pCO2 was still at 10.10", counted_time.FIGURE),
        ("Flow rose from 1005", counted_time.FIGURE),
    ],
)
def test_one_that_is_not_certain_stays_and_says_why(plain: Case, text: str, why: str) -> None:
    assert told(plain, text) == [why]


def test_saturations_and_months_that_are_words_name_no_day(plain: Case) -> None:
    assert told(plain, "sats 92, mar 3 mm, dec function; seen 10:05") == [counted_time.OTHER_DAY]
    assert told(plain, "sat 92 and margins decided, seen 10:05") == ["T+0:35"]


@pytest.mark.parametrize(
    ("text", "path", "expected"),
    [
        ("Brief at 09:45", ("actions", 0, "what"), counted_time.LATER),
        ("Look at 09:45", ("outcome", "monitoring", 0, "what"), counted_time.LATER),
        ("Home 09:45", ("outcome", "summary"), counted_time.OUTCOME),
        ("Extubated 18:05", ("outcome", "summary"), counted_time.OUTCOME),
        ("Extubated 18:05 the same day", ("outcome", "summary"), "T+8:35"),
        ("Seen at 10:15", ("outcome", "visits", 0, "note"), counted_time.VISIT),
        ("Held from 10:15 on", ("outcome", "summary"), "T+0:45"),  # the time of an event
        ("Called 13:10", ("timeline", "events", 3, "what"), "T+3:40"),  # within three hours of it
        ("Called 13:40", ("timeline", "events", 3, "what"), counted_time.FAR),
    ],
)
def test_where_a_text_stands_says_which_day_it_is_of(
    plain: Case, text: str, path: Place, expected: str
) -> None:
    assert told(plain, text, path) == [expected]


def test_over_several_days_only_the_event_of_a_text_says_its_day(tmp_path: Path) -> None:
    """By hand: Day 2 at 06:40 is 45 h 10 min after Day 0 at 09:30."""
    days = "{timeline: {events: {2: {when: day 2 06:30}, 3: {when: day 2 06:50}}}}"
    case = case_of(tmp_path, days)
    assert told(case, "Looked at 06:40", ("timeline", "events", 2, "what")) == ["T+45 h 10"]
    assert told(case, "Looked at 06:40") == [counted_time.SEVERAL_DAYS]


def test_over_midnight_the_one_day_that_fits_is_taken(tmp_path: Path) -> None:
    night = (
        "{timeline: {events: {0: {when: day 0 23:30}, 1: {when: day 1 00:10}, 2: {when: day 1 00:15},"
        " 3: {when: day 1 00:40}}}}"
    )
    case = case_of(tmp_path, night)
    assert told(case, "Called 00:20, arrived 23:45") == ["T+0:50", "T+0:15"]


def test_what_another_clock_showed_is_not_counted(tmp_path: Path) -> None:
    clocks = (
        "{clocks: [{name: theatre clock, reference: yes}, {name: monitor, offset: +3 min}, {name: chart, offset: 0 min}],"
        " timeline: {events: {1: {clock: monitor}, 2: {clock: chart}}}}"
    )
    case = case_of(tmp_path, clocks)
    assert told(case, "Monitor 10:05") == [counted_time.OTHER_CLOCK]
    assert told(case, "Chart 10:05, by the theatre clock") == ["T+0:35"]
    assert told(case, "Silenced 10:06", ("timeline", "events", 1, "what")) == [counted_time.OTHER_CLOCK]
    assert told(case, "Silenced 10:06", ("timeline", "events", 2, "what")) == ["T+0:36"]


@pytest.mark.parametrize("when", ["~09:30", "09:25-09:35", "day 0"])
def test_without_an_exact_index_event_nothing_is_counted(tmp_path: Path, when: str) -> None:
    case = case_of(tmp_path, f'{{timeline: {{events: {{0: {{when: "{when}"}}}}}}}}')
    assert told(case, "Called 10:05") == [counted_time.NO_ZERO]


@pytest.mark.parametrize(
    ("when", "text", "expected"),
    [
        ("0941", "Extubated 0941 coughing", ["T+0:11"]),
        ("9.41", "Valsalva at 9.41 to 30 cmH2O", ["T+0:11"]),
        ("1012", "Suction 1012 mL", []),
        ("1012", "Loss 1012 so far", []),
        ("10:12", "Bleep 1012 rang", []),
        ("10:12", "Pressure 10.12 to 30 cmH2O", []),
    ],
)
def test_the_time_of_an_event_is_known_in_its_own_words(
    tmp_path: Path, when: str, text: str, expected: list[str]
) -> None:
    case = case_of(tmp_path, f'{{timeline: {{events: {{1: {{when: "{when}"}}}}}}}}')
    assert told(case, text, ("timeline", "events", 1, "what")) == expected


def test_a_word_right_beside_bare_figures_tells_them_without_an_exact_index_event(tmp_path: Path) -> None:
    case = case_of(tmp_path, '{timeline: {events: {0: {when: "~09:30"}}}}')
    assert told(case, "Registrar reviewed 1015, thought anxious") == [counted_time.NO_ZERO]
    assert told(case, "Reviewed 1015 charts of that year") == []


def test_an_hour_that_may_be_of_the_afternoon_is_not_counted(tmp_path: Path) -> None:
    case = case_of(tmp_path, "{timeline: {events: {3: {when: '20:50'}}}}")
    assert told(case, "Called at 9:40") == [counted_time.UNREAD]
    assert told(case, "Called at 09:40") == ["T+0:10"]


# What is no time of day never changes


class _AllDay(Counting):
    """Counts every time of the day: what it leaves alone was told apart by its form and its words."""

    def _windows(self, path: Place, *, same_day: bool) -> list[list[tuple[float, float]]]:
        return [[(-570, 869)]]


def test_what_must_stay_in_the_lessons_is_no_time_of_day(plain: Case) -> None:
    """The marks are those of the lessons, by hands that had not read this."""
    counting, touched, marks = _AllDay(plain), [], 0
    for file in sorted(LESSONS.glob("clean*.txt")):
        for line in file.read_text("utf-8").splitlines():
            passage = parsed(line, "dev")
            marks += len(passage.keep)
            places = [(time.start, time.end) for time in counting.find(passage.text) if not time.why]
            touched += [
                passage.text[start:end]
                for start, end in passage.keep
                if any(first < end and start < last for first, last in places)
            ]
    assert marks > 5_000
    assert touched == []


FIGURES = st.one_of(
    st.builds("{}/{}".format, st.sampled_from((6, 20, 3)), st.integers(4, 60)),
    st.builds("{}-0 nylon".format, st.integers(2, 11)),
    st.builds("1:{}".format, st.integers(1, 9)),
    st.builds("{}:1".format, st.integers(1, 30)),
    st.builds("1:{},000".format, st.integers(1, 200)),
    st.builds("1:{} 000".format, st.integers(1, 200)),
    st.builds("{}/{}".format, st.integers(60, 220), st.integers(30, 120)),
    st.builds("{} o'clock".format, st.integers(1, 12)),
    st.builds("GCS {}/15".format, st.integers(3, 15)),
    st.builds(
        "{} {}".format, st.integers(1, 2500), st.sampled_from(("mg", "mL", "mL/h", "units", "mmHg", "J", "g"))
    ),
    st.builds("{}:{:02d} min".format, st.integers(0, 23), st.integers(0, 59)),
    st.builds("{:02d}:{:02d} minutes".format, st.integers(0, 23), st.integers(0, 59)),
    st.builds("T+{}:{:02d}".format, st.integers(0, 23), st.integers(0, 59)),
    st.builds("heart rate {}".format, st.integers(20, 250)),
    st.builds("{}.{}".format, st.integers(0, 60), st.integers(0, 9)),
    st.builds("{}x{} mm".format, st.integers(1, 20), st.integers(1, 20)),
)
"""Figures of the clinic: common practice, no source."""


@given(
    st.sampled_from(("at", "by", "from", "until", "before", "after", "to", "was", "about", "for", "now")),
    FIGURES,
    st.sampled_from((".", ", clip on", " and steady", "; then closed")),
)
@settings(max_examples=300, deadline=None, derandomize=True)
def test_a_figure_of_the_clinic_is_no_time_of_day(before: str, figure: str, behind: str) -> None:
    from mmbuilder.case.told_time import find

    assert [*find(f"It stood {before} {figure}{behind}")] == []


@given(st.integers(0, 23), st.integers(0, 59))
@settings(max_examples=100, deadline=None, derandomize=True)
def test_a_counted_time_is_the_time_of_an_event_at_that_hour(plain: Case, hour: int, minute: int) -> None:
    """The other way: from T+ back to the hour."""
    (time,) = _AllDay(plain).find(f"Called {hour:02d}:{minute:02d}")
    sign = -1 if "−" in time.instead else 1
    hours, minutes = map(int, time.instead[2:].split(":"))
    assert 9 * 60 + 30 + sign * (hours * 60 + minutes) == hour * 60 + minute
