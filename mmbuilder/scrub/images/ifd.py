"""Walk the tags of a TIFF structure: a TIFF file, or the EXIF block of any other picture.

Source: TIFF revision 6.0 (1992), section 2; tag numbers as in the EXIF standard (CIPA DC-008).
Both from memory.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass, field

from mmbuilder.scrub.images.chunk import Chunk, Kind

MAX_DIRECTORIES = 256
MAX_TAGS = 4096

_SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4}
_EXIF, _GPS, _INTEROP, _SUBS = 34665, 34853, 40965, 330
_BRANCHES = {_EXIF: "exif", _GPS: "gps", _INTEROP: "exif", _SUBS: "image"}
_THUMBNAIL_START, _THUMBNAIL_LENGTH, _MAKER = 513, 514, 37500
_KINDS = {
    700: Kind.EDITING,
    33723: Kind.CAPTION,
    34377: Kind.CAPTION,
    34675: Kind.PROFILE,
    _MAKER: Kind.MAKER,
}
_UTF16_TEXT = range(40091, 40096)
_ASCII = 2


@dataclass(frozen=True)
class Tag:
    """One entry: which directory it stands in, its number, its type and its bytes."""

    directory: str
    number: int
    type: int
    payload: bytes = field(repr=False)
    numbers: tuple[int, ...] = ()


def tags(data: bytes) -> Iterator[Tag]:
    """Every tag that can be reached; a pointer out of the data, or back to a directory read, is left."""
    if data[:4] not in (b"II*\0", b"MM\0*") or len(data) < 8:
        return
    order = "<" if data[:1] == b"I" else ">"
    (first,) = struct.unpack(order + "I", data[4:8])
    queue, seen = [(first, "image")], set[int]()
    while queue and len(seen) < MAX_DIRECTORIES:
        start, name = queue.pop(0)
        if start in seen or not 8 <= start <= len(data) - 2:
            continue
        seen.add(start)
        entries, following = _directory(data, order, start, name)
        yield from entries
        queue += [
            (place, _BRANCHES[tag.number])
            for tag in entries
            if tag.number in _BRANCHES
            for place in tag.numbers
        ]
        queue.append((following, name))


def _directory(data: bytes, order: str, start: int, name: str) -> tuple[list[Tag], int]:
    (count,) = struct.unpack_from(order + "H", data, start)
    count = min(count, MAX_TAGS, (len(data) - start - 2) // 12)
    entries = [_tag(data, order, start + 2 + 12 * index, name) for index in range(count)]
    end = start + 2 + 12 * count
    following = struct.unpack_from(order + "I", data, end)[0] if end + 4 <= len(data) else 0
    return entries, following


def _tag(data: bytes, order: str, start: int, name: str) -> Tag:
    number, type_, count = struct.unpack_from(order + "HHI", data, start)
    size = _SIZES.get(type_, 1) * count
    place = start + 8 if size <= 4 else struct.unpack_from(order + "I", data, start + 8)[0]
    payload = data[place : place + size]
    numbers: tuple[int, ...] = ()
    if type_ in (4, 13) and count <= MAX_DIRECTORIES and len(payload) == size:
        numbers = struct.unpack(f"{order}{count}I", payload)
    return Tag(name, number, type_, payload, numbers)


def chunks(data: bytes) -> Iterator[Chunk]:
    """Metadata among the tags: those that describe pixels (size, strips, compression) are left out."""
    for tag in (found := list(tags(data))):
        if tag.directory == "gps":
            yield Chunk(Kind.POSITION, tag.payload)
        elif tag.number in _KINDS:
            yield Chunk(_KINDS[tag.number], tag.payload)
        elif tag.number in _UTF16_TEXT or (tag.type == _ASCII and tag.directory == "image"):
            yield Chunk(Kind.TEXT, tag.payload)
        elif tag.directory == "exif":
            yield Chunk(Kind.CAMERA, tag.payload)
    yield from _thumbnails(data, found)


def _thumbnails(data: bytes, found: list[Tag]) -> Iterator[Chunk]:
    starts = [tag.numbers[0] for tag in found if tag.number == _THUMBNAIL_START and tag.numbers]
    lengths = [tag.numbers[0] for tag in found if tag.number == _THUMBNAIL_LENGTH and tag.numbers]
    for start, length in zip(starts, lengths, strict=False):
        yield Chunk(Kind.THUMBNAIL, data[start : start + length])


def exif(data: bytes) -> Iterator[Chunk]:
    """Metadata of an EXIF block as it stands in a JPEG, PNG or WebP file, with or without its heading."""
    data = data.removeprefix(b"Exif\0\0")
    yield Chunk(Kind.CAMERA, data)
    yield from chunks(data)


def directories(data: bytes) -> int:
    """Count the pages of a TIFF file."""
    if data[:4] not in (b"II*\0", b"MM\0*") or len(data) < 8:
        return 0
    order = "<" if data[:1] == b"I" else ">"
    (start,) = struct.unpack(order + "I", data[4:8])
    seen = set[int]()
    while 8 <= start <= len(data) - 2 and start not in seen and len(seen) < MAX_DIRECTORIES:
        seen.add(start)
        (count,) = struct.unpack_from(order + "H", data, start)
        end = start + 2 + 12 * count
        start = struct.unpack_from(order + "I", data, end)[0] if end + 4 <= len(data) else 0
    return len(seen)
