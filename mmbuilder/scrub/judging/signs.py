"""What the name model is told of a word beside its letters, which it reads without capitals and accents.

Signs are 0 or 1: each list that the word is on, how it is written, how much it is made like a name, how common it is
in the language of its sentence and anywhere, and how the sentence is written.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from mmbuilder.scrub.judging.common import LANGUAGES, common
from mmbuilder.scrub.judging.features import may_be_named, written_as
from mmbuilder.scrub.judging.reading import Token, likeness
from mmbuilder.scrub.judging.tongues import tongue

if TYPE_CHECKING:
    from mmbuilder.scrub.names.weights import Floats

_LISTS = "trkpbvucjlmDGNFVUhWxsweygfoz"
_SHAPES = "aAXMiI91"
_SENTENCES = "Csnt0"
_LIKE, _COMMON = 9, 8
_SHAPE = len(_LISTS)
_MADE = _SHAPE + len(_SHAPES) + 1
_HERE = _MADE + _LIKE
_ANYWHERE = _HERE + _COMMON
_WHOLE = _ANYWHERE + _COMMON
SIGNS = _WHOLE + len(_SENTENCES)
"""How many there are. Their order is that of the rows of `signs.weight` in the weights of the name model."""


def signs(tokens: Sequence[Token]) -> Floats:
    """The signs of every token of one sentence: (tokens, SIGNS), 0 or 1."""
    import numpy as np

    found = np.zeros((len(tokens), SIGNS), np.float32)
    language, whole = tongue(token.plain for token in tokens), _SENTENCES.index(written_as(tokens))
    here = LANGUAGES.index(language) if language in LANGUAGES else 0
    for row, token in zip(found, tokens, strict=True):
        row[[*_of_token(token, here), _WHOLE + whole]] = 1
    return found


def _of_token(token: Token, here: int) -> Iterator[int]:
    yield from (_LISTS.index(letter) for letter in token.flags)
    shape = _SHAPES.find(token.shape)
    yield _SHAPE + (shape if shape >= 0 else len(_SHAPES))
    if token.shape in "aAXM":
        if may_be_named(token.flags):
            yield _MADE + likeness(token.plain) + _LIKE // 2
        counts = common(token.plain)
        yield _HERE + min(counts[here], _COMMON - 1)
        yield _ANYWHERE + min(max(counts), _COMMON - 1)
