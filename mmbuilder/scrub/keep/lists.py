"""The compiled lists, read once per process."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path

COMPILED = Path(__file__).parent / "compiled.json"
VOCABULARY = Path(__file__).parent / "vocabulary.txt"
"""English words that are no name, from SCOWL; see VOCABULARY-NOTICE."""

MEDICAL = Path(__file__).parent / "medical.txt"
"""Words of medicine and rare English words; `gather_medical` says from where, VOCABULARY-NOTICE under what terms."""

NAMES = Path(__file__).parent / "names.txt"
"""Given and family names of many languages, from Faker; see NAMES-NOTICE."""

FOREIGN = Path(__file__).parent / "foreign.txt"
"""Ordinary words of other languages; `gather_foreign` says from where, VOCABULARY-NOTICE under what terms."""

# How a class is called in a reason; the order decides for a term in several.
CLASSES = {
    "drugs": "a drug or product",
    "organisms": "an organism",
    "anatomy": "anatomy",
    "findings": "a finding, disease or procedure",
    "devices": "a device or material",
    "products": "a device or material",
    "brands": "a drug or product",
    "phrases": "an ordinary word",
    "units": "a unit",
    "general_words": "an ordinary word",
    "abbreviations": "an ordinary word",
    "abroad": "an ordinary word",
}


@dataclass(frozen=True)
class Lists:
    """What is known.

    Attributes:
        terms: class of every kept term, folded.
        eponyms: nouns that go with each eponym, folded.
        alone: eponyms that are said without their noun.
        eponym_words: every single word of an eponym, so that half of a double is known too.
        word_names: names that are also words.
        months: of the year, and days of the week.
        heads, unlisted_heads, titles, plural_titles, roles, verbs_before, passives, verbs_after,
        particles, joins, articles, auxiliaries, after_possessive, month_before: words of context; each file
            of sources/ says what for.
        shared: eponyms that are common surnames too: one is a thing only among things.
        doubles: eponyms of two names or more, joined by hyphens.
        hindi_names: names that are ordinary words of Hindi.
        suffixes: endings of clinical words.
        endings_abroad: those of other languages, which no name has: a capital says nothing against them.
        vocabulary: English and medical words that no list of names holds; weaker than `terms`, which were chosen by hand.
        foreign: ordinary words of German, French and Spanish, none of them a name, and of Hindi in Latin letters, where
            many are (`plain_abroad` leaves those out).
        given, family: names of many languages; many of them are words too.
        surnames: those of `family` that are eponyms, too, and that many people bear.
    """

    terms: Mapping[str, str]
    eponyms: Mapping[str, frozenset[str]]
    alone: frozenset[str]
    eponym_words: frozenset[str]
    word_names: frozenset[str]
    months: frozenset[str]
    heads: frozenset[str]
    unlisted_heads: frozenset[str]
    titles: frozenset[str]
    plural_titles: frozenset[str]
    roles: frozenset[str]
    verbs_before: frozenset[str]
    passives: frozenset[str]
    verbs_after: frozenset[str]
    particles: frozenset[str]
    joins: frozenset[str]
    articles: frozenset[str]
    auxiliaries: frozenset[str]
    after_possessive: frozenset[str]
    month_before: frozenset[str]
    shared: frozenset[str]
    doubles: frozenset[str]
    hindi_names: frozenset[str]
    suffixes: tuple[str, ...]
    endings_abroad: tuple[str, ...]
    vocabulary: frozenset[str]
    foreign: frozenset[str]
    given: frozenset[str]
    family: frozenset[str]
    surnames: frozenset[str]

    def called(self, plain: str) -> str | None:
        """Class of a word, also when an ending is put to a listed one: "clamps", "resected", "sharply"."""
        stems = (plain.removesuffix(end) + put for end, put in _ENDINGS if plain.endswith(end))
        forms = (plain, *(stem for stem in stems if len(stem) >= _SHORTEST_STEM), _american(plain))
        return next((self.terms[form] for form in forms if form in self.terms), None)

    def plain_word(self, plain: str) -> bool:
        """Whether a word is in the vocabulary, as it stands or with an ending of `called`."""
        if plain in self.vocabulary or _american(plain) in self.vocabulary:
            return plain not in self.word_names and plain not in self.eponym_words
        return False

    def plain_abroad(self, plain: str) -> bool:
        """Whether a word is an ordinary one of another language, and nobody's name."""
        listed = plain in self.foreign or self.ended_abroad(plain)
        return listed and plain not in self.given and plain not in self.family

    def ended_abroad(self, plain: str) -> bool:
        """Whether a word is a clinical one of another language by its ending: `Nahtdehiszenz`."""
        return len(plain) >= _ENDING_TELLS and plain.endswith(self.endings_abroad)

    def borne(self, plain: str) -> bool:
        """Whether somebody may bear a word as a name, though it may be an ordinary one too."""
        return plain in self.word_names or plain in self.given or plain in self.family

    def known(self, plain: str) -> bool:
        """Whether a word is a term or an ordinary word, in any of its forms."""
        return self.called(plain) is not None or self.plain_word(plain)


def _american(plain: str) -> str:
    """The word in the spelling that most lists have: `ischaemic`, `oedema`."""
    return plain.replace("ae", "e").replace("oe", "e")


_SHORTEST_STEM = 3
_ENDING_TELLS = 8
"""Letters of the shortest word whose ending tells what it is."""
_ENDINGS = (
    ("s", ""),
    ("es", ""),
    ("ies", "y"),
    ("ed", ""),
    ("ed", "e"),
    ("ing", ""),
    ("ing", "e"),
    ("ly", ""),
    ("ic", "y"),
    ("al", ""),
    ("er", ""),
)
_WORD_LISTS = tuple(
    field.name
    for field in fields(Lists)
    if field.name
    not in (
        "terms",
        "eponyms",
        "alone",
        "eponym_words",
        "months",
        "suffixes",
        "endings_abroad",
        "vocabulary",
        "foreign",
        "given",
        "family",
        "surnames",
    )
)


@cache
def load() -> Lists:
    """Lists of the bundled file."""
    raw = json.loads(COMPILED.read_text("utf-8"))
    terms = {term: called for name, called in reversed(CLASSES.items()) for term in raw[name]}
    eponyms = {name: frozenset(nouns) for name, nouns in raw["eponyms"].items()}
    given, family = (frozenset(row.split()) for row in NAMES.read_text("utf-8").splitlines())
    surnames = frozenset(raw["surnames"])
    parts = frozenset(part for name in eponyms for part in name.split() if len(part) > 2)
    return Lists(
        terms=terms,
        eponyms=eponyms,
        alone=frozenset(raw["alone"]),
        eponym_words=parts - {"and", "von", "van", "the"},
        months=frozenset(raw["months_and_days"]),
        suffixes=tuple(raw["suffixes"]),
        endings_abroad=tuple(raw["endings_abroad"]),
        vocabulary=frozenset(
            VOCABULARY.read_text("utf-8").split() + MEDICAL.read_text("utf-8").split() + raw["vocabulary"]
        ),
        foreign=frozenset(FOREIGN.read_text("utf-8").split() + raw["hindi"]),
        given=given,
        family=family | surnames,
        surnames=surnames,
        **{name: frozenset(raw[name]) for name in _WORD_LISTS},
    )
