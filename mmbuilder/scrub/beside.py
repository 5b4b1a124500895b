"""What stands beside a name that was found: beds and rooms, ages, and others of the same row.

A bed by itself may stay; that somebody is named beside it makes it theirs (`bed 22 re Quenby`, `Quenby in rm 2`). At the heads of
the lines of a list no word tells what a figure is; that somebody stands behind it in line after line does (`11 Quenby TKR`),
and figures that count up from one are the order of the list. Who is joined to a name by a sign is somebody too: `Quenby / Win`.
Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence

from mmbuilder.scrub.detectors import age_over_89
from mmbuilder.scrub.detectors._called import may_be_called
from mmbuilder.scrub.detectors._span import NOT_MEASURED
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.surrogates import overlaps

NAME = "beds and others beside names"


def find(texts: Sequence[str], found: Found) -> Found:
    """Return beds and names for each text, by the names beside them."""
    return [tuple(_beside(text, spans)) for text, spans in zip(texts, found, strict=True)]


def _beside(text: str, spans: Sequence[Span]) -> Iterator[Span]:
    replaced = [span for span in spans if span.decision is Decision.REPLACE]
    names = [span for span in replaced if span.letter == "A"]
    taken = sorted((span.start, span.end) for span in replaced)
    starts, ends = {span.start for span in names}, {span.end for span in names}
    for start, end in {*_heads(text, starts, taken), *_beds(text, starts, ends)}:
        if not overlaps(start, end, taken):
            yield _found(start, end, "bed", "R", "[bed]", _NAMED)
    for start, end in _ages(text, names):
        if not overlaps(start, end, taken):
            told = age_over_89.told(text[start:end])
            yield _found(start, end, age_over_89.KIND, age_over_89.LETTER, told, _NAMED)
    for start, end, span in _alike(text, replaced):
        if (start, end) not in taken:
            yield _found(start, end, span.kind, span.letter, span.stand_in, _ROW)
    for start, end in {*_joined(text, starts, ends), *_opening(text, starts)}:
        if not overlaps(start, end, taken):
            yield _found(start, end, "name", "A", "[name]", _ROW)


def _found(start: int, end: int, kind: str, letter: str, words: str, reason: str) -> Span:
    return Span(start, end, kind, letter, words, 0.7, Layer.MEMORY, None, Decision.REPLACE, reason)


_NAMED, _ROW = "somebody is named beside it", "in a row with what was found"

# --- beds ---------------------------------------------------------------------------------------

_BED = re.compile(
    r"(?<![\w-])(?:bed|bed\s?space|b/s|hallway|trolley|bay|room|rm|side\s?room|sr|cubicle|cot|bett|zi|zimmer|ch|chambre|chb|lit|hab|habitación|cama|box|incubator|isolette|de\sla(?=\s\d{3}))\.?\s(?P<bed>\d{1,3}[A-Za-z]?)(?![\w%]|[.,:/]\d)"
    r"(?!\s?(?-i:mm|cm|ml|mg|mcg|l|L|kg|x|h|hrs?|hourly|days?)(?!\w))",
    re.IGNORECASE,
)


def _beds(text: str, starts: Collection[int], ends: Collection[int]) -> Iterator[tuple[int, int]]:
    """Beds with somebody in the same sentence of the same line."""
    for found in (*_BED.finditer(text), *_FOUR.finditer(text), *_BEDS.finditer(text)):
        behind = any(
            not _PARTED.search(text, found.end(), at) for at in starts if 0 < at - found.end() <= _FAR
        )
        before = any(
            not _PARTED.search(text, at, found.start()) for at in ends if 0 < found.start() - at <= _FAR
        )
        if not (behind or before):
            continue
        if found.re is _BEDS:
            yield from (one.span() for one in _EACH_BED.finditer(text, *found.span()) if one[0][0].isdigit())
        else:
            yield found.span("bed")


_BEDS = re.compile(
    r"(?<![\w-])(?:beds|bays|rooms|rms|side\s?rooms|cubicles|cots|betten|camas|lits)\s\d{1,3}[A-Za-z]?(?:(?:,\s?|\s?[&/+]\s?|,?\s(?:and|und|y|et|or)\s)\d{1,3}[A-Za-z]?)+(?![\w%]|[.,:/]\d)",
    re.IGNORECASE,
)
_EACH_BED = re.compile(r"\d{1,3}[A-Za-z]?")
"""Several of them: `beds 4 and 7`."""
_FOUR = re.compile(
    r"(?<![\w-])(?<!recovery )(?<!operating )(?<!theatre )(?:room|rm)\s(?P<bed>\d{4})(?![\w%]|[.,:/]\d)",
    re.IGNORECASE,
)
"""A room of four figures; in a room of the house's own they are the time."""
_PARTED = re.compile(r"\n|[^\W\d_]{3}[.!?]\s")
"""The end of a line, or of a sentence, but not of a short form: `bed 22 Mr. Quenby`."""
_FAR = 90
"""Characters between a name and its bed."""
_HEAD = re.compile(
    r"(?:^|(?<=[.;]\s))[ \t]*(?P<head>(?:(?!(?:Day|Week|Case|Item|Step|Tag|Jour|POD|Page|Level)\s)(?:[A-Z][a-z]{2,}|\d{1,2}[A-Z])[ \t]|SR[ \t]?|[A-Z])?(?P<bed>\d{1,3}[A-Z]?(?:/\d)?))[).:]?(?:\s{1,3}|\t|\s?[-|]\s?)(?=[^\W\d_])(?P<title>(?:[^\W\d_]{1,7}\.?\s){0,2})",
    re.MULTILINE,
)
_OPENS_A_LINE = re.compile(r"\W{1,3}(?:[^\W\d_a-zß-öø-ÿ][^\W\d_A-Z]|empty|leer|vide|libre|closed)")
"""What opens another line of the list: a word with a capital, or nobody."""
_FEWEST = 3
"""Lines of one list."""


