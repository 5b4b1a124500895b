"""A file that was changed after it was taken, looked through once more; in a process of its own."""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

from mmbuilder import atomic
from mmbuilder.casefile.checking import IDENTIFIERS
from mmbuilder.errors import FileRefused
from mmbuilder.page.ahead import Made
from mmbuilder.page.desk import Desk

_NAME = "a changed file looked through"


@dataclass(frozen=True)
class Looked:
    """What was found in a file: kinds and places, never the text.

    Attributes:
        found: place, kind and how often.
        notes: what could not be looked at.
    """

    found: tuple[tuple[str, str, int], ...]
    notes: tuple[str, ...]


def begin(case: Desk, content: bytes) -> str:
    """Have a file looked through; return the name under which `looked` tells of it."""
    name = hashlib.sha256(content).hexdigest()[:16]

    def given() -> Future[Looked]:
        case.aside.mkdir(exist_ok=True)
        atomic.write(path := case.aside / f"look-{name}", content)
        return case.looker.do(look_into, path, case.root)

    made = case.ahead.begun(_NAME, name, given)
    if made.broken:
        case.ahead.anew(_NAME)
        case.ahead.begun(_NAME, name, given)
    return name


def looked(case: Desk, name: str) -> Made[Looked] | None:
    """Return how far the look through a file is; None if nobody asked for it, or for another since."""
    return case.ahead.kept(_NAME, name)


def look_into(path: Path, root: Path) -> Looked:
    """Look through a file with the private list of a case; the file is not kept.

    Raises:
        FileRefused: it cannot be opened, is damaged, or of no kind that is read.
    """
    from mmbuilder.scrub.images import sniff
    from mmbuilder.scrub.inspect import inspect
    from mmbuilder.scrub.loose import read_declared
    from mmbuilder.scrub.sweep.parts import is_zip
    from mmbuilder.scrub.sweep.views import is_text

    try:
        data = path.read_bytes()
        known = is_zip(data) or data.startswith(b"%PDF") or sniff.container(data) is not None
        if not known and not is_text(data):
            raise FileRefused("this is no deck, document, workbook, PDF, picture or text")
        private = root / IDENTIFIERS
        seen = inspect(path, read_declared(private) if private.is_file() else None)
    finally:
        path.unlink(missing_ok=True)
    counted = Counter((_told(finding.where), finding.kind) for finding in seen.findings)
    return Looked(tuple((*place, times) for place, times in counted.items()), seen.notes)


_PLACES = (
    (re.compile(r"ppt/slides/slide(\d+)\.xml"), r"slide \1"),
    (re.compile(r"ppt/notesSlides/notesSlide(\d+)\.xml"), r"speaker's notes \1"),
    (
        re.compile(r"ppt/slide(?:Layout|Master)s/\w+\.xml(?:, paragraph \d+)?"),
        "the slides' layouts",
    ),
    (re.compile(r"docProps/thumbnail\.\w+(?:: metadata)?"), "the small picture in the file's properties"),
    (re.compile(r"docProps/\w+\.xml(?:, paragraph \d+)?"), "the file's properties"),
    (re.compile(r"word/document\.xml"), "the text"),
    (re.compile(r"(?:ppt|word|xl)/media/"), "picture "),
)
"""Parts of an Office file (ECMA-376-2, names in use) as a person finds them."""


def _told(where: str) -> str:
    for part, words in _PLACES:
        where = part.sub(words, where)
    return where
