"""Lines of the note on their way to events: what is filled in for the author to check, and what is written.

A clock is filled in where the line names it; nothing else than words that stand in the line ever is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic_core import PydanticCustomError

from mmbuilder.case.when import parse_when
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._note import Line
from mmbuilder.page.parts._typed import Clocks, clocks_of, word
from mmbuilder.page.parts._written import added, block
from mmbuilder.safe.terms import EventKind

MOST_WORDS = 2000
"""Characters of what happened in one event."""

FIELDS = ("what", "when", "kind", "clock", "source")


@dataclass(frozen=True)
class Time:
    """A time that stands in a line, and the clock that is named nearest to it; empty for the reference."""

    words: str
    clock: str


@dataclass(frozen=True)
class Pull:
    """One or several lines on their way to an event, as it was filled in.

    Attributes:
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


def begun(lines: tuple[Line, ...], tree: dict[str, Any], source: str) -> Pull:
    """Return the form for lines: their words, and a time with its clock where exactly one stands.

    A time that leads the words stands in its own field then, with its clock, and need not be said twice.
    """
    text, times = _joined(lines), _times(lines, tree)
    one = times[0] if len(times) == 1 else Time("", "")
    what = text
    if one.words and text.startswith(one.words):
        rest = text.removeprefix(one.words)
        behind = _behind(clocks_of(tree)).match(rest)
        what = rest[behind.end() if behind else 0 :].lstrip(" ,:;.-–—")
    return Pull(lines, (what or text)[:MOST_WORDS], one.words, clock=one.clock, source=source, times=times)


def filled(lines: tuple[Line, ...], tree: dict[str, Any], said: Mapping[str, str]) -> Pull:
    """Return the form for lines as it was filled in, with what is wrong.

    Args:
        lines: the lines.
        tree: the case as typed.
        said: what stands in `FIELDS`.
    """
    told = {name: _fault(name, said[name]) for name in ("kind", "what", "when")}
    faults = {name: beats for name, beats in told.items() if beats}
    return Pull(lines, **{name: said[name] for name in FIELDS}, times=_times(lines, tree), faults=faults)


def append(tree: Any, pulls: Iterable[Pull]) -> None:
    """Put events at the end of those of a case."""
    if not isinstance(tree.get("timeline"), dict):
        tree["timeline"] = {}
    for pull in pulls:
        event = {"kind": pull.kind, "what": pull.what, "when": pull.when}
        event |= {name: value for name in ("clock", "source") if (value := getattr(pull, name))}
        events = tree["timeline"].get("events")
        if isinstance(events, list):
            added(events, event)
        else:
            tree["timeline"]["events"] = [block(event)]


def _joined(lines: Iterable[Line]) -> str:
    return " ".join(line.text for line in lines)


# Times and clocks


def _times(lines: Iterable[Line], tree: dict[str, Any]) -> tuple[Time, ...]:
    text, clocks = _joined(lines), clocks_of(tree)
    # Of an eye, "at 11.30" tells a place on the clock face.
    found = kept.times(text, dial=word(tree, "specialty") == "ophthalmology")
    return tuple(Time(one, _clock_of(text, one, clocks)) for one in found)


def _clock_of(text: str, time: str, clocks: Clocks) -> str:
    """Return the clock that is named right behind a time, else nearest to it.

    Empty where none is, or it is the reference.
    """
    start = text.index(time)
    end = start + len(time)
    behind = _behind(clocks).match(text, end)
    named = [
        (max(start - found.end(), found.start() - end), name)
        for name, shape in _telling(clocks).items()
        for found in shape.finditer(text, *(behind.span() if behind else ()))
    ]
    nearest = min(named, default=(0, ""))[1]
    return "" if nearest == clocks.reference else nearest


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
            return {"text": "choose what kind of event it is", "expected": "one from the list"}
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
