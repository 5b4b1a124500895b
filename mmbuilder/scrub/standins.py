"""Stand-ins that need the whole case: Day numbers, weeks from the meeting, letters for titled names."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.due import day_again, day_due
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.scrub import short_dates, since_month
from mmbuilder.scrub.detectors import _calendar, date
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.surrogates import day_words, fit, from_meeting, people_words

_BY = re.compile(r"(?<!\w)by\s+(?:the\s+)?$", re.IGNORECASE)
_DAY = re.compile(r"(?<!\w)day\s+$", re.IGNORECASE)
_ON = re.compile(r"(?<!\w)on\s+(?:the\s+)?$", re.IGNORECASE)


class Dates:
    """The dates of one case as offsets from its Day 0, or from its meeting for what is due.

    Args:
        case: the case.
        day_first: whether its author writes the day before the month, where that is known.
    """

    def __init__(self, case: Case, day_first: bool | None = None) -> None:
        self._reckoner, self._day_first = Reckoner(case), day_first
        self._meeting = case.meeting.date if case.meeting else None
        self._by_day = {
            ("actions", place)
            for place, action in enumerate(case.actions)
            if day_due(action.due, self._meeting) or day_again(action.review)
        }

    def told(self, path: Path, text: str, span: Span) -> Span:
        """Return the span with an offset as its stand-in, where the date has one reading.

        One without a year in full has, where it lies near the day it is counted from.
        """
        if span.kind != date.KIND or span.stand_in != "[date]":
            return span
        # Log and calendar print the day that an action is due, and slides its month, so no other date of it may
        # be counted from.
        logged = path[:1] == ("previous actions",) or path[:2] in self._by_day
        # A reflection is no matter of the meeting: what it sets itself is told by the day, like all else.
        due = path[-1] == "due" if logged else path[:1] == ("actions",)
        counted_from = self._meeting if self._meeting is not None and due else self._reckoner.day_zero
        day = _calendar.read(text[span.start : span.end])
        if (
            day is None
            and counted_from is not None
            and (near := short_dates.near(text, span, counted_from, self._day_first))
        ):
            day, span = near.day, replace(span, start=near.start, end=near.end)
        if day is None:
            zero = self._reckoner.day_zero
            since = zero and since_month.told(path, text, span.start, span.end, zero, self._meeting)
            return replace(span, start=since[0], stand_in=since[1]) if since else span
        if self._meeting is not None and due:
            return _due(text, span, (day - self._meeting).days)
        if logged:
            return span
        days = self._reckoner.days_from_zero(day)
        if days is None:
            return span
        told = _DAY.search(text, 0, span.start)  # "Day 14 March 2025" is not told as "Day Day 0"
        return replace(span, start=told.start() if told else span.start, stand_in=day_words(days))


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
    people = _People(texts, found)
    words = people_words([people.roles[name] for name in people.roles])
    made = {
        name: (first + place, word)
        for place, (name, word) in enumerate(zip(people.roles, words, strict=True))
    }
    return [
        [
            _renamed(text, span, people.roles, *_made(people, made, text, span)) if _titled(span) else span
            for span in spans
        ]
        for text, spans in zip(texts, found, strict=True)
    ]


def _made(
    people: _People, made: Mapping[str, tuple[int, str]], text: str, span: Span
) -> tuple[str, int, str]:
    name = people.of(text, span)
    return (name, *made[name])


class _People:
    """Who bears which name: found names by surname, a name alone by the one whole name that holds it.

    Attributes:
        roles: the role of each person, by surname, in the order met; the profession if any place tells it.
    """

    def __init__(self, texts: Sequence[str], found: Sequence[Sequence[Span]]) -> None:
        every = [
            (text, span) for text, spans in zip(texts, found, strict=True) for span in spans if _titled(span)
        ]
        self._surnames = self._by_piece([_words(text, span) for text, span in every])
        self.roles: dict[str, str] = {}
        for text, span in every:
            name, role = self.of(text, span), _role(span)
            if self.roles.get(name, _NOBODY) == _NOBODY:
                self.roles[name] = role

    def of(self, text: str, span: Span) -> str:
        """The surname by which the person of a span is known."""
        words = _words(text, span)
        return self._surnames.get(words[-1], words[-1]) if words else ""

    @staticmethod
    def _by_piece(names: Sequence[list[str]]) -> dict[str, str]:
        """Surname of each piece of a whole name that only one person bears, and that is nobody's surname."""
        bearers: dict[str, set[str]] = {}
        for words in names:
            for word in words[:-1]:
                if len(word) > 1:
                    bearers.setdefault(word, set()).add(words[-1])
        surnames = {words[-1] for words in names if len(words) > 1}
        return {word: min(of) for word, of in bearers.items() if len(of) == 1 and word not in surnames}


_NOBODY = "name"
"""The role of somebody whose profession no place tells."""


def _titled(span: Span) -> bool:
    return span.letter == "A" and span.layer is not Layer.DECLARED and span.decision is Decision.REPLACE


def _words(text: str, span: Span) -> list[str]:
    """Folded words of a name, the surname last: `OSKAVARN, Jane` is turned about."""
    said = re.sub(r"['’]s?(?!\w)", "", text[span.start : span.end])
    turned = re.fullmatch(r"([^,]{3,}),\s+([^,]+)", said)
    words = re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", f"{turned[2]} {turned[1]}" if turned else said)
    return [folded(word) for word in words]


def _role(span: Span) -> str:
    return re.sub(r"^['’]s |['’]s$", "", span.stand_in.lower()).strip("[]()").removeprefix("the ")


def _renamed(text: str, span: Span, roles: Mapping[str, str], name: str, group: int, word: str) -> Span:
    """Put the lettered word in, keeping capital, missing article and possessive of the fitted one."""
    role = _role(span)
    if word == f"the {role}":
        return replace(span, group=group)
    ending = re.search(r"['’]s$", span.stand_in)
    if role == _NOBODY and roles[name] != _NOBODY:  # told as nobody here, as a doctor elsewhere
        plain = fit(text, span.start, span.end, word).words
        return replace(
            span, group=group, stand_in=plain + (ending[0] if ending and plain[-2:-1] not in "'’" else "")
        )
    genitive = re.match(r"['’]s ", span.stand_in)  # of a profession before it: `'s (colleague A)`
    body = span.stand_in[genitive.end() :] if genitive else span.stand_in
    plain = {"[": f"[{word}]", "(": f"({word})"}.get(body[:1], word)
    if genitive:
        return replace(span, group=group, stand_in=genitive[0] + plain)
    if span.stand_in[:1].isupper():
        plain = plain[:1].upper() + plain[1:]
    return replace(span, group=group, stand_in=plain + (ending[0] if ending else ""))
