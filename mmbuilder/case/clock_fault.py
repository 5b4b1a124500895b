"""What can be wrong with the clocks of a case, each with a way out; no date and no free word is repeated."""

from __future__ import annotations

from mmbuilder.case.freetext import Path
from mmbuilder.errors import MMBuilderError


class ClockFault(MMBuilderError):
    """A time that cannot be brought to the reference clock, or a clock that is not fully told.

    Attributes:
        code: as listed in DEVELOPERS.md.
        text: one sentence that says what is wrong.
        found, expected, why, example: as in `problem.Problem`.
        path: keys and positions of the value to mend.
        warns: the case can be built all the same.
    """

    def __init__(
        self,
        code: str,
        found: str,
        expected: str,
        example: str,
        path: Path,
        *,
        text: str = "a time cannot be brought to the reference clock",
        why: str = "intervals between sources are only as right as the clocks behind them",
        warns: bool = False,
    ) -> None:
        super().__init__(text)
        self.code, self.found, self.expected, self.example = code, found, expected, example
        self.path, self.text, self.why, self.warns = path, text, why, warns

    def __reduce__(self) -> tuple[object, ...]:
        # Exceptions rebuild from `args`, which holds the sentence alone.
        return (_rebuild, (self.__dict__,))


def _rebuild(parts: dict[str, object]) -> ClockFault:
    fault = ClockFault.__new__(ClockFault, parts["text"])
    fault.__dict__.update(parts)
    return fault


def not_listed(path: Path) -> ClockFault:
    """A time names a clock that the case does not declare."""
    return ClockFault(
        "clock-not-listed",
        "the name of a clock or recording that is not listed under clocks",
        "a name from the list of clocks",
        "clocks:\n  - name: file 2\n    starts: 14:20:30\n    runs: 31 min",
        path,
        text="this clock is not listed",
    )


def several_recordings(path: Path) -> ClockFault:
    """`video` was said where the case has none or several."""
    return ClockFault(
        "recording-unclear",
        "time into a recording, without saying which of several",
        "the recording's name from the list of clocks",
        "file 2 06:15",
        path,
        text="it is not clear which recording this is",
    )


def named_twice(path: Path) -> ClockFault:
    """The line `clock` says one clock, the time itself another."""
    return ClockFault(
        "clock-named-twice",
        "one clock in the time and another under clock",
        "one of the two",
        "when: file 2 06:15",
        path,
        text="this time names two clocks",
    )


def no_reference(path: Path, count: int) -> ClockFault:
    """None of several clocks, or more than one, is the reference."""
    return ClockFault(
        "clock-no-reference",
        f"{count} reference clocks" if count else "no reference clock among several",
        "one clock with `reference: yes`",
        "clocks:\n  - name: theatre clock\n    reference: yes",
        path,
        text="one clock has to be the reference",
        why="every other clock is shifted to it",
    )


def cycle(path: Path) -> ClockFault:
    """Recordings start on each other's clock."""
    return ClockFault(
        "clock-cycle",
        "recordings whose starts are told on each other's clock",
        "at least one start on a clock that has an offset",
        "starts: 14:20:30\non: theatre clock",
        path,
        text="these clocks lead back to each other",
    )


def no_start(path: Path) -> ClockFault:
    """Time into a recording whose start nobody told."""
    return ClockFault(
        "recording-no-start",
        "time into a recording without a start",
        "when the recording starts",
        "starts: 14:20:30",
        path,
        text="this recording has no start",
    )


def past_the_end(path: Path, into: str, runs: str) -> ClockFault:
    """More time into a recording than it runs."""
    return ClockFault(
        "elapsed-beyond-recording",
        f"{into} into a recording that runs {runs}",
        "a time within it, or the next file",
        "file 2 06:15",
        path,
        text="this time is past the end of its recording",
        why="recorders stop and restart; time into the wrong file is off by the gap",
    )


def elapsed_or_time(path: Path, quoted: str) -> ClockFault:
    """A reading that could be time into the recording or a time of day."""
    return ClockFault(
        "elapsed-or-time",
        f"{quoted}, which could be time into the recording or a time of day within it",
        "the recording's name in front of time into it, or the clock the time of day was read from",
        "file 2 06:15, or clock: theatre clock",
        path,
        text="this can be read in two ways",
    )


