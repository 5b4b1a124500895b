"""Lines of the note on their way into the case: filled in for the author to check, then written.

What a line becomes, its time, its clock and its parts are proposed from words that stand in it, in the lines
above it, or on the lists of the case; nothing is put into the case before the author says so.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import Any

from pydantic_core import PydanticCustomError

from mmbuilder.case import told_time
from mmbuilder.case.dates import SHAPES
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.case.when import parse_when
from mmbuilder.page.form import keeping
from mmbuilder.page.form.in_time import places
from mmbuilder.page.form.keeping import New
from mmbuilder.page.form.opened import opened
from mmbuilder.page.form.patch import Value
from mmbuilder.page.form.scalars import tidied
from mmbuilder.page.form.targets import Target, held, offered, targets
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts import _of_action, _of_decision, _of_factor, _of_grade, _of_visit
from mmbuilder.page.parts._bare import day_of
from mmbuilder.page.parts._by_clock import (
    UNSURE,
    behind_time,
    clock_of,
    letter_before,
    letter_behind,
    telling,
)
from mmbuilder.page.parts._charted import Row
from mmbuilder.page.parts._headed import plans
from mmbuilder.page.parts._kinds import cue_apart, kind_of, tells_harm, without_cue, without_mark
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._linked import event_at, events_at
from mmbuilder.page.parts._note import Line, Mark, State
from mmbuilder.page.parts._parted import Parted
from mmbuilder.page.parts._typed import Clocks, entries, of_an_eye
from mmbuilder.safe.terms import EventKind

MOST_WORDS = 2000
"""Characters of what becomes of a line."""

FIELDS = ("what", "when", "kind", "clock", "source")

WITH = "with"
"""What a line becomes that belongs to what the line above it becomes."""

_TAKES_APART: Mapping[str, Callable[[str, Known], Parted]] = {
    **{one.NAME: one.parted for one in (_of_action, _of_decision, _of_factor, _of_grade, _of_visit)},
    _of_visit.WATCHED: _of_visit.watched,
}
"""By the name of a part of the case, what takes its lines apart."""


@dataclass(frozen=True)
class Time:
    """A time that stands in a line, and the clock that is named nearest to it.

    Attributes:
        clock: empty for the reference, `UNSURE` where the line names one that cannot be told.
    """

    words: str
    clock: str


@dataclass(frozen=True)
class Pull:
    """One or several lines on their way to an event or another part of the case, as it was filled in.

    Attributes:
        kind: of event, the name of another part, or `WITH`.
        more: what came out of the words, by the keys of the other part.
        why: by key, why what came out of the words is left empty.
        sure: whether the line says without a doubt what is proposed.
        faults: what is wrong, by the field it stands in; each with the beats of the command line.
    """

    lines: tuple[Line, ...]
    what: str
    when: str = ""
    kind: str = ""
    clock: str = ""
    source: str = ""
    times: tuple[Time, ...] = ()
    more: Mapping[str, str] = field(default_factory=dict)
    why: Mapping[str, str] = field(default_factory=dict)
    sure: bool = True
    faults: dict[str, dict[str, str]] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """Names its first line."""
        return self.lines[0].key

    @property
    def target(self) -> Target | None:
        """The part of the case that is chosen in place of an event."""
        return targets().get(self.kind)

    @property
    def whole(self) -> bool:
        """Whether nothing that it needs is left to say."""
        told = self.kind and self.when and self.clock != UNSURE
        return self.sure and bool(self.target or self.kind == WITH or told)

    @property
    def still_told(self) -> tuple[str, ...]:
        """Times of day that stand in the words of an event: slides tell when it was from the index event."""
        found = told_time.find(self.what) if self.target is None and self.kind != WITH else ()
        return tuple(dict.fromkeys(self.what[one.start : one.end] for one in found))

    @property
    def words(self) -> str:
        """What is written: just the words that were seen."""
        return tidied(self.what)

    @property
    def mark(self) -> Mark:
        """What is said of its lines once it is written."""
        words = [*filter(None, (self.words, *tidied_lines(self.more.get("options", ""))))]
        told = words or [*filter(None, (self.more.get("grade"),))]
        return Mark(State.PULLED, tuple(told), self.target.label if self.target else "")

    def new(self, tree: Mapping[str, Any]) -> New:
        """Return what is put into the case.

        Args:
            tree: the case, with the events that others point to.
        """
        if self.target is not None:
            words, more = self._entry(tree)
            return self.target.new(words, more)
        event = {"kind": self.kind, "what": self.words, "when": self.when}
        event |= {name: value for name in ("clock", "source") if (value := getattr(self, name))}
        return New(("timeline", "events"), event)

    def event_of(self, tree: Mapping[str, Any]) -> New | None:
        """Return the event at which a decision was made, where a time is told and no event is there yet."""
        at = self.more.get("at", "") if self.target is not None else ""
        by = self._clock_of(at)
        if not at or by == UNSURE or self._made_at(tree) or _time_fault(at):
            return None
        seen = ", ".join(tidied_lines(self.more.get("visible", "")))
        what = seen or ": ".join(filter(None, ("Decision", self.words)))
        event = {"kind": EventKind.NOTE.value, "what": what, "when": at, "source": self.source}
        event["clock"] = by
        return New(("timeline", "events"), {name: value for name, value in event.items() if value})

    def _made_at(self, tree: Mapping[str, Any]) -> str:
        at = self.more.get("at", "")
        return event_at(tree, at, self._clock_of(at)) if at else ""

    def _clock_of(self, time: str) -> str:
        return self.clock or next((one.clock for one in self.times if one.words == time), "")

    def _entry(self, tree: Mapping[str, Any]) -> tuple[str, dict[str, Value]]:
        words, more = self.words, dict[str, Value]({key: one for key, one in self.more.items() if one})
        if "options" in more:
            more["options"] = [{"option": one} for one in tidied_lines(self.more["options"])]
        if "visible" in more:
            more["visible"] = [*tidied_lines(self.more["visible"])]
        at = str(more.pop("at", ""))
        if event := self._made_at(tree):
            more["at"] = event
        elif at and at not in words:  # it is no time: it is told in words
            words = tidied(f"At {at}: {words}")
        if self.kind == _of_factor.NAME:
            events = events_at(tree, [(time.words, time.clock) for time in self.times])
            more |= {"events": [*events]} if events else {}
        return words, more


def tidied_lines(text: str) -> list[str]:
    """Return the lines of a text that hold something."""
    return [line for line in map(tidied, text.splitlines()) if line]


def begun(lines: tuple[Line, ...], known: Known, target: Target | None = None) -> Pull:
    """Return the form for lines: what they seem to become, their words, and a time with its clock.

    Of several times of a line it is the one that leads the words or stands behind `at`, if one does; the
    others stay in the words, to be chosen from. A time that leads the words stands in its own field then,
    with its clock, and need not be said twice.

    Args:
        lines: the lines.
        known: what they are read with.
        target: the part of the case that they go to, where that was said.
    """
    text, times, first = _joined(lines), _times(lines, known), lines[0]
    if target is None and (row := known.row_of(first.text)):
        return _charted(lines, row, known)
    target = target or belongs(first)
    if target is not None:
        several = len(lines) > 1 and target.name == _of_decision.NAME
        found = _of_decision.of_lines(lines, known) if several else _parted(target, text, known)
        if target.name == _of_visit.NAME and _of_visit.is_later(found.fields.get("when", ""), known):
            target, found = targets()[_of_visit.WATCHED], _of_visit.later(found)
        elif target.name == _of_visit.WATCHED and belongs(first) is target:
            found = replace(found, sure=offered(first.under) is targets()[_of_visit.NAME])
        made = Pull(lines, found.what, kind=target.name, source=known.source, times=times)
        return replace(made, more=found.fields, why=found.why, sure=found.sure)
    cue, text = cue_apart(text)
    led = text[lead.end() :] if (lead := _DAY_LED.match(text)) else text
    if len(times) == 1:
        one = times[0]
    else:
        telling = (time for time in times if len(lines) == 1 and _tells_when(led, time, known.clocks))
        one = next(telling, Time("", ""))
    dated = _counted(lead, one.words, known) if lead and led.startswith(one.words) else ""
    what = _without_clock(_without_lead(led if dated else text, one, times, known.clocks), one, known.clocks)
    if not times and (untimed := _untimed(text)):
        return Pull(lines, what, _its_day(text, known), untimed.value, "", known.source)
    event = times and not (
        lines[0].heading
        or plans(text)
        or _WRITTEN.search(text)
        or _MEETING.search(text)
        or _dated(text, one.words)
        or _DAY_BEHIND.match(text, _end(text, one))
    )
    kind = (cue or kind_of(what)) if event else ""
    what = without_mark(what)
    if kind and len(times) == 1:
        what = _without_time(what, one.words, known.clocks)
    return Pull(
        lines,
        without_cue(what) if event else what,
        dated or _on_its_day(text, one.words, known),
        kind,
        one.clock,
        known.source,
        times,
    )


def _charted(lines: tuple[Line, ...], row: Row, known: Known) -> Pull:
    """The form for a row of a chart: what is remarked there is an event, its figures are readings."""
    time, untimed = Time(row.time, ""), _untimed(row.remark)
    kind = (untimed.value if untimed else kind_of(row.remark)) if row.remark else ""
    return Pull(lines, row.remark or row.line, row.time, kind, "", known.source, (time,))


_DAY_LED = re.compile(
    r"\W*(?:(?:on|the)\s)*(?:(?P<day>\d{1,2}/\d{1,2})(?![\d/.])|(?P<nth>\d{1,2})(?:st|nd|rd|th)\b)[\s,:–—-]*(?:at\s)?",
    re.IGNORECASE,
)
"""`15/11 06:10 …`, `15th 14.20 …`: the day that leads a line."""
_SPAN = 28
"""Days from Day 0 in which a day of the month alone can only be one."""


def _counted(lead: re.Match[str], when: str, known: Known) -> str:
    """A time behind the day that leads its line, counted from Day 0; empty where that cannot be told."""
    if not when or lead["day"]:
        return _with_day(f"{lead['day']} {when}", known) if when else ""
    zero = known.zero
    days = range(_SPAN) if zero is not None else ()
    found = next((one for one in days if zero and (zero + timedelta(one)).day == int(lead["nth"])), None)
    counted = f"Day {found} {when}"
    return "" if found is None or _time_fault(counted) else counted


_DAY_BEFORE = re.compile(r"(?<![\d/.])\d{1,2}/\d{1,2}(?![\d/.])")
_DAY_AND_TIME = re.compile(rf"(?P<day>{_DAY_BEFORE.pattern}),?\s+(?P<time>\S.*)")


def _on_its_day(text: str, when: str, known: Known) -> str:
    """A time with the day that stands before it in its line: `tight 13/11 0200, fasciotomy 0310`."""
    days = [*_DAY_BEFORE.finditer(text, 0, max(0, text.find(when)))] if when else []
    return _with_day(f"{days[-1][0]} {when}", known) or when if days else when


def _with_day(words: str, known: Known) -> str:
    """A time behind a day and month without a year as counted from Day 0; empty where it is none such."""
    found, zero = _DAY_AND_TIME.fullmatch(words), known.zero
    day = day_of(_of_action.day_meant(found["day"], known)) if found and zero else None
    if found is None or zero is None or day is None:
        return ""
    counted = f"Day {(day.date - zero).days} {found['time']}"
    return "" if _time_fault(counted) else counted


def _parted(target: Target, words: str, known: Known) -> Parted:
    takes_apart = _TAKES_APART.get(target.name)
    return takes_apart(words, known) if takes_apart else Parted(words)


def belongs(line: Line) -> Target | None:
    """Where a line seems to belong: by its heading, how it begins, or what it holds."""
    if line.heading:
        return None
    found = offered(line.under) or offered(line.said) or held(line.said)
    if (found is None or found.name == _ENDED) and _of_grade.tells(line.said):
        return targets()[_of_grade.NAME]
    visit = found is not None and found.name == _of_visit.NAME
    if found is None or (visit and plans(line.under)):
        return None
    refused = found.refuses(line.said)
    if visit and _of_visit.to_come(line.said, refused=refused):
        return targets()[_of_visit.WATCHED]
    return None if refused else found


_ENDED = "outcome/summary"


_WRITTEN = re.compile(
    r"^[^:;]*\b(?:(?:re-?)?(?:written|typed|dictated|drafted)|(?:writing|typing|dictating) this)\b"
    r"(?=[^:;.,]{0,30}\d{1,2}[:.]?\d\d)",
    re.IGNORECASE,
)
"""`written at home 23.40`: when the note was made, and nothing of the story (common practice, no source)."""
_MEETING = re.compile(
    r"(?:\b(?:for|at)\b[^.;]{0,24}\b(?:mtg|meeting|m\s?[&+]\s?m)\b[^.;\d]{0,12}"
    r"|^\W*(?:mtg|meeting|m\s?[&+]\s?m)\b(?!\s(?:with|of)\b)[^.;]{0,24}?(?<!\d))"
    r"(?:[01]?\d|2[0-3])[:.]?[0-5]\d\b",
    re.IGNORECASE,
)
"""`for wed mtg 07:30`, `Meeting Mon 30/11 07:30`: when the meeting is."""
_EXTREME = re.compile(
    r"^\W*(?:(?:peak|max(?:imum|imal)?|highest|lowest|nadir|min(?:imum)?)\s[^\W\d][\w/-]*"
    r"|[^\W\d][\w/-]*\s(?:peak(?:ed)?|max(?:imum)?|nadir))\s(?:(?:of|at|was)\s)?\d",
    re.IGNORECASE,
)
"""`peak CRP 310`: the extreme of a value over days, at a time that the line does not say."""
_PRODUCT = (
    r"(?:p?rbcs?|prcs?|(?:red|packed) cells?|ffp|plts?|platelets?|cryo\w*|octaplas|o neg(?:ative)?"
    r"|blood)\b(?! (?:cultures?|gas(?:es)?|tests?|samples?|sugars?|bottles?)\b)"
)
_BAGS = r"\d{1,2}\s?(?:u|units?|pools?|bags?)\b"
_LOST = r"^\W*(?:(?:total|est(?:imated)?|measured) )?(?:EBL|MBL|blood loss)\b[^\d?;]{0,12}~?\d[\d.,]*"
_HAD = r"^\W*(?:(?:had|given|got|received|transfused|total|tx) )*"
_UNTIMED = (
    (EventKind.READING, _EXTREME),
    (EventKind.READING, re.compile(_LOST, re.IGNORECASE)),
    (EventKind.DRUG, re.compile(rf"{_HAD}(?:{_BAGS}|\d{{1,2}}) ?(?:of )?{_PRODUCT}", re.IGNORECASE)),
    (EventKind.DRUG, re.compile(rf"^\W*(?:{_PRODUCT},? (?:x ?)?|transfused ){_BAGS}", re.IGNORECASE)),
    (EventKind.COMPLICATION, re.compile(r"^\W*(?:AKI|(?:acute )?kidney injury)\b(?! ?\?)", re.IGNORECASE)),
)
"""`EBL 1200`, `2u RBC`, `AKI stage 2`: counted or found in the end, at no time that the line says (common
practice, no source)."""


def _untimed(text: str) -> EventKind | None:
    """The kind of event that a line without a time plainly tells."""
    return next((kind for kind, shape in _UNTIMED if shape.search(text)), None)


def _its_day(text: str, known: Known) -> str:
    """The only day and month of a line as counted from Day 0: `AKI, peak 14/11`; else unknown."""
    days = {one[0] for one in _DAY_BEFORE.finditer(text)}
    day = day_of(_of_action.day_meant(days.pop(), known)) if len(days) == 1 else None
    return f"Day {(day.date - known.zero).days}" if day is not None and known.zero is not None else "unknown"


_DATE = re.compile("|".join(f"(?:{shape})" for shape in SHAPES).replace(r"\1", "[-/.]"), re.IGNORECASE)


_DAY_BEHIND = re.compile(
    r",?\s+(?:(?:on|of)\s+)?(?:the\s+)?(?:\d{1,2}(?:st|nd|rd|th)|next (?:day|morning))\b", re.I
)
"""Behind a time: it is of another day, which the author has to say."""


def _end(text: str, time: Time) -> int:
    """Where a time ends in a line; the end of the line where it does not stand there."""
    at = text.find(time.words) if time.words else -1
    return at + len(time.words) if at >= 0 else len(text)


def _dated(text: str, when: str) -> bool:
    """Whether a date stands in a line beside its time: the head of a note, or of a letter, and no event."""
    return _DATE.search(text.replace(when, "") if when else text) is not None


def each_begun(lines: Sequence[Line], known: Known) -> list[Pull]:
    """Return a form for each line; a sentence without a time goes with the event that its line began.

    Lines that are ways forward of one decision have one form.
    """
    made: list[Pull] = []
    for group in _of_decision.each(lines):
        line, one = group[0], _made_when(begun(group, known), made)
        above = made[-1] if made and made[-1].lines[-1].number == line.number - 1 else None
        joins = above is not None and (_takes_more(above.kind) if above.target else above.whole)
        kindless = not one.kind or (one.when == "unknown" and above is not None and above.when != "unknown")
        plain = line.follows and kindless and not one.times and not _THOUGHT.search(line.text)
        more = above is not None and (_more_of_visit(one, above) or _goes_on(one, above))
        made.append(replace(one, kind=WITH, more={}) if more or (joins and plain) else one)
    return [*_on_days(_harmed_once(made), known)]


def _on_days(pulls: Iterable[Pull], known: Known) -> Iterator[Pull]:
    """Yield forms; a time without a day behind one that has one is of that day.

    Until the times go back, or a heading comes: then it is for the author to say.
    """
    day, last = "", 0
    for one in pulls:
        line, at = one.lines[0], one.more.get("at", "")
        if told := _only_day(line.text, known):
            day, last = told.removeprefix("Day 0"), 0
        elif line.heading or line.text.endswith(":") or known.row_of(line.text):
            day = ""
        elif one.target is None and one.kind not in ("", WITH):
            when = _later(day, last, one.when)
            one = replace(one, when=when or one.when)
            found = _ON_DAY.match(one.when)
            day = found["day"] if found else ""
            last = _seconds(one.when) if found else 0
        elif at and offered(line.under) is None and (when := _later(day, last, at)):
            one = replace(one, more={**one.more, "at": when})
        yield one


_ON_DAY = re.compile(r"(?P<day>Day (?!0\b)\d+)\b")
_ONLY_DAY = re.compile(
    r"\W*(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\W+)?(?P<day>\d{1,2}[/.]\d{1,2}(?:[/.]\d{2,4})?)\W*",
    re.IGNORECASE,
)
"""`14/11`, `Sat 14/11:` on a line of its own."""


def _only_day(text: str, known: Known) -> str:
    """The day that is all of a line, counted from Day 0; empty where it is none."""
    found = _ONLY_DAY.fullmatch(text)
    day = day_of(_of_action.day_meant(found["day"], known)) if found and known.zero else None
    return f"Day {(day.date - known.zero).days}" if day is not None and known.zero is not None else ""


def _later(day: str, last: int, when: str) -> str:
    """A time of day as of a day, if it has none and comes no earlier than the last; else empty."""
    counted = f"{day} {when}"
    bare = day and when[:1] in "~0123456789" and not _time_fault(when) and not _time_fault(counted)
    return counted if bare and _seconds(when) >= last else ""


def _seconds(when: str) -> int:
    stamp = parse_when(when).first
    return stamp.seconds if stamp is not None else 0


def _harmed_once(pulls: Iterable[Pull]) -> Iterator[Pull]:
    """Yield forms; a harm that is told again is not proposed as the complication again."""
    harmed = False
    for one in pulls:
        event = one.target is None and one.times and one.kind
        again = event and harmed and one.kind == kind_of(one.what) != kind_of(one.what, harmed=True)
        yield replace(one, kind=kind_of(one.what, harmed=True)) if again else one
        harmed = harmed or bool(event and tells_harm(one.what))


def _more_of_visit(one: Pull, above: Pull) -> bool:
    """Whether what stands among visits has no day, and so belongs to the visit before it."""
    among = above.lines[-1].under == one.lines[0].under and (_takes_more(above.kind) or above.kind == WITH)
    told = {*one.more, *one.why} & {"when", "label"}
    return among and _takes_more(one.kind) and not told


_GOES_ON = re.compile(r"[a-z][^\d:]*")
_FEW = 6
"""Words that a line has at most which only goes on with the one before it (common practice, no source)."""


def _goes_on(one: Pull, above: Pull) -> bool:
    """Whether a few small words behind a visit go on with it: `well, tired of the drain`."""
    words = one.lines[0].text
    short = _GOES_ON.fullmatch(words) is not None and len(words.split()) <= _FEW
    return short and _takes_more(above.kind) and not one.kind and not one.lines[0].heading


def _takes_more(kind: str) -> bool:
    """Whether a sentence behind one that goes to a part of the case goes with it: what a visit found."""
    return kind == _of_visit.NAME


def _made_when(one: Pull, above: Sequence[Pull]) -> Pull:
    """A decision without a time of its own was made at the event that its line began."""
    if one.kind != _of_decision.NAME or not one.lines[0].follows or one.times:
        return one
    begins = next((place for place in reversed(range(len(above))) if not above[place].lines[0].follows), 0)
    event = next((other for other in reversed(above[begins:]) if other.target is None and other.when), None)
    return replace(one, more={"at": event.when, **one.more}) if event is not None else one


_THOUGHT = re.compile(
    r"\b(?:(?:should|could|would) have|I (?:think|feel|felt|wish|regret)|made me think|in hindsight|sorry)\b",
    re.IGNORECASE,
)
"""Looking back, which is no part of an event."""


def filled(
    lines: tuple[Line, ...], known: Known, said: Mapping[str, str], more: Mapping[str, str] | None = None
) -> Pull:
    """Return the form for lines as it was filled in, with what is wrong.

    Args:
        lines: the lines.
        known: what they are read with.
        said: what stands in `FIELDS`.
        more: what stands in the fields of the other part; None where they were not shown: the words are
            taken apart then.
    """
    fields, times = {name: said[name] for name in FIELDS}, _times(lines, known)
    target = targets().get(said["kind"])
    if target is None:
        fields["when"] = _with_day(said["when"], known) or said["when"]
        when = Time(said["when"], said["clock"])
        fields["what"] = _without_lead(said["what"], when, times, known.clocks)
    days = {name: more[name] for name in ("when", "due") if more.get(name)} if more else {}
    one = Pull(
        lines,
        fields["what"],
        fields["when"],
        fields["kind"],
        fields["clock"],
        fields["source"],
        times,
        {**(more or {}), **{name: _of_action.day_meant(day, known) for name, day in days.items()}},
    )
    if target is not None and more is None and target.asks:
        found = _parted(target, one.words, known)
        timed = "at" in target.asks and one.when not in ("", "unknown")
        led = {"at": one.when} if timed else {}
        one = replace(one, what=found.what, more={**led, **found.fields}, why=found.why)
    if target is not None:  # a part has no When of an event, seen or not
        one = replace(one, when="")
    told = {name: _fault(name, value) for name, value in _asked(one)}
    return replace(one, faults={name: beats for name, beats in told.items() if beats})


def _asked(one: Pull) -> Iterator[tuple[str, str]]:
    """What has to be right, by its field."""
    if one.kind == WITH:
        yield "what", one.what
    elif one.target is None:
        yield from (("kind", one.kind), ("what", one.what), ("when", one.when), ("clock", one.clock))
    else:
        graded = one.kind == _of_grade.NAME
        said = "" if graded else one.what or one.more.get("options", "")
        yield "grade" if graded else "what", said or one.more.get("grade", "")
        yield from (("when", value) for key, value in one.more.items() if key == "when" and value)


def with_above(pulls: Sequence[Pull]) -> list[Pull]:
    """Return the lines that were chosen, each with those behind it that go with it.

    One that has nothing above it to go with has a fault.
    """
    made: list[Pull] = []
    for one in pulls:
        if one.kind != WITH:
            made.append(one)
        elif made and made[-1].lines[-1].number == one.lines[0].number - 1:
            above = made[-1]
            stop = ". " if above.what[-1:].isalnum() else " "
            made[-1] = replace(above, lines=above.lines + one.lines, what=f"{above.what}{stop}{one.what}")
        else:
            fault = {"kind": {"text": "the line above is not ticked, so there is nothing to go with"}}
            made.append(replace(one, faults={**one.faults, **fault}))
    return made


def put(text: str, pulls: Sequence[Pull]) -> tuple[str, dict[str, Any]]:
    """Return the text of a case with what lines become put in, and the place of each by its key.

    Events go first, so that others can point to them; a decision whose time has none makes its own, where it
    belongs in the order of time.
    """
    events, parts = [one for one in pulls if one.target is None], [one for one in pulls if one.target]
    text, made = keeping.put_in(text, Case, [one.new({}) for one in events])
    for one in parts:
        if event := one.event_of(tree := _tree(text)):
            text, (at,) = keeping.put_in(text, Case, [_in_time(event, tree)])
            made = [_behind(place, int(at[-1])) for place in made]
    tree = _tree(text)
    text, more = keeping.put_in(text, Case, [one.new(tree) for one in parts])
    return text, {one.key: place for one, place in zip([*events, *parts], [*made, *more], strict=True)}


def _in_time(event: New, tree: Mapping[str, Any]) -> New:
    """An event that gets its number right behind the one that was before it in time.

    At the end of the list its time would seem to be of the last day that is told there.
    """
    there = [*entries(tree, *map(str, event.path)), event.said]
    order = places([one for one in there if isinstance(one, Mapping)], tree)
    before = order.index(len(there) - 1) - 1
    return replace(event, at=order[before] + 1 if before >= 0 else 0)


def _behind(place: Path, at: int) -> Path:
    """Where an event stands once another was put in at a number."""
    return (*place[:-1], int(place[-1]) + (int(place[-1]) >= at))


def _tree(text: str) -> Mapping[str, Any]:
    now = opened(text, Case)
    return now.values if now is not None else {}


def _joined(lines: Iterable[Line]) -> str:
    return " ".join(line.said for line in lines)[:MOST_WORDS]


# Times and clocks


def _times(lines: Iterable[Line], known: Known) -> tuple[Time, ...]:
    text = _joined(lines)
    found = kept.times(text, dial=of_an_eye(dict(known.tree)))
    places = {one: (start := text.index(one), start + len(one)) for one in found}
    return tuple(
        Time(one, clock_of(text, place, [*places.values()], known.clocks)) for one, place in places.items()
    )


def _tells_when(text: str, time: Time, clocks: Clocks) -> bool:
    """Whether a time leads the words, its clock left aside, or stands behind `at`."""
    before = text[: text.find(time.words)] if time.words in text else "?"
    return _before(clocks, time.clock).fullmatch(before) is not None or _AT.search(before) is not None


_AT = re.compile(r"(?<!\w)at\s+$", re.IGNORECASE)


def _without_lead(text: str, when: Time, times: Iterable[Time], clocks: Clocks) -> str:
    """Return words without the time that leads or ends them, and its clock, where it has its own field."""
    lead = _before(clocks, when.clock).match(text)
    rest = text[lead.end() if lead else 0 :]
    behind = _AT_THE_END.search(text)
    if behind and behind["time"] == when.words and behind.start():
        return text[: behind.start()].rstrip(" ,;–—-")
    time = next((one.words for one in times if rest.startswith(one.words)), "")
    if not time or _figures(time) != _figures(when.words):
        return text
    rest = rest.removeprefix(time)
    behind = behind_time(clocks).match(rest) or letter_behind(clocks).match(rest)
    rest = rest[behind.end() if behind else 0 :].lstrip(" ,:;.-–—)]")
    return _JOINED.sub("", rest, count=1) or text


def _without_clock(text: str, when: Time, clocks: Clocks) -> str:
    """Return words without the clock of their time in brackets at the end: `clip on (theatre clock)`."""
    named = telling(clocks).get(when.clock or clocks.reference)
    if not when.words or named is None:
        return text
    end = re.compile(
        rf"\s*[(\[](?:(?:by|on|per)\s)?(?:the\s)?(?:{named.pattern})(?:\s(?:clock|time))?[)\]]\W*$", re.I
    )
    return end.sub("", text) or text


_LEANS = (
    r"(?<!\btil\s)(?<!\btill\s)(?<!\buntil\s)(?<!\bsince\s)(?<!\bbefore\s)(?<!\bafter\s)(?<!\bfrom\s)(?<!\bby\s)"
    r"(?<!\bto\s)(?<!\band\s)(?<!\bor\s)(?<!\bfor\s)(?<!\bof\s)(?<!\bthe\s)(?<!\babout\s)(?<!\baround\s)(?<!\bthan\s)"
)
"""Not behind a word that the time belongs to."""
_AT_THE_END = re.compile(rf"(?:(?<=\s)(?:at|@) |(?<=[a-z]\s){_LEANS})(?P<time>\S{{3,8}}?)\.?$", re.IGNORECASE)
"""`heparin 5000 u at 1058`, `clamp off 1032`; in `not told til 1420` it is what the words say."""


def _without_time(text: str, time: str, clocks: Clocks) -> str:
    """Words without the only time that stands among them: `rang the bell at 15:55 and said`.

    It has its own field. Behind `from`, `until` and their like it is what the words say; beside
    a clock, or a letter that may be short for one, it stays.
    """
    if any(named.search(text) for named in telling(clocks).values()):
        return text
    before = r"(?:(?<=[a-z\d]) (?:at|@)|(?<=[a-z])(?<!\sat))"
    among = rf"{before} {_LEANS}{re.escape(time)}(?=,? [^\W\d]{{2}})"
    return re.sub(among, "", text, count=1) if re.fullmatch(r"[\d:.]+", time) else text


def _figures(time: str) -> str:
    return re.sub(r"\D", "", time)


def _before(clocks: Clocks, clock: str) -> re.Pattern[str]:
    """What may stand before a time that leads the words: one that joins them to others, its clock, `at`."""
    named = telling(clocks).get(name := clock or clocks.reference)
    called = filter(None, (named.pattern if named else "", letter_before(clocks, name)))
    by = rf"(?:(?:the\s)?(?:{'|'.join(called) or '(?!)'})[\s,:]*)?"
    return re.compile(rf"{_JOINING}{by}(?:at\s)?[(\[@]?", re.IGNORECASE)


_JOINING = (
    r"(?:(?:and|or|but|so|then|next|now|later|finally|eventually|afterwards?|after that|it was)[\s,]+)*"
)
"""Before the time of an event, words that only join it to what stood before (common practice, no source)."""
_JOINED = re.compile(r"\A(?:(?:and|then|when)\b[\s,]+)++(?!\d)", re.IGNORECASE)
"""The same behind the time; before figures, which may be another time, they stay."""


# What is wrong


def _fault(name: str, value: str) -> dict[str, str]:
    match name:
        case "what" if not value or len(value) > MOST_WORDS:
            return {"text": "say what happened", "expected": f"words, at most {MOST_WORDS:,} characters"}
        case "grade" if not value:
            return {"text": "choose its grade, or leave the line out", "expected": "a grade of the scale"}
        case "kind" if value not in {kind.value for kind in EventKind}:
            return {"text": "choose what it becomes", "expected": "one from the list"}
        case "when":
            return _time_fault(value)
        case "clock" if value == UNSURE:
            return {"text": "choose the clock that it was read from", "expected": "a clock of the case"}
        case _:
            return {}


def _time_fault(value: str) -> dict[str, str]:
    try:
        parse_when(value)
    except PydanticCustomError as fault:
        return {"text": fault.message(), **{key: str(beat) for key, beat in (fault.context or {}).items()}}
    return {}
