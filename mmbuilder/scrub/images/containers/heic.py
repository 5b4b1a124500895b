"""HEIC and HEIF photographs: read through an optional library, written anew as JPEG.

Source: ISO/IEC 23008-12 (2022), brands in section 10; from memory. The library that reads them
(pi-heif) holds no encoder.
"""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import Any

from mmbuilder.scrub.images import ifd
from mmbuilder.scrub.images.chunk import Chunk, Kind

NAME = "HEIC"
PILLOW = "HEIF"
SUFFIXES = (".heic", ".heif")
WRITES = "JPEG"
WRITES_SUFFIX = ".jpg"

_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


def matches(head: bytes) -> bool:
    """Whether a file starts as a HEIC photograph does."""
    return head[4:8] == b"ftyp" and head[8:12] in _BRANDS


def pages(data: bytes) -> int:
    """How many pictures it holds; 1 where that cannot be read."""
    return max(1, sum(1 for _ in _pictures(data)))


def chunks(data: bytes) -> Iterator[Chunk]:
    """Camera data, editing data, colour profile and thumbnails of every picture in it."""
    for picture in _pictures(data):
        info = picture.info
        if info.get("exif"):
            yield from ifd.exif(info["exif"])
        if info.get("xmp"):
            yield Chunk(Kind.EDITING, info["xmp"])
        if info.get("icc_profile"):
            yield Chunk(Kind.PROFILE, info["icc_profile"])
        if info.get("thumbnails"):
            yield Chunk(Kind.THUMBNAIL, b"")
        yield from (Chunk(Kind.OTHER, item.get("data") or b"") for item in info.get("metadata") or ())


def _pictures(data: bytes) -> Iterator[Any]:
    try:
        from pi_heif import open_heif

        yield from open_heif(BytesIO(data), convert_hdr_to_8bit=True)
    except Exception:  # walkers never raise: without the library, or in a damaged file, none is reached
        return
