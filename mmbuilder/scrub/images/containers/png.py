"""PNG: length, type, data and checksum, until IEND.

Source: W3C Portable Network Graphics, third edition (2025), section 11 (chunk types); from memory.
"""

from __future__ import annotations

import binascii
from collections.abc import Iterator

from mmbuilder.scrub.images import ifd
from mmbuilder.scrub.images.chunk import Chunk, Kind, inflate

NAME = "PNG"
PILLOW = "PNG"
SUFFIXES = (".png",)

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_PIXELS = frozenset(
    b"IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB sBIT bKGD hIST pHYs acTL fcTL fdAT cICP mDCV cLLI".split()
)
"""Chunks of numbers that say how pixels look."""


def matches(head: bytes) -> bool:
    """Whether a file starts as a PNG does."""
    return head.startswith(_SIGNATURE)


def pages(data: bytes) -> int:
    """How many frames an animated PNG says it has; 1 for a plain one."""
    for name, body in _raw(data):
        if name == b"acTL" and len(body) >= 4:
            return max(1, int.from_bytes(body[:4], "big"))
        if name == b"IDAT":
            break
    return 1


def chunks(data: bytes) -> Iterator[Chunk]:
    """Every chunk that is not about pixels, unpacked, and whatever follows the end."""
    for name, body in _raw(data):
        if name not in _PIXELS:
            yield from _chunk(name, body)


def _raw(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    place = len(_SIGNATURE)
    while place + 8 <= len(data):
        length = int.from_bytes(data[place : place + 4], "big")
        name = data[place + 4 : place + 8]
        yield name, data[place + 8 : place + 8 + length]
        place += 12 + length
        if name == b"IEND":
            break
    if data[place:]:
        yield b"", data[place:]


def _chunk(name: bytes, body: bytes) -> Iterator[Chunk]:
    match name:
        case b"":
            yield Chunk(Kind.TRAILING, body)
        case b"tEXt" | b"zTXt" | b"iTXt":
            yield from _text(name, body)
        case b"eXIf":
            yield from ifd.exif(body)
        case b"iCCP":
            label, _, rest = body.partition(b"\0")
            yield Chunk(Kind.PROFILE, label + b"\0" + inflate(rest[1:]))
        case b"tIME":
            yield Chunk(Kind.TIME, body)
        case _:
            yield Chunk(Kind.OTHER, body)


def _text(name: bytes, body: bytes) -> Iterator[Chunk]:
    keyword, _, rest = body.partition(b"\0")
    if name == b"zTXt":
        rest = inflate(rest[1:])
    elif name == b"iTXt":
        language, _, tail = rest[2:].partition(b"\0")
        translated, _, words = tail.partition(b"\0")
        rest = language + b"\0" + translated + b"\0" + (inflate(words) if rest[:1] == b"\1" else words)
    kind = Kind.EDITING if keyword == b"XML:com.adobe.xmp" else Kind.TEXT
    yield Chunk(kind, keyword + b"\0" + rest)
    if keyword.startswith(b"Raw profile type "):
        yield from _raw_profile(keyword[17:], rest)


def _raw_profile(name: bytes, text: bytes) -> Iterator[Chunk]:
    """Metadata that some programs write as hexadecimal text: name, length, digits."""
    try:
        body = binascii.unhexlify(b"".join(text.split()[2:]))
    except binascii.Error:
        return
    if name in (b"exif", b"APP1"):
        yield from ifd.exif(body)
    else:
        yield Chunk(Kind.CAPTION if name in (b"iptc", b"8bim") else Kind.OTHER, body)
