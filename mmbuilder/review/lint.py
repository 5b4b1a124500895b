"""Find the words of a list in a text, save where they mean something else or are quoted."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

from mmbuilder.review import measured, quoted
from mmbuilder.review.phrases import pattern
from mmbuilder.review.shipped import fields, read


@dataclass(frozen=True)
class Flag:
    """A word that a fair reviewer would put otherwise.

    Attributes:
        start, end: where it stands in the text.
        word: our entry in the list, never the author's text.
        why: what it does to a reader.
        neutral: how it may be put instead; offered, never put in.
    """

    start: int
    end: int
    word: str
    why: str
    neutral: str


@dataclass(frozen=True)
class Entry:
    """A word of a list, as its file says.

    Attributes:
        forms: phrases that count as this word (see `phrases`); the word itself if none is given.
        unless: phrases around it in which it means something else.
        measured: whether an interval beside it makes it a fact.
    """

    word: str
    why: str
    neutral: str
    forms: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    measured: bool = False


@dataclass(frozen=True)
class WordList:
    """A file of words.

    Attributes:
        source: where the list comes from.
        groups: words that stand for one another in its phrases.
    """

    source: str
    words: tuple[Entry, ...]
    groups: dict[str, str] = field(default_factory=dict)


@cache
def load(name: str) -> WordList:
    """Read a list by the name of its file."""
    tree = read(name)
    return WordList(**{**tree, "words": tuple(Entry(**fields(row)) for row in tree["words"])})


def find(name: str, text: str) -> tuple[Flag, ...]:
    """Return every word of list `name` in `text`, in order of place."""
    said = quoted.spans(text)
    entries = load(name).words
    return tuple(
        Flag(start, end, entries[place].word, entries[place].why, entries[place].neutral)
        for start, end, place in _matches(name, text)
        if not quoted.touches((start, end), said) and not _harmless(name, place, text, start, end)
    )


def _matches(name: str, text: str) -> Iterator[tuple[int, int, int]]:
    for match in _wanted(name).finditer(text):
        yield match.start(), match.end(), int((match.lastgroup or "")[1:])


def _harmless(name: str, place: int, text: str, start: int, end: int) -> bool:
    entry = load(name).words[place]
    if entry.measured and measured.beside(text, start, end):
        return True
    if not entry.unless:
        return False
    elsewhere = tuple(match.span() for match in _spared(name, place).finditer(text))
    return quoted.touches((start, end), elsewhere)


@cache
def _wanted(name: str) -> re.Pattern[str]:
    """All words in one expression, which is read once: compiling each would cost more than it saves."""
    words = load(name)
    forms = (pattern(entry.forms or (entry.word,), words.groups) for entry in words.words)
    return re.compile("|".join(f"(?P<w{place}>{form})" for place, form in enumerate(forms)), re.IGNORECASE)


@cache
def _spared(name: str, place: int) -> re.Pattern[str]:
    words = load(name)
    return re.compile(pattern(words.words[place].unless, words.groups), re.IGNORECASE)
