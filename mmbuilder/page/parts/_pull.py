"""Lines of the note on their way into the case: filled in for the author to check, then written.

A clock is filled in where the line names it, a part of the case where the line opens with a word for it;
nothing else than words that stand in the line ever is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic_core import PydanticCustomError

from mmbuilder.case.when import parse_when
from mmbuilder.page.form.keeping import New
from mmbuilder.page.form.scalars import tidied
from mmbuilder.page.form.targets import Target, offered, targets
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._note import Line, Mark, State
from mmbuilder.page.parts._typed import Clocks, clocks_of, word
from mmbuilder.safe.terms import EventKind

MOST_WORDS = 2000
"""Characters of what becomes of a line."""

FIELDS = ("what", "when", "kind", "clock", "source")


@dataclass(frozen=True)
class Time:
    """A time that stands in a line, and the clock that is named nearest to it; empty for the reference."""

    words: str
    clock: str


@dataclass(frozen=True)
class Pull:
    """One or several lines on their way to an event or another part of the case, as it was filled in.

    Attributes:
        kind: of event, or the name of another part.
        faults: what is wrong, by the field it stands in; each with the beats of the command line.
    """

    lines: tuple[Line, ...]
    what: str
    when: str = ""
    kind: str = ""
    clock: str = ""
    source: str = ""
    times: tuple[Time, ...] = ()
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
    def words(self) -> str:
        """What is written: with the time, where there is no other field for it."""
        told = self.target is None or not self.when or self.when in self.what
        return tidied(self.what if told else f"{self.when} {self.what}")

    @property
    def new(self) -> New:
        """What is put into the case."""
        if self.target is not None:
            return self.target.new(self.words)
        event = {"kind": self.kind, "what": self.words, "when": self.when}
        event |= {name: value for name in ("clock", "source") if (value := getattr(self, name))}
        return New(("timeline", "events"), event)

    @property
    def mark(self) -> Mark:
        """What is said of its lines once it is written."""
        return Mark(State.PULLED, self.words, self.target.label if self.target else "")


def begun(lines: tuple[Line, ...], tree: dict[str, Any], source: str) -> Pull:
    """Return the form for lines: their words, and a time with its clock.

    Of several times of a line it is the one that leads the words or stands behind `at`, if one does; the
    others stay in the words, to be chosen from. A time that leads the words stands in its own field then,
    with its clock, and need not be said twice.
    """
    text, times, target = _joined(lines), _times(lines, tree), offered(lines[0].whole)
    kind = target.name if target else ""
    text = target.rest(text) if target else text
    clocks = clocks_of(tree)
    if len(times) == 1:
        one = times[0]
    else:
        telling = (time for time in times if len(lines) == 1 and _tells_when(text, time, clocks))
        one = next(telling, Time("", ""))
    what = _without_lead(text, one, times, clocks)
    return Pull(lines, what[:MOST_WORDS], one.words, kind, one.clock, source, times)


def filled(lines: tuple[Line, ...], tree: dict[str, Any], said: Mapping[str, str]) -> Pull:
    """Return the form for lines as it was filled in, with what is wrong.

    Args:
        lines: the lines.
        tree: the case as typed.
        said: what stands in `FIELDS`.
    """
    asked = ("what",) if said["kind"] in targets() else ("kind", "what", "when")
    told = {name: _fault(name, said[name]) for name in asked}
    faults = {name: beats for name, beats in told.items() if beats}
    times, fields = _times(lines, tree), {name: said[name] for name in FIELDS}
    if said["kind"] not in targets():
        when = Time(said["when"], said["clock"])
        fields["what"] = _without_lead(said["what"], when, times, clocks_of(tree))
    return Pull(lines, **fields, times=times, faults=faults)


def _joined(lines: Iterable[Line]) -> str:
    return " ".join(line.text for line in lines)


# Times and clocks


def _times(lines: Iterable[Line], tree: dict[str, Any]) -> tuple[Time, ...]:
    text, clocks = _joined(lines), clocks_of(tree)
    # Of an eye, "at 11.30" tells a place on the clock face.
    found = kept.times(text, dial=word(tree, "specialty") == "ophthalmology")
    places = {one: (start := text.index(one), start + len(one)) for one in found}
    return tuple(
        Time(one, _clock_of(text, place, [*places.values()], clocks)) for one, place in places.items()
    )


def _clock_of(text: str, place: tuple[int, int], places: list[tuple[int, int]], clocks: Clocks) -> str:
    """Return the clock that is named right behind a time, else nearest to it.

    One that is named behind it and nearer to another time is that other's: `0402 seen, monitor at 0408`.
    Empty where none is, or it is the reference.
    """
    behind = _behind(clocks).match(text, place[1])
    named = [
        (_apart(found.span(), place), name)
        for name, shape in _telling(clocks).items()
        for found in shape.finditer(text, *(behind.span() if behind else ()))
        if behind or found.end() <= place[0] or _nearest(found.span(), places) == place
    ]
    nearest = min(named, default=(0, ""))[1]
    return "" if nearest == clocks.reference else nearest


def _nearest(place: tuple[int, int], others: list[tuple[int, int]]) -> tuple[int, int]:
    return min(others, key=lambda one: _apart(place, one))


def _apart(one: tuple[int, int], other: tuple[int, int]) -> int:
    return max(one[0] - other[1], other[0] - one[1])


def _tells_when(text: str, time: Time, clocks: Clocks) -> bool:
    """Whether a time leads the words, its clock left aside, or stands behind `at`."""
    before = text[: text.index(time.words)]
    return _before(clocks, time.clock).fullmatch(before) is not None or _AT.search(before) is not None


_AT = re.compile(r"(?<!\w)at\s+$", re.IGNORECASE)


def _without_lead(text: str, when: Time, times: Iterable[Time], clocks: Clocks) -> str:
    """Return words without the time that leads them and its clock, where that time has a field of its own."""
    lead = _before(clocks, when.clock).match(text)
    rest = text[lead.end() if lead else 0 :]
    time = next((one.words for one in times if rest.startswith(one.words)), "")
    if not time or _figures(time) != _figures(when.words):
        return text
    rest = rest.removeprefix(time)
    behind = _behind(clocks).match(rest)
    return rest[behind.end() if behind else 0 :].lstrip(" ,:;.-–—") or text


def _figures(time: str) -> str:
    return re.sub(r"\D", "", time)


def _before(clocks: Clocks, clock: str) -> re.Pattern[str]:
    """What may stand before a time that leads the words: its clock, and `at`."""
    named = _telling(clocks).get(clock or clocks.reference)
    return re.compile(
        rf"(?:(?:the\s)?{named.pattern}[\s,:]*)?(?:at\s)?" if named else r"(?:at\s)?", re.IGNORECASE
    )


_COMMON = frozenset({"clock", "time", "chart", "record", "machine", "printout"})
"""Last words in the name of a clock that do not tell which it is."""


def _telling(clocks: Clocks) -> dict[str, re.Pattern[str]]:
    """What names each clock in a sentence: its whole name, or its noun where no other clock has the same."""
    nouns = {name: _noun(name) for name in clocks.all}
    alone = {noun for noun in nouns.values() if noun and [*nouns.values()].count(noun) == 1}
    shapes = {name: {name.casefold(), noun} if noun in alone else {name} for name, noun in nouns.items()}
    return {
        name: re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, sorted(own)))})(?![\w-])", re.IGNORECASE)
        for name, own in shapes.items()
    }


def _noun(name: str) -> str:
    """The last word that tells which clock it is: `wall` of the wall clock, `monitor` of another."""
    words = [word for word in re.findall(r"[\w-]{3,}", name.casefold()) if word not in _COMMON]
    return words[-1] if words else ""


def _behind(clocks: Clocks) -> re.Pattern[str]:
    """A clock that is named right behind a time: `(monitor)`, `by the wall clock`, `on the pump`."""
    names = "|".join(shape.pattern for shape in _telling(clocks).values()) or r"(?!)"
    return re.compile(
        rf"[\s,(\[]*(?:(?:by|on|from|off|per)\s)?(?:the\s)?(?:{names})(?:\s(?:clock|time)\b)?[)\]]*",
        re.IGNORECASE,
    )


# What is wrong


def _fault(name: str, value: str) -> dict[str, str]:
    match name:
        case "what" if not value or len(value) > MOST_WORDS:
            return {"text": "say what happened", "expected": f"words, at most {MOST_WORDS:,} characters"}
        case "kind" if value not in [kind.value for kind in EventKind]:
            return {"text": "choose what it becomes", "expected": "one from the list"}
        case "when":
            return _time_fault(value)
        case _:
            return {}


def _time_fault(value: str) -> dict[str, str]:
    try:
        parse_when(value)
    except PydanticCustomError as fault:
        return {"text": fault.message(), **{key: str(beat) for key, beat in (fault.context or {}).items()}}
    return {}
