"""Moments at which a note reads two clocks: proposed on the page of the clocks, for the author to check."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

_TIME = r"(?P<{}>\d{{1,2}}[:.]\d\d(?:[:.]\d\d)?|[012]\d[0-5]\d)(?![\d:])"
_CLOCK = (
    r"(?:the )?(?P<{0}>[a-z][\w-]*(?: (?:clock|monitor|chart|recorder|record|machine|time))?)"
    r"(?P<{0}_says> (?:said|says|read|reads|showed|shows|was|is))?(?: at)?\s?[=:]? ?"
)
_MOMENT = re.compile(
    rf"\b(?P<when>when )?{_CLOCK.format('one')}{_TIME.format('first')}"
    r"(?P<same>,? (?:when|while|and) |\s?[=,]\s?| )"
    rf"{_CLOCK.format('other')}{_TIME.format('second')}",
    re.IGNORECASE,
)
"""`recorder said 14:22 when theatre clock 14:20`, `when wall said 0948 box said 0941` (common practice, no
source)."""
_PLAIN = frozenset({"clock", "time", "the", "of"})


@dataclass(frozen=True)
class Moment:
    """One moment on two clocks, as a note tells it.

    Attributes:
        words: of the note.
        readings: what each of the two clocks showed, by its name.
    """

    words: str
    readings: tuple[tuple[str, str], tuple[str, str]]

    def on(self, reference: str, clock: str = "") -> tuple[str, str, str] | None:
        """Return the name of the clock beside the reference, what it showed, and what the reference said.

        Args:
            reference: name of the clock that all times are told by.
            clock: the clock that is asked about; any where empty.

        Returns:
            None where not exactly one of the two is the reference, or the other is not the one asked about.
        """
        first, second = self.readings
        ours = [same(name, reference) for name, _ in self.readings]
        if ours[0] == ours[1]:
            return None
        (name, reads), (_, said) = (second, first) if ours[0] else (first, second)
        return (name, reads, said) if not clock or same(name, clock) else None


def moments(text: str) -> Iterator[Moment]:
    """Yield the moments at which a note reads two clocks."""
    for found in _MOMENT.finditer(text):
        joined = found["when"] or found["same"].strip(" ,") in ("when", "while", "=")
        if joined and found["one"].lower() != found["other"].lower():
            readings = ((found["one"], found["first"]), (found["other"], found["second"]))
            yield Moment(found[0], readings)


def same(name: str, other: str) -> bool:
    """Whether two names may be of one clock: one has the words of the other."""
    first, second = _told(name), _told(other)
    return bool(first and second) and (first <= second or second <= first)


def _told(name: str) -> frozenset[str]:
    return frozenset(_words(name)) - _PLAIN


def _words(name: str) -> Iterable[str]:
    return re.findall(r"[\w-]+", name.lower())
