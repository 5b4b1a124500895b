"""Memory of one document: a name found once is found everywhere, whole, in pieces and misspelt.

What was found by a title, a role or surely by the model is made a list like the author's own, and looked
for by the same index: so eponyms ("Fuchs dystrophy") and ordinary words are left alone by the same rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.surrogates import overlaps
from mmbuilder.scrub.words import TITLES

REMEMBERED = 0.75
"""Least confidence of a finding whose name is looked for elsewhere."""

_KINDS = frozenset({"titled name", "name by role", "listed name", "name"})
_WORD = re.compile(r"[^\W\d_]+(?:['’ʼ‐‑-][^\W\d_]+)*\.?")
_DOTTED = re.compile(r"(?:[^\W\d_]\.\s?){2,}")
_MOST = 2_000
"""Names remembered at most: a list of a whole staff is declared, not guessed."""


class DocumentMemory:
    """Looks again, everywhere, for the names that were found anywhere."""

    name: str = "document memory"
    unchecked: tuple[str, ...] = ("nicknames and short forms of names that nobody declared",)

    def find(self, texts: Sequence[str], found: Found) -> Found:
        """Return the remembered names for each text, outside what was found there already."""
        names = list(dict.fromkeys(_names(texts, found)))[:_MOST]
        if not names:
            return [()] * len(texts)
        index = Index(
            Declared.model_validate({"people": [{"name": name, "role": "colleague"} for name in names]})
        )
        return [tuple(_again(text, spans, index)) for text, spans in zip(texts, found, strict=True)]


def _names(texts: Sequence[str], found: Found) -> Iterator[str]:
    for text, spans in zip(texts, found, strict=True):
        for span in spans:
            sure = span.confidence >= REMEMBERED and span.layer in (Layer.PATTERN, Layer.MODEL)
            asked = "please decide" in span.reason  # what may be a word is not looked for elsewhere
            if sure and not asked and span.kind in _KINDS and span.decision is Decision.REPLACE:
                name = bare(text[span.start : span.end])
                if name:
                    yield name


def bare(name: str) -> str:
    """The name without titles, possessive and trailing signs; empty where no word of it could be looked for."""
    from mmbuilder.scrub.keep.lists import load

    titles, roles = load().titles, load().roles
    untitled = re.sub(rf"^(?:{TITLES}\s+)+", "", re.sub(r"['’]s?(?!\w)", "", name))
    words = _WORD.findall(untitled)
    while words and folded(words[0]).rstrip(".") in titles | roles:
        words.pop(0)
    if not any(len(word.rstrip(".")) > 2 for word in words):
        return ""
    return " ".join(words).rstrip(".")


def _again(text: str, spans: Sequence[Span], index: Index) -> Iterator[Span]:
    taken = sorted((span.start, span.end) for span in spans if span.decision is Decision.REPLACE)
    taken = _united(taken)
    for start, end, _, confidence in index.hits(text):
        if _framed(text, start, end):
            continue
        if overlaps(start, end, taken) or not _evident(text[start:end], confidence):
            continue
        if text[start:end].endswith(("'s", "’s", "'S", "’S")):
            end -= 2
        reason = "a name found elsewhere in this document"
        yield Span(
            start,
            end,
            "name",
            "A",
            "[name]",
            min(confidence, 0.85),
            Layer.MEMORY,
            None,
            Decision.REPLACE,
            reason,
        )


def _framed(text: str, start: int, end: int) -> bool:
    """Whether a remembered name is part of an eponym here: `Weber B`, `pouch of Douglas`."""
    from mmbuilder.scrub.keep import Guard, Verdict
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import words

    lists = load()
    if not all(word.plain in lists.eponym_words for word in words(text[start:end])):
        return False
    begin = max(0, start - _AROUND)
    return Guard(text[begin : end + _AROUND]).judge(start - begin, end - begin).verdict is Verdict.KEEP


_AROUND = 120
"""Characters on each side that the guard reads."""


def _evident(found: str, confidence: float) -> bool:
    """Initials of a name that nobody declared count with their dots only; a misspelling must be no known word."""
    letters = [letter for letter in found if letter.isalpha()]
    if len(letters) <= 3 and found.isupper():
        return _DOTTED.match(found) is not None
    if confidence > 0.7:
        return True
    from mmbuilder.scrub.keep.lists import load

    return load().called(folded(found)) is None and found[:1].isupper()


def _united(spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans in order and apart."""
    apart: list[tuple[int, int]] = []
    for start, end in spans:
        if apart and start < apart[-1][1]:
            apart[-1] = (apart[-1][0], max(end, apart[-1][1]))
        else:
            apart.append((start, end))
    return apart
