"""TIFF: directories of tags (see `scrub.images.ifd`).

What no tag points at cannot be told from pixels here; it is gone all the same once the
pixels are written anew.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.images import ifd
from mmbuilder.scrub.images.chunk import Chunk

NAME = "TIFF"
PILLOW = "TIFF"
SUFFIXES = (".tif", ".tiff")


def matches(head: bytes) -> bool:
    """Whether a file starts as a TIFF does."""
    return head.startswith((b"II*\0", b"MM\0*"))


def pages(data: bytes) -> int:
    """How many pages it holds."""
    return max(1, ifd.directories(data))


def chunks(data: bytes) -> Iterator[Chunk]:
    """Every tag that does not describe pixels."""
    yield from ifd.chunks(data)
