"""One thing to look for, and how carefully: a short or everyday word must not fire everywhere."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum, auto
from functools import cache, cached_property
from importlib.resources import files

from mmbuilder.scrub.sweep.fold import fold, tokens

RAW_LENGTH = 6
"""Characters from which an identifier is looked for in bytes that are no text: by chance, six
given bytes turn up once in 256^6."""

GLUED_LENGTH = 9
"""Letters from which a name counts inside a longer word: "cooperation" holds a surname of six."""

GLUED_FIGURES = 8
"""Figures from which a number counts inside a longer one: lengths in a deck have seven."""


class Care(Enum):
    """What must hold besides the words."""

    NONE = auto()
    JUDGED = auto()
    """Initials, an everyday word or an eponym: they must stand for somebody where they are met."""


@dataclass(frozen=True)
class Needle:
    """An identifier, folded into words.

    Attributes:
        words: what must stand in a row, case and accents folded.
        kind: what it is, for the report.
        detector: which list it comes from.
        care: what must hold besides.
        literal: must stand so, separators and all (a file name), folded; empty for any separators.
        entry: its number on the private list, over all its parts; 0 if it is none of it.
    """

    words: tuple[str, ...] = field(repr=False)
    kind: str
    detector: str
    care: Care = Care.NONE
    literal: str = field(repr=False, default="")
    entry: int = 0

    @cached_property
    def joined(self) -> str:
        """All words run together."""
        return "".join(self.words)

    @cached_property
    def in_markup(self) -> bool:
        """Whether it may be looked for among tags and attributes, where it cannot be one of theirs."""
        if self.care is not Care.NONE:
            return False
        if len(self.words) > 1:
            return len(self.joined) >= 5
        return len(self.joined) >= (5 if self.joined.isdigit() else 4) and self.joined not in markup_words()

    @cached_property
    def glues(self) -> bool:
        """Whether it counts where it is run together with other letters or figures."""
        return not self.literal and self.care is Care.NONE and self.joined not in _markup_text()


def make(
    text: str, kind: str, detector: str, care: Care = Care.NONE, *, literal: bool = False, entry: int = 0
) -> Needle | None:
    """Return a needle for a text, or None where there is too little to look for (no two signs)."""
    words = tuple(fold(word) for word in tokens(text))
    if len("".join(words)) < 2:
        return None
    return Needle(words, kind, detector, care, fold(text) if literal else "", entry)


@cache
def markup_words() -> frozenset[str]:
    """Words of the file formats themselves (tags, attributes, fonts, colours): see `markup_words.txt`."""
    lines = files("mmbuilder.scrub.sweep").joinpath("markup_words.txt").read_text("utf-8").splitlines()
    return frozenset(line for line in lines if line and not line.startswith("#"))


@cache
def _markup_text() -> str:
    return "\n".join(sorted(markup_words()))
