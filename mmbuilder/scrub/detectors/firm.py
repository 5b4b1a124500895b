"""Insurers and large employers by their names: `bei Quenwerk`, `insurer Quenlife`, `on Quencare`.

A name that is nothing else counts wherever it stands; one that is a word too (`Discovery`, `Boots`) behind what tells of a
firm. Behind what tells of an insurer, a word on no list is one.

Source: 45 CFR 164.514(b)(2)(i), identifiers of employers, and (I), health plan beneficiaries; the names are those of
`keep/firms.txt`, the cues are common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from mmbuilder.scrub import fold as folding
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep import lists as _lists
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i), employers"
EXAMPLES = (
    "insurer Quenlife refused",
    "medical aid Discovery, number on file",
    "Kostenträger AOK Bayern",
    "arbeitet bei bmw am Band",
    "a bus driver for SEPTA",
    "mutuelle Quenfour",
    "TPA: Quen Assist, claim pending",
    "stacks shelves for tesco",
    "works Shoprite",
    "Insurance is Quen-Cal",
    "retired from Boots",
    "privat quenversa versichert bei Debeka",
)
NEAR_MISSES = (
    "the next case, boots on, target Hb 80",
    "insurance approved, insurance pending",
    "private room, privat",
    "insurer refused",
    "works best, works next door",
    "medical aid given",
    "rate of delta waves, chase bloods",
    "sent to the apple store of the mind",
    "plan: CT, plan theatre",
    "mutuelle prévenue",
    "Krankenkasse informiert",
    "intermittent catheter at home",
    "ikk and bkk",
    "payer unknown",
)

FIRMS = Path(_lists.__file__).parent / "firms.txt"
_CAP = r"[^\W\d_a-zß-öø-ÿ][\w'’&+.-]*[^\W_]"
_INSURED = re.compile(
    r"(?<!\w)(?i:insur(?:er|ance|ed)(?:\s(?:by|with|company|is|was))?|TPA|medical\said|mutuelle|mutua|seguro|aseguradora|versicherung|versichert\sbei|krankenkasse|kasse|kostenträger|zusatzversichert|payer|payor|health\splan|medical\sscheme|privat|medisch\sfonds|mutualiteit)"
    rf"\s?:?\s(?P<name>{_CAP}(?:\s{_CAP}){{0,2}})(?!\w)"
)
_PREPOSITION = r"(?:with|for|at|by|from|in|on|de|en|chez|bei|der|beim|para|via|lyf)"
_AT_WORK = re.compile(
    r"(?<!\w)(?:(?:works?|worked|working|employed|employer|arbeitgeber|employeur|insurance|insurer|tpa|medical\said|mutuelle|mutua|versicherung|krankenkasse|kasse|kostenträger|payer|póliza|policy|ins|insurers)(?:\sis)?"
    rf"|(?:job|jobs|cleans|cooks|drives|drove|delivers|shifts?|nights|retired|driver|manager|clerk|cashier|fitter|engineer|operative|cleaner|picker|packer|guard|steward|pilot|cook|chef|rep|shelves|jubilad[oa]|trabaja(?:ba)?|caissi(?:er|ère)|ouvri(?:er|ère)|travaille|arbeitet(?:e)?|war|kaam|naukri|claim|cover|scheme|insured|versichert)\s{_PREPOSITION})(?:\s{_PREPOSITION}|\sthe|\s?:|\s@){{0,2}}\s$",
    re.IGNORECASE,
)
_BEI = re.compile(r"(?<!\w)(?:bei(?:\sder|m)?|chez)\s$")


@cache
def firms() -> frozenset[str]:
    """Every name, folded as it is looked for."""
    lines = (line for line in FIRMS.read_text("utf-8").splitlines() if not line.startswith("#"))
    return frozenset(name.strip() for line in lines for name in line.split(",") if name.strip())


@cache
def _by_first_word() -> dict[str, list[str]]:
    """For each word that opens a name, the names that it opens, the longest first."""
    opened: dict[str, list[str]] = {}
    for name in sorted(firms(), key=lambda name: (-len(name), name)):
        if first := re.match(r"\w+", name):
            opened.setdefault(first[0], []).append(name)
    return opened


@cache
def _opened_by(first: str) -> re.Pattern[str]:
    either = "|".join(map(_spelled, _by_first_word()[first]))
    return re.compile(rf"(?P<name>{either})(?![\w&]|['’-](?!s\b)\w)")


def _spelled(name: str) -> str:
    """A name as a pattern: with any space and either apostrophe."""
    return re.escape(name).replace("\\ ", r"\s").replace("'", "['’]")


_OPENS = re.compile(r"(?<![\w.'’&-])\w+")


def _listed(text: str) -> Iterator[re.Match[str]]:
    """Every listed name in a folded text: word by word, as one pattern of all names would be slow."""
    opens, end = _by_first_word(), 0
    for word in _OPENS.finditer(text):
        names = _opened_by(word[0]) if word[0] in opens and word.start() >= end else None
        if names and (found := names.match(text, word.start())):
            end = found.end()
            yield found


def find(text: str) -> Iterator[Span]:
    """Yield firms that are listed, and what stands behind a cue for an insurer."""
    plain = folding.fold(text)
    for found in _listed(plain.text):
        start, end = plain.place(*found.span("name"))
        said = text[start:end]
        if _nothing_else(said) or _told(text, start, said):
            yield Span(start, end, KIND, LETTER, "[place]", 0.86)
    for found in _INSURED.finditer(text):
        words = re.findall(r"[^\W\d_]{3,}", found["name"])
        if words and not {*map(fold, words)} & (load().titles | load().roles) and any(map(_own, words)):
            yield span(found, KIND, LETTER, "[place]", 0.8, "name")


def _nothing_else(said: str) -> bool:
    """Whether a name is on no list of words and long enough to be none by chance."""
    words = re.findall(r"[^\W\d_]{2,}", said)
    letters = sum(map(len, words))
    if said.islower() and letters < _TELLING + 1:
        return False
    if letters < _TELLING:
        return False
    if len(words) > 1:
        capitals = all(word[0].isupper() for word in words)
        return capitals and any(load().called(fold(word)) is None for word in words)
    return all(_own(word) and not load().borne(fold(word)) for word in words)


_TELLING = 4
"""Letters of a name that is no word by chance."""


def _told(text: str, start: int, said: str) -> bool:
    """Whether what stands before tells of work or of an insurance."""
    if _BEI.search(text, max(0, start - 12), start):
        return True
    named = said[0].isupper() or _own(said)
    return named and _AT_WORK.search(text, max(0, start - 40), start) is not None


def _own(word: str) -> bool:
    return unlisted(word, load()) and fold(word) not in load().foreign
