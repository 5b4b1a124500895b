"""BMP: a header, pixels, and in version 5 a colour profile.

Source: Microsoft's documentation of BITMAPFILEHEADER and BITMAPV5HEADER; from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.images.chunk import Chunk, Kind

NAME = "BMP"
PILLOW = "BMP"
SUFFIXES = (".bmp",)

_V5 = 124
_PROFILES = (b"DEBM", b"KNIL")
"""'MBED' and 'LINK', written little-endian: a profile inside, or the path of one."""


def matches(head: bytes) -> bool:
    """Whether a file starts as a BMP does: its letters, two reserved words of zero, a known header."""
    return head[:2] == b"BM" and head[6:10] == b"\0\0\0\0" and head[14:18] in _HEADERS


_HEADERS = {size.to_bytes(4, "little") for size in (12, 16, 40, 52, 56, 64, 108, _V5)}


def pages(data: bytes) -> int:
    """Return 1: the format holds a single picture."""
    return 1


def chunks(data: bytes) -> Iterator[Chunk]:
    """The profile if there is one, and whatever follows the stated length."""
    if int.from_bytes(data[14:18], "little") == _V5 and data[70:74] in _PROFILES:
        start = 14 + int.from_bytes(data[126:130], "little")
        yield Chunk(Kind.PROFILE, data[start : start + int.from_bytes(data[130:134], "little")])
    stated = int.from_bytes(data[2:6], "little")
    if 54 <= stated < len(data):
        yield Chunk(Kind.TRAILING, data[stated:])
