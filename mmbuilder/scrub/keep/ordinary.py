"""Words that are nobody's name, or a word as well as a name."""

from __future__ import annotations

import re

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold

_WORD = re.compile(r"[^\W\d_]+")


def ordinary(said: str) -> bool:
    """Whether all words are ordinary ones, of the clinic or roles; with a capital, only where no list of names has them."""
    lists, small = load(), said.islower()
    return all(
        word in lists.roles
        or (small and _written_small(word))
        or (_no_name(word) and (small or not (word in lists.given or word in lists.family)))
        for word in _plain(said)
    )


def _no_name(word: str) -> bool:
    return load().known(word) or load().plain_abroad(word)


def _written_small(word: str) -> bool:
    """Whether a word in small letters is no given name: a short form (`io`), a word that is a family's too (`fair`), a letter."""
    lists = load()
    if word in lists.word_names:
        return word not in lists.given
    return len(word) == 1 or (word.upper() in ABBREVIATIONS and not lists.borne(word))


def word_too(said: str) -> bool:
    """Whether every word is, whatever else it is, a word: `Green`, `Grace`, `done`."""
    return all(_no_name(word) or word in load().word_names for word in _plain(said))


def _plain(said: str) -> list[str]:
    return [fold(word) for word in _WORD.findall(said)]
