"""How much room words take, by the advance widths of the face they are set in.

A line is broken only at spaces, and inside a word that is wider than the box. Slide software
may break in more places (after a hyphen), never in fewer, so nothing grows beyond what is
measured here.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

from mmbuilder import fonts

LINE = 1.2207
"""Line pitch of Carlito in ems: (ascender 1536 + descender 512 + gap 452) / 2048, from its `hhea` table."""

_RESERVE = 1.01
"""One per cent, for the rounding of widths in slide software."""

_KNOWN_TO = "\u0530"
"""Carlito draws Latin, Greek and Cyrillic; other scripts come from a face of the reader's computer."""


@lru_cache(maxsize=65536)
def _ems(word: str, bold: bool) -> float:
    if word.isascii() or max(word) < _KNOWN_TO:
        return fonts.width(word, 1, bold=bold)
    return sum(_em(char, bold) for char in word)


def _em(char: str, bold: bool) -> float:
    if char < _KNOWN_TO or "\u2000" <= char <= "\u2260":
        return fonts.width(char, 1, bold=bold)
    if unicodedata.combining(char):
        return 0
    # Our face for these scripts is a wide one: others take hardly more.
    return 1.0 if unicodedata.east_asian_width(char) in "WF" else fonts.width(char, 1, bold=bold)


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line in points."""
    return _ems(text, bold) * size * _RESERVE


@lru_cache(maxsize=16384)
def lines(text: str, room: float, size: float, bold: bool = False) -> tuple[str, ...]:
    """Break a paragraph into the lines it takes in a box `room` points wide."""
    made: list[str] = []
    line, used = "", 0.0
    space = width(" ", size, bold=bold)
    for word in text.split(" "):
        wide = width(word, size, bold=bold)
        if line and used + space + wide <= room:
            line, used = f"{line} {word}", used + space + wide
            continue
        if line:
            made.append(line)
        *full, line = _broken(word, room, size, bold) if wide > room else (word,)
        made.extend(full)
        used = width(line, size, bold=bold)
    return (*made, line)


def _broken(word: str, room: float, size: float, bold: bool) -> list[str]:
    """Cut a word that is wider than the box; one letter at least on each line."""
    parts, part = [], ""
    for char in word:
        if part and width(part + char, size, bold=bold) > room:
            parts.append(part)
            part = ""
        part += char
    return [*parts, part]
