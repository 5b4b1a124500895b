"""Find the words of a list in a text, save where they mean something else or are quoted."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, lru_cache

from mmbuilder.review import measured, quoted
from mmbuilder.review.phrases import Cues, cues, pattern, possible, rarest, squeezed
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
    """A word of a list, as a file of it says.

    Attributes:
        forms: phrases that count as this word (see `phrases`); the word itself if none is given.
        unless: phrases around it in which it means something else.
        measured: whether an interval beside it makes it a fact.
        supposes: whether it is at home in an answer to "what if not?".
    """

    word: str
    why: str
    neutral: str
    forms: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    measured: bool = False
    supposes: bool = False


@dataclass(frozen=True)
class WordList:
    """The words of a list, in every language there is.

    Attributes:
        source: where the list comes from.
        groups: words that stand for one another in its phrases.
    """

    source: str
    words: tuple[Entry, ...]
    groups: dict[str, str] = field(default_factory=dict)


@cache
def load(name: str) -> WordList:
    """Read a list by its name."""
    tree = read(name)
    return WordList(**{**tree, "words": tuple(Entry(**fields(row)) for row in tree["words"])})


@lru_cache(maxsize=8192)  # a case is checked after every change, and most of its texts are as they were
def find(name: str, text: str) -> tuple[Flag, ...]:
    """Return every word of list `name` in `text`, in order of place."""
    said = quoted.spans(text)
    entries = load(name).words
    return tuple(
        Flag(start, end, entries[place].word, entries[place].why, entries[place].neutral)
        for start, end, place in _matches(name, text)
        if not quoted.touches((start, end), said) and not _harmless(name, place, text, start, end)
    )


def forget() -> None:
    """Forget the texts that were looked at last."""
    find.cache_clear()


def _matches(name: str, text: str) -> Iterator[tuple[int, int, int]]:
    """Yield (start, end, place in the list) from left to right; of two that start alike, the first listed."""
    plain, position = squeezed(text), 0
    if not any(word in plain for word in _rarest(name)):
        return
    likely = [place for place, wanted in enumerate(_cues(name)) if possible(wanted, plain)]
    while True:
        found = ((place, _form(name, place).search(text, position)) for place in likely)
        first = min(((m.start(), place, m.end()) for place, m in found if m), default=None)
        if first is None:
            return
        start, place, position = first
        yield start, position, place


def _harmless(name: str, place: int, text: str, start: int, end: int) -> bool:
    entry = load(name).words[place]
    if entry.measured and measured.beside(text, start, end):
        return True
    if not entry.unless:
        return False
    elsewhere = tuple(match.span() for match in _spared(name, place).finditer(text))
    return quoted.touches((start, end), elsewhere)


@cache
def _cues(name: str) -> tuple[Cues, ...]:
    words = load(name)
    return tuple(cues(entry.forms or (entry.word,), words.groups) for entry in words.words)


@cache
def _rarest(name: str) -> frozenset[str]:
    return frozenset(word for wanted in _cues(name) for word in rarest(wanted))


@cache
def _form(name: str, place: int) -> re.Pattern[str]:
    """Compiled only for a text that may hold it: few of them do, and each costs a millisecond."""
    words = load(name)
    entry = words.words[place]
    return re.compile(pattern(entry.forms or (entry.word,), words.groups), re.IGNORECASE)


@cache
def _spared(name: str, place: int) -> re.Pattern[str]:
    words = load(name)
    return re.compile(pattern(words.words[place].unless, words.groups), re.IGNORECASE)
