"""Files written out as letters in a text (base64): a picture in Markdown, what a mail carries. Nobody can read them.

Source: RFC 4648 section 4 (base64), RFC 2397 (data addresses), RFC 2045 section 6.8 (lines of 76 signs);
45 CFR 164.514(b)(2)(i)(R). https://www.rfc-editor.org/rfc/rfc4648
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.plan import Span

KIND = "embedded data"
LETTER = "R"
SOURCE = "RFC 4648, RFC 2397"
EXAMPLES = (
    "![scan](data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJ)",
    "data:text/plain;charset=utf-8,seen%20by%20her",
    "carried TW9pcmEgUXVlbmJ5LCBNUk4gODg0MTkwNywgc2VlbiBpbiB0aGVhdHJlIDMgb24gTW9uZGF5 on",
    "TW9pcmEgUXVlbmJ5LCBNUk4gODg0MTkwNywgc2VlbiBpbiB0aGVhdHJlIDMgb24gTW9uZGF5\nLCBieSBoZXI=\n",
)
NEAR_MISSES = (
    "data: pulse 80, pressure 120/80",
    "the data:image was poor",
    "pneumonoultramicroscopicsilicovolcanoconiosis",
    "----------------------------------------------------------------------",
    "ACGTACGTACGTACGTACGTACGTACGTACGTACGTACGTACGTACGTACGTACGTACGTACGT",
)

_ADDRESS = re.compile(r"(?<![a-z])data:[\w.+-]+/[\w.+-]+(?:;[\w.+-]+(?:=[\w.+-]+)?)*,[^\s\"'<>)\]]+", re.I)
_SIGN = "[A-Za-z0-9+/_-]"
_ROW = re.compile(rf"{_SIGN}+={{0,2}}")
_ROWS = re.compile(rf"(?<!{_SIGN}){_SIGN}{{60,}}={{0,2}}(?:\r?\n{_SIGN}{{60,}}={{0,2}})*")
_LAST = re.compile(rf"\r?\n{_SIGN}{{1,76}}={{0,2}}(?=\r?\n|$)")
"""What is left for a last line, below full ones."""
_MIXED = (re.compile("[a-z]"), re.compile("[A-Z]"), re.compile("[0-9]"))


def find(text: str) -> Iterator[Span]:
    """Yield each file: an address whole, rows line by line."""
    for found in _ADDRESS.finditer(text):
        yield Span(*found.span(), KIND, LETTER, "[removed]", 0.99)
    for found in _ROWS.finditer(text):
        if all(kind.search(found[0]) for kind in _MIXED):
            last = _LAST.match(text, found.end())
            end = last.end() if last and _is_data(last[0]) else found.end()
            for row in _ROW.finditer(text, found.start(), end):
                yield Span(*row.span(), KIND, LETTER, "[removed]", 0.99)


def _is_data(line: str) -> bool:
    """Whether a short line is the end of it and no word below it."""
    return line.endswith("=") or sum(kind.search(line) is not None for kind in _MIXED) > 1
