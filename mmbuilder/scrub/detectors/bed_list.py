"""Names as a list of beds has them: behind the bed, before age and sex or a date of birth: `B2 Tse 55M`, `GT 19F`, `Quorne B, DOB`.

Source: 45 CFR 164.514(b)(2)(i)(A), names; how such lists are written is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import Lists, load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "listed name"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "B2 Quorne 55M ?ileus",
    "SR1 Quorne VAC 125",
    "SR2 Said, interpreter booked",
    "Bed 3: Osei, 45F, SBO",
    "Quorne 55M ?ileus",
    "GT 19F, day 3",
    "Quorne B, DOB on the sticker",
    "Khan 70 M, POD 2",
    "quenler marko geb 7.1.51",
    "sr 2 Quorne D9",
    "1 mason t 6 tonsils\n2 quonse m 55 scope",
)
NEAR_MISSES = (
    "Bed 4 Empty",
    "B12 Deficiency treated",
    "GSW 19M abdomen",
    "AF 70M on apixaban",
    "Sepsis 55M",
    "Stroke 70M",
    "Lap appy 34F",
    "Pt 55M",
    "Previously well 55M",
    "Vietnamese 60F",
    "Bed 2 Norovirus",
    "B1 Laparotomy day 2",
    "SR3 Clostridium",
    "Foley 16F passed",
    "Chest drain 28F",
    "Swan 7F sheath",
    "Patient, DOB on the sticker",
    "L4 Fracture",
    "T12 Wedge fracture",
    "Amplatz 30F sheath",
    "Bosniak 2F cyst",
    "Bett 2: Aufnahme-Nr folgt",
    "1 lap chole 45 min\n2 hernia 50 min",
    "1 drain out 6 hours later\n2 mobilise 5 m today",
)

_OPENS = r"(?:^|(?<=[.;|]\s)|(?<=\n))[ \t]*"
_CAP = r"[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+(?:['’-][^\W\d_]+)?"
_BED = r"(?i:B(?:ed)?|Bay|SR|Rm|Room|Side\s?room|Cubicle|Cub|Zi|Hab|Ch|Bett)\s?\d{1,2}[A-D]?[:.,]?\s"
_AGED = r"(?=,?\s(?:\d\d\s?(?:yo|y/o|yrs?)?\s?[MF](?![\w/])|\(?(?:DOB|D\.O\.B|dob|date\sof\sbirth|geb\.|née?\sle|nacid[oa]\sel)))"
_BY_BED = re.compile(rf"{_OPENS}{_BED}(?P<name>{_CAP})(?=[\s,.(]|$)", re.MULTILINE)
_BY_AGE = re.compile(
    rf"{_OPENS}(?:{_BED})?(?P<name>{_CAP}(?:\s{_CAP}|,?\s[A-Z])?|[A-Z]{{2}}){_AGED}", re.MULTILINE
)

_SMALL = re.compile(
    r"^[ \t]*\d{1,2}[.)]?\s(?:(?:mr|mrs|ms|miss|dr|rev|sr|mx)\.?\s)?(?P<name>[^\W\d_A-Z]{3,}(?:\s(?:[^\W\d_A-Z]{3,}|[a-z](?!\w)))?),?\s\(?\d{1,2}\s?(?:y|yo|yrs?)?\s?[mf]?\)?(?=\s)(?!\s?(?:ml|mg|mm|cm|kg|g|l|days?|h|hrs?|min|units?|%)\b)",
    re.MULTILINE,
)
"""A list in small letters: its order, a name, an age: `3 quonse m 55`."""
_LINES = 2
_BORN = re.compile(
    r"(?<![\w.'’-])(?P<name>[^\W\d_A-Z]{3,}\s[^\W\d_A-Z]{3,}),?\s{1,3}(?:\(?(?:dob|d\.o\.b\.?|geb\.?|née?(?:\sle)?|nacid[oa](?:\sel)?|fn|born)\s?:?\s|\*\s?)(?=\d)"
    r"|(?:^|\s{2}|(?:betrifft|patient|pt|pat\.?|re|concerne|betr\.)\s:?\s?)(?P<dated>[^\W\d_A-Z]{3,}\s[^\W\d_A-Z]{3,}),?\s{1,3}(?=\d{1,2}[./]\d{1,2}[./](?:19|20)?\d\d(?!\d))",
    re.MULTILINE,
)
"""A name in small letters before a date of birth: `keller urs, 07.01.1951`."""


def find(text: str) -> Iterator[Span]:
    """Yield each name of a list of beds."""
    for pattern in (_BY_BED, _BY_AGE):
        for found in pattern.finditer(text):
            if _a_name(found["name"], load()) and not _size(text, found):
                yield span(found, KIND, LETTER, "[name]", 0.8, "name")
    for found in _BORN.finditer(text):
        group = "name" if found["name"] else "dated"
        if _borne(found[group]) and any(load().borne(fold(word)) for word in found[group].split()):
            yield span(found, KIND, LETTER, "[name]", 0.86, group)
    small = [found for found in _SMALL.finditer(text) if _borne(found["name"])]
    if len(small) >= _LINES:
        yield from (span(found, KIND, LETTER, "[name]", 0.86, "name") for found in small)


def _borne(said: str) -> bool:
    """Whether every word of it may be a name and one is, or is on no list: no `lap chole`."""
    lists, words = load(), [fold(word) for word in said.split() if len(word) > 1]
    strange = [unlisted(word, lists) and word not in lists.foreign for word in words]
    borne = [lists.borne(word) and word not in lists.roles for word in words]
    return all(map(any, zip(strange, borne, strict=True))) and not all(lists.known(word) for word in words)


def _size(text: str, found: re.Match[str]) -> bool:
    """Whether the age may be a size in French, of what bears somebody's name: `Foley 16F`."""
    words = map(fold, found["name"].split())
    return _FRENCH.match(text, found.end()) is not None and not load().eponym_words.isdisjoint(words)


_FRENCH = re.compile(r"\s(?:[3-9]|[12]\d|3[0-6])\s?F")


def _a_name(said: str, lists: Lists) -> bool:
    """Whether no word of it is a term, an abbreviation, or an ordinary word that nobody bears."""
    if said.isupper():
        return said not in ABBREVIATIONS
    if said.endswith(("-Nr", "-nr", "nummer")):
        return False
    words = [fold(word) for word in said.replace(",", " ").split() if len(word) > 1]
    return not any(_no_name(word, lists) for word in words)


_OF_A_PEOPLE = ("ese", "ian", "ish")
"""How words for where somebody comes from end: `Vietnamese 60F`."""


def _no_name(word: str, lists: Lists) -> bool:
    if word in lists.titles or word in lists.roles or word in lists.heads:
        return True
    if word.upper() in ABBREVIATIONS or word.endswith(_OF_A_PEOPLE):
        return True
    return not lists.borne(word) and (lists.known(word) or lists.plain_abroad(word))
