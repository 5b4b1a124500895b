"""A name ends with its line where the next one begins with no name: `Dr Quillorne`, below it `Haemoglobin 61`.

Lines of a note are short and carry no full stop; a line of prose that was broken at its width may well part
a first name from a family name. So a word that may be a name ends nothing behind a long line.
"""

from __future__ import annotations

import re
from dataclasses import replace

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.plan import Span

_ONWARD = re.compile(r"\s*\n\s*(?P<word>[^\W\d_]+)")
_LABEL = re.compile(r"\s+(?P<word>[^\W\d_]+)$")
_BEHIND = re.compile(r"\s?:")
_LAST = re.compile(r"([^\W\d_]+)\W*$")
_NAMES = "AB"
"""The letters of names: of people, of places."""
_BROKEN = 55
"""Characters of a line from which on it may have been broken at its width."""


def on_its_line(text: str, span: Span) -> Span:
    """Return a found name without the next line, or a label behind it, where that begins with no name."""
    if span.letter not in _NAMES:
        return span
    found = _ONWARD.search(text, span.start, span.end)
    if found and _ends(text, span, found, broken=_long(text, found.start())):
        return replace(span, end=found.start())
    found = _LABEL.search(text, span.start, span.end)
    if found and _BEHIND.match(text, span.end) and _ends(text, span, found, broken=True):
        return replace(span, end=found.start())
    return span


def _long(text: str, end: int) -> bool:
    """Whether the line that ends here is as long as one that was broken at its width."""
    return end - (text.rfind("\n", 0, end) + 1) >= _BROKEN


def _ends(text: str, span: Span, found: re.Match[str], *, broken: bool) -> bool:
    """Whether a name is told by what stands before, and none by the word that follows."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    lists = load()
    before = _LAST.search(text, span.start, found.start())
    if before is None or fold(before[1]) in lists.titles | lists.roles | lists.particles | lists.articles:
        return False
    word = fold(found["word"])
    if not (lists.known(word) or lists.plain_abroad(word) or word.upper() in ABBREVIATIONS):
        return False
    named = word in lists.word_names or word in lists.given or word in lists.family
    return not (named and broken)
