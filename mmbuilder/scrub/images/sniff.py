"""What a file is, by its first bytes: a name can say anything."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Protocol, cast

from mmbuilder.registry import discover
from mmbuilder.scrub.images.chunk import Chunk

HEAD = 264
"""Bytes that are enough to tell."""


class Container(Protocol):
    """A picture format that is read."""

    NAME: str
    PILLOW: str
    SUFFIXES: tuple[str, ...]

    def matches(self, head: bytes) -> bool:
        """Whether a file starts so."""
        ...

    def pages(self, data: bytes) -> int:
        """How many pictures it holds."""
        ...

    def chunks(self, data: bytes) -> Iterator[Chunk]:
        """What it carries beside pixels."""
        ...


_OTHERS: tuple[tuple[int, bytes, str], ...] = (
    (4, b"ftypavif", "AVIF picture"),
    (4, b"ftyp", "MP4 or QuickTime video"),
    (0, b"\0\0\0\x0cjP  \r\n", "JPEG 2000 picture"),
    (0, b"\xff\x4f\xff\x51", "JPEG 2000 picture"),
    (0, b"\xff\x0a", "JPEG XL picture"),
    (0, b"\0\0\0\x0cJXL ", "JPEG XL picture"),
    (0, b"II+\0", "BigTIFF picture"),
    (0, b"MM\0+", "BigTIFF picture"),
    (0, b"8BPS", "Photoshop document"),
    (128, b"DICM", "DICOM object"),
    (0, b"%PDF", "PDF document"),
    (30, b"mimetypeapplication/vnd.oasis.opendocument", "OpenDocument file"),
    (0, b"PK\x03\x04", "zip file or Office document"),
    (0, b"PK\x05\x06", "empty zip file"),
    (257, b"ustar", "tar archive"),
    (0, b"\xd0\xcf\x11\xe0", "old Office document"),
    (0, b"\x1a\x45\xdf\xa3", "Matroska or WebM video"),
    (0, b"\0\0\1\0", "icon"),
    (0, b"\x1f\x8b", "gzip file"),
    (0, b"7z\xbc\xaf", "7-Zip archive"),
    (0, b"Rar!", "RAR archive"),
    (0, b"{\\rtf", "Rich Text document"),
    (0, b"<svg", "SVG drawing"),
    (0, b"<?xml", "XML document"),
    (0, b"<!DOCTYPE", "web page or SVG drawing"),
)

_NEEDED = ("NAME", "PILLOW", "SUFFIXES", "matches", "pages", "chunks")


TEXTUAL = ("SVG", "XML", "web")
"""How those of `other` begin that are text all the same."""


OFFICE_SIBLINGS = (
    ".docm", ".dotx", ".dotm", ".pptm", ".ppsx", ".ppsm", ".potx", ".potm", ".xlsm", ".xltx", ".xltm", ".xlsb",
)  # fmt: skip
"""Endings of Office files with macros, of templates and shows: another ending alone would not make one readable."""

RICH_TEXT = "Rich Text document"
SAVED_AGAIN = ("old Office document", "OpenDocument file", RICH_TEXT)
"""Those of `other` that an office program turns into one that is read."""


@cache
def containers() -> tuple[Container, ...]:
    """Every picture format that is read, by name."""
    leaves = discover("mmbuilder.scrub.images.containers", *_NEEDED)
    return tuple(cast(Container, leaf) for leaf in leaves.values())


def container(head: bytes) -> Container | None:
    """The picture format of a file that starts so, or None."""
    return next((leaf for leaf in containers() if leaf.matches(head)), None)


def other(head: bytes) -> str:
    """What a file that is no picture we read is, in words; empty where it cannot be told."""
    return next((name for start, magic, name in _OTHERS if head[start : start + len(magic)] == magic), "")
