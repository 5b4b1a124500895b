"""What a kind of file is given to be scrubbed with, and what it gives back.

Every leaf of this folder has:

    NAME       what it is called in a message, such as "PowerPoint presentation"
    SUFFIXES   file name endings, with the dot, such as (".pptx",)
    sniff(head: bytes, data: bytes) -> bool      is it this kind, by its bytes
    texts(data: bytes) -> Iterator[str]          every text in it, for the first pass
    scrub(data: bytes, tools: Tools) -> Result   the file made anew
    PARTS_NOT_READ                               what it cannot look into, in words

A leaf works by allow-list: a part whose kind it does not know is dropped (and named in
`Result.dropped` by kind and place, never by a name that may identify) or the file refused.
Nothing passes through unread.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Protocol

from mmbuilder.scrub.findings import Finding
from mmbuilder.scrub.plan import Span


@dataclass(frozen=True)
class CleanText:
    """A text after scrubbing, with what was replaced; offsets into the original."""

    text: str = field(repr=False)
    spans: tuple[Span, ...] = ()


@dataclass(frozen=True)
class CleanFile:
    """A picture or a nested file after scrubbing.

    Attributes:
        data: the new file.
        findings: what was replaced, covered or dropped.
        notes: what could not be looked at, or was left out.
        suffix: its new file name ending where it had to become another kind; else empty.
    """

    data: bytes = field(repr=False)
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    suffix: str = ""


class Tools(Protocol):
    """The scrubber as a container sees it; the same stand-ins through the whole file."""

    def text(self, text: str) -> CleanText:
        """Scrub one text (a paragraph, a cell, an alt text)."""
        ...

    def picture(self, data: bytes, crop: tuple[float, float, float, float] | None = None) -> CleanFile:
        """Scrub a picture; `crop` (left, top, right, bottom as fractions cut off) is cut for real.

        Raises:
            FileRefused: it cannot be decoded safely.
        """
        ...

    def nested(self, suffix: str, data: bytes) -> CleanFile:
        """Scrub a file inside this one, by the leaf for its kind; depth and size are bounded.

        Raises:
            FileRefused: of no kind that is read, damaged, or too deep.
        """
        ...


@dataclass(frozen=True)
class Result:
    """A file made anew.

    Attributes:
        data: the new file.
        findings: what was replaced, covered or dropped: kinds and places.
        notes: what could not be looked at.
        dropped: parts left out because of their kind, in words.
    """

    data: bytes = field(repr=False)
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    dropped: tuple[str, ...] = ()
