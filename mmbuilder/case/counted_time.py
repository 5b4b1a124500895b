"""What is told in place of a time of day within a sentence: the time from the index event, if it is certain.

The reading that lies nearest is certain where there is only one: within a few hours of the event that the
text belongs to, else within the story as it was timed, from an hour before its first event to an hour after
its last. What came of it is of that story only at the time of one of its events, or where the text says
`the same day`. No other day and no other clock may be named, and the index event has an exact time. What
stands in the way is told in words. Four bare figures (`bare_time`) count so only if a word right beside them
tells them, or the author writes the times of the events in bare figures, too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from pydantic_core import PydanticCustomError

from mmbuilder import labels
from mmbuilder.case import bare_time, told_time
from mmbuilder.case.apart import apart
from mmbuilder.case.bare_time import BareTime
from mmbuilder.case.clock_list import records
from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case, Event
from mmbuilder.case.stamp import DAY_STEP, Stamp
from mmbuilder.case.tidy import tidy
from mmbuilder.case.told_time import ToldTime
from mmbuilder.case.when import When, parse_when
from mmbuilder.safe.moment import DAY, UNKNOWN, Known, Moment, clock

LOST = "[time]"
"""Stands for a time of day that cannot be counted from the index event for certain."""

NO_ZERO = "the index event has no exact time"
LATER = "what is agreed or learned could be of another day"
OTHER_DAY = "the words beside it could tell another day"
OTHER_CLOCK = "it could be read from another clock"
UNREAD = "it is not read as one time for certain"
FIGURE = "it could be a figure of another kind"
FAR = "it is far before or after what has a time"
OUTCOME = "what came of it could be of another day unless `the same day` is said"
VISIT = "its visit has a day and no time"
SEVERAL_DAYS = "the story has several days and none is named"

_AROUND, _NEAR = 60, 180
"""Minutes before and after the story, and before and after the event of a text, in which a time counts."""
_LONGEST = DAY / 2
"""Minutes over which an event may be spread and still say which day its text is of."""

_OF_NO_STORY: frozenset[Path] = frozenset(
    {
        ("actions",),
        ("previous actions",),
        ("meetings",),
        ("learning",),
        ("take away",),
        ("outcome", "monitoring"),
    }
)
_END_OF_CLAUSE = re.compile(r"[;.]\s")
_SAME_DAY = re.compile(
    r"\b(?:(?:the |that )?same (?:day|morning|afternoon|evening)|that (?:afternoon|evening))\b", re.IGNORECASE
)
_WEEKDAYS = (
    r"(?:mon|tues|wednes|thurs|fri|satur|sun)days?|(?-i:Mon|Tues?|Wed|Thurs?|Fri|Sun)"
    r"|(?:mon|tues?|wed|thurs?|fri|sat|sun)(?= (?:_|\d\d?[:.]\d|morning|afternoon|evening))"  # sat 92 is none
)
_MONTHS = (
    r"(?:jan(?:uary|uar)?|feb(?:ruary|ruar)?|mar(?:ch)?|märz|apr(?:il)?|may|mai|june?|juni|july?|juli|aug(?:ust)?"
    r"|sept?(?:ember)?|o[ck]t(?:ober)?|nov(?:ember)?|de[cz](?:ember)?)"
)
_OTHER_DAY = re.compile(
    r"\b(?:days?|dates?|dated|next (?:morning|afternoon|evening|shift)|previous(?:ly)?|earlier"
    r"|yesterday|tomorrow|overnight|nights?|weeks?|weekends?|daily|usual(?:ly)?|routine(?:ly)?|normally|always|every|each|rota|pod"
    rf"|d\+?\d{{1,3}}|{_WEEKDAYS}|tag(?:e|es|en|s)?|gestern|morgen|nachts?|(?:19|20)\d\d"
    rf"|\d{{1,2}}(?:st|nd|rd|th|\.)?(?: of |[ -]){_MONTHS}|{_MONTHS} \d{{1,4}}"
    r"|\d{1,2}(?:st|nd|rd|th)(?= _)|on the \d{1,2}(?:st|nd|rd|th)"
    r"|\d{1,2}[./-]\d{1,2}[./-]\d{2,4}|\d{1,2}\.\s?\d{1,2}\.(?!\d)"
    r"|(?-i:January|February|March|April|May|June|July|August|September|October|November|December))(?!\w)",
    re.IGNORECASE,
)
"""Words of another day: a time after them, or in one clause with them, may not be of this day."""
_ANY_CLOCK = r"v[ií]deos?|recordings?|footage|(?<!o['’])clocks?|\w*uhren|(?:wand|armband)uhr"
_OF_A_VALUE = re.compile(
    r"\b(?:(?:p[aeé]?t?(?:CO|O)2|lactate|ha?emoglobin|Hb|INR|glucose|temp(?:erature)?|CVP|pressure|pH|scores?|power|index"
    r"|weights?|weigh(?:ed|ing)|output|flow|rate|platelets|CK|CRP|troponin|creatinine|potassium|sodium|calcium|urea)"
    r"(?:\s(?:was|were|is|of|at|to|by|with|from|around|about|nearly|almost|some|still|now|then|only))*"
    r"|(?:rose|rising|fell|falling|dropp(?:ed|ing)|increas(?:ed|ing)|reduced|decreas(?:ed|ing)|climb(?:ed|ing)|raised)"
    r"\s(?:\w+\s)?(?:from|to|by))\s$",
    re.IGNORECASE,
)
"""Before figures without a colon that could be a value: `pCO2 was still at 10.30`, `rose from 1000`."""
_DOTTED = re.compile(r"\d\d\.\d\d")
_CUED = re.compile(
    r"(?:\b(?:at|by|um|until|till|since|before|after|around|about|between|log|notes?|record|chart)\s|~"
    r"|\d\d\.\d\d(?:\s?[-–/]\s?|,?\s(?:to|and|or|until)\s))$",
    re.IGNORECASE,
)
"""Before a time with a dot, which could be a day and a month: `valid to 02.11`."""
_HALF_NAMED = re.compile(r"[ap]\.?m", re.IGNORECASE)
_SPELT = re.compile(r"\s?(?:h(?:rs?|ours)?|Uhr)$", re.IGNORECASE)

_Window = tuple[float, float]
"""First and last minute from the index event."""


@dataclass(frozen=True)
class CountedTime:
    """A time of day in a text, and what may stand in its place.

    Attributes:
        start, end: its place.
        instead: `T+2:00`, or `[time]` where it is not certain.
        why: why it is not certain, in words; empty where it is.
        bare: it is told by a word beside it alone; what cannot be counted is perhaps no time at all.
    """

    start: int
    end: int
    instead: str
    why: str = ""
    bare: bool = False


class Counting:
    """Times of day of one case, counted from its index event where that is certain.

    Args:
        case: the raw case.
    """

    def __init__(self, case: Case) -> None:
        self._case = case
        self._dial = case.specialty == "ophthalmology"
        self._german = case.language == "de"
        self._recorded = any(records(clock) for clock in case.clocks)
        self._reckoner = Reckoner(case)
        self._events = {event.id: self._of(event) for event in reversed(case.timeline.events) if event.id}
        self._exact = _exact(self._events.get(case.timeline.index_event, UNKNOWN))
        self._moments = [self._of(event) for event in case.timeline.events]
        self._clocks = _Clocks(case, self._reckoner)
        self._writes_bare = _mostly_bare(case.timeline.events)

    def find(self, text: str, path: Path = ()) -> Iterator[CountedTime]:
        """Yield every time of day of a text with what may stand in its place, in order.

        Args:
            text: the text.
            path: where it stands in the case: its event says which day it is of.
        """
        times = apart((*told_time.find(text, dial=self._dial), *self._own(text, path)))
        found = [_told(told, self._counted(text, told, path)) for told in times]
        taken = {place for one in found for place in range(one.start, one.end)}
        bare = (one for one in bare_time.find(text) if one.start not in taken)
        more = (self._bare(text, one, path) for one in bare if one.beside or self._writes_bare)
        yield from sorted((*found, *filter(None, more)), key=lambda one: one.start)

    def _own(self, text: str, path: Path) -> Iterator[ToldTime]:
        """The time of the event that a text is of, where it stands in its words without a colon."""
        match path:
            case ("timeline", "events", int(place), *_):
                when = self._case.timeline.events[place].when
                if when.first is not None and not when.elapsed and when.first.step < DAY_STEP:
                    hour, minute = divmod(when.first.seconds // 60 % (24 * 60), 60)
                    yield from bare_time.own(text, hour, minute)
            case _:
                return

    def _bare(self, text: str, told: BareTime, path: Path) -> CountedTime | None:
        """Four bare figures as a time of this case, if they are one or may be."""
        counted = self._counted(text, told, path)
        if isinstance(counted, Moment):
            counted = FIGURE if told.year else counted
        elif counted == FIGURE or not self._perhaps(text[told.start : told.end], told):
            return None
        return None if told.year and not self._writes_bare else _told(told, counted, bare=True)

    def _perhaps(self, said: str, told: BareTime) -> bool:
        """Whether four bare figures that cannot be counted may be a time of day."""
        if told.strong and not told.year and self._writes_bare:
            return True
        if not self._exact:  # nothing can be counted; a word right beside them still tells them
            return told.beside and not told.year
        stamp = _read(said)
        if stamp is None:
            return False
        at = self._reckoner.minutes(stamp.seconds, None, None, elapsed=False)
        return any(True for _ in _within(self._story(), at))

    def _counted(self, text: str, told: ToldTime | BareTime, path: Path) -> Moment | str:
        """The moment that a time tells, or why it is not certain."""
        if not self._exact:
            return NO_ZERO
        if path[:1] in _OF_NO_STORY or path[:2] in _OF_NO_STORY:
            return LATER
        around = f"{text[: told.start]}_{text[told.end : end_of_clause(text, told.end)]}"
        if _OTHER_DAY.search(_SAME_DAY.sub("_", around)):
            return OTHER_DAY
        if self._clocks.other(around, path):
            return OTHER_CLOCK
        said = text[told.start : told.end]
        before = text[max(0, told.start - 60) : told.start]
        if ":" not in said and _OF_A_VALUE.search(before):
            return FIGURE
        if self._recorded and said.count(":") == 2:
            return OTHER_CLOCK
        stamp = _read(said)
        if stamp is None or (_DOTTED.fullmatch(said) and not _CUED.search(before)):
            return UNREAD
        if self._german and said.endswith("am"):  # `Saal 5 am Freitag`
            return UNREAD
        same_day = _SAME_DAY.search(around) is not None
        return self._placed(stamp, said, self._windows(path, same_day=same_day)) or _why_not(path)

    def _placed(self, stamp: Stamp, said: str, windows: Iterable[Sequence[_Window]]) -> Moment | str:
        """The one moment in the first of several windows that has one; empty if none has any."""
        minutes = self._reckoner.minutes(stamp.seconds, None, None, elapsed=False)
        # 3:30 may be an afternoon's; 03:30 and 15:30 may not.
        halves = (0, DAY / 2) if said[1:2] in ":." and not _HALF_NAMED.search(said) else (0,)
        why = ""
        for group in windows:
            times = {time for half in halves for window in group for time in _within(window, minutes + half)}
            if len(times) == 1:
                (at,) = times
                return Moment(at, at, Known.EXACT, stamp.step / 60)
            why = why if not times else UNREAD if len(halves) > 1 else SEVERAL_DAYS
        return why

    # Which day

    def _windows(self, path: Path, *, same_day: bool) -> Iterator[Sequence[_Window]]:
        """Yield the windows in which a time of a text may lie, the surest first."""
        own = self._of_path(path)
        if own.lo is not None and own.hi is not None and own.hi - own.lo <= _LONGEST:
            yield [(own.lo - _NEAR, own.hi + _NEAR)]
        if path[:2] == ("outcome", "visits"):
            return
        if path[:1] == ("outcome",) and not same_day:  # only what an event tells, too
            points = [one.lo for one in self._moments if one.lo is not None and one.lo == one.hi]
            yield [(point - 0.5, point + 0.5) for point in points]
            return
        first, last = self._story()
        midnight = self._reckoner.to_midnight()
        if same_day and midnight is not None and last - _AROUND < midnight <= first + _AROUND + DAY:
            last = max(last, midnight - 1)
        yield [(first, last)]

    def _story(self) -> _Window:
        ends = [end for one in self._moments for end in (one.lo, one.hi) if end is not None]
        return min(ends) - _AROUND, max(ends) + _AROUND

    def _of_path(self, path: Path) -> Moment:
        """When the part of the case was that a text belongs to."""
        case = self._case
        match path:
            case ("timeline", "events", int(place), *_):
                return self._moments[place]
            case ("decisions", int(place), *_):
                return self._events.get(case.decisions[place].at, UNKNOWN)
            case ("frames", int(place), *_):
                frame = case.frames[place]
                there = self._at(frame.when, frame.clock)
                return there if there.placed else self._events.get(frame.event or "", UNKNOWN)
            case ("outcome", "visits", int(place), *_):
                return self._at(case.outcome.visits[place].when, None)
            case _:
                return UNKNOWN

    def _of(self, event: Event) -> Moment:
        return self._at(event.when, event.clock)

    def _at(self, when: When | None, named: str | None) -> Moment:
        try:
            return UNKNOWN if when is None else self._reckoner.moment(when, named)
        except ClockFault:
            return UNKNOWN


class _Clocks:
    """Which clock the times of a text are read from: the reference, unless another may be meant."""

    def __init__(self, case: Case, reckoner: Reckoner) -> None:
        self._case = case
        self._alike = frozenset(_alike(reckoner))
        names = [tidy(clock.name) for clock in case.clocks]
        others = [_bare(name) for name in names if name not in self._alike]
        self._named = re.compile(rf"\b(?:{'|'.join([_ANY_CLOCK, *others])})\b", re.IGNORECASE)
        self._own = re.compile(rf"\b(?:{'|'.join(map(re.escape, self._alike)) or '(?!)'})\b", re.IGNORECASE)

    def other(self, around: str, path: Path) -> bool:
        """Whether a text names a clock that is not the reference, or belongs to what was read from one."""
        read_from = self._of_path(path)
        if read_from is not None and tidy(read_from) not in self._alike:
            return True
        return self._named.search(self._own.sub("_", around)) is not None

    def _of_path(self, path: Path) -> str | None:
        case = self._case
        match path:
            case ("timeline", "events", int(place), "also", int(record), *_):
                return case.timeline.events[place].also[record].clock
            case ("timeline", "events", int(place), *_):
                return case.timeline.events[place].clock
            case ("frames", int(place), *_):
                return case.frames[place].clock
            case ("readings", int(place), *_):
                return case.readings[place].clock
            case _:
                return None


def end_of_clause(text: str, place: int) -> int:
    """Return where the clause ends that a place of a text belongs to."""
    found = _END_OF_CLAUSE.search(text, place)
    return found.start() if found else len(text)


def _alike(reckoner: Reckoner) -> Iterator[str]:
    """Yield the names of the reference clock, and of those that show the same as it."""
    try:
        for one in reckoner.offsets():
            same = one.offset is not None and one.offset.lo == one.offset.hi == 0 and one.drift is None
            if one.reference or same:
                yield tidy(one.name)
    except ClockFault:
        return


def _bare(name: str) -> str:
    return re.escape(name.removesuffix(" clock").removesuffix(" time"))


def _told(told: ToldTime | BareTime, counted: Moment | str, *, bare: bool = False) -> CountedTime:
    if isinstance(counted, str):
        return CountedTime(told.start, told.end, LOST, counted, bare)
    with labels.speaking("en"):
        return CountedTime(told.start, told.end, clock(counted).reveal(), bare=bare)


def _mostly_bare(events: Iterable[Event]) -> bool:
    """Whether an author writes most times in figures alone: `1030`."""
    written = [one.when.first for one in events if one.when.first is not None and not one.when.elapsed]
    timed = [stamp.bare for stamp in written if stamp.step < DAY_STEP]
    return sum(timed) * 2 > len(timed)


def _exact(moment: Moment) -> bool:
    return moment.lo is not None and moment.lo == moment.hi and not moment.loose and moment.precision < DAY


def _why_not(path: Path) -> str:
    if path[:2] == ("outcome", "visits"):
        return VISIT
    return OUTCOME if path[:1] == ("outcome",) else FAR


def _read(said: str) -> Stamp | None:
    """Read one time of day; None where it is something else, or more."""
    try:
        when = parse_when(_SPELT.sub("", said))
    except PydanticCustomError:
        return None
    stamp = when.first
    one = when == When(Known.EXACT, stamp, stamp) and stamp is not None and stamp.day is None
    return stamp if one else None


def _within(window: _Window, time: float) -> Iterator[float]:
    """Yield a time on each day on which it lies in a window."""
    first, last = window
    at = time + ceil((first - time) / DAY) * DAY
    while at <= last:
        yield at
        at += DAY
