"""The scrubber as the containers see it, and which leaf a file belongs to.

A file is gone through twice: `texts_of` gathers every text in it, nested files too, so that
everybody in it is known and has one stand-in; then the file is made anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import PurePosixPath
from typing import Protocol, cast

from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import FileRefused
from mmbuilder.registry import discover
from mmbuilder.scrub import textfile
from mmbuilder.scrub.containers.base import CleanFile, CleanText, Result, Tools
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import Finding, of_span, replaced
from mmbuilder.scrub.images import metadata, sniff
from mmbuilder.scrub.images.frames import scrub_frames
from mmbuilder.scrub.judged import Judged
from mmbuilder.scrub.layers import Finder, Found, Informed
from mmbuilder.scrub.memory import DocumentMemory
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.propose import in_texts

MAX_DEPTH = 5
HELPERS = ("base", "tools")
"""Modules of this folder that are no leaves."""

PRIVATE_LIST = "identifiers.yaml"

_NEEDED = ("NAME", "SUFFIXES", "PARTS_NOT_READ", "sniff", "texts", "scrub")


class Leaf(Protocol):
    """A kind of file that holds other things (see `base`)."""

    NAME: str
    SUFFIXES: tuple[str, ...]
    PARTS_NOT_READ: str | tuple[str, ...]

    def sniff(self, head: bytes, data: bytes) -> bool:
        """Whether it is this kind, by its bytes."""
        ...

    def texts(self, data: bytes) -> Iterator[str]:
        """Every text in it."""
        ...

    def scrub(self, data: bytes, tools: Tools) -> Result:
        """The file made anew."""
        ...


def leaves() -> dict[str, Leaf]:
    """Every kind of container that is read, by the name of its file."""
    found = discover("mmbuilder.scrub.containers", *_NEEDED, but=HELPERS)
    return {name: cast(Leaf, leaf) for name, leaf in found.items()}


def leaf_for(data: bytes, suffix: str = "") -> Leaf | None:
    """The leaf a file belongs to, by its bytes; None for a text, a picture, or what nobody reads.

    Args:
        data: the file.
        suffix: its ending, with the dot.

    Raises:
        FileRefused: the name says another kind than the bytes.
    """
    head = data[: sniff.HEAD]
    if not sniff.other(head) or sniff.other(head).startswith(sniff.TEXTUAL):
        return None  # no leaf need be imported for a plain text
    leaf = next((leaf for leaf in leaves().values() if leaf.sniff(head, data)), None)
    if leaf is not None and suffix and suffix.lower() not in leaf.SUFFIXES:
        right = " or ".join(leaf.SUFFIXES)
        sibling = suffix.lower() in sniff.OFFICE_SIBLINGS
        advice = f"open it and save it as {right}" if sibling else "give it its right ending"
        raise FileRefused(
            f"the content is a {leaf.NAME}, and the name does not end in {right}; {advice}, "
            "or find out what it is"
        )
    return leaf


def texts_of(suffix: str, data: bytes) -> list[str]:
    """Every text in a file of any kind, for the first pass; none for a picture or what is not read.

    A leaf calls this for the files nested in it. How deep they may lie is bounded before
    (`bounded`), so that it ends.

    Raises:
        FileRefused: it is damaged or locked.
    """
    suffix = suffix.lower()
    if sniff.container(data[: sniff.HEAD]) is not None:
        return []
    leaf = leaf_for(data, suffix)
    if leaf is not None:
        return list(leaf.texts(data))
    return textfile.texts(data, suffix) if is_text(suffix, data) else []


def is_text(suffix: str, data: bytes) -> bool:
    """Whether a file is to be read as text: by its ending, and no magic number speaks against it."""
    other = sniff.other(data[: sniff.HEAD])
    return suffix.lower() in textfile.KINDS and (not other or other.startswith(sniff.TEXTUAL))


def bounded(data: bytes) -> None:
    """Unpack a package once, to know that it is whole and within the bounds at every level.

    Raises:
        FileRefused: damaged, locked, too deep, or it unpacks beyond the bounds.
    """
    from mmbuilder.scrub.sweep.parts import is_zip, pieces

    if is_zip(data):
        for _ in pieces("the file", data):
            pass


@dataclass(frozen=True)
class FileResult(Result):
    """A file made anew; `suffix` is its new ending where it had to become another kind."""

    suffix: str = ""


@cache
def name_model() -> Finder:
    """The judge: loaded once, when a text first needs it."""
    return Judged()


def unchecked() -> tuple[str, ...]:
    """What the layers for words leave unlooked for, in words for the report."""
    return (*name_model().unchecked, *DocumentMemory.unchecked)


class Remembered:
    """A finder that is asked about each text once.

    Args:
        finder: the one that is asked.
    """

    def __init__(self, finder: Finder) -> None:
        self._finder = finder
        self._found: dict[str, Sequence[Span]] = {}
        self.name, self.unchecked = finder.name, finder.unchecked

    def find(self, texts: Sequence[str]) -> Found:
        """Return the findings for each text, in the order given."""
        return self.find_beside(texts, [()] * len(texts))

    def find_beside(self, texts: Sequence[str], found: Found) -> Found:
        """The same, and the finder, if it listens, is told what others replace in each text: `found`.

        What others find in a text depends on the text alone, so it is remembered with it.
        """
        beside = dict(zip(texts, found, strict=True))
        new = [text for text in beside if text not in self._found]
        others = [beside[text] for text in new]
        told = (
            self._finder.find_beside(new, others)
            if isinstance(self._finder, Informed)
            else self._finder.find(new)
        )
        self._found.update(zip(new, told, strict=True))
        return [self._found[text] for text in texts]


class Scrubber:
    """Scrubs texts, pictures and files with the same stand-ins throughout (implements `Tools`).

    Args:
        index: the finder of everything declared.
    """

    def __init__(self, index: Index | None = None) -> None:
        self._index = index or Index(Declared())
        self._names = Remembered(name_model())
        self._found: dict[str, Sequence[Span]] = {}
        self._spared: dict[str, Sequence[Span]] = {}
        self._named: list[str] = []
        self._depth = 0

    def learn(self, texts: Iterable[str]) -> None:
        """Take in the texts of a whole file, so that each is judged with all the others known."""
        self.look([run for text in texts for _, run in textfile.runs(text)])

    def look(self, texts: Sequence[str]) -> list[Sequence[Span]]:
        """Return what was found in each text."""
        new = list(dict.fromkeys(text for text in texts if text not in self._found))
        if new:
            # Beside the texts that name somebody, so that a person keeps the letter given before.
            spared: list[list[Span]] = []
            told = in_texts([*self._named, *new], self._index, names=self._names, spared=spared)
            found = told[len(self._named) :]
            self._found.update(zip(new, found, strict=True))
            self._spared.update(zip(new, spared[len(self._named) :], strict=True))
            self._named += [
                text
                for text, spans in zip(new, found, strict=True)
                if any(span.letter == "A" for span in spans)
            ]
        return [self._found[text] for text in texts]

    def kept(self) -> tuple[Finding, ...]:
        """What was found in the texts and left in, each wording and reason once."""
        seen = {
            (text[span.start : span.end].casefold(), span.reason): of_span(span, "in the text")
            for text, spans in self._spared.items()
            for span in spans
        }
        return tuple(replace(finding, start=None, end=None) for finding in seen.values())

    def pairs(self) -> Iterator[tuple[str, Sequence[Span]]]:
        """Yield every text looked at with what is replaced in it."""
        yield from self._found.items()

    def text(self, text: str) -> CleanText:
        """Scrub one text."""
        spans = tuple(textfile.find(text, self.look))
        return CleanText(replaced(text, list(spans)), spans)

    def picture(self, data: bytes, crop: tuple[float, float, float, float] | None = None) -> CleanFile:
        """Scrub a picture: every page and frame, in its own format.

        Raises:
            FileRefused: it cannot be decoded safely.
        """
        made = scrub_frames(data, crop)
        found = [Finding(kind, "metadata") for kind in metadata.kinds(data)]
        return CleanFile(made.data, (*found, *made.findings), made.notes, made.suffix)

    def nested(self, suffix: str, data: bytes) -> CleanFile:
        """Scrub a file inside another.

        Raises:
            FileRefused: of no kind that is read, damaged, or too deep.
        """
        if self._depth >= MAX_DEPTH:
            raise FileRefused(f"files inside files, more than {MAX_DEPTH} deep; not read")
        self._depth += 1
        try:
            result = self.file(suffix, data)
        finally:
            self._depth -= 1
        left = tuple(f"left out: {part}" for part in result.dropped)
        return CleanFile(result.data, result.findings, (*result.notes, *left), result.suffix)

    def file(self, suffix: str, data: bytes) -> FileResult:
        """Scrub a file of any kind.

        Args:
            suffix: the ending of its name, with the dot.
            data: the file.

        Raises:
            FileRefused: of no kind that is read, damaged, mislabelled, or beyond the bounds.
        """
        suffix = suffix.lower()
        picture = sniff.container(data[: sniff.HEAD])
        if picture is not None:
            return _of_picture(self.picture(data), suffix, picture)
        leaf = leaf_for(data, suffix)
        if leaf is not None:
            made = leaf.scrub(data, self)
            return FileResult(made.data, made.findings, (*made.notes, *not_read(leaf)), made.dropped)
        if not is_text(suffix, data):
            raise FileRefused(unread(data))
        source = textfile.decoded(data)
        scrubbed, spans = textfile.KINDS[suffix](source.text, self.look)
        return FileResult(source.encoded(scrubbed), textfile.located(source.text, spans))


def _of_picture(made: CleanFile, suffix: str, picture: sniff.Container) -> FileResult:
    notes = made.notes
    if suffix and suffix not in picture.SUFFIXES:
        notes += (f"the name does not say so, but this is a {picture.NAME} picture; it was written as one",)
    return FileResult(made.data, made.findings, notes, suffix=made.suffix)


def not_read(leaf: Leaf) -> tuple[str, ...]:
    """What a leaf cannot look into, in words."""
    return (leaf.PARTS_NOT_READ,) if isinstance(leaf.PARTS_NOT_READ, str) else tuple(leaf.PARTS_NOT_READ)


def in_name(stem: str, tools: Tools) -> tuple[Span, ...]:
    """What in the name of a file may identify; the few figures of a photograph or of a case do not."""
    said = stem.replace("_", " ")
    return tuple(
        span
        for span in tools.text(said).spans
        if span.letter in _WITHOUT_FIGURES or sum(map(str.isdigit, said[span.start : span.end])) >= _FIGURES
    )


_WITHOUT_FIGURES = "ABC"
_FIGURES = 6
"""Figures from which a number may be somebody's."""


def is_private_list(name: str) -> bool:
    """Whether a file is somebody's private list of identifiers, which is never copied."""
    return PurePosixPath(name.replace("\\", "/")).name == PRIVATE_LIST


def unread(data: bytes) -> str:
    """Why a file is not read, and what is, in words."""
    other = sniff.other(data[: sniff.HEAD])
    kind = f" ({other})" if other else ""
    again = "; save it as .docx, .pptx or .xlsx without a password" if other in sniff.SAVED_AGAIN else ""
    names = ", ".join(leaf.NAME for leaf in leaves().values())
    return (
        f"a file of this kind{kind} is not read; text (.txt .md .csv "
        f".yaml), pictures (JPEG, PNG, TIFF, GIF, WebP, HEIC, BMP) and these are: {names}{again}"
    )
