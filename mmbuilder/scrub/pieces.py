"""Names in pieces (`Tarn-volk`) and names glued to other words (`Drtarnvolk`, `Tarnvolkclinic`)."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from mmbuilder.scrub.words import EPONYM_NOUNS, EPONYMS, MONTHS, ORDINARY, PERSON_VERBS

LONG = 6
"""Letters of the shortest name that is joined from pieces, or cut out of a longer word."""

_ANYWHERE = 8
"""Letters from which a name also counts in the midst of a longer word: `opnotetarnvolkfinal`."""

_TITLES = (
    "professor", "doctor", "sister", "nurse", "matron", "prof", "miss", "drs", "mrs", "dr", "mr", "ms", "sr",
)  # fmt: skip
_SHORTEST = 3
_UNSPACED = (
    (0x3040, 0x30FF),
    (0x3400, 0x4DBF),
    (0x4E00, 0x9FFF),
    (0xAC00, 0xD7AF),
    (0x0E00, 0x0EFF),
    (0x20000, 0x2FFFF),
)
"""Kana, Han, Hangul, Thai and Lao (blocks of the Unicode Standard, from memory)."""

_REAL = EPONYMS | EPONYM_NOUNS | ORDINARY | PERSON_VERBS | MONTHS


@lru_cache(maxsize=16_384)
def is_word(word: str) -> bool:
    """Whether a folded word is one of the language or the trade."""
    from mmbuilder.scrub.keep.lists import load

    return word in _REAL or load().called(word) is not None


def unspaced(name: str) -> bool:
    """Whether a name is written in a script that puts no space between words."""
    return len(name) > 1 and all(
        any(first <= ord(sign) <= last for first, last in _UNSPACED) for sign in name
    )


class Pieces:
    """The names of a case, open to being broken or glued.

    Args:
        names: folded names of one word.

    Attributes:
        names: those long enough to be joined from pieces.
        starts: every beginning of one.
    """

    def __init__(self, names: Iterable[str]) -> None:
        self._all = frozenset(names)
        self.names = frozenset(name for name in self._all if len(name) >= LONG and name not in _REAL)
        self.starts = frozenset(name[:size] for name in self.names for size in range(1, len(name)))
        self._sizes = sorted({len(name) for name in self.names}, reverse=True)
        self._long = sorted(name for name in self.names if len(name) >= _ANYWHERE)
        self._known: dict[str, str] = {}

    def glued(self, word: str) -> str:
        """Return the name a folded word holds after a title, or at one of its ends; or nothing."""
        if word not in self._known:
            self._known[word] = self._glued(word)
        return self._known[word]

    def _glued(self, word: str) -> str:
        titled = (word[len(title) :] for title in _TITLES if word.startswith(title))
        found = next((name for name in titled if len(name) >= _SHORTEST and name in self._all), "")
        for size in self._sizes:
            if not found and len(word) > size + 1:
                found = next((end for end in (word[:size], word[-size:]) if end in self.names), "")
        if not found and len(word) > _ANYWHERE:
            found = next((name for name in self._long if name in word), "")
        return found if found and not is_word(found) and not is_word(word) else ""
