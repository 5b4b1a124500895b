"""The judge: weights, and what they say of a sentence."""

from __future__ import annotations

import sys
from array import array
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from pathlib import Path

from mmbuilder.scrub.judging.chain import LABELS, Row, four, marginals
from mmbuilder.scrub.judging.features import Seen, features
from mmbuilder.scrub.judging.reading import Token, read

LEARNED = Path(__file__).parent / "weights.txt"
"""Made by `train`: its first lines say from what; the features stand below, one a line."""
PULLS = LEARNED.with_suffix(".bin")
"""What each feature says, in their order, three figures each: two bytes a figure, the low one first, since a million figures are slow to read as text."""
STEP = 0.01
"""What one unit of the file is worth."""
SHARE = 0.5
"""How much what the features say counts, and what the name model says, where both are asked: the geometric mean of two opinions."""

Pull = tuple[float, float, float]
"""What speaks for a person, for a place, for any other identifier."""


@dataclass(frozen=True)
class Weights:
    """What was learned: how much each feature speaks for a person, a place and any other identifier.

    Attributes:
        of: place of each feature. A build asks for one in a hundred, so their figures stay packed.
        pulls: three figures a feature, in units of `STEP`.
        follows: for each label, what speaks for each label right after it.
    """

    of: Mapping[str, int]
    pulls: array[int]
    follows: Sequence[Row]

    @cached_property
    def shared(self) -> Sequence[Row]:
        """The same as it counts where the name model is asked as well."""
        return [four(*(SHARE * figure for figure in row)) for row in self.follows]


@dataclass(frozen=True, slots=True)
class Chance:
    """One word, figure or sign of a sentence, and how likely it names a person or a place, or is part of another identifier."""

    token: Token
    person: float
    place: float
    other: float


@cache
def weights() -> Weights:
    """What was learned, read once per process.

    Raises:
        ValueError: the two files do not belong together.
    """
    head, _, names = LEARNED.read_text("utf-8").partition("\n\n")
    rows = [line.split("\t") for line in head.splitlines() if not line.startswith("# ")]
    follows = [four(*(int(figure) * STEP for figure in figures)) for _, *figures in rows]
    pulls = figures_in(PULLS.read_bytes())
    places = range(0, len(pulls), len(LABELS) - 1)
    return Weights(dict(zip(names.split("\n"), places, strict=True)), pulls, follows)


def figures_in(stored: bytes) -> array[int]:
    """The figures of `PULLS`."""
    found = array("h", stored)
    if sys.byteorder == "big":
        found.byteswap()
    return found


DOUBT = (0.1, 0.9)
"""Between these chances the judge is in two minds, and asks the name model before it says anything."""


Settled = tuple[tuple[int, int], ...]
"""Places in a sentence that are replaced anyhow."""


def chances(sentences: Sequence[tuple[str, Settled]]) -> list[list[Chance]]:
    """How likely each word of each sentence names somebody or a place; what is settled is not doubted about."""
    learned = weights()
    tokens = [read(sentence) for sentence, _ in sentences]
    scores = [[_score(seen) for seen in features(its)] for its in tokens]
    found = [_judged(its, rows, learned.follows) for its, rows in zip(tokens, scores, strict=True)]
    doubted = [
        at
        for at, (its, (_, settled)) in enumerate(zip(found, sentences, strict=True))
        if any(_in_doubt(one, settled) for one in its)
    ]
    if doubted:
        from mmbuilder.scrub.judging import second

        asked = second.scores([(sentences[at][0], tokens[at]) for at in doubted])
        for at, rows in zip(doubted, asked, strict=True):
            both = [_shared(own, row) for own, row in zip(scores[at], rows, strict=True)]
            found[at] = _judged(tokens[at], both, learned.shared)
    return found


def _in_doubt(chance: Chance, settled: Settled) -> bool:
    if not any(DOUBT[0] < its < DOUBT[1] for its in (chance.person + chance.place, chance.other)):
        return False
    return not any(start <= chance.token.start < end for start, end in settled)


def _shared(own: Row, other: Row) -> Row:
    return four(*(SHARE * (one + two) for one, two in zip(own, other, strict=True)))


def _judged(tokens: Sequence[Token], scores: Sequence[Row], follows: Sequence[Row]) -> list[Chance]:
    rows = marginals(scores, follows)
    return [Chance(token, row[1], row[2], row[3]) for token, row in zip(tokens, rows, strict=True)]


def _score(seen: Seen) -> Row:
    person, place, other = _sum(seen.own)
    more = _added(seen.around)
    return 0.0, person + more[0], place + more[1], other + more[2]


@lru_cache(maxsize=32_768)
def _sum(own: tuple[str, ...]) -> Pull:
    """What the features of a word by itself say: words come back, so it is added up once."""
    return _added(own)


def _added(names: Iterable[str]) -> Pull:
    learned, person, place, other = weights(), 0, 0, 0
    of, pulls = learned.of, learned.pulls
    for name in names:
        at = of.get(name)
        if at is not None:
            person += pulls[at]
            place += pulls[at + 1]
            other += pulls[at + 2]
    return person * STEP, place * STEP, other * STEP
