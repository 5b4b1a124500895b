"""The same passage with other people in it: so that the judge learns the place of a name, and no name by heart.

Names go for names of the lists, for words that are names, for eponyms and for invented ones; eponyms and terms for
others of their kind, and for family names in an eponym's place; some words are misspelt, some notes lose their
capitals or get nothing else; and some words are read as if they were on no list, as the next ward's words will be.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from random import Random

from mmbuilder.scrub.judged import sentences
from mmbuilder.scrub.judging.chain import LABELS
from mmbuilder.scrub.judging.reading import Known, Token, flags, read
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from tests.scrub.sets.passages import Passage

NOBODY, PERSON = 0, 1
_YEAR = re.compile(r"(?:19|20)\d\d")
"""A year alone may stay: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year."""
_TIME = re.compile(
    r"(?<=\w)[\s,T]+(?:at |um |à |a las )?\d{1,2}(?:[:.h]\d{2}){1,2}\s?(?:uhr|am|pm|hrs?|h|Z)?$",
    re.IGNORECASE,
)
"""A time of day behind a date: it goes with its date, but it is no identifier by itself."""
_WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_POSSESSIVE = re.compile(r"['’]s$")
_CONTEXT = frozenset("trkpbvuclj")
"""Lists of words that tell who is who: never swapped, never forgotten."""


@dataclass(frozen=True)
class Lesson:
    """A text and what each of its characters belongs to: `A` a person, `B` a place, `R` another identifier, `O` nothing."""

    text: str
    labels: str


def lesson(passage: Passage) -> Lesson:
    labels = ["O"] * len(passage.text)
    for planted in passage.planted:
        if _YEAR.fullmatch(passage.text, planted.start, planted.end):
            continue
        letter = planted.letter if planted.letter in "AB" else "R"
        said = passage.text[planted.start : planted.end]
        size = len(_TIME.sub("", said)) if planted.letter == "C" else len(said)
        labels[planted.start : planted.start + size] = letter * size
    return Lesson(passage.text, "".join(labels))


@dataclass(frozen=True)
class Stock:
    """What there is to put in."""

    given: list[str]
    family: list[str]
    words: list[str]
    eponyms: list[str]
    terms: dict[str, list[str]]


@cache
def stock() -> Stock:
    lists = load()
    terms: dict[str, list[str]] = {}
    for term, called in sorted(lists.terms.items()):
        if term.isalpha() and len(term) > 4:
            terms.setdefault(called, []).append(term)
    return Stock(
        sorted(name for name in lists.given if not lists.known(name)),
        sorted(name for name in lists.family if not lists.known(name)),
        sorted(name for name in lists.word_names if name.isalpha()),
        sorted(name for name in lists.eponym_words if len(name) > 3),
        terms,
    )


def varied(one: Lesson, random: Random) -> tuple[Lesson, Known]:
    """A lesson with other names and terms, perhaps in other letters, and how the lists are to be read for it."""
    one = _initials(_swapped(one, random), random)
    letters = random.random()
    written = one.text.lower() if letters < 0.25 else one.text.upper() if letters < 0.35 else one.text
    if len(written) == len(one.text):
        one = Lesson(written, one.labels)
    return one, forgetting(random.random())


def _swapped(one: Lesson, random: Random) -> Lesson:
    text, labels, at, new = "", "", 0, dict[str, str]()
    for word in _WORD.finditer(one.text):
        text, labels = text + one.text[at : word.start()], labels + one.labels[at : word.start()]
        core, label = _POSSESSIVE.sub("", word[0]), one.labels[word.start()]
        plain = fold(core)
        if plain not in new:
            new[plain] = _other(core, plain, label, random)
        put = _as_written(new[plain], core) + word[0][len(core) :] if new[plain] else word[0]
        kept = one.labels[word.start() : word.end()]
        text, labels = text + put, labels + (label * len(put) if new[plain] else kept)
        at = word.end()
    return Lesson(text + one.text[at:], labels + one.labels[at:])


def _other(core: str, plain: str, label: str, random: Random) -> str:
    """What stands in for a word of a text; empty where it stays."""
    if label == "A":
        return _name(plain, random) if random.random() < 0.8 else ""
    if label in "BR":
        return ""
    of_lists = set(flags(plain))
    if of_lists & _CONTEXT:
        return ""
    if len(core) > 5 and random.random() < 0.04:
        return _misspelt(core, random)
    if "e" in of_lists and len(plain) > 3 and core[:1].isupper() and not of_lists & set("hm"):
        return _eponym(random) if random.random() < 0.35 else ""
    if of_lists & set("DGV") and len(plain) > 4 and "o" not in of_lists and random.random() < 0.2:
        return random.choice(stock().terms[str(load().called(plain))])
    return ""


def _name(plain: str, random: Random) -> str:
    if len(plain) < 3 or set(flags(plain)) & set("tl"):
        return ""
    chance, lists = random.random(), load()
    if chance < 0.12:
        return random.choice(stock().words)
    if chance < 0.2:
        return random.choice(stock().eponyms)
    if chance < 0.38:
        return _invented(random)
    given = plain in lists.given and (plain not in lists.family or chance < 0.7)
    return random.choice(stock().given if given else stock().family)


def _invented(random: Random) -> str:
    """The beginning of one family name and the end of another."""
    first, second = random.choice(stock().family), random.choice(stock().family)
    return first[: max(2, len(first) // 2)] + second[len(second) // 2 :]


def _eponym(random: Random) -> str:
    chance = random.random()
    if chance < 0.5:
        return random.choice(stock().eponyms)
    return random.choice(stock().family) if chance < 0.75 else _invented(random)


def _misspelt(core: str, random: Random) -> str:
    at, chance = random.randrange(1, len(core) - 1), random.random()
    if chance < 0.4:
        return core[:at] + core[at + 1 :]
    if chance < 0.7:
        return core[:at] + core[at + 1] + core[at] + core[at + 2 :]
    return core[: max(4, at)]


def _as_written(new: str, old: str) -> str:
    if old.isupper() and len(old) > 1:
        return new.upper()
    return new[:1].upper() + new[1:] if old[:1].isupper() else new


_FIRST_OF_TWO = re.compile(r"(?<!\w)[^\W\d_]{3,}(?=\s[^\W\d_]{3,})")


def _initials(one: Lesson, random: Random) -> Lesson:
    """Some first names of two cut to their letter, with a full stop or without."""
    text, labels, at = "", "", 0
    for first in _FIRST_OF_TWO.finditer(one.text):
        whole = one.labels[first.start() : first.end() + 2] == "A" * (len(first[0]) + 2)
        opens = not first.start() or one.labels[first.start() - 1] != "A"
        if not (whole and opens) or set(flags(fold(first[0]))) & set("tr") or random.random() > 0.15:
            continue
        letter = first[0][0] + random.choice((".", ""))
        text += one.text[at : first.start()] + letter
        labels += one.labels[at : first.start()] + "A" * len(letter)
        at = first.end()
    return Lesson(text + one.text[at:], labels + one.labels[at:])


def forgetting(seed: float) -> Known:
    """What the lists say of a word, but for every fourth word less of it, the same for each seed."""

    @cache
    def known(plain: str) -> str:
        said = flags(plain)
        first, second = hashlib.md5(f"{seed} {plain}".encode(), usedforsecurity=False).digest()[:2]
        if first > 63 or not said or set(said) & _CONTEXT:
            return said
        if "e" in said:
            return _without(said, "eyDGNFVUo")
        if set(said) & set("gf"):
            return _without(said, "gfw") if second < 128 else said
        if "z" in said:
            return _without(said, "z")
        if set(said) & set("DGNFV"):
            return _without(said, "DGNFVUhso") if second < 128 else "o"
        return said

    return known


def _without(said: str, letters: str) -> str:
    return "".join(letter for letter in said if letter not in letters)


def labelled(one: Lesson, known: Known | None = None) -> Iterator[tuple[str, list[Token], list[int]]]:
    """Every sentence of a lesson, as tokens with a label each; titles are no part of a name."""
    for sentence in sentences(0, one.text):
        tokens = read(sentence.words, known)
        labels = [LABELS.index(one.labels[sentence.start + token.start]) for token in tokens]
        for at, token in enumerate(tokens[:-1]):
            opens = labels[at] == PERSON and (at == 0 or labels[at - 1] != PERSON)
            if opens and (token.text == "." or (set(token.flags) & set("tr") and labels[at + 1] == PERSON)):
                labels[at] = NOBODY
        if tokens:
            yield sentence.words, tokens, labels
