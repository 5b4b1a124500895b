"""What is text in a PDF: strings, metadata, files in it; never an operator, a number or a packed byte.

Page contents, object streams, maps of characters and the file around them are all written in one syntax
(ISO 32000-1, 7.2 to 7.3; PostScript for the maps). Its strings are words to be read, its names and comments
are markup, and its bare words are commands: `TJ`, `ET` and `B Q` are in every page and are nobody's initials.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

_TOKEN = re.compile(
    rb"(?P<skip>[\s\x00]+|(?:[-+]?[\d.]++(?=[\s\x00()<>\[\]{}/%]|\Z)[\s\x00]*+)++|<<|>>|[{}])"
    rb"|%(?P<comment>[^\r\n]*)|(?P<literal>\()|<(?P<hex>[0-9A-Fa-f\s]*)>|/(?P<name>[^\s\x00()<>\[\]{}/%]*)"
    rb"|(?P<array>\[)|(?P<closed>\])|(?P<word>[^\s\x00()<>\[\]{}/%]+)|(?P<other>.)",
    re.DOTALL,
)
_IN_STRING = re.compile(rb"\\[0-7]{1,3}|\\\r\n|\\.|[()]", re.DOTALL)
_ESCAPED = {
    b"n": b"\n",
    b"r": b"\r",
    b"t": b"\t",
    b"b": b"\b",
    b"f": b"\f",
    b"\n": b"",
    b"\r": b"",
    b"\r\n": b"",
}
_IMAGE = re.compile(rb"[\s\x00](.*?)[\s\x00]EI(?=[\s\x00]|$)", re.DOTALL)
_NAME_SIGN = re.compile(rb"#([0-9A-Fa-f]{2})")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")

_COMMANDS = frozenset(
    b"""b B b* B* BDC BI BMC BT BX c cm CS cs d d0 d1 Do DP EI EMC ET EX f F f* G g gs h i ID j J K k l m M MP n
    q Q re RG rg ri s S SC sc SCN scn sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' \"
    R true false null obj endobj stream endstream xref trailer startxref""".split()
)
"""Operators of a page (ISO 32000-1, Annex A) and the words of the file round it (7.3, 7.5)."""

_MARKS = frozenset({b"ID", b"Lang", b"DA"})
"""Keys whose strings are marks of a program: a hash of the file, a language, commands of a form field."""


@dataclass
class Written:
    """What a stretch of PDF syntax holds.

    Attributes:
        words: its strings, as a reader or a program shows them; the parts of a kerned line together.
        markup: names, comments, and strings that are marks of a program.
        codes: strings of bytes that are no letters: numbers of shapes, inline pictures.
        unknown: whether there is a bare word that is no command: it is no page, and no part of a file.
    """

    words: list[str] = field(default_factory=list)
    markup: list[str] = field(default_factory=list)
    codes: list[bytes] = field(default_factory=list)
    unknown: bool = False


def written(data: bytes, *, program: bool = False) -> Written:
    """Take PDF syntax apart.

    Args:
        data: a stretch of a file.
        program: whether its bare words may be any; else it is given up at the first that is no command.
    """
    seen, place, key = Written(), 0, b""
    line: list[bytes] | None = None
    while found := _TOKEN.match(data, place):
        place, kind = found.end(), found.lastgroup
        if kind in ("literal", "hex"):
            if kind == "literal":
                string, place = _literal(data, place)
            else:
                string = _hex(found["hex"])
            if line is not None and key not in _MARKS:
                line.append(string)
            else:
                _keep(seen, string, key)
        elif kind == "name":
            key = _NAME_SIGN.sub(lambda sign: bytes.fromhex(sign[1].decode()), found["name"])
            seen.markup.append(key.decode("utf-8", "replace"))
        elif kind == "array":
            _close(seen, line or [], key)
            line = []
        elif kind == "closed":
            _close(seen, line or [], key)
            line = None
        elif kind == "comment":
            seen.markup.append(found["comment"].decode("utf-8", "replace"))
        elif kind == "word":
            key, word = b"", found["word"]
            if word not in _COMMANDS:
                seen.unknown = True
                if not program:
                    break
                seen.markup.append(word.decode("utf-8", "replace"))
            elif word == b"ID" and (image := _IMAGE.match(data, place)):
                seen.codes.append(image[1])
                place = image.end()
    _close(seen, line or [], key)
    return seen


def _close(seen: Written, line: list[bytes], key: bytes) -> None:
    """Take the strings of an array: a line with its letters moved about, and each by itself."""
    if len(line) > 1:
        _keep(seen, b"".join(line), key)
    for string in line:
        _keep(seen, string, key)


def _keep(seen: Written, string: bytes, key: bytes) -> None:
    text = _decoded(string)
    if _CONTROL.search(text):
        seen.codes.append(string)
    elif text:
        (seen.markup if key in _MARKS else seen.words).append(text)


def _decoded(string: bytes) -> str:
    """A text string (7.9.2.2): UTF-16 or UTF-8 by its mark, else one byte a letter."""
    if string.startswith((b"\xfe\xff", b"\xff\xfe")):
        return string.decode("utf-16", "replace")
    if string.startswith(b"\xef\xbb\xbf"):
        return string[3:].decode("utf-8", "replace")
    try:
        return string.decode("utf-8")
    except UnicodeDecodeError:
        return string.decode("latin-1")


def _literal(data: bytes, place: int) -> tuple[bytes, int]:
    """Return a string in brackets from after the first, and where it ends."""
    out, depth, start = bytearray(), 1, place
    for found in _IN_STRING.finditer(data, place):
        sign = found[0]
        if sign == b"(":
            depth += 1
        elif sign == b")":
            depth -= 1
            if not depth:
                return bytes(out + data[start : found.start()]), found.end()
        else:
            out += data[start : found.start()] + _unescaped(sign[1:])
            start = found.end()
    return bytes(out + data[start:]), len(data)


def _unescaped(sign: bytes) -> bytes:
    if sign[0] in b"01234567":
        return bytes([int(sign, 8) & 0xFF])
    return _ESCAPED.get(sign, sign)


def _hex(figures: bytes) -> bytes:
    bare = b"".join(figures.split()).decode()
    return bytes.fromhex(bare + "0" * (len(bare) % 2))
