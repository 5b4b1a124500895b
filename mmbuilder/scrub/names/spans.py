"""From the chance of each word piece to the names in the text as it was written.

A word is a name if any of its pieces is; words that stand side by side become one name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from mmbuilder.scrub.names.labels import Kind
from mmbuilder.scrub.names.tokenizer import Piece

# One written word: letters joined by hyphens and apostrophes (O'Neill, Kocher-Ngata).
_WORD = re.compile(r"[^\W_]+(?:[’'ʼ\-‐‑][^\W_]+)*")
_POSSESSIVE = re.compile(r"[’'](?:s|S)$")
_JOIN = re.compile(r"\.?[ \t\u00a0]*\n?[ \t\u00a0]*|[’'\-‐‑.]")


@dataclass(frozen=True, order=True, slots=True)
class NameHit:
    """What the model takes for a name.

    Attributes:
        start, end: offsets into the text, end not included; a possessive 's is left out.
        kind: what it names.
        score: 0 to 1, the highest chance of any of its words.
    """

    start: int
    end: int
    kind: Kind
    score: float


def _words(text: str) -> Iterator[tuple[int, int]]:
    for match in _WORD.finditer(text):
        possessive = _POSSESSIVE.search(match[0])
        yield match.start(), match.start() + possessive.start() if possessive else match.end()


def _scored(
    text: str, pieces: Sequence[Piece], chances: Mapping[Kind, Sequence[float]], threshold: float
) -> Iterator[NameHit]:
    """Every word that any kind reaches the threshold at, with its likeliest kind."""
    at = 0
    for start, end in _words(text):
        while at < len(pieces) and pieces[at].end <= start:
            at += 1
        stop = at
        while stop < len(pieces) and pieces[stop].start < end:
            stop += 1
        if stop > at:
            best, score = _likeliest(chances, at, stop)
            if score >= threshold:
                yield NameHit(start, end, best, score)


def _likeliest(chances: Mapping[Kind, Sequence[float]], at: int, stop: int) -> tuple[Kind, float]:
    """The kind with the highest chance in any of the pieces, the first one of equals."""
    score, place = max((max(of_kind[at:stop]), -place) for place, of_kind in enumerate(chances.values()))
    return list(chances)[-place], score


def spans(
    text: str, pieces: Sequence[Piece], chances: Mapping[Kind, Sequence[float]], threshold: float
) -> list[NameHit]:
    """Names in one text.

    Args:
        text: as it was written.
        pieces: its word pieces.
        chances: for each kind, its chance at each piece.
        threshold: least chance that makes a word part of a name.
    """
    found: list[NameHit] = []
    for word in _scored(text, pieces, chances, threshold):
        last = found[-1] if found else None
        if last and last.kind == word.kind and _JOIN.fullmatch(text, last.end, word.start):
            found[-1] = NameHit(last.start, word.end, word.kind, max(last.score, word.score))
        else:
            found.append(word)
    return found
