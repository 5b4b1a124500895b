"""Words of a finished file that look like a name to a finder which does not know the case, and are none.

A deck that comes back is read without its case: a label that stands alone ("Foreseen"), the heads of a
table in a row, the author of a reference, a word that opens a sentence. What is left in is so by what
the file says and never by who made it, so that an edit cannot hide behind it; and never what was declared.
"""

from __future__ import annotations

import re
import struct
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from importlib.resources import files

from mmbuilder import labels
from mmbuilder.scrub.crossing.due import MONTHS
from mmbuilder.scrub.images.finders import _allow
from mmbuilder.scrub.keep import persons
from mmbuilder.scrub.keep.lists import CLASSES, Lists, load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.keep.words import fold, phrase
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.spared import spare
from mmbuilder.scrub.sweep.fold import tokens

FIXED = "fixed words of slides and papers, word for word"
ORDINARY = "an ordinary word, with nothing to show that it is a name"
LONGEST = 4
"""Words of a label."""

_NAMES = (Layer.MODEL, Layer.MEMORY)
_PARTS = re.compile(r"[^,;:.|/()\[\]\n•·]+")
"""What a label may be parted by from what stands beside it."""
_LABELLED = re.compile(r"(?:^|[.;|\n•·])\s*([^,;:.|()\n•·]+):\s+$")
_HOUR = re.compile(r"\d{1,2} o['’]clock ")
_MOMENT = re.compile(r"T[+−-]\d")
"""How slides and papers count time."""
_GRADE = re.compile(r"(?:I{1,3}|IV|V)[a-d]?|[ivx]{1,5}")
_PERSON = frozenset(
    [
        "man",
        "woman",
        "boy",
        "girl",
        "male",
        "female",
        "child",
        "infant",
        "baby",
        "mann",
        "frau",
        "junge",
        "kind",
    ]
)
_AGED = re.compile(r",? (?:of |aged |von )?\d|,? (?:in|with|mit) (?:his|her|their|seinen|ihren) ")
_AUTHOR = r"[^\W\d_a-z][\w’'-]+ [A-Z]{1,3}"
_REFERENCE = re.compile(
    rf"\s*(?:\[?\d{{1,3}}[.\]]\s*)?{_AUTHOR}(?:, {_AUTHOR})*(?:,? et al|,? and others)?\b.{{0,300}}?"
    r"\b(?:19|20)\d\d\b",
    re.DOTALL,
)
"""Authors by surname and initials, and a year, as every style of reference has them (ICMJE)."""


def spared(text: str, spans: Sequence[Span]) -> list[Span]:
    """Return what was found in a text of a finished file; what is no name stays, with the reason why."""
    return [_spared(text, span) for span in spans]


def _spared(text: str, span: Span) -> Span:
    if span.layer is Layer.DECLARED or span.decision is Decision.KEEP:
        return span
    if _REFERENCE.match(text):
        return spare(("references",), text, span)
    if text[span.start : span.end] in MONTHS or _fixed(text, span):  # a due date is told by its month alone
        return replace(span, decision=Decision.KEEP, reason=FIXED)
    if _ordinary(text, span):
        return replace(span, decision=Decision.KEEP, reason=ORDINARY)
    return span


@cache
def fixed() -> frozenset[str]:
    """Return all fixed words of every language that have no place to fill in."""
    catalogues = (files(labels) / f"{language}.mo" for language in labels.languages())
    said = (words for file in catalogues for words in _said(file.read_bytes()))
    return frozenset(words for words in said if words and "{" not in words)


def _said(catalogue: bytes) -> Iterator[str]:
    """Yield the words of a catalogue and what is said for them (GNU gettext manual, "The Format of GNU MO Files")."""
    _, _, count, *tables = struct.unpack_from("<5I", catalogue)
    for table in tables:
        for size, start in struct.iter_unpack("<2I", catalogue[table : table + 8 * count]):
            yield catalogue[start : start + size].decode()


@cache
def _labels() -> frozenset[str]:
    """Return every short one, in its plain form."""
    return frozenset(words for said in fixed() if (words := phrase(said)) and words.count(" ") < LONGEST)


