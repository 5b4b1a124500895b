"""Sentences that the program itself writes: whom they cite is published, and may be called as somebody declared."""

from __future__ import annotations

import re
from functools import cache

SENTENCE = 5
"""Words from which fixed words are a sentence: a shorter one may be said by anybody."""


def without(text: str) -> str:
    """Return a text without the sentences of the program that stand in it word for word, however they are broken."""
    solid = "".join(text.split())
    for sentence in _sentences():
        if sentence in solid:
            text = re.sub(r"\s*".join(map(re.escape, sentence)), " ", text)
    return text


@cache
def _sentences() -> tuple[str, ...]:
    """Return every fixed sentence of every language, without its spaces."""
    from mmbuilder.scrub.printed import fixed

    return tuple("".join(words.split()) for words in fixed() if len(words.split()) >= SENTENCE)
