"""Hospitals, firms and saints in hurried notes: `kingsmead infirmary`, `st aldhelms`, `hartwell foundry`, `Kestrel Imaging`.

The word that tells what it is may follow any word; so the word before it must be on no list at all.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; the words are
common practice. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from mmbuilder.scrub.detectors._tail import with_small_town
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

if TYPE_CHECKING:
    from mmbuilder.scrub.keep.lists import Lists

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "pt came from kingsmarrow infirmary",
    "transferred from st aldhelvins overnight",
    "works at harrowmell foundry",
    "reported by Kestrelby Imaging",
    "st brennocs itu had no bed",
    "QUENBYFORD GENERAL HOSPITAL",
    "lives near wexmoorby",
    "tfr from quenford cottage hosp last night",
    "wrexmoor vale icu called",
    "at quenby & daughters bakery",
    "ercp at quenmorrow general",
    "works at quindley's biscuits, forklift",
    "found outside the fox inn",
    "prévenue, habite le quenigan",
    "relatives quenabad se aaye hain",
    "vient de quengamp avec son fils",
    "verlegt in klinikum quenfurt",
    "Zila Quenhila Chikitsalaya",
    "quenipat ki factory me kaam karta hai",
    "wohnt in quenbach bei der tochter",
    "thyroïdectomie ce matin clinique du parc",
)
NEAR_MISSES = (
    "the general hospital was full",
    "diffusion weighted imaging",
    "Cardiac Imaging was normal",
    "private clinic and day hospital",
    "st elevation in lead II",
    "magnetic resonance imaging",
    "works at night in a foundry",
    "FIELD HOSPITAL AND DAY WARD",
    "lives near family",
    "St Thomas' II antegrade",
    "st marks score 9",
    "suivi en clinique de la douleur, clinique du sommeil",
    "habite seule, vit avec sa fille",
    "vient de manger, vient de sortir",
    "ins krankenhaus gebracht, hôpital prévenu, hospital course",
    "drain se aa raha, ghar se aaye, OT se shift kiya",
)

_KIND_OF_PLACE = (
    r"(?:(?:general|district|university|royal|memorial|community|cottage|teaching|eye|children'?s|primary|secondary|high|medical|health|nursing|care"
    r"|surgical|city|county|private)\s){0,3}"
    r"(?:hospital|hosp|icu|itu|hdu|nicu|picu|general|royal|neuro|cardiac|provincial|opticians|optometrists|dentists?|practice|stores?|supermarket|butchers?|cafe|hotel|inn|nursery|playgroup|grammar|comprehensive|institute|foundation"
    r"|mutual|insurance|bank|ceramics|steelworks|brickworks|ironworks|works|factory|warehouse|depot|yard|wharf|station|base|scaffolding|roofing|joinery|plumbing|electrical|plastics|foods|dairies|poultry|fisheries|nurseries|cleaning|security"
    r"|couriers|removals|taxis|cabs|coaches|ferries|shipping|marine|rail|castings|forge|timber|sawmill|packaging|printers|suite|wing|hall|lodge|house|manor|court\snursing\shome|primary|infants|juniors|tech|tyres|hauliers|builders|solicitors|infirmary|hospice|clinic|ward|surgery|cent(?:re|er)|trust|school|college|academy|university|home|imaging|diagnostics"
    r"|laborator(?:y|ies)|labs|pharmacy|ambulance|foundry|brewery|bakery|quarry|mill|mills|farm|dairy|colliery|shipyard|garage|motors|haulage"
    r"|logistics|engineering|textiles|ltd|limited|plc|church|prison|barracks|airport|docks?|police|council)"
)
_HEADED = re.compile(
    rf"(?<![\w.'’-])(?=(?P<name>(?P<own>[^\W\d_]{{4,}})(?:\s(?:&\s|and\s)?[^\W\d_]{{4,}})?\s{_KIND_OF_PLACE})(?!\w))",
    re.IGNORECASE,
)
_SAINT = re.compile(
    r"(?<![\w.'’-])(?P<name>[Ss][Tt]\.?\s(?P<own>[^\W\d_]{4,}(?:['’][Ss])?)(?P<ed>\sa(?:\+|&)e)?(?:\s(?:Primary|Infants|Juniors|High|Secondary|School|Hospital|Hospice|Church|Academy|College|RC|CE|Ward|Surgery)(?!\w))*)(?!\w)(?!['’][sS])(?!['’]?\s(?:(?i:score|wort|questionnaire|solution|cardioplegia|pouch|diet|questionnaire)|I{1,2})(?!\w))"
)
_EMPLOYER = re.compile(
    r"(?<!\w)(?i:works?|worked|working|employed|job)\s(?i:as\s(?:an?\s)?[a-z]+\s)?(?i:for|at|by|in|with)\s(?:the\s)?(?P<name>(?P<own>[^\W\d_]{4,})(?:['’]s)?(?:\s(?:&\s|and\s)?[^\W\d_]{3,}){1,2}?)(?=[,.;)]|$|\s(?:as|and|since|until|full|part)(?!\w))"
)
_INN = re.compile(
    r"(?<!\w)(?i:at|in|outside|from|of|behind|near)\s(?P<name>[Tt]he\s(?P<own>[A-Za-z]+)(?:\s(?:and\s|&\s)?[A-Za-z]+)?\s(?i:inn|arms|tavern|hotel))(?!\w)"
)
"""Public houses are called after ordinary things."""
_CUED = re.compile(
    r"(?<!\w)(?i:lives?\s(?:[a-z]+\s){0,4}?(?:in|near|at)|living\sin|born\sin|moved\sto|transferred\s(?:from|to)|t/f\s(?:from|to)|tfr?\s(?:from|to)"
    r"|works?\s(?:for|at|in)|employed\s(?:by|at)|retired\sfrom|back\sto|sent\sto|from)\s(?P<name>(?P<own>[^\W\d_A-Z]{5,}))(?!\w)"
)

_ABROAD = re.compile(
    r"(?<!\w)(?i:habite|vit\sà|demeurant|domiciliée?\sà|vive\sen|reside\sen|wohnt\sin|wohnhaft\sin|lebt\sin|kommt\saus|vient\sde|originaire\sde|natural\sde|procedente\sde|arrivée?\sde|adressée?\sde|envoyée?\sde|stammt\saus)\s"
    r"(?P<name>(?:(?:à|au|le|la|les|el|los|las|bad|st)\s)?(?P<own>[^\W\d_A-Z]{5,}))(?!\w)"
)
_HINDI = re.compile(
    r"(?<![\w'’-])(?P<name>(?P<own>[^\W\d_]{4,}))\s(?:se\s(?:aa|refer|transfer|bhej|shift|laya|laye)\w*|(?:gaye?|gayi|gaya)\s(?:hue|hua|hui|hai)"
    r"|(?:ki|ka|ke|me|mein)\s(?:factory|mill|company|rehn|rehta|rehte|rehti|kaam|naukri|gaon)\w*)",
    re.IGNORECASE,
)
"""Hindi tells behind the name where somebody comes from: `quenabad se aaye`."""
_HOUSE_ABROAD = re.compile(
    r"(?<![\w'’-])(?P<name>(?:klinikum|kantonsspital|landeskrankenhaus|kreiskrankenhaus|krankenhaus|spital|lkh|kh|chu|chr|hôpital|hopital|ospedale|policlinico|hospital)\s(?:(?:de|du|di|st\.?|san|santa|sainte?)[\s-])?(?P<own>[^\W\d_A-Z]{5,}(?:-[^\W\d_]+)?))(?!\w)"
)
"""Hospitals of other countries in small letters, their town behind: `klinikum quenfurt`."""
_SHALA = re.compile(
    r"(?<![\w'’-])(?P<name>(?:(?P<own>[^\W\d_]{3,})\s){1,3}(?:chikitsalaya|aspatal|haspatal|rugnalaya|arogya\skendra|dawakhana))(?!\w)",
    re.IGNORECASE,
)
_CLINIQUE = re.compile(
    r"(?<!\w)(?P<name>(?:poly)?clinique\s(?:du|des|de\sla|de\sl['’]|saint|sainte|st|ste)[\s-]?"
    r"(?!douleur|sommeil|jour|nuit|m[ée]moire|chirurgie|main|pied|sein|anesth|urgence|femme|m[èe]re)[^\W\d_A-Z]{4,})(?!\w)"
)
"""Private hospitals of France are called after what stands near: `clinique du parc`, `clinique des tilleuls`."""


def find(text: str) -> Iterator[Span]:
    """Yield the name of the place with the word that tells its kind."""
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    for pattern, confidence in (
        (_HEADED, 0.8),
        (_SAINT, 0.75),
        (_EMPLOYER, 0.65),
        (_CUED, 0.6),
        (_ABROAD, 0.6),
        (_HINDI, 0.8),
        (_HOUSE_ABROAD, 0.75),
        (_SHALA, 0.8),
    ):
        for found in pattern.finditer(text):
            if place_word(found["own"], lists) or (pattern is _SAINT and _a_saint(found["own"], lists.given)):
                start, end = found.span("name")
                unit = None if text.isupper() else _UNIT.search(text, start, end)
                whole = unit.start() if unit else with_small_town(text, end)
                yield Span(start, whole, KIND, LETTER, "[place]", confidence)

    yield from (Span(*found.span("name"), KIND, LETTER, "[place]", 0.8) for found in _CLINIQUE.finditer(text))
    for found in _INN.finditer(text):
        if lists.called(fold(found["own"])) in (None, "an ordinary word"):
            yield Span(*found.span("name"), KIND, LETTER, "[place]", 0.6)


_UNIT = re.compile(r"\s(?:ICU|ITU|HDU|NICU|PICU)$")
"""The unit itself may stay: it tells how ill somebody was."""
_DONE = re.compile(r"(?:[tsg]ed|ated|i[sz]ed|[tsy]ing)$", re.IGNORECASE)


def place_word(word: str, lists: Lists) -> bool:
    """Whether a word is on no list and no verb by its ending: `Extubated ICU day 2`."""
    return unlisted(word, lists) and not _DONE.search(word)


def _a_saint(word: str, given: frozenset[str]) -> bool:
    plain = fold(word)
    return plain in given or plain.removesuffix("s") in given