def needs_day(path: Path, quoted: str) -> ClockFault:
    """A time of day more than half a day from the index event."""
    return ClockFault(
        "time-needs-day",
        f"{quoted} without a day, more than 12 hours from the index event on the same day",
        "the day: it may be the day before or after",
        f"day 0 {quoted}, or day 1 {quoted}, or day -1 {quoted}",
        path,
        text="this time has no day",
        why="across midnight, the same clock time is a day early or late",
    )


def no_day_zero(path: Path) -> ClockFault:
    """A calendar date where nothing says which date is Day 0."""
    return ClockFault(
        "day-zero-missing",
        "a calendar date, while Day 0 has none",
        "the date of Day 0",
        "timeline:\n  day zero: 2001-02-13",
        path,
        text="dates need the date of Day 0",
        why="dates are told as days from Day 0",
    )


def index_not_listed(path: Path) -> ClockFault:
    """The index event's id belongs to no event."""
    return ClockFault(
        "index-event-not-listed",
        "an id that no event has",
        "the id of one event",
        "timeline:\n  index event: incision\n  events:\n    - id: incision",
        path,
        text="the index event is not among the events",
        why="every time is counted from it",
    )


def index_not_placed(path: Path) -> ClockFault:
    """The index event has no time of its own."""
    return ClockFault(
        "index-event-no-time",
        "an index event whose time is not known on both sides",
        "an index event with a time, a range, or a time that is about right",
        "when: 14:20",
        path,
        text="the index event has no time",
        why="every time is counted from it",
    )


def anchor_not_exact(path: Path) -> ClockFault:
    """An anchor that is a range, a bound, or not known."""
    return ClockFault(
        "anchor-not-exact",
        "an anchor that is not one reading of each clock",
        "what this clock and the reference showed at the same instant",
        "anchor: {reads: 11:04:10, reference: 11:01:55}",
        path,
        text="an anchor needs two exact readings",
    )


def anchor_half_dated(path: Path) -> ClockFault:
    """A day on one side of an anchor only."""
    return ClockFault(
        "anchor-half-dated",
        "a day on one side of the anchor only",
        "a day on both sides or on neither",
        "anchor: {reads: 11:04:10, reference: 11:01:55}",
        path,
        text="this anchor has a day on one side only",
    )


def offset_twice(path: Path) -> ClockFault:
    """Both an offset and an anchor, or either of them on the reference clock."""
    return ClockFault(
        "clock-offset-twice",
        "more than one way from this clock to the reference",
        "an offset or an anchor; neither on the reference clock itself",
        "offset: -2 min 15 s",
        path,
        text="this clock is tied to the reference more than once",
    )


def first_anchor_missing(path: Path) -> ClockFault:
    """A second anchor alone."""
    return ClockFault(
        "anchor-missing",
        "a second anchor without a first",
        "the first anchor under anchor",
        "anchor: {reads: 11:04:10, reference: 11:01:55}",
        path,
        text="a second anchor needs a first",
        why="drift is the change between the two",
    )


def offset_unknown(path: Path) -> ClockFault:
    """A clock whose offset nobody told: a warning, its times are printed as about."""
    return ClockFault(
        "clock-offset-unknown",
        "a clock without offset or anchor",
        "how far it is from the reference clock, or one instant read on both",
        "offset: -2 min 15 s\nor\nanchor: {reads: 11:04:10, reference: 11:01:55}",
        path,
        text="this clock was not compared with the reference clock; its times are told as 'about'",
        warns=True,
    )


def drifts(path: Path, seconds: int) -> ClockFault:
    """A clock that drifts more than its step: a warning, later times become ranges."""
    return ClockFault(
        "clock-drift",
        f"a drift of {abs(seconds)} s between its two anchors",
        "nothing: times after the first anchor are told as ranges that wide",
        "a clock compared closer to the events drifts less",
        path,
        text="this clock drifts",
        warns=True,
    )
