"""Misspelt names: within one slip for five letters or more, two for ten or more.

A slip is a letter left out, put in, changed, or two neighbours exchanged (optimal string
alignment). Names that could be meant are found through the words that both leave when
letters are dropped; only then is the distance measured.
"""

from __future__ import annotations

from collections.abc import Iterable

from mmbuilder.scrub.words import EPONYM_NOUNS, EPONYMS, MONTHS, ORDINARY, PERSON_VERBS

ONE_SLIP, TWO_SLIPS = 5, 10
"""Letters a name must have for one slip, and for two."""

_REAL = EPONYMS | EPONYM_NOUNS | ORDINARY | PERSON_VERBS | MONTHS


def slips(name: str) -> int:
    """Return how many slips are forgiven in a name."""
    return 0 if len(name) < ONE_SLIP else 1 if len(name) < TWO_SLIPS else 2


class Misspellings:
    """The names of a case, open to slips."""

    def __init__(self, names: Iterable[str]) -> None:
        self._names = sorted({name for name in names if slips(name)})
        self._left: dict[str, list[str]] = {}
        for name in self._names:
            for rest in _dropped(name, slips(name)):
                self._left.setdefault(rest, []).append(name)
        self._known: dict[str, str | None] = {}
        self._most = max(map(slips, self._names), default=0)

    def nearest(self, word: str) -> str | None:
        """Return the name that `word` (folded) misspells, or None; a correct name is no slip."""
        if word not in self._known:
            self._known[word] = self._nearest(word)
        return self._known[word]

    def _nearest(self, word: str) -> str | None:
        if not self._most or len(word) < ONE_SLIP - 1 or word in _REAL:
            return None
        reach = self._most if len(word) >= TWO_SLIPS - 2 else 1
        near = {name for rest in _dropped(word, reach) for name in self._left.get(rest, ())}
        if not near:
            return None
        from rapidfuzz.distance import OSA

        ranked = sorted((OSA.distance(word, name), name) for name in near)
        return next((name for distance, name in ranked if 0 < distance <= slips(name)), None)


def _dropped(word: str, most: int) -> set[str]:
    """Return every word left when up to `most` letters are dropped; a word of 40 letters is no name."""
    if len(word) > 40:
        return set()
    left = newest = {word}
    for _ in range(most):
        newest = {one[:place] + one[place + 1 :] for one in newest for place in range(len(one))}
        left = left | newest
    return left
