"""A sentence as the judge reads it: words, figures and signs in a row, each with what the lists say of it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.judging.tongues import small_abroad
from mmbuilder.scrub.keep.likeness import log_odds
from mmbuilder.scrub.keep.lists import Lists, load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.kin import KIN

_TOKEN = re.compile(
    r"[^\W\d_]{2,}(?:['’ʼ][^\W\d_]+)*(?:[-‐‑][^\W\d_]{2,}(?:['’ʼ][^\W\d_]+)*)+(?![^\W_])|[^\W_]+(?:['’ʼ][^\W_]+)*|[^\w\s]|_"
)
"""Words with hyphens are one, whatever their halves: `Swan-Ganz`, `bolton-drew`."""
_HYPHEN = re.compile(r"[-‐‑]")

CALLED = {
    "a drug or product": "D",
    "an organism": "G",
    "anatomy": "N",
    "a finding, disease or procedure": "F",
    "a device or material": "V",
    "an ordinary word": "W",
    "a unit": "U",
}
"""The classes of listed terms, a letter each."""

Known = Callable[[str], str]
"""Told a folded word, says in letters what the lists say of it; empty for a word on none."""


@dataclass(frozen=True, slots=True)
class Token:
    """One word, figure or sign.

    Attributes:
        text, plain: as written, and folded.
        start, end: offsets into the sentence.
        shape: `a` small letters, `A` a capital first, `X` all capitals, `M` mixed, `1` figures, `9` figures and
            letters, `i` or `I` one letter; a sign is its own shape.
        flags: what the lists say (`flags`).
        glued: whether it stands right after the one before it.
    """

    text: str
    plain: str
    start: int
    end: int
    shape: str
    flags: str
    glued: bool


def read(sentence: str, known: Known | None = None) -> list[Token]:
    """Cut a sentence."""
    known, found, last = known or flags, list[Token](), -1
    for match in _TOKEN.finditer(sentence):
        text, start = match[0], match.start()
        shape = _shape(text)
        plain = _HYPHEN.sub("-", fold(text)) if shape in WORDS else text
        of_lists = known(plain) if shape in WORDS else ""
        found.append(Token(text, plain, start, match.end(), shape, of_lists, start == last))
        last = match.end()
    return found


WORDS = frozenset("aAXMiI9")
"""Shapes of words; the others are figures and signs."""


@lru_cache(maxsize=16_384)
def _shape(text: str) -> str:
    if not text[0].isalnum():
        return text
    if any(sign.isdigit() for sign in text):
        return "1" if text.isdigit() else "9"
    if len(text) == 1:
        return "I" if text.isupper() else "i"
    bare = re.sub(r"['’ʼ]s$", "", text, flags=re.IGNORECASE)
    if bare.islower():
        return "a"
    if bare.isupper():
        return "X"
    return "A" if bare.istitle() else "M"


@lru_cache(maxsize=65_536)
def flags(plain: str) -> str:
    """What the lists say of a folded word, a letter for each; empty for a word on none."""
    return _of_halves(plain) if "-" in plain else _of_one(plain)


def _of_halves(plain: str) -> str:
    """Of a word with hyphens: a listed whole, else its last half if all are words and no names, else what its halves are as names."""
    lists, whole = load(), plain.replace("-", " ")
    if whole in lists.eponyms:
        return "e"
    if whole in lists.terms:
        return CALLED[lists.terms[whole]]
    halves = [_of_one(half) for half in plain.split("-")]
    if all(half and not set(half) <= NAMES for half in halves):
        return halves[-1]
    return "".join(letter for letter in "wegf" if all(letter in half for half in halves))


NAMES = frozenset("weygf")
"""Letters of the lists of names: words too, eponyms, those of them that many people bear, given, family."""


def _of_one(plain: str) -> str:
    lists = load()
    letters = [letter for letter, words in _of_words(lists) if plain in words]
    called = lists.called(plain)
    if called:
        letters.append(CALLED[called])
    if lists.plain_word(plain):
        letters.append("o")
    if plain.upper() in ABBREVIATIONS:
        letters.append("x")
    if not letters and len(plain) > _ENDING_TELLS and plain.endswith(lists.suffixes):
        letters.append("s")
    if not letters and lists.ended_abroad(plain):
        letters.append("z")
    return "".join(letters)


_ENDING_TELLS = 7


def _of_words(lists: Lists) -> tuple[tuple[str, frozenset[str]], ...]:
    return (
        ("t", lists.titles),
        ("r", lists.roles),
        ("k", KIN),
        ("p", lists.passives),
        ("b", lists.verbs_before),
        ("v", lists.verbs_after),
        ("u", lists.auxiliaries),
        ("c", lists.articles),
        ("l", lists.particles),
        ("m", lists.months),
        ("h", lists.heads),
        ("w", lists.word_names),
        ("e", lists.eponym_words),
        ("y", lists.shared),
        ("j", small_abroad()),
        ("z", lists.foreign),
        ("g", lists.given),
        ("f", lists.family),
    )


@lru_cache(maxsize=16_384)
def likeness(plain: str) -> int:
    """How much a word is made like a name, in half units of its log odds, -4 to 4."""
    return max(max(-4, min(4, round(2 * log_odds(half)))) for half in plain.split("-"))
