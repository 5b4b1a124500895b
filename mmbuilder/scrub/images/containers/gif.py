"""GIF: blocks until the trailer byte.

Source: GIF89a specification (1990), sections 17 to 27; from memory.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.images.chunk import Chunk, Kind

NAME = "GIF"
PILLOW = "GIF"
SUFFIXES = (".gif",)

_EXTENSION, _IMAGE, _TRAILER = 0x21, 0x2C, 0x3B
_COMMENT, _APPLICATION, _PLAIN_TEXT = 0xFE, 0xFF, 0x01
_LOOPING = (b"NETSCAPE2.0", b"ANIMEXTS1.0")


def matches(head: bytes) -> bool:
    """Whether a file starts as a GIF does."""
    return head.startswith((b"GIF87a", b"GIF89a"))


def pages(data: bytes) -> int:
    """How many frames it holds."""
    return max(1, sum(name == _IMAGE for name, _, _ in _blocks(data)))


def chunks(data: bytes) -> Iterator[Chunk]:
    """Comments, application data, plain-text extensions, and whatever follows the trailer."""
    for name, label, body in _blocks(data):
        if name == _TRAILER and body:
            yield Chunk(Kind.TRAILING, body)
        elif name == _EXTENSION and label in (_COMMENT, _PLAIN_TEXT):
            yield Chunk(Kind.COMMENT if label == _COMMENT else Kind.TEXT, _joined(body))
        elif name == _EXTENSION and label == _APPLICATION:
            yield from _application(body)


def _application(body: bytes) -> Iterator[Chunk]:
    identifier = body[1:12]
    if identifier == b"XMP DataXMP":
        # XMP stands there unbroken: its bytes are no block lengths.
        yield Chunk(Kind.EDITING, body[12:])
    elif identifier == b"ICCRGBG1012":
        yield Chunk(Kind.PROFILE, _joined(body[12:]))
    elif identifier not in _LOOPING:
        yield Chunk(Kind.OTHER, _joined(body))


def _blocks(data: bytes) -> Iterator[tuple[int, int, bytes]]:
    """(block, label of an extension, its bytes with their length bytes)."""
    if len(data) < 13:
        return
    place = 13 + _table(data[10])
    while place < len(data):
        name = data[place]
        if name == _TRAILER:
            yield name, 0, data[place + 1 :]
            return
        if name not in (_EXTENSION, _IMAGE) or place + 10 > len(data):
            # No block starts here: a damaged file; the rest counts as bytes after the end.
            yield _TRAILER, 0, data[place:]
            return
        label = data[place + 1] if name == _EXTENSION else 0
        start = place + 2 if name == _EXTENSION else place + 11 + _table(data[place + 9])
        place = _end_of_blocks(data, start)
        yield name, label, data[start:place]


def _table(flags: int) -> int:
    return 3 * 2 ** ((flags & 7) + 1) if flags & 0x80 else 0


def _end_of_blocks(data: bytes, place: int) -> int:
    while place < len(data) and data[place]:
        place += 1 + data[place]
    return min(place + 1, len(data))


def _joined(body: bytes) -> bytes:
    """Sub-blocks without their length bytes, so that a word over their border is whole."""
    out, place = bytearray(), 0
    while place < len(body) and body[place]:
        out += body[place + 1 : place + 1 + body[place]]
        place += 1 + body[place]
    return bytes(out)
