"""Every text that a run of bytes could be read as.

A view is (text, whether it is words or markup): short names are looked for in words only.
"""

from __future__ import annotations

import base64
import binascii
import html
import quopri
import re
import urllib.parse
from collections.abc import Iterator
from typing import NamedTuple


class View(NamedTuple):
    """A text, and whether it is what a reader sees (words) or what a program does (markup).

    `prose` is what a reader sees in its order, once: the finder of declared names reads it.
    """

    text: str
    words: bool
    prose: bool = False


_MARKUP = re.compile(r"<[^>]*>")
_BLOCK_END = re.compile(
    r"</(?:\w+:)?(?:p|text|title|desc|si|li|td|th|tr|div|h[1-6]|row|c|v|cell|comment|author)\s*>|<(?:\w+:)?br\s*/?>"
)
_SHOWN = re.compile(r"""\b(?:descr|title|alt|tooltip|author|initials)\s*=\s*(?:"([^"]*)"|'([^']*)')""")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")
_STYLE = re.compile(r"(<style\b[^>]*>)(.*?)(</style\s*>)", re.DOTALL | re.IGNORECASE)
_FONT = re.compile(r"\bfont(?:-family)?\s*:[^;}]*")
_MARKS = re.compile(r"<(xmpMM:\w*ID|dc:language)>.*?</\1>", re.DOTALL)
"""Random letters and the language, which a program writes into the metadata (XMP part 1, 8.4 and 8.7)."""
_CALENDAR = re.compile(r"\s*BEGIN:V[A-Z]+\r?\n")
_PROPERTY = re.compile(r"^(?:(?:PRODID|UID|CALSCALE|METHOD|DT\w+)\b.*|[A-Z-]+(?:;[^:\r\n]*)?:)", re.MULTILINE)
"""What a program says in a line of a calendar (RFC 5545, 3.1): the name of a property; all of some."""
_ENTITY = re.compile(r"&#?\w+;")
_PERCENT = re.compile(r"%[0-9A-Fa-f]{2}")
_QUOTED = re.compile(r"=[0-9A-F]{2}|=\r?\n")
# Each begins with a sign it must have and only then looks back: the engine then passes over all other signs.
_HEX_RUN = re.compile(r"[0-9A-Fa-f](?<![0-9A-Za-z#].)[0-9A-Fa-f](?:[0-9A-Fa-f]{2}){5,}(?![0-9A-Za-z])")
_HEX_PAIRS = re.compile(r"[0-9A-Fa-f]{2} (?<!\w...)(?:[0-9A-Fa-f]{2} ){4,}[0-9A-Fa-f]{2}\b")
_BASE64_RUN = re.compile(r"[A-Za-z0-9+/_-]{11,}={0,2}(?:\r?\n[A-Za-z0-9+/_-]{4,}={0,2})*")
_ESCAPE = re.compile(r"\\u([0-9A-Fa-f]{4})|\\x([0-9A-Fa-f]{2})|_x([0-9A-Fa-f]{4})_")


def is_text(data: bytes) -> bool:
    """Whether bytes are text: a byte-order mark, or no control byte and readable as UTF-8."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff", b"\xef\xbb\xbf")):
        return True
    head = data[:4096]
    if _utf16(head):
        return True
    return not re.search(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]", head) and bool(data.strip())


def is_readable(data: bytes) -> bool:
    """Whether bytes unpacked from a run of letters are a text in truth: most such runs are plain words."""
    if b"\0" in data:
        return True
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def texts(data: bytes) -> Iterator[str]:
    """Read in every encoding the bytes allow for."""
    try:
        yield data.decode("utf-8")
    except UnicodeDecodeError:
        yield data.decode("utf-8", "replace")
        yield data.decode("latin-1")
    if b"\0" in data or data.startswith((b"\xff\xfe", b"\xfe\xff")):
        # From either byte: a UTF-16 text may start at an odd place in a binary file.
        for start in (0, 1):
            yield data[start:].decode("utf-16-le", "replace")
            yield data[start:].decode("utf-16-be", "replace")


def views(data: bytes) -> Iterator[View]:
    """Every view of a text."""
    for text in dict.fromkeys(texts(data)):
        for version in dict.fromkeys((text, *_unescaped(text))):
            yield from _read(version)
            if _QUOTED.search(version):
                # What is no quoted-printable has such signs too, so that short names are not looked for.
                yield View(
                    quopri.decodestring(version.encode("utf-8", "replace")).decode("utf-8", "replace"), False
                )


def embedded(text: str) -> Iterator[bytes]:
    """Bytes of every run in hexadecimal or base64; runs without any figure or capital inside are words."""
    for run in dict.fromkeys((*_HEX_RUN.findall(text), *_HEX_PAIRS.findall(text))):
        yield bytes.fromhex(run)
    for run in dict.fromkeys(_BASE64_RUN.findall(text)):
        bare = "".join(run.split()).rstrip("=").replace("-", "+").replace("_", "/")
        if len(bare) % 4 != 1 and not (bare.islower() and len(bare) < 24):
            try:
                yield base64.b64decode(bare + "=" * (-len(bare) % 4))
            except (binascii.Error, ValueError):
                continue


def _read(text: str) -> Iterator[View]:
    if _CALENDAR.match(text):
        yield View(text, False)
        yield View(_PROPERTY.sub("", text), True, True)
        return
    if "<" not in text:
        yield View(text, True, True)
        return
    # As a program sees it; as a reader does, runs of a paragraph joined; and each element apart.
    yield View(text, False)
    text = _STYLE.sub(lambda style: style[1] + _FONT.sub(" ", style[2]) + style[3], _MARKS.sub(" ", text))
    joined = _MARKUP.sub("", _BLOCK_END.sub("\n", text))
    yield View(html.unescape(joined), True, True)
    yield View(html.unescape(_MARKUP.sub(" ", text)), True)
    shown = "\n".join(one or two for one, two in _SHOWN.findall(text))
    if shown:
        yield View(html.unescape(shown), True)


def _unescaped(text: str) -> Iterator[str]:
    """Turn entities, percent signs and backslash escapes back, also one inside another."""
    for _ in range(3):
        before = text
        if _ENTITY.search(text):
            text = html.unescape(text)
        if _PERCENT.search(text):
            text = urllib.parse.unquote(text, errors="replace")
        if _ESCAPE.search(text):
            text = _ESCAPE.sub(lambda found: chr(int(next(filter(None, found.groups())), 16)), text)
        if text == before:
            break
        yield text


def _utf16(head: bytes) -> bool:
    """Whether it reads as UTF-16: bytes of zero in every other place alone are in any table of numbers too."""
    half = max((0, 1), key=lambda first: head[first::2].count(0))
    if len(head) < 8 or head[half::2].count(0) <= len(head) // 4:
        return False
    text = head[: len(head) // 2 * 2].decode("utf-16-le" if half else "utf-16-be", "replace")
    return len(_CONTROL.findall(text)) <= len(text) // 10
