"""WebP: a RIFF file of chunks.

Source: RFC 9649, WebP Image Format (2024), sections 2.3 to 2.7; from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.images import ifd
from mmbuilder.scrub.images.chunk import Chunk, Kind

NAME = "WebP"
PILLOW = "WEBP"
SUFFIXES = (".webp",)

_PIXELS = (b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF")


def matches(head: bytes) -> bool:
    """Whether a file starts as a WebP does."""
    return head[:4] == b"RIFF" and head[8:12] == b"WEBP"


def pages(data: bytes) -> int:
    """How many frames an animation holds; 1 for a still."""
    return max(1, sum(name == b"ANMF" for name, _ in _raw(data)))


def size(data: bytes) -> tuple[int, int] | None:
    """Width and height from the first chunk: the decoder takes memory for all pixels when it opens a file."""
    name, body = next(_raw(data), (b"", b""))
    if name == b"VP8X" and len(body) >= 10:
        return 1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little")
    if name == b"VP8L" and len(body) >= 5:
        bits = int.from_bytes(body[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if name == b"VP8 " and len(body) >= 10:
        return (
            int.from_bytes(body[6:8], "little") & 0x3FFF,
            int.from_bytes(body[8:10], "little") & 0x3FFF,
        )
    return None


def chunks(data: bytes) -> Iterator[Chunk]:
    """Every chunk that is not pixels, and whatever follows the RIFF's stated length."""
    for name, body in _raw(data):
        if name == b"EXIF":
            yield from ifd.exif(body)
        elif name == b"XMP ":
            yield Chunk(Kind.EDITING, body)
        elif name == b"ICCP":
            yield Chunk(Kind.PROFILE, body)
        elif name not in _PIXELS:
            yield Chunk(Kind.TRAILING if not name else Kind.OTHER, body)


def _raw(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    end = min(len(data), 8 + int.from_bytes(data[4:8], "little"))
    place = 12
    while place + 8 <= end:
        length = int.from_bytes(data[place + 4 : place + 8], "little")
        yield data[place : place + 4], data[place + 8 : place + 8 + length]
        place += 8 + length + length % 2
    if data[end + end % 2 :]:
        yield b"", data[end + end % 2 :]
