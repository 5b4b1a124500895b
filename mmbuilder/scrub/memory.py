"""Memory of one document: a name found once is found everywhere, whole, in pieces and misspelt.

What was found by a title, a role or surely by the model is made a list like the author's own, and looked
for by the same index: so eponyms ("Fuchs dystrophy") and ordinary words are left alone by the same rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.surrogates import overlaps
from mmbuilder.scrub.words import TITLES, word_set

REMEMBERED = 0.75
"""Least confidence of a finding whose name is looked for elsewhere."""

_SHOWN = 0.6
"""The same for one that is a word too: it is looked for only where it does what people do."""

_KINDS = frozenset({"titled name", "name by role", "listed name", "name"})
_INITIALS = re.compile(r"[A-Z]{2,3}")
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
        names = list(dict.fromkeys(_names(texts, found, REMEMBERED)))[:_MOST]
        words = _that_are_words([*names, *_names(texts, found, _SHOWN)][: 2 * _MOST])
        initials = frozenset(_introduced(texts, found))
        if not (names or words or initials):
            return [()] * len(texts)
        index = Index(
            Declared.model_validate({"people": [{"name": name, "role": "colleague"} for name in names]})
        )
        return [
            (*_again(text, spans, index), *_as_a_person(text, spans, words), *_on_duty(text, spans, initials))
            for text, spans in zip(texts, found, strict=True)
        ]


def _names(texts: Sequence[str], found: Found, least: float) -> Iterator[str]:
    for text, spans in zip(texts, found, strict=True):
        for span in spans:
            sure = span.confidence >= least and span.layer in (Layer.PATTERN, Layer.MODEL)
            asked = "please decide" in span.reason  # what may be a word is not looked for elsewhere
            if sure and not asked and span.kind in _KINDS and span.decision is Decision.REPLACE:
                name = bare(text[span.start : span.end])
                if name:
                    yield name


def bare(name: str) -> str:
    """The name without titles, possessive and trailing signs; empty where no word of it could be looked for."""
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    titles, roles, small = lists.titles, lists.roles, lists.particles | lists.articles
    untitled = re.sub(rf"^(?:{TITLES}\s+)+", "", re.sub(r"['’]s?(?!\w)", "", name))
    words = _WORD.findall(untitled)
    while words and folded(words[0]).rstrip(".") in titles | roles:
        words.pop(0)
    while words and folded(words[-1]) in small:
        words.pop()
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
            _ELSEWHERE,
        )


_PERSON_ACTS = re.compile(
    r"(?:\s(?:to|will|can|should)\s(?:write|see|review|call|chase|speak|rv|scrub|discuss|follow|send|ring|dictate|decide|arrange|contact|talk|organise|complete|attend|recheck|do|check|come|return|go|have|start)"
    r"|\s(?:is|was|has|had|then|also)\s|\s(?:seen|called|wrote|dictated|asked|said|says|rang|phoned|told|agreed|thinks|thought|wants|declined|reviewed|assisted|scrubbed|took|gave|felt|feels|noticed|looked|attended|consented|returned|came|went|left|retired|resigned|died|bled|fell|collapsed|moved|arrived|insisted|suggested|advised|performed|operated|opened|closed|stopped|started|began|continued|finished|joined|helped|held|repaired|converted|packed|clamped"
    r"|apologised|admitted|discharged|transferred|refused|accepted|explained|informed|happy|aware|unhappy|on\scall"
    r"|confused|agitated|sleepy|drowsy|unwell|upset|tearful|anxious|alert|awake|delirious|comfortable|extubated|intubated|sedated|tachycardic|hypotensive|pyrexial)(?!\w)|['’]s\s(?:list|patient|clinic|team|decision|wife|husband|mother|father|daughter|son|mum|dad))",
    re.IGNORECASE,
)
"""What follows a person's name and no ordinary word with a capital: `Young to write to GP`."""


