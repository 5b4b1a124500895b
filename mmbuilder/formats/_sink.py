"""The one place where safe words become plain ones for a slide or a page."""

from __future__ import annotations

import re

from mmbuilder.safe.bound import bound, ordered
from mmbuilder.safe.text import SafeText

# XML 1.0 (Fifth Edition), production [2] Char: everything else cannot stand in a part at all.
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# A non-breaking space is kept: it holds a figure and its unit together.
_SPACES = re.compile("[ \t\n\r\u0085\u2028\u2029]+")

_RUNT = re.compile(r"(?<=\S) (?=\S{1,5}$)")
"""Before a short last word, which would have a line to itself."""


def plain(text: SafeText) -> str:
    """Return the words on one line, without what XML cannot carry."""
    return _SPACES.sub(" ", _NOT_XML.sub("", text.reveal())).strip(" ")


def read(text: SafeText) -> str:
    """Return the words for somebody who reads them, with figure and unit in their order."""
    return ordered(plain(text))


def held(text: SafeText) -> str:
    """Return the same for a line that may be broken, with what belongs together held together."""
    return bound(read(text))


def laid(text: SafeText) -> str:
    """Return the same for lines as wide as a slide: a short word does not stand on the last one alone."""
    return _RUNT.sub("\N{NO-BREAK SPACE}", held(text))
