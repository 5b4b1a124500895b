"""Which way a text runs, and how one that runs the other way is kept apart within it.

Without that, a Hebrew line beside an English word takes the word's figures and full stop with it.
Source: Unicode Standard Annex 9, rules P2 and P3 and isolates (FSI, PDI).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

FIRST, LAST = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"

_FROM_RIGHT = re.compile(
    "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]"
)
"""Blocks whose letters run from the right (Unicode Character Database, DerivedBidiClass.txt)."""


def runs_left(text: str) -> bool:
    """Whether a text runs from the right: as its first letter does that stands in no isolate."""
    return _FROM_RIGHT.search(text) is not None and next(_ways(text), "L") != "L"


def has_leftward(text: str) -> bool:
    """Whether it has letters that run from the right, be it in an isolate."""
    return _FROM_RIGHT.search(text) is not None


def holds_leftward(text: str) -> bool:
    """Whether it holds letters that run from the right and stand in no isolate."""
    return _FROM_RIGHT.search(text) is not None and any(way != "L" for way in _ways(text))


def isolated(text: str) -> str:
    """Return a text that keeps its own order within any other."""
    return f"{FIRST}{text}{LAST}"


def apart(text: str, *, leftwards: bool) -> str:
    """Return a part of a line that runs one way, isolated if it would disturb it."""
    other = next(_ways(text), "R") == "L" if leftwards else holds_leftward(text)
    return isolated(text) if other else text


def _ways(text: str) -> Iterator[str]:
    """Yield the direction of each letter that stands in no isolate."""
    depth = 0
    for sign in text:
        if sign == FIRST:
            depth += 1
        elif sign == LAST:
            depth = max(0, depth - 1)
        elif depth == 0 and (way := unicodedata.bidirectional(sign)) in ("L", "R", "AL"):
            yield way
