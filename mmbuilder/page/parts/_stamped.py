"""The clock by which a readings file is stamped, as the note says: `readings file from monitor`.

So does the heading of a chart in the note, `Chart off the ward monitor`.
The words are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from mmbuilder.page.parts._typed import Clocks

_WHAT = r"readings?|trends?|data|numbers|vitals|obs|chart"
_FILE = re.compile(
    r"\b(?:csv|xlsx?|spreadsheet|data ?file|exports?|exported|downloads?|downloaded"
    rf"|(?:{_WHAT})\s(?:files?|table|sheet|print-?outs?)|(?:{_WHAT}|file|files)\s(?:(?:are|is|all|come|comes|taken|times?|stamped)\s)*"
    r"(?:from|off|of|by|in|on|per)\b|files?\s(?:from|off|by))",
    re.IGNORECASE,
)
_PICTURES = re.compile(r"\b(?:video|film|clip|still|picture|photo|image)s?\b", re.IGNORECASE)
_TIMED = re.compile(r"\W*~?\d{1,2}[:.]?\d\d\b")
_SENTENCE = re.compile(r"[.;!?]\s+|\n")
_OF_ANY = frozenset({"clock", "time", "the", "and"})
_SHORT = {"monitor": "mon"}


def stamped_by(text: str, clocks: Clocks) -> str:
    """Return the clock that a note names with its readings file; empty where none, or several.

    Args:
        text: the note.
        clocks: of the case.
    """
    named: set[str] = set()
    for sentence in _SENTENCE.split(text):
        if _FILE.search(sentence) and not (_TIMED.match(sentence) or _PICTURES.search(sentence)):
            named |= {name for name, words in _called(clocks).items() if words.search(sentence)}
    return named.pop() if len(named) == 1 else ""


def _called(clocks: Clocks) -> Mapping[str, re.Pattern[str]]:
    """What names each clock: a word of its name that no other clock has."""
    words = {name: {*re.findall(r"\w{3,}", name.casefold())} - _OF_ANY for name in clocks.all}
    alone = {
        name: own - {word for other, theirs in words.items() if other != name for word in theirs}
        for name, own in words.items()
    }
    return {name: _any_of(own) for name, own in alone.items() if own}


def _any_of(words: set[str]) -> re.Pattern[str]:
    forms = sorted(words | {_SHORT[one] for one in words & _SHORT.keys()})
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, forms))})\b", re.IGNORECASE)
