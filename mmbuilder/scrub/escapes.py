"""Text with its escapes read: `Tarn&shy;volk`, `%54arnvolk`, `<b>Tarn</b>volk`; every offset kept."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass
from urllib.parse import unquote

_TAG = r"</?(?:a|b|big|em|font|i|mark|s|small|span|strong|sub|sup|u)(?:\s[^<>\n]*)?>"
"""Marks inside a line that a reader does not see."""
_ESCAPE = re.compile(
    r"&(?:#\d{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z]{2,8}\d{0,2});|(?:%[0-9A-Fa-f]{2})+|" + _TAG, re.IGNORECASE
)


@dataclass(frozen=True)
class Unescaped:
    """A text as a browser shows it.

    Attributes:
        text: the text with its escapes read.
        places: for each of its characters, (start, end) in the text as given.
    """

    text: str
    places: list[tuple[int, int]]

    def place(self, start: int, end: int) -> tuple[int, int]:
        """Return offsets into the text as given; half an escape takes all of it."""
        return self.places[start][0], self.places[end - 1][1]


def unescaped(text: str) -> Unescaped | None:
    """Return the text with its escapes read, or None where it has none."""
    signs: list[str] = []
    places: list[tuple[int, int]] = []
    last = 0
    for found in _ESCAPE.finditer(text):
        start, end = found.span()
        meant = _meant(found[0])
        signs += [text[last:start], meant]
        places += [(at, at + 1) for at in range(last, start)] + [(start, end)] * len(meant)
        last = end
    if not last:
        return None
    places += [(at, at + 1) for at in range(last, len(text))]
    return Unescaped("".join([*signs, text[last:]]), places)


def _meant(escape: str) -> str:
    if escape.startswith("<"):
        return ""
    return unquote(escape, errors="replace") if escape.startswith("%") else html.unescape(escape)
