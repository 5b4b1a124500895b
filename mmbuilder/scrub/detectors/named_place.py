"""Hospitals, wards, clinics, towns and employers, by the word that tells what they are.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; the cue words are
common practice. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._of_place import plain_of_a_place
from mmbuilder.scrub.detectors._tail import with_town
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "Admitted to St Brennoc's Hospital overnight",
    "Larkspur Ward had no beds",
    "Quenbyford General Hospital",
    "the Wexmoor Clinic refused",
    "lives in Lower Tavish",
    "works for Harrold Brickworks Ltd",
    "from the village of Nether Sallow",
    "vive en Valdeolivo del Río",
    "wohnt in Oberrabenstein",
    "habite à Saint-Brévin-le-Haut",
    "University of Quenbyford",
    "Quenmere Hall Education Centre",
    "at the foot of the stairs at Quallard Cottage",
    "coaches Quenwater Ladies FC",
    "Friday in the Quenforth lecture theatre",
)
NEAR_MISSES = (
    "the District General Hospital",
    "Day Surgery Unit and Eye Clinic",
    "Accident and Emergency Ward",
    "lives in fear, in Pain Clinic",
    "works for a living",
    "High Dependency Unit",
    "The Hospital was full",
    "Field Hospital and Day Ward",
    "Fracture Clinic",
    "Private Hospital",
    "Vascular Unit at night",
    "Postgraduate lecture theatre, Main Seminar Room",
)

_CAP = r"[^\W\d_a-zß-öø-ÿ][^\W\d_]*(?:['’-][^\W\d_]+)*"
_NAME = rf"(?:St\.?\s)?{_CAP}(?:\s(?:(?:of|and|the|upon|on|under|del?|la|le)\s)?{_CAP}){{0,4}}"
_HEAD = (
    r"(?:General\s|District\s|University\s|Royal\s|Memorial\s|Community\s|Cottage\s|Teaching\s|Eye\s|Children['’]?s\s){0,3}"
    r"(?:Hospitals?|Infirmary|Hospice|Clinic|Ward|Surgery|Medical\sCent(?:re|er)|Health\sCent(?:re|er)|NHS\s(?:Foundation\s)?Trust"
    r"|(?:Primary\s|Secondary\s|High\s)?School|College|(?:Ambulance|Fire|Police)\sStation|Surgical\sAssociates|Associates|Medical\sPractice|Radiology|Shipyard"
    r"|(?:Education|Conference|Training|Postgraduate|Treatment|Diagnostic|Leisure|Sports|Community|Eye|Day)\sCent(?:re|er)|[Ll]ecture\s(?:[Tt]heatre|[Hh]all)|[Ss]eminar\s[Rr]oom|[Bb]oard\s?[Rr]oom|Auditorium|Academy|Institute|Infants|Juniors|(?:Family|Group|Dental|Veterinary)\s(?:Practice|Surgery)|Opticians|Optometrists|Heart\sCent(?:re|er)|Birth\sCent(?:re|er)|Maternity|Cottage|Lodge|Farm|Manor|Grange|House(?!-)|(?:Ladies\s|Mens\s)?(?:A?FC|RFC)|(?:Football|Rugby|Golf|Cricket|Bowls|Social)\sClub|Nursing\sHome|Care\sHome|Unit|General|Krankenhaus|Klinik(?:um)?|Spital)"
)
_HEADED = re.compile(rf"(?<![\w.'’-])(?P<name>{_NAME})\s(?P<head>{_HEAD})(?!\w)")
_OF = re.compile(
    rf"(?<!\w)(?:University|Hospital|Klinikum|Krankenhaus|Hôpital|Hospital\sde|Clínica|Clinique)[^\S\n](?:of\s|de\s|du\s|in\s)?(?P<name>{_NAME})(?!\w)"
)
_CUE = (
    r"lives?\s(?:alone\s)?(?:in|near)|living\sin|resides?\sin|resident\s(?:of|in)|born\sin|grew\sup\sin|comes\sfrom|moved\s(?:from|to)"
    r"|(?:town|village|city|county|suburb|hamlet|island|parish)\sof|transferred\s(?:from|to)|repatriated\s(?:from|to)|driver\sfrom|man\sfrom|woman\sfrom"
    r"|teacher\sfrom|farmer\sfrom|works?\s(?:for|at|in)|worked\s(?:for|at)|employed\s(?:by|at)|retired\sfrom|employer\s?:|vive\sen|natural\sde|wohnt\sin|wohnhaft\sin|(?:geb|Patient(?:in)?)\.?[^.;\n]{0,40}\saus|aus(?=\s[A-ZÄÖÜ][a-zäöü]{6,}[,.;])|EMS\sfrom|ambulance\sfrom"
    r"|habite\s(?:à|au|en)|né\sà|née\sà|domicilié[e]?\sà|geboren\sin|rehne\swala|rehti\shai"
)
_CUED = re.compile(
    rf"(?<!\w)(?i:{_CUE})\s(?:the\s)?(?P<name>{_NAME})(?:\s(?:Ltd|Limited|plc|PLC|Inc|GmbH|AG|SA|SL|SARL|Pvt))?(?!\w)"
)
_FROM = re.compile(rf"(?:^|[.;:]\s)[Ff]rom\s(?P<name>{_NAME})(?=,)")


def find(text: str) -> Iterator[Span]:
    """Yield the name of the place; where its kind follows, together with it."""
    for found in _HEADED.finditer(text):
        start = _start(found["name"])
        if start is not None:
            yield Span(
                _article(text, found.start("name") + start),
                with_town(text, found.end()),
                KIND,
                LETTER,
                "[place]",
                0.85,
            )
    for pattern, confidence in ((_OF, 0.8), (_CUED, 0.8), (_FROM, 0.7)):
        for found in pattern.finditer(text):
            start = _start(found["name"])
            if start is not None and not _clinical(found["name"][start:]):
                end = found.end() if pattern is _CUED else found.end("name")
                if found["name"].isupper() and (cut := _CAPITALS_END.search(found["name"])):
                    end = found.start("name") + cut.start()  # FROM CRAIGDHUVALE WITH NECROTISING FASCIITIS
                yield Span(found.start("name"), with_town(text, end), KIND, LETTER, "[place]", confidence)


_CAPITALS_END = re.compile(
    r"\s(?:WITH|AND|FOR|BY|AFTER|ON|IN|AT|TO|DUE|VIA|THEN|WHO|WAS|HAS|HAD|IS|SINCE|BEFORE|FROM|OVERNIGHT|TODAY)(?=\s|$)"
)
"""Where a place ends among capitals."""


def _article(text: str, start: int) -> int:
    """The start with an article before it, which is part of the name: `the Selwick Rise Heart Centre`."""
    return start - 4 if text[max(0, start - 4) : start].lower() == "the " else start


_TITLES = frozenset({"Dr", "Mr", "Mrs", "Ms", "Miss", "Prof", "Professor", "Sir", "Dame", "Rev"})


def _start(name: str) -> int | None:
    """Where the first word stands that is not an ordinary one; None where all are."""
    words = list(re.finditer(r"\S+", name))
    if (
        words[0][0].rstrip(".") in _TITLES
    ):  # who, on the line above: `Dr Quillorne`, below it `Oak Lane Surgery`
        words = [word for word in words if "\n" in name[: word.start()]]
    own = [place for place, word in enumerate(words) if not plain_of_a_place(word[0])]
    if not own:
        return None
    first = own[0]
    return words[first - 1 if first and words[first - 1][0] in ("Royal", "The") else first].start()


def _clinical(name: str) -> bool:
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    words = [word for word in name.split() if not _GRADE.fullmatch(word)]
    return len(words) == 1 and (fold(words[0]) in lists.eponym_words or lists.plain_abroad(fold(words[0])))


_GRADE = re.compile(r"[IVX]{1,4}[A-Da-d]?")
"""`Hospital A and Hinchey III` names no second place."""
