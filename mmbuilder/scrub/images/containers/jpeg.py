"""JPEG: marker segments up to the end-of-image marker.

Source: ITU-T T.81, annex B (markers). APP1 carries EXIF and XMP, APP2 the colour profile,
APP13 caption data; from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.images import ifd
from mmbuilder.scrub.images.chunk import Chunk, Kind

NAME = "JPEG"
PILLOW = "JPEG"
SUFFIXES = (".jpg", ".jpeg")

_NEXT_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
_END, _COMMENT = 0xD9, 0xFE
_BARE = {0x01, *range(0xD0, 0xD9)}
_ADOBE = 0xEE
"""APP14 says how colours are stored (12 bytes of numbers): pixels cannot be read without it."""


def matches(head: bytes) -> bool:
    """Whether a file starts as a JPEG does."""
    return head.startswith(b"\xff\xd8\xff")


def pages(data: bytes) -> int:
    """Return 1: a second picture after the end counts as bytes after the end."""
    return 1


def chunks(data: bytes) -> Iterator[Chunk]:
    """Every application and comment segment, and whatever follows the end."""
    place = 2
    while found := _NEXT_MARKER.search(data, place):
        marker, place = data[found.start() + 1], found.end()
        if marker == _END:
            if data[place:]:
                yield Chunk(Kind.TRAILING, data[place:])
            return
        if marker in _BARE or place + 2 > len(data):
            continue
        length = int.from_bytes(data[place : place + 2], "big")
        yield from _segment(marker, data[place + 2 : place + max(length, 2)])
        place += max(length, 2)


def _segment(marker: int, body: bytes) -> Iterator[Chunk]:
    if marker == _COMMENT:
        yield Chunk(Kind.COMMENT, body)
    elif marker == _ADOBE and body.startswith(b"Adobe") and len(body) == 12:
        return
    elif 0xE0 <= marker <= 0xEF:
        yield from _application(body)


def _application(body: bytes) -> Iterator[Chunk]:
    if body.startswith(b"JFIF\0"):
        # Version, density, then the size of a thumbnail and its pixels.
        if len(body) > 14:
            yield Chunk(Kind.THUMBNAIL, body[14:])
    elif body.startswith(b"JFXX\0"):
        yield Chunk(Kind.THUMBNAIL, body)
    elif body.startswith(b"Exif\0"):
        yield from ifd.exif(body)
    elif body.startswith((b"http://ns.adobe.com/xap/", b"http://ns.adobe.com/xmp/")):
        yield Chunk(Kind.EDITING, body)
    elif body.startswith(b"ICC_PROFILE\0"):
        yield Chunk(Kind.PROFILE, body[14:])
    elif body.startswith(b"Photoshop 3.0\0"):
        yield Chunk(Kind.CAPTION, body)
    else:
        yield Chunk(Kind.OTHER, body)