def _heads(text: str, starts: Collection[int], taken: Sequence[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Figures at the heads of the lines of a list of people."""
    every = [*_HEAD.finditer(text)]
    heads = [one for one in every if any(at in starts for at in range(one.end("head") + 1, one.end() + 1))]
    said = [one["head"] for one in heads]
    if len(heads) < _FEWEST or _counts_up(said):
        return
    shapes = {_shape(one) for one in said}
    for one in every:
        alike = _shape(one["head"]) in shapes and _OPENS_A_LINE.match(text, one.end("head"))
        if one in heads or alike:
            yield one.span("bed" if overlaps(*one.span("head"), taken) else "head")


def _shape(head: str) -> str:
    """How a bed is written: `B14` like `B7`."""
    return re.sub(r"\d+", "0", head)


def _counts_up(said: Sequence[str]) -> bool:
    """Whether figures are those of an order, each one more than the last."""
    if not all(map(str.isdigit, said)):
        return False
    figures = [*map(int, said)]
    return figures[0] <= 1 and figures == [*range(figures[0], figures[0] + len(figures))]


# --- ages ---------------------------------------------------------------------------------------

_AGE = r"(?:9\d|1[01]\d)"
_AGED = re.compile(
    rf"\s?\((?P<bracketed>{_AGE})\)|\s?\|\s?(?P<barred>{_AGE})(?=\s?\|\s?[MF](?!\w))|,?\s(?P<sexed>{_AGE}\s?[MF])(?![\w/])|\s(?P<listed>{_AGE})(?=\s?#|\s\??[^\W\d_]{{2}}|,\s)(?!\s(?:on|in|at|of|to|and|today|now|after|then|over|sats?)\b){NOT_MEASURED}"
)
_HEAD_OF_A_LINE = re.compile(
    r"(?:^|\n)[ \t]*(?:(?:bed|bay|side\s?room|sr|room|rm|cubicle|cot|bett|zi|cama|lit)?\s?[A-Z]?\d{0,3}[A-Za-z]?[.):]?[ \t]+|(?:pt|patient)\.?:?\s)?$",
    re.IGNORECASE,
)
"""What a line of a list of patients has before the name: its bed, its number."""


def _ages(text: str, names: Sequence[Span]) -> Iterator[tuple[int, int]]:
    """Ages over 89 right behind names: in brackets, with the sex, or in a list (`Bed 3 Jean Quenby 91 fall`)."""
    for name in names:
        found = _AGED.match(text, name.end)
        if found and (
            not found["listed"] or _HEAD_OF_A_LINE.search(text[max(0, name.start - 40) : name.start])
        ):
            yield found.span(found.lastgroup or 0)


# --- names in a row -----------------------------------------------------------------------------

_CAP = r"[^\W\d_a-zß-öø-ÿ][^\W\d_]+(?:['’-][^\W\d_]+)*"
_SIGN = r"\s?(?:/|&|\+)\s?"
_AFTER = re.compile(rf"{_SIGN}(?P<name>{_CAP})(?=\s?[,.;:)/&+]|\s?$|\s{{2}}|\s\()", re.MULTILINE)
_BEFORE = re.compile(rf"(?:^|[,;.:]\s|\s{{2}}|\()(?P<name>{_CAP}){_SIGN}$", re.MULTILINE)


def _joined(text: str, starts: Collection[int], ends: Collection[int]) -> Iterator[tuple[int, int]]:
    """Words with a capital that a sign joins to a name, where nothing else belongs to them."""
    for end in ends:
        found = _AFTER.match(text, end)
        if found and _somebody(found["name"]):
            yield found.span("name")
    for start in starts:
        found = _BEFORE.search(text[:start], max(0, start - 40))
        if found and _somebody(found["name"]):
            yield found.span("name")


def _somebody(word: str) -> bool:
    lists, plain = load(), fold(word)
    borne = lists.borne(plain) and (plain in lists.word_names or not lists.known(plain))
    return may_be_called(word) and (borne or word.istitle())


_LINE = re.compile(rf"^[ \t]*(?:\d{{1,2}}[.)]?\s)?(?P<name>{_CAP})(?P<sign>\s?[-–:,])\s", re.MULTILINE)


def _opening(text: str, starts: Collection[int]) -> Iterator[tuple[int, int]]:
    """Words that open a line as names open others: `Little - appy`, beside `Quenby - hernia` and `Vrax - stoma`."""
    lines = [*_LINE.finditer(text)]
    for sign in {one["sign"] for one in lines}:
        alike = [one for one in lines if one["sign"] == sign]
        if sum(one.start("name") in starts for one in alike) >= _FEWEST - 1:
            yield from (one.span("name") for one in alike if _somebody(one["name"]))


# --- numbers in a row ---------------------------------------------------------------------------

_NUMBERED = frozenset("GHIJKLMR")
_NEXT = re.compile(
    r"(?:,\s?|\s(?:and|&|und|y|et)\s)(?P<one>(?:[A-Z]{1,4}\s)?[A-Z0-9][A-Z0-9/-]*)(?![\w%]|[.,:]\d)"
)


def _alike(text: str, spans: Sequence[Span]) -> Iterator[tuple[int, int, Span]]:
    """Numbers of the same form behind one that was found: `bag DL 33118, DL 33119`."""
    for span in spans:
        said = text[span.start : span.end]
        if span.letter not in _NUMBERED or sum(map(str.isdigit, said)) < _LONG or span.kind == "bed":
            continue
        at = span.end
        while (found := _NEXT.match(text, at)) and _digits(found["one"]) == _digits(said):
            yield *found.span("one"), span
            at = found.end()


_LONG = 4
"""Figures of a number that is no count."""


def _digits(said: str) -> str:
    """The form of a number: its letters as they are, its figures as noughts."""
    return re.sub(r"\d", "0", said)
