"""Names announced by a title: `Dr A. Quillorne`, `Sister Oskavarn`, `MRS WEBER`.

Names without a title are for the declared list and, later, for a model (`scrub.layers`).
The stand-in tells the profession the title tells; Mr, Mrs, Ms and Miss tell none.

Source: 45 CFR 164.514(b)(2)(i)(A), names, also of relatives and staff as this house has it.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._person import judged
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import EPONYM_NOUNS, word_set

KIND = "titled name"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "Dr Quillorne asked for help",
    "Mr. P. J. Oskavarn came",
    "Sister Grace Young confirmed the count",
    "Prof Graves reviewed it",
    "MRS WEBER fell",
    "Dr. T. Adeyemi-Voss",
    "Miss O'Drellan",
    "Dr van der Brusk",
    "Staff Nurse Babcock",
    "dr coats disagreed",
    "Mr Ross",
    "seen by Dr Li Na",
    "Ms Ó Drellan",
    "dr Quillorne",
    "nurse Quillorne",
    "sister Quillorne",
    "professor Quillorne",
    "Dr.Quillorne",
    "Mr.Quillorne",
    "doctor Quillorne",
    "Dr quillorne",
    "Dr, Quillorne",
    "Dr: Quillorne",
    "Dr_Quillorne",
    "MrQuillorne",
    "Dr (Ada) Quillorne",
    "Doctors Quillorne and Vashtern",
    "Drs Quillorne, Ombrelay and Vashtern",
    "Prof. Dr. med. Quillorne",
    "nurses Quillorne and Vashtern",
    "Mr. Jorin P. Quillorne III, asystole",
    "Mr Quillorne II.",
)
NEAR_MISSES = (
    "MR angiogram and MR SCAN",
    "DR screening; DR grade R2",
    "MS relapse and MS lesions",
    "a near miss with the graft",
    "the nurse in charge",
    "Nurse Practitioner on call",
    "Sister Mary Joseph nodule",
    "Mr and Mrs",
    "the staff nurse counted",
    "Sr 90 plaque",
    "the Dr on call",
    "Miss the vessel and it bleeds",
    "Nurse Specialist clinic",
    "Matron on duty",
    "dr on call",
    "miss the vessel",
    "Dr asked for help",
    "asked the nurse. Bleeding stopped",
    "I was the scrub nurse. I have counted twice",
    "I fetched the charge nurse. Bleeding went on",
    "Clips out with practice nurse. Sick note for a month",
    "the doctor, Bleeding had stopped",
    "nurse Foley catheter",
    "nurses and doctors",
    "Doctors Without a plan",
    "the sister ward",
    "MR: Cholangiography",
    "Dr, Theatre 4 is ready",
    "50 ms Pulse",
    "the doctor called Theatre",
    "MBBS, MS. Mersilk was used",
    "MS. Vicryl to skin",
    "the doctor. II and III were cleared",
)

_STOP = (
    r"(?!(?:Practitioner|Specialist|Consultant|Manager|Led|Associate|Educator|Anaesthetist|On|In|At|Day|Week"
    r"|Theatre|Ward|Room|Grade|Scan|Angiogra\w+|Imaging|Venogra\w+|Cholangio\w+|Spectroscopy|Enterogra\w+"
    r"|Elastogra\w+|Screening|Team|Call|Station|The|And|Was|Is|To|For|With|Who|Had|Has|Then|But|After|Before"
    r"|SCAN|MRI|MRA|MRCP|ANGIO\w*|IMAGING|VENO\w*|SCREENING|GRADE|LESIONS?|RELAPSE|PLAQUES?|TEAM|NURSE|ON"
    r"|AND)\b)"
)
"""Words after a title that begin no name: `Nurse Practitioner`, `MR angiogram`."""
_PARTICLE = (
    r"(?:(?:van|von|der|den|de|del|della|di|da|dos|du|la|le|ter|ten|bin|binti|ibn|al|el|ap|Ó|Ní|Mac|Mc|St)"
    r"[\s-])"
)
_CAP = r"[^\W\d_a-zà-öø-ÿ][^\W\d_]*(?:['’`-](?!s\b)[^\W\d_]+)*"
_NAME = rf"(?:{_PARTICLE}{{0,3}}{_STOP}{_CAP})"
_INITIALS = r"(?:[A-Z]{1,3}(?:\.[\s-]?|[\s-])){0,3}"
_MIXED = (
    r"(?:[Ss]taff [Nn]urse|[Cc]harge [Nn]urse|[Ss]crub [Nn]urse|Professor|Doctor|Matron|Midwife|Sister"
    r"|Nurse|Dame|Lady|Miss|Prof|Lord|Drs|Mrs|Dr|Mr|Ms|Mx|Sir|Sr)"
)
_TITLED = re.compile(
    rf"(?<!\w)(?P<title>{_MIXED})\b\.?\s(?:{_MIXED}\.?\s)?{_INITIALS}(?P<name>{_NAME}(?:\s(?:[A-Z]\.\s)?{_NAME}(?!\w)){{0,2}})"
)
_GENERATION = re.compile(r",?\sI{2,3}(?![\w'’-])")
"""Who of the family it is, behind the name: `Quillorne III`."""
_UPPER = re.compile(
    rf"(?<!\w)(?P<title>MRS|MISS|PROF|SISTER|NURSE|MR|MS|DR)\b\.?\s{_INITIALS}"
    rf"(?P<name>{_NAME}(?:\s{_STOP}[A-Z'’-]{{2,}}){{0,2}})"
)
_LOWER = re.compile(
    r"(?<!\w)(?P<title>[Dd]r|[Mm]rs|[Mm]r|[Pp]rof)\b\.?\s(?:(?:de|del|di|da|van|von|der|den|al|el|la|le|bin|ap)\s){0,2}(?P<name>[^\W\d_]{3,})(?!\w)"
)
_CHAIN = r"(?:[.\s]{1,2}(?:Prof|Dr|med|dent|vet|rer|nat|habil|h\.\s?c|univ)\b){0,4}"
_LOOSE = re.compile(
    rf"(?<!\w)(?P<title>Professor|Prof|Doctor|Dr|Mrs|Mr|Ms|Miss){_CHAIN}(?:\.|[.\s]?[,:_]|_)?\s{{0,2}}(?:\([^\W\d_]{{2,20}}\)\s?)?"
    rf"(?P<name>{_NAME}(?:\s{_NAME}(?!\w)){{0,2}})"
)
"""Signs between title and name, chains of titles, a first name in brackets: `Dr: Quillorne`, `MrQuillorne`."""
_SMALL = re.compile(
    rf"(?<!\w)(?P<title>staff nurse|charge nurse|scrub nurse|nurse|sister|matron|midwife|professor|doctor|(?:prof|dr|mrs|mr)\b\.?)\s"
    rf"{_INITIALS}(?P<name>{_NAME}(?:\s{_NAME}(?!\w))?)"
)
_SEVERAL = re.compile(
    rf"(?<!\w)(?P<title>(?i:doctors|drs|nurses|sisters|professors|profs|midwives|messrs|surgeons))\b\.?\s{_INITIALS}(?P<name>{_NAME})"
    rf"(?P<more>(?:,\s{_INITIALS}{_NAME})*,?\s(?:and|&|und|et)\s{_INITIALS}{_NAME})"
)
_ONE_OF = re.compile(rf"(?:,|\band|&|\bund|\bet)\s(?P<name>{_INITIALS}{_NAME})")
_NOT_NAMES = word_set(
    """
    the and was has had who for with scan then said will may can not but led team call called this that his her any one it rate of
    asked called came went arrived left decided saw gave reviewed took covering performed confirmed helped agreed again after before
    also now from about were would could should did does must might and when where while
    """
)
_ROLES = {
    **dict.fromkeys(
        ("dr", "drs", "doctor", "doctors", "prof", "profs", "professor", "professors"), "the doctor"
    ),
    **dict.fromkeys(
        ("sister", "nurse", "matron", "staff nurse", "charge nurse", "scrub nurse", "sisters", "nurses"),
        "the nurse",
    ),
    **dict.fromkeys(("midwife", "midwives"), "the midwife"),
}  # fmt: skip
_SHORT = frozenset({"prof", "drs", "mrs", "dr", "mr", "ms", "mx", "sr", "profs", "messrs"})
"""A full stop behind another title ends a sentence: `I was the scrub nurse. I counted`."""
_DEGREE = re.compile(r"(?<!\w)(?:MB\s?BS|MB\s?Ch\s?B|MD|BDS|DNB|FRCS|MRCS|BSc|PhD),\s$")
"""In front of it `MS.` is the degree of a surgeon in India (common practice, no source)."""
_UPPER_WORDS = re.compile(r"[A-Z]{2,5}")


def find(text: str) -> Iterator[Span]:
    """Yield title and name together."""
    text = view(text)
    for found in _TITLED.finditer(text):
        yield from _named(text, found, _trimmed(found["name"]), 0.9)
    for found in _UPPER.finditer(text):
        if found["name"].split(" ")[0].lower() in _NOT_NAMES | {"runner", "scrub"}:
            continue  # "SCRUB NURSE AND RUNNER COUNTED"
        yield from _named(text, found, _without_words(found["name"]), 0.8)
    for found in _LOWER.finditer(text):
        if found["name"].islower() and found["name"] not in _NOT_NAMES:
            yield from _named(text, found, found["name"], 0.6)
    yield from _looser(text)
    yield from _several(text)


def _looser(text: str) -> Iterator[Span]:
    """Yield names behind other signs than a blank, and behind titles in small letters, if the guard agrees."""
    for pattern in (_LOOSE, _SMALL):
        for found in pattern.finditer(text):
            name = _trimmed(found["name"])
            first = found.start("name")
            for its in judged(text, first, first + len(name), KIND, 0.7):
                if found["title"] == "sister":  # of the ward or of the patient: the word may stay
                    yield its
                else:
                    yield from _named(text, found, name, 0.7)


def _several(text: str) -> Iterator[Span]:
    """Yield each name of `Doctors Quillorne and Vashtern`, the title with the first."""
    for found in _SEVERAL.finditer(text):
        yield from _named(text, found, found["name"], 0.8)
        for other in _ONE_OF.finditer(text, found.start("more"), found.end("more")):
            yield Span(*other.span("name"), KIND, LETTER, "[name]", 0.8)


def _named(text: str, found: re.Match[str], name: str, confidence: float) -> Iterator[Span]:
    end = found.start("name") + len(name)
    generation = _GENERATION.match(text, end)
    end = generation.end() if generation else end
    title = found["title"].lower()
    if (
        not name
        or (title not in _SHORT and text[found.end("title")] == ".")
        or (
            found["title"] == "MS"
            and (_DEGREE.search(text, max(0, found.start() - 12), found.start()) or _product(name))
        )
        or name.split(" ")[0].lower() in ("both", "and", "or")
        or name in ABBREVIATIONS
        or (title == "sister" and _eponym(text, end))
    ):
        return
    yield Span(found.start(), end, KIND, LETTER, _ROLES.get(title, "[name]"), confidence)


def _product(name: str) -> bool:
    """Whether a name begins with a device or a drug: behind `MS.` a new sentence does."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.rows import PRODUCTS
    from mmbuilder.scrub.keep.words import fold

    return load().called(fold(name.split(" ")[0])) in PRODUCTS


def _trimmed(name: str) -> str:
    """Drop an abbreviation in capitals after the name: `Dr Ross IOP`."""
    words = name.split(" ")
    while len(words) > 1 and _UPPER_WORDS.fullmatch(words[-1]) and not words[0].isupper():
        words.pop()
    return " ".join(words)


def _without_words(name: str) -> str:
    """Drop words that are no names after the first: `MRS OSKAVARN REFUSED TRANSFUSION`."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.unlisted import unlisted

    lists = load()
    words = name.split(" ")
    while len(words) > 1 and not (unlisted(words[-1], lists) or words[-1].lower() in lists.word_names):
        words.pop()
    return " ".join(words)


def _eponym(text: str, end: int) -> bool:
    following = re.match(r"[\s-]+([^\W\d_]+)", text[end : end + 30])
    return following is not None and following[1].lower() in EPONYM_NOUNS
