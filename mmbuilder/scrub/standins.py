"""Stand-ins that need the whole case: Day numbers, weeks from the meeting, letters for titled names."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.scrub.detectors import _calendar, date
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.plan import Layer, Span
from mmbuilder.scrub.surrogates import day_words, from_meeting, people_words

_BY = re.compile(r"(?<!\w)by\s+(?:the\s+)?$", re.IGNORECASE)
_ON = re.compile(r"(?<!\w)on\s+(?:the\s+)?$", re.IGNORECASE)


class Dates:
    """The dates of one case as offsets from its Day 0, or from its meeting for what is due."""

    def __init__(self, case: Case) -> None:
        self._reckoner = Reckoner(case)
        self._meeting = case.meeting.date if case.meeting else None

    def told(self, path: Path, text: str, span: Span) -> Span:
        """Return the span with an offset as its stand-in, where the date is full and has one reading."""
        if span.kind != date.KIND or span.stand_in != "[date]":
            return span
        day = _calendar.read(text[span.start : span.end])
        if day is None:
            return span
        if self._meeting is not None and path[:1] == ("actions",):
            return _due(text, span, (day - self._meeting).days)
        days = self._reckoner.days_from_zero(day)
        return span if days is None else replace(span, stand_in=day_words(days))


def _due(text: str, span: Span, days: int) -> Span:
    """`by 14 May 2026` becomes `within 8 weeks of this meeting`."""
    words = from_meeting(days)
    if days > 0 and (by := _BY.search(text, 0, span.start)):
        within = words.replace(" after this meeting", " of this meeting")
        return replace(span, start=by.start(), stand_in=f"within {within}")
    if on := _ON.search(text, 0, span.start):
        return replace(span, start=on.start(), stand_in=words)
    return replace(span, stand_in=words)


def lettered(texts: Sequence[str], found: Sequence[Sequence[Span]], first: int) -> list[list[Span]]:
    """Give titled names a group by surname, and a letter where a role has several bearers.

    Args:
        texts: the texts.
        found: their settled spans.
        first: the first group number that is free.
    """
    bearers: dict[str, str] = {}
    for text, spans in zip(texts, found, strict=True):
        for span in spans:
            if _titled(span):
                bearers.setdefault(_surname(text, span), _role(span))
    names = list(bearers)
    words = people_words([bearers[name] for name in names])
    made = {name: (first + place, word) for place, (name, word) in enumerate(zip(names, words, strict=True))}
    return [
        [_renamed(span, *made[_surname(text, span)]) if _titled(span) else span for span in spans]
        for text, spans in zip(texts, found, strict=True)
    ]


def _titled(span: Span) -> bool:
    return span.letter == "A" and span.layer is not Layer.DECLARED


def _surname(text: str, span: Span) -> str:
    words = re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", text[span.start : span.end])
    return folded(re.sub(r"['’]s?$", "", words[-1])) if words else ""


def _role(span: Span) -> str:
    return re.sub(r"^the |['’]s$", "", span.stand_in.lower()).strip("[]")


def _renamed(span: Span, group: int, word: str) -> Span:
    """Put the lettered word in, keeping capital, missing article and possessive of the fitted one."""
    role = _role(span)
    if word == f"the {role}":
        return replace(span, group=group)
    ending = re.search(r"['’]s$", span.stand_in)
    plain = f"[{word}]" if span.stand_in.startswith("[") else word
    if span.stand_in[:1].isupper():
        plain = plain[:1].upper() + plain[1:]
    return replace(span, group=group, stand_in=plain + (ending[0] if ending else ""))
