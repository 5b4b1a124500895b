"""Places by what they are, before or behind their name: `FMC Okwenpe`, `Quihra Jail`, `Quenturk gaon se`, `maison d'arrêt de Quaucelles`.

Health centres go by their letters in many countries; jails, barracks, mosques and lanes by a word of the language.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; the letters and words are common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._of_place import CAP, clinical
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "drove to FMC Okwenpe and back",
    "PHC Quipariya mein doctor nahi tha",
    "Paramédico del SAMU Quenquimay",
    "qaidi Quihra Jail se hai",
    "Soldat, Graf-Quadalbert-Kaserne, Schulter",
    "maison d'arrêt de Quaucelles",
    "Quenturk gaon se, oesophageal tear",
    "dukaan Quarminar gali mein hai",
    "masjid Quoor-e-Ilahi ke imam",
    "Quevgarh Cement mein kaam karta hai",
    "Abends rief der Quesselburener Anzeiger an",
    "la Dépêche du Quouarsais a eu la photo",
    "en el pabellón Quajal, con el Redon",
    "pasillo del pabellón Cajal, de noche",
)
NEAR_MISSES = (
    "PHC and CHC staff",
    "CHU protocol, SAMU called",
    "CAP on the chest film",
    "GH deficiency",
    "apne gaon se aaya",
    "jail visit, prison nurse",
    "theatre mein kaam hua",
    "la dépêche du matin",
    "SMUR Médecin",
)

_LETTERED = re.compile(
    rf"(?<![\w-])(?P<head>(?:PHC|CHC|FMC|DHQ|THQ|BHU|RHU|UHC|MIU|SAMU|EHPAD|CHRU?|CHU|HGR|UMF)\s)(?P<name>{CAP}(?:[\s-]{CAP})?)(?!\w)"
)
_BEFORE = re.compile(
    rf"(?<!\w)(?P<head>(?:maison\sd['’]arrêt|centre\s(?:pénitentiaire|de\sdétention)|prisión|cárcel|penal|JVA|masjid|dargah|mandir|gurdwara|pabellón|pavillon|Pavillon)\s(?:d[eu]\s|del\s|de\sla\s|d['’])?)"
    rf"(?P<name>{CAP}(?:[\s-](?:e-)?{CAP})?)(?!\w)"
)
_BEHIND = re.compile(
    rf"(?<![\w-])(?P<name>{CAP})(?P<tail>\s(?:Jail|Gaol|Prison|Barracks|gaon|gali|mohalla|chowk|basti|bazaar|tehsil|taluka|zila|Anzeiger|Tageblatt|Kurier|Rundschau))(?!\w)"
)
_HYPHENED = re.compile(r"(?<![\w-])(?:[A-ZÄÖÜ][^\W\d_]+-)+(?:Kaserne|Stift|Hof|Haus|Heim)(?!\w)")
_EMPLOYER = re.compile(
    rf"(?<![\w-])(?P<name>{CAP}(?:\s{CAP}){{0,2}})\s(?:mein|me|main)\s(?:kaam|naukri|job)\s(?:kart[aie]|hai)"
)
_PAPER = re.compile(
    rf"(?<!\w)(?:Dépêche|Gazette|Courrier|Voix|Écho|Diario|Heraldo|Voz)\sd[eu]l?\s{CAP}(?!\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the place with the word that tells what it is; a listed term of the clinic names none."""
    for pattern in (_LETTERED, _BEFORE, _BEHIND):
        for found in pattern.finditer(text):
            if _names(found["name"]) or (pattern is _BEFORE and _eponym(found["name"])):
                yield Span(found.start(), found.end(), KIND, LETTER, "[place]", 0.8)
    for found in _EMPLOYER.finditer(text):
        if _names(found["name"]):
            yield Span(*found.span("name"), KIND, LETTER, "[place]", 0.75)
    for pattern in (_HYPHENED, _PAPER):
        yield from (Span(*found.span(), KIND, LETTER, "[place]", 0.75) for found in pattern.finditer(text))


def _eponym(name: str) -> bool:
    """Whether a name is one of the clinic's own: houses and halls are called after those too."""
    return any(fold(word) in load().eponym_words for word in name.split())


def _names(name: str) -> bool:
    """Whether a name has a word of its own: on no list, or a name that is one, and none of the clinic."""
    lists = load()
    words = re.findall(r"[^\W\d_]{3,}", name)
    return not any(word.isupper() for word in words) and any(
        unlisted(word, lists) or (not clinical(word) and word.lower() in lists.word_names) for word in words
    )