def _fixed(text: str, span: Span) -> bool:
    """Whether a finding lies in fixed words: a label where one stands, or a whole sentence."""
    said = text[span.start : span.end]
    if span.layer is Layer.PATTERN:
        return _HOUR.match(said) is not None and phrase(_HOUR.sub("", said)) in _labels()
    if said == "T" and _MOMENT.match(text, span.start):
        return True
    parts = [found for found in _PARTS.finditer(text) if found.start() <= span.start < found.end()]
    label = any(span.end <= found.end() and phrase(found[0]) in _labels() for found in parts)
    remembered = span.layer is Layer.MEMORY and phrase(said) in _labels()
    return label or remembered or _sentence(text, span)


def _sentence(text: str, span: Span) -> bool:
    """Whether fixed words too long for a label stand there word for word."""
    said = text[span.start : span.end]
    for words in fixed():
        if words.count(" ") >= LONGEST and said in words:
            start = text.find(words)
            if start <= span.start and span.end <= start + len(words) and start >= 0:
                return True
    return False


def _ordinary(text: str, span: Span) -> bool:
    """Whether one word is no name by itself, and nothing beside it makes it one."""
    said, lists = text[span.start : span.end], load()
    passage = Passage.of(text, lists)
    first, last = passage.span(span.start, span.end)
    if " " in said or persons.acts(passage, last) or persons.titled(passage, first):
        return False
    if span.kind == "name by role":
        return _after_label(passage, first, text[: span.start])
    if span.layer not in _NAMES or persons.role_before(passage, first):
        return False
    person = fold(said) in _PERSON and _AGED.match(text, span.end) is not None
    known = all(lists.known(word.plain) for word in passage.words[first:last])
    return person or known or _GRADE.fullmatch(said) is not None or _unit(said, lists)


def _after_label(passage: Passage, first: int, before: str) -> bool:
    """Whether a word opens the sentence behind a label ("Patient: Rash with a mouthwash"), and is no name there."""
    label, lists = _LABELLED.search(before), passage.lists
    if not label or phrase(label[1]) not in _labels() or passage.ends(first):
        return False
    word, after = passage.words[first], passage.words[first + 1]
    ordinary = lists.known(word.plain) and word.plain not in lists.word_names
    return not after.capital and (ordinary or _thing(word.plain, lists) or _thing(after.plain, lists))


def _thing(plain: str, lists: Lists) -> bool:
    """Whether a word is one of the clinic or says what things are; who does, did or was is said with others."""
    called = lists.called(plain)
    return called != CLASSES["general_words"] if called else lists.plain_word(plain)


def _unit(said: str, lists: Lists) -> bool:
    """Whether it is a unit, as `mm²` is."""
    word, *power = tokens(said)
    return lists.terms.get(fold(word)) == "a unit" and all(map(str.isdigit, power))


# --- words read in a picture ------------------------------------------------------------------

_PIECE = re.compile(r"[^\W\d_]+|\d+")
_FIGURES = 3
"""Figures of a number in a row: a longer one may be somebody's."""


def nameless(text: str) -> bool:
    """Whether every word that was read in a picture is known, and no name is made of such words.

    A word that nobody knows may be a name, so may one that is a name as well, and so may letters alone.
    """
    words = unicodedata.normalize("NFKC", text).split()
    alone = sum(len(word) == 1 and word.isalpha() for word in words)
    return (alone < len(words) or len(words) == 1) and all(map(_harmless, words))


def _harmless(word: str) -> bool:
    if _known(fold(word.strip(".,;:()"))):
        return True
    return all(
        len(part) <= _FIGURES if part.isdigit() else _known(fold(part)) for part in _PIECE.findall(word)
    )


def _known(plain: str) -> bool:
    lists = load()
    if len(plain) == 1 or plain in _allow.WORDS or plain in _label_words():
        return True
    return lists.known(plain) and plain not in lists.word_names


@cache
def _label_words() -> frozenset[str]:
    """Return the words of our labels that nobody is called by."""
    lists = load()
    return frozenset(word for said in _labels() for word in said.split()) - lists.given - lists.family