def _that_are_words(names: Sequence[str]) -> frozenset[str]:
    """Pieces of the remembered names that are words or eponyms too, which the index leaves alone."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    lists = load()
    pieces = {fold(piece) for name in names for piece in re.findall(r"[^\W\d_]{3,}", name)}
    return frozenset(
        piece
        for piece in pieces
        if piece not in lists.titles | lists.roles
        and lists.called(piece) in (None, "an ordinary word", "anatomy")
    )


def _as_a_person(text: str, spans: Sequence[Span], words: frozenset[str]) -> Iterator[Span]:
    """Yield remembered names that are words or eponyms too, where they do what people do."""
    if not words:
        return
    taken = [(span.start, span.end) for span in spans if span.decision is Decision.REPLACE]
    from mmbuilder.scrub.keep.words import fold

    for found in re.finditer(r"(?<![\w'’-])[^\W\d_]{3,}(?![-‐])", text):
        if fold(found[0]) not in words:
            continue
        told = found[0].islower() and _TOLD_SMALL.search(text, max(0, found.start() - 12), found.start())
        if not (told or _PERSON_ACTS.match(text, found.end())):
            continue
        capital = found[0][0].isupper() and (found[0][1:].islower() or text.isupper())
        hurried = told or (
            found[0].islower()
            and re.match(
                r"\s(?:dictated|rang|phoned|said|says|wrote|scrubbed|assisted|reviewed|aware|informed|to\s(?:review|chase|see|ring|call|rv))(?!\w)",
                text[found.end() :],
            )
        )
        if (
            not (capital or hurried)
            or overlaps(*found.span(), sorted(taken))
            or _a_thing(text, *found.span())
        ):
            continue
        yield Span(
            *found.span(), "name", "A", "[name]", 0.75, Layer.MEMORY, None, Decision.REPLACE, _ELSEWHERE
        )


def _introduced(texts: Sequence[str], found: Found) -> Iterator[str]:
    """Initials of those who were found on duty."""
    for text, spans in zip(texts, found, strict=True):
        for span in spans:
            said = text[span.start : span.end]
            sure = span.layer is Layer.PATTERN and span.confidence >= REMEMBERED
            if (
                sure
                and span.kind in ("initials", "name by role", "listed name")
                and _INITIALS.fullmatch(said)
            ):
                yield said


_TOLD = re.compile(
    r"(?:(?<!\w)(?:d/w|w/|ring|rang|rung|call|called|calling|told|tell|asked|ask|bleep|bleeped|paged|signed\sby|seen\sby|informed|relieved\sby)\s|[|/]\s?|->\s?|→\s?)$",
    re.IGNORECASE,
)
"""What stands before somebody on duty, and before no abbreviation: `d/w PS`."""
_DOES = re.compile(
    r"\s(?:to\s(?:chase|see|review|rv|call|ring|attend|assist|scrub|write|check|dictate|follow|discuss|speak)|bleeped|reviewed|rang|rung|called|phoned|came|went|left|scrubbed|assisted|saw|took|gave|asked|told|tells|said|says|thinks|wants|felt|agreed|alone|busy|aware|informed|in\s(?:theatre|th|resus|clinic|ed|a&e)|on\s(?:call|way)|w/?\s)(?!\w)|\s?:\s[\"“‘']?[A-Za-z]",
    re.IGNORECASE,
)
"""What somebody on duty does, and no abbreviation: `PS to chase`."""


def _on_duty(text: str, spans: Sequence[Span], initials: frozenset[str]) -> Iterator[Span]:
    """Yield initials that were introduced; such as are abbreviations too only where they do what people do."""
    from mmbuilder.scrub.detectors.initials import no_abbreviation

    if not initials:
        return
    taken = sorted((span.start, span.end) for span in spans if span.decision is Decision.REPLACE)
    either = "|".join(sorted(initials))
    for found in re.finditer(rf"(?<![\w?.-])(?:{either})(?![\w-]|\.\d)", text):
        told = _TOLD.search(text, max(0, found.start() - 16), found.start()) or _DOES.match(text, found.end())
        if (told or no_abbreviation(found[0])) and not overlaps(*found.span(), taken):
            yield Span(
                *found.span(), "name", "A", "[name]", 0.8, Layer.MEMORY, None, Decision.REPLACE, _ELSEWHERE
            )


_TOLD_SMALL = re.compile(
    r"(?<!\w)(?:d/w|told|rang|rung|ring|asked|bleeped|suspended\sby|seen\sby|signed\sby|reviewed\sby|done\sby)\s$"
)
"""What stands before a person in small letters too: `seen by long`."""
_ELSEWHERE = "a name found elsewhere in this document"


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


def _a_thing(text: str, start: int, end: int) -> bool:
    """Whether a word that is a name of this document stands for a thing here all the same: `Kocher was used`."""
    from mmbuilder.scrub.keep import Guard, Verdict

    begin = max(0, start - _AROUND)
    guard = Guard(text[begin : end + _AROUND], (text[start:end],))
    return guard.judge(start - begin, end - begin).verdict is Verdict.KEEP


_AROUND = 120
"""Characters on each side that the guard reads."""


_WORDS_ABROAD = word_set(
    """
    klein gross kurz lang schwarz weiss rot grun braun sommer winter herbst sonntag freitag berg stein wald bach baum blum vogel wolf fuchs hahn
    petit grand gros blanc noir rouge brun roux vert bon beau fort moulin bois roche fontaine riviere lefort legrand
    blanco negro rojo rubio moreno verde paz luz cruz dolores leon rey flores campo campos mar rio sol luna vega prado bello bueno delgado
    calvo crespo alegre leal franco cabeza mano blanca consuelo esperanza remedios salud pilar socorro reyes torres puente fuente castillo
    """
)
"""Names that are ordinary words of German, French or Spanish (common knowledge, no source): `Mme Petit` has `un petit hématome`."""


def _evident(found: str, confidence: float) -> bool:
    """Initials of a name that nobody declared count with their dots only; a misspelling must be no known word."""
    letters = [letter for letter in found if letter.isalpha()]
    if len(letters) <= 3 and found.isupper():
        return _DOTTED.match(found) is not None
    from mmbuilder.scrub.keep.lists import load

    if found.islower() and (folded(found) in _WORDS_ABROAD or found.upper() in ABBREVIATIONS):
        return False
    return confidence > 0.7 or (load().called(folded(found)) is None and found[:1].isupper())


def _united(spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans in order and apart."""
    apart: list[tuple[int, int]] = []
    for start, end in spans:
        if apart and start < apart[-1][1]:
            apart[-1] = (apart[-1][0], max(end, apart[-1][1]))
        else:
            apart.append((start, end))
    return apart
