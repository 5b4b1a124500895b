"""Whether a file given as a template may be opened at all, and the words for it when not."""

from __future__ import annotations

import zipfile
from pathlib import Path

from mmbuilder.errors import FileRefused

LIMIT = 100 * 2**20
"""Bytes of the file."""

UNPACKED = 400 * 2**20
"""Bytes of all its parts: pictures hardly shrink, so an honest 100 MB template stays far below."""

ENTRIES = 5000

_COMPOUND = bytes.fromhex("d0cf11e0a1b11ae1")
"""Compound File Binary header (MS-CFB 2.2): an old .ppt, or a .pptx locked with a password."""

_MAIN = b"presentationml.presentation.main+xml"
_TEMPLATE = b"presentationml.template.main+xml"


def admit(path: Path) -> None:
    """Refuse what is no plain .pptx.

    Raises:
        FileRefused: with what was found, what was expected, and what to do.
    """
    try:
        size = path.stat().st_size
        head = b"" if size > LIMIT or not path.is_file() else path.read_bytes()[:8]
    except OSError as fault:
        raise FileRefused(said("no file that can be read", "a .pptx")) from fault
    if size > LIMIT:
        raise FileRefused(said(f"a file of {size // 2**20} MB", "at most 100 MB"))
    if head == _COMPOUND:
        raise FileRefused(
            said("a locked file, or one in the old .ppt form", "a .pptx saved without a password")
        )
    if not head.startswith(b"PK"):
        raise FileRefused(said("a file of another kind", "a .pptx"))
    _parts(path)


def _parts(path: Path) -> None:
    try:
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
            if len(entries) > ENTRIES or sum(entry.file_size for entry in entries) > UNPACKED:
                raise FileRefused(
                    said("a file that unpacks to far more than it is", "at most 400 MB unpacked")
                )
            types = archive.read("[Content_Types].xml")
    except (zipfile.BadZipFile, KeyError, RuntimeError, NotImplementedError, OSError, EOFError) as fault:
        raise FileRefused(said("a damaged file, or one of another kind", "a .pptx")) from fault
    if b"macroEnabled" in types or b"vbaProject" in types or _has_macros(entries):
        raise FileRefused(said("a presentation with macros", "one saved as .pptx, without macros"))
    if _TEMPLATE in types:
        raise FileRefused(said("a .potx", "a .pptx: open it, then save as PowerPoint Presentation"))
    if _MAIN not in types:
        raise FileRefused(said("a package that holds no presentation", "a .pptx"))


def _has_macros(entries: list[zipfile.ZipInfo]) -> bool:
    return any(entry.filename.lower().endswith("vbaproject.bin") for entry in entries)


def said(found: str, expected: str) -> str:
    """Return the message, in four beats."""
    return (
        "The template cannot be used.\n"
        f"  found     {found}\n"
        f"  expected  {expected}\n"
        "  why       its masters, layouts and colours are taken over, and nothing else may come with them\n"
        "  try       save the template as an ordinary .pptx, or leave --template out"
    )
