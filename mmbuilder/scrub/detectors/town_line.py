"""Towns by where they stand: behind a postal code, before one, at the head of a letter, behind a hospital's comma; counties.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; the names of towns are those of GeoNames
(`keep/towns.py`), how letters and addresses are headed is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._of_place import CAP, HOUSE, clinical, of_any_house, shortened
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors.postal_code import CANADA, EIRCODE, UK
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.towns import towns
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold, phrase
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "27 bd Quoch, 31200 Toulouse   secrétariat",
    "Gartenstr. 41a, 48155 Münster",
    "7 Quirk Wynd, Scone PH2 6XX.",
    "Quellingen, den 4.3.2025",
    "Toulouse, le 4 avril 2025",
    "Quenbridge, 4th March 2025",
    "St Quorran's, Norwich",
    "Hospital de la Mujer Santa Quinés, Puebla     27-ene-2025",
    "Gemeinschaftspraxis am Quarkt, Zell            18. September 2024",
    "Quenagh, Co Tipperary",
    "from County Mayo",
    "CH Le Querdier, Montbrison      Bloc salle 5",
    "Dr. Quichler, Laakirchen",
    "Bruder aus Bebra will den Arzt sprechen",
    "200 Quing St W, Kitchener ON  N2G 4X6",
)
NEAR_MISSES = (
    "gave 5000 Units, 1200 Calories",
    "CO Detector, CO Poisoning",
    "Haemorrhage, 4 units given",
    "Bleeding, le patient va bien",
    "Conversion, den Bauch eröffnet",
    "Abdomen, 4 ports",
    "Theatre, Recovery and Ward",
    "St Mark's solution, Ringer",
    "ICU, Hb 7",
    "Hospital, Theatre 4",
    "2000 Ringer given",
    "aus Kunststoff, aus Silikon",
    "pale, clammy, Sweating",
    "Foley, Robinson, Redivac",
    "Augmentin, Gentamicin",
)

_TOWN = rf"(?:St\.?\s)?{CAP}(?:[\s-](?:(?:upon|on|under|in|by|le|la|les|de|del|an\sder|am|im|sur|sous)[\s-])?{CAP}){{0,2}}"
_ENDS = r"(?=[,.;:)\n]|\s{2}|\t|\s?[-–(]|\s?$)"
_BEHIND_CODE = re.compile(rf"(?<![\w.,/-])\d{{4,5}}\s(?P<name>{_TOWN})(?!\w)")
_CODE = "|".join(form.pattern for form in (CANADA, UK, EIRCODE))
_BEFORE_CODE = re.compile(
    rf"(?:,\s|^)(?P<name>{_TOWN})(?=,?\s{{1,2}}(?:[A-Z]{{2}}\s{{1,2}})?(?:{_CODE}))", re.MULTILINE
)
_DAY = r"(?:\d{1,2}(?:st|nd|rd|th|er)?\.?[\s./-]{1,2}(?:\d{1,2}|[^\W\d_]{3,10}\.?)[\s./-]{1,2}(?:\d\d)?\d\d)"
_HEADS_LETTER = re.compile(
    rf"^[ \t]*(?P<name>{_TOWN}),\s(?:(?:le|den|a|el|li|the)\s)?(?={_DAY})", re.MULTILINE
)
_HOUSE = rf"(?:{HOUSE}|Practice|Surgery|Maternity|Krankenhaus|Klinikum|Klinik|Spital|Praxis|Hôpital|Clinique|Clínica)"
_BEHIND_HOUSE = re.compile(
    rf"(?<!\w)(?:St\.?\s{CAP}['’]s?|(?:{CAP}\s){{0,3}}(?:[^\W\d_]*(?:krankenhaus|klinikum|klinik|praxis)|{_HOUSE})(?:\s(?:de\sla|de|del|du|des|am|an\sder|St\.?|{CAP})){{0,5}}),\s(?P<name>{_TOWN}){_ENDS}",
    re.MULTILINE,
)
_ALONE = re.compile(
    rf"(?:,|(?P<aus>(?<!\w)aus))\s(?P<name>{_TOWN})(?=\s*$|[.;\n]|\s{{2}}|\t|\swill\s|\sund\s)", re.MULTILINE
)
"""Behind any comma at the end of what is said, and behind the German word for `from`: only what is no word beside."""
_COUNTIES = (
    r"Antrim|Armagh|Carlow|Cavan|Clare|Cork|Derry|Donegal|Down|Dublin|Durham|Fermanagh|Galway|Kerry|Kildare|Kilkenny|Laois|Leitrim|Limerick|Longford|Louth"
    r"|Mayo|Meath|Monaghan|Offaly|Roscommon|Sligo|Tipperary|Tyrone|Waterford|Westmeath|Wexford|Wicklow"
)
"""Of Ireland, and one of England that is written so."""
_COUNTY = re.compile(rf"(?<!\w)(?P<name>(?:Co\.?|County|CO\.?)\s(?:{_COUNTIES}))(?!\w)")


def find(text: str) -> Iterator[Span]:
    """Yield each town without its code; a county with the word before it."""
    for pattern, certain in (
        (_BEHIND_CODE, False),
        (_BEFORE_CODE, True),
        (_HEADS_LETTER, True),
        (_BEHIND_HOUSE, False),
    ):
        for found in pattern.finditer(text):
            lasts = _ends_of(text, *found.span("name"), certain=certain, eponyms=pattern is _BEHIND_HOUSE)
            if (end := next(lasts, None)) is not None:
                yield Span(found.start("name"), end, KIND, LETTER, "[place]", 0.86)
    for found in _ALONE.finditer(text):
        name = phrase(found["name"])
        if (
            name in towns()
            and (" " in name or _no_word(name, borne=bool(found["aus"])))
            and name not in load().terms
        ):
            yield span(found, KIND, LETTER, "[place]", 0.7, "name")
    yield from (span(found, KIND, LETTER, "[place]", 0.86, "name") for found in _COUNTY.finditer(text))


def _no_word(name: str, *, borne: bool) -> bool:
    """Whether a town is on no list of words, nor of names unless those may be: `Taylor` behind a comma is somebody."""
    lists = load()
    word = not unlisted(name, lists) or name in lists.foreign
    return len(name) > 4 and not word and (borne or not lists.borne(name))


def _ends_of(text: str, start: int, end: int, *, certain: bool, eponyms: bool) -> Iterator[int]:
    """Where a town may end, the longest first: a listed one that is no term; where its place is certain, a word on no list too."""
    for last in shortened(text, start, end):
        name, plain = text[start:last], fold(text[start:last])
        if _of_the_clinic(name) or (plain in load().eponym_words and not eponyms):
            continue
        if phrase(name) in towns() or (certain and unlisted(name, load())):
            yield last


def _of_the_clinic(name: str) -> bool:
    """Whether a name is a word that notes write with a capital: a term, a part of a house, a role, a month."""
    lists, plain = load(), fold(name)
    listed = plain in lists.roles or plain in lists.titles or plain in lists.months or plain in lists.heads
    return listed or clinical(name) or of_any_house(name) or plain in lists.terms
