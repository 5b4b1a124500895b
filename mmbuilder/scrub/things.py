"""Why a word on no list, or an eponym alone, is a thing and no name: what stands beside it, and how it is written."""

from __future__ import annotations

import re

from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.names.labels import Kind
from mmbuilder.scrub.words import EPONYM_NOUNS, word_set

UNPROVEN = frozenset(
    {
        "taken for a name, in small letters and on no list",
        "taken for a name, and on no list",
        "an eponym's name without its noun",
        "a name that is also an ordinary word",
    }
)
"""The guard's reasons that rest on the finder alone."""


def unproven(reason: str, kind: Kind) -> bool:
    """Whether the guard has no more to go by than the finder: then a thing may be kept."""
    return reason in UNPROVEN or (kind == "address" and reason != "after a title")


_STREET = re.compile(
    r"\b(?:Street|St|Road|Rd|Lane|Ave(?:nue)?|Drive|Close|Crescent|Terrace|Place|Court|Gardens|Grove|Hill|Mews|Cottages?|House|Farm"
    r"|Way|Park|Square|Row|Flat|Apartment|Nagar|Colony|Rue|Calle)\b|(?:stra(?:ß|ss)e|weg|gasse)\b"
)
_NOUNS = EPONYM_NOUNS | word_set(
    """
    cells criteria classification variant score scale index harpoon forceps technique approach breathing sign signs syndrome
    disease phenomenon reflex procedure operation repair retractor stain agar medium needle tube system staging nomogram
    coefficient equation formula effect law protocol solution line lines anomaly
    """
)
_BEFORE_FIGURE = re.compile(r"\s\d{1,2}(?![\d/])(?!\s?(?:[MFmf]\b|y))|\s[IVX]{1,4}[a-dA-D]?\b")
_ENDS_AS_A_THING = re.compile(r"-(?:Syndrom|Zeichen|Krankheit|Naht|Phänomen|Operation)$")
_DOSE = re.compile(r"\s\d[\d.,]*\s?(?:mg|g|mcg|µg|microgram|ml|mL|units?|IU|tabs?|puffs?|%)(?!\w)")
_DRUG_FORM = re.compile(
    r"(?<!\w)(?:Inj|Tab|Cap|Syp|Inf|Susp|Oint|Gtt)\.?\s$|^(?:Inj|Tab|Cap|Syp|Inf|Susp|Oint|Gtt)\.?\s"
)
_IN_ENGLISH = re.compile(r"(?<!\w)(?:the|was|with|by|and|of)(?!\w)")
GERMAN = re.compile(
    r"\b(?:[Dd](?:er|ie|as|em|en|es)|[Ee]ine?[nmrs]?|und|mit|nach|wurde|wegen|vom?|auf|bei|ist|hatte|im|am|zu[rm]?)\b"
)
"""German writes every noun with a capital."""
_SHORT_PLACE = 5
_YEAR_AND_VOLUME = re.compile(r"\.?,?\s(?:19|20)\d\d\b[^;\n]{0,12};\s?[\d(]")
"""`Ann Surg 2018 Mar;267(3)`."""
_AFTER_ARTICLE = re.compile(r"(?<!\w)(?:a|an)\s$", re.IGNORECASE)


_BRAND = re.compile(
    r"(?!(?:Mc|Mac|De|Di|Du|La|Le|Lo|Van|Von|Fitz|Al|El|O|D|St|San|Ten|Ter)[A-Z])[A-Z][a-z]+[A-Z]\w*|[A-Z]{2,3}[a-z]{1,4}"
)


def thing(text: str, kind: Kind, start: int, end: int) -> str:
    """Why an unlisted word is a thing and no name; empty where nothing shows it."""
    said = text[start:end]
    following = re.match(r"[\s-]([^\W\d_A-Z]+)", text[end : end + 30])
    if following and following[1] in _NOUNS and kind != "address":
        return f'stands right before "{following[1]}", as an eponym does'
    if re.search(r"(?<![^\W_])(?:of|de|von|drainage|maladie|signe)\s(?:de\s)?$", text[:start]) and _OF.search(
        text[:start]
    ):
        return "after the noun of an eponym"
    if said.islower() and " " not in said:
        return "one word in small letters, without a title"
    if said.lower().startswith("sub-"):
        return "a part under another, as anatomy is named"
    if "-" in said and all(_eponym(piece) for piece in said.split("-")):
        return "both halves are listed eponyms"
    if _BRAND.fullmatch(said):
        return "a capital inside the word, as brands are written"
    if any(sign.isdigit() for sign in said) and kind != "address":
        return "holds figures, as scores do"
    if kind == "address" and not _STREET.search(said):
        return "no word of a street in it"
    if said.isupper() and "-" in said and not text.isupper() and max(map(len, said.split("-"))) <= 5:
        return "an abbreviation"
    if kind == "place" and said.isupper() and len(said) <= _SHORT_PLACE and not text.isupper():
        return "an abbreviation"
    if _DOSE.match(text, end) or _DRUG_FORM.search(text[:start]) or _DRUG_FORM.match(said):
        return "before a dose, as drugs stand"
    if _ENDS_AS_A_THING.search(said):
        return "ends as a thing does"
    if " " not in said and kind != "address" and GERMAN.search(text) and not _IN_ENGLISH.search(text):
        return "German writes every noun with a capital"
    if _YEAR_AND_VOLUME.match(text, end):
        return "the journal of a publication"
    if kind == "place" and _BEFORE_FIGURE.match(text, end):
        return "before a figure, as scores stand"
    return "after a or an, as things stand" if _AFTER_ARTICLE.search(text[:start]) else ""


_OF = re.compile(
    r"(?:sign|ligament|angle|sphincter|pouch|circle|triangle|test|line|space|node|fascia|foramen|valve|canal|island|islets?|triad|tetralogy"
    r"|drain|drainage|maladie|signe|maniobra|signo|enfermedad|manoeuvre|Zeichen|Syndrom)\s(?:of|de|von)\s$"
)


def _eponym(word: str) -> bool:
    return fold(word) in load().eponym_words
