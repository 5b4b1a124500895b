"""Text made comparable: case, accents and invisible characters folded, every offset kept."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, pairwise, repeat

_SPECIAL = {
    "ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ß": "ss", "ı": "i", "ħ": "h",
    "ŋ": "n", "ŧ": "t", "ſ": "s", "ʼ": "'", "ʹ": "'", "ʻ": "'", "ʽ": "'",
}  # fmt: skip
"""Letters that Unicode does not take apart into base and accent, and those that are an apostrophe."""

LOOK_ALIKES = dict(zip("авекмнорстухіјѕԁһԛԝον", "abekmhopctyxijsdhqwov", strict=True))
"""Small letters of other scripts that look like Latin ones, or whose capital does (confusables of the
Unicode Standard, from memory); those Greek letters that stand for something in the clinic are left out."""


@dataclass(frozen=True)
class Folded:
    """Folded text.

    Attributes:
        raw: the text as given.
        text: the folded text.
        starts: for each folded character, the offset it came from, then the length of `raw`.
    """

    raw: str
    text: str
    starts: tuple[int, ...] | range

    def place(self, start: int, end: int) -> tuple[int, int]:
        """Return offsets into `raw` for a stretch of the folded text; marks on its last letter go with it."""
        if start >= end:
            return self.starts[start], self.starts[start]
        last = self.starts[end - 1]
        while end < len(self.starts) and self.starts[end] <= last:
            end += 1
        return self.starts[start], self.starts[end] if end < len(self.starts) else len(self.raw)


def fold(text: str) -> Folded:
    """Fold a text, keeping where each character came from."""
    if text.isascii():
        return Folded(text, text.lower(), range(len(text) + 1))
    letters = list(map(_letter, text))
    lengths = list(map(len, letters))
    if lengths.count(1) == len(lengths):
        return Folded(text, "".join(letters), range(len(text) + 1))
    starts = chain.from_iterable(map(repeat, range(len(text)), lengths))
    return Folded(text, "".join(letters), (*starts, len(text)))


def folded(text: str) -> str:
    """Return the folded text alone."""
    return fold(text).text


@lru_cache(maxsize=4096)
def _letter(letter: str) -> str:
    # Taken apart before as well: the capital of a mathematical alphabet folds only as a plain one.
    apart = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", letter).casefold())
    # Marks and invisible format characters (joiners, direction marks, soft hyphens) fold to nothing.
    kept = (part for part in apart if unicodedata.category(part) not in ("Mn", "Mc", "Me", "Cf"))
    return "".join(map(_plain, kept))


def _plain(part: str) -> str:
    """A letter in Latin where it looks like one, a figure of any script as 0 to 9."""
    if part.isdecimal():
        return str(unicodedata.decimal(part))
    return _SPECIAL.get(part) or LOOK_ALIKES.get(part, part)


@dataclass(frozen=True)
class Token:
    """A run of letters or figures; `start` and `end` count in the folded text."""

    text: str
    start: int
    end: int
    part: bool = False
    """Whether it is a piece of a run that was written together, such as `OkaforEye2`."""


_RUN = re.compile(r"[^\W_]+")


def tokens(text: Folded) -> list[Token]:
    """Runs of letters and figures."""
    return [Token(found[0], *found.span()) for found in _RUN.finditer(text.text)]


def words_of(text: str) -> tuple[str, ...]:
    """The runs of letters and figures of a text, folded: what a declared name and a word in a note are compared by."""
    return tuple(token.text for token in tokens(fold(text)))


def humps(text: Folded, token: Token) -> Iterator[Token]:
    """Pieces of a run by its inner capitals and figures: `OkaforEye2` is `okafor`, `eye`, `2`."""
    whole = text.raw[text.starts[token.start] : text.starts[token.end]]
    if whole.isdigit() or (whole.isalpha() and (whole[1:].islower() or whole.isupper())):
        return  # most words have no inner capital and no figure
    edges = [token.start]
    for place in range(token.start + 1, token.end):
        before, here = text.raw[text.starts[place - 1]], text.raw[text.starts[place]]
        if (here.isupper() and before.islower()) or here.isdigit() is not before.isdigit():
            edges.append(place)
    edges.append(token.end)
    if len(edges) > 2:
        for start, end in pairwise(edges):
            yield Token(text.text[start:end], start, end, part=True)
