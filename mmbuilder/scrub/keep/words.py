"""Words of a text, and the plain form under which lists know them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

_WORD = re.compile(r"[^\W_]+(?:[’'ʼ][^\W_]+)*")
_POSSESSIVE = re.compile(r"[’'ʼ]s$", re.IGNORECASE)
_LETTERS = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ß": "ss", "ł": "l", "đ": "d", "ı": "i"})


@lru_cache(maxsize=16_384)
def fold(word: str) -> str:
    """Plain form of one word: small letters, no accents, no apostrophes, no possessive s."""
    bare = _POSSESSIVE.sub("", word).casefold().translate(_LETTERS)
    letters = unicodedata.normalize("NFD", bare)
    return "".join(c for c in letters if not unicodedata.combining(c) and c not in "’'ʼ")


@dataclass(frozen=True, slots=True)
class Word:
    """One word: as written, folded, its offsets, and whether it bears a possessive."""

    text: str
    plain: str
    start: int
    end: int
    possessive: bool

    @property
    def capital(self) -> bool:
        """Whether it begins with a capital letter."""
        return self.text[0].isupper()

    @property
    def bears_s(self) -> bool:
        """Whether a possessive 's is written at its end."""
        return bool(_POSSESSIVE.search(self.text))

    @property
    def initial(self) -> bool:
        """Whether it is a single letter, as initials are."""
        return len(self.text) == 1 and self.text.isalpha()


def words(text: str) -> Iterator[Word]:
    """Words in order; hyphens part them ("Swan-Ganz" is two)."""
    for match in _WORD.finditer(text):
        possessive = bool(_POSSESSIVE.search(match[0])) or text.startswith(("' ", "’ "), match.end())
        yield Word(match[0], fold(match[0]), match.start(), match.end(), possessive)


def phrase(text: str) -> str:
    """Plain form of a term of several words, joined by single spaces."""
    return " ".join(word.plain for word in words(text))
