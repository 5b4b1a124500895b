"""One piece of data a picture file carries beside its pixels."""

from __future__ import annotations

import zlib
from dataclasses import dataclass, field
from enum import StrEnum

TEXT_LIMIT = 8 * 2**20
"""Bytes a compressed text chunk may grow to; the longest caption is a few thousand."""


class Kind(StrEnum):
    """What a piece of metadata is, in words for a report."""

    CAMERA = "camera data (EXIF)"
    POSITION = "position (GPS)"
    MAKER = "maker note"
    THUMBNAIL = "thumbnail"
    EDITING = "editing data (XMP)"
    CAPTION = "caption data (IPTC)"
    COMMENT = "comment"
    TEXT = "text"
    TIME = "time of writing"
    PROFILE = "colour profile (ICC)"
    OTHER = "other embedded data"
    TRAILING = "bytes after the end of the picture"


@dataclass(frozen=True)
class Chunk:
    """A kind and its bytes, unpacked where the file had them compressed."""

    kind: Kind
    payload: bytes = field(repr=False)


def inflate(data: bytes, limit: int = TEXT_LIMIT) -> bytes:
    """Unpack a zlib stream up to `limit` bytes; what a damaged stream gave until it broke."""
    unpacker = zlib.decompressobj()
    out = bytearray()
    try:
        # Piece by piece, so that the part before a fault is still seen.
        for start in range(0, len(data), 4096):
            out += unpacker.decompress(data[start : start + 4096], limit - len(out))
            if len(out) >= limit or unpacker.eof:
                break
    except zlib.error:
        pass
    return bytes(out)
