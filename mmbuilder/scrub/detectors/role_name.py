"""Names announced by a role, a family word or a word of the ward: `scrub nurse Maria`, `d/w Kowalski`, `wife Margaret`.

The keep-guard decides about each: `assistant Foley catheter` is no person. Cue words are English, Spanish,
German, French and Hindi-English.

Source: 45 CFR 164.514(b)(2)(i)(A), names, also of relatives and staff; the cue words are common practice.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._person import NAME, judged
from mmbuilder.scrub.kin import PATTERN as KIN
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "scrub nurse Mirelle opened it",
    "signed: J. Quillorne",
    "cc Oskavarn",
    "d/w Velkonar at 02:10",
    "pt Jorin was cold",
    "wife Margrethe was told",
    "Assistants: Quorrin, Belvash",
    "Operateur: Quorrin, Assistenz: Belvash",
    "Frau Oskavarn hatte Schmerzen",
    "Sra. Quillorne",
    "Smt. Velkonar",
    "Anästhesie: FÄ Velkonar-Quorrin.",
    "Cirujana: Dra. Quillorne. Ayudante: residente",
    "ODP Quorrin drew it up",
    "Visite OA Quorrin",
    "SURG: QUORRIN / VRAX",
    "pt velkonar quorrin c/o pain",
    "Velkonar's list overran",
    "Quillorne ji ki haemoglobin kam thi",
    "C/o Md. Quillorne, a contact",
    "Signed: Ll. Quillorne",
    "Kit's parents brought him",
    "Health visitor Quorra was told",
    "interpreter: Velkonar",
)
NEAR_MISSES = (
    "the surgeon asked for a Foley catheter",
    "assistant Deaver retractor held",
    "patient Hb 71 and INR 2",
    "cc of saline 5",
    "signed consent form",
    "nurse specialist clinic",
    "patient Blood Management",
    "consultant Fuchs dystrophy opinion",
    "daughter cells",
    "mother and baby",
    "pt alert and orientated",
    "the patient may need help",
    "lives with her son. Enhanced recovery, expected home Day 4",
    "PORT EX, ANALFISTEL, SCHLUSS",
    "RETIRAR SI MENOS DE 30 CC. NOLOTIL ALTERNO",
    "der Arzt, Zeit und Unterschrift",
    "Anaes: ASA IIIE, spinal",
    "PT FOUND UNRESPONSIVE",
    "OA Knie beidseits, hip OA",
    "Consultant Colorectal Surgeon",
    "Consultant Oncoplastic Breast Surgeon, Registrar Cardiothoracic",
    "Baby's mother rang. Patient's mum came. Child's father cried",
    "Lynch's sister marker",
    "social worker Referral, dietitian Review",
)

_ROLE = (
    r"scrub(?:\snurse)?|circulating\snurse|staff\snurse|nurse|runner|surgeons?|anaesthetists?|anesthesiologists?|anaesthetics?\sby"
    r"|anaes|assistants?|asst|registrar|reg|consultant(?:\son\scall)?|cons|trainee|fellow|resident|intern|locum|ODP|ODA|midwife|matron|sister"
    r"|operators?|supervisor|radiographer|radiologist|perfusionist|physio|pharmacist|porter|coordinator|theatre\slead|GP"
    r"|surg(?=\s?:)|patient(?:\sname)?|pt|name|witness(?:ed\sby)?|presenter|author|dictated\sby|reported\sby|seen\sby|reviewed\sby|referred\sby"
    r"|(?:health|prison)\svisitor|HV|die(?:tit|tici)an|interpreter|social\sworker|link\sworker|play\s(?:specialist|leader)|sonographer|phlebotomist|paramedic|receptionist|ward\sclerk|secretary|advocate"
    r"|operated\sby|performed\sby|assisted\sby|handover\s(?:from|to)|handed\sover\s(?:from|to)|spoke\s(?:to|with)|discussed\swith|named"
)
_KIN = KIN + r"|spokesperson|baby|family\sof"
_ATTEND = r"(?:present|apologies|attendees|attending|in\sattendance|team|staff|chair|minutes|transfer\scent(?:er|re)|handover)(?=\s?:)"
_WARD = r"d/w|dw|rv|cc|c\.c\.|signed(?:\sby)?|sgd|attn|c/o\sDr|paged|bleeped|told|asked|thanks\sto|escalated\sto|rang"
_ABROAD = (
    r"Cirujan[oa]|Matrona|Residente|Auxiliar|Celador|Infermier[ea]|Ostetrica|Chirurgo|Médic[oa]|Cirurgi[ãa]o?|Enfermeir[oa]|Filh[oa]|Figli[oa]|Moglie|Marito|Lekarz|Pielęgniarka|Sage-femme|Kinésithérapeute|Interne|Anestesista|Enfermer[oa]|Paciente|Marido|Espos[oa]|Hij[oa]|Madre|Padre|Señora?|Sra?|Dña|Doña|Dra|firmado"
    r"|OA|OÄ|FÄ|Oberarzt|Oberärztin|Assistenzarzt|Assistenzärztin|AvD|Stationsarzt|Chefarzt|Primar|Operateur(?:in)?|Chirurg(?:in)?|Assistenz|Anästhesist(?:in)?|Schwester|Hebamme|Pfleger(?:in)?|Arzt|Ärztin|Pflegekraft|Patient(?:in)?|Ehefrau|Ehemann|Tochter|Sohn|Frau|Herrn?|gez"
    r"|Chirurgien(?:ne)?|Anesthésiste|Infirmi(?:er|ère)|Patiente|Épou(?:x|se)|Fille|Fils|Mari|Mme|Mlle|Monsieur|Madame|docteur|signé"
    r"|Smt|Shri|Md|Shrimati|Kumari|mareez|patni|pati|beti|beta"
)
_LINK = r"(?:\s?[:(]|\.|,)?\s{1,2}|\s?:\s{0,2}|,\s|\s\("
_LIST = rf"{NAME}(?:(?:,\s|\s(?:and|und|y|et|&|/)\s)(?!(?i:{_ROLE}|{_KIN})\b|(?:{_ABROAD})\b){NAME}){{0,9}}"
_CUED = re.compile(
    rf"(?<![^\W_])(?P<cue>(?i:{_ROLE}|{_KIN}|{_WARD}|{_ATTEND})|{_ABROAD})(?P<link>{_LINK})(?!ASA\s|(?:Dra|Dña|Sra|Srta|Mme|Mlle|Frau|Hr)\.?\s)(?P<name>{_LIST})(?![\w])",
    re.UNICODE,
)
_SHORTENED = frozenset(
    (
        "anaes",
        "asst",
        "reg",
        "cons",
        "pt",
        "sr",
        "sra",
        "dña",
        "dra",
        "gez",
        "mme",
        "mlle",
        "frl",
        "sgd",
        "attn",
        "smt",
        "cc",
        "dw",
    )
)
"""Cues that end in a dot as they are written; after another a dot ends the sentence: `her son. Enhanced recovery`."""
_SMALL = re.compile(
    r"(?<![^\W_])(?:pt|patient\sname|name|d/w|mr|mrs|ms|miss)(?:\s?:)?\s(?P<name>(?:[a-z]\.\s?){0,2}[^\W\d_A-Z]{3,}(?:\s[^\W\d_A-Z]{3,})?)(?=\s(?:c/o|had|has|was|is|came|said|self|for|seen|admitted|fell|dna)\b)"
)
_THEIRS = re.compile(
    rf"(?<![\w.'’-])(?P<name>{NAME})['’]s\s(?:list|patient|clinic|team|operation|case|secretary|rota|shift)(?!\w)"
)
_WHOSE = re.compile(
    r"(?<![\w.'’-])(?P<name>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]{2,})['’]s\s(?:parents|mum|mam|mom|dad|mother|father|wife|husband|partner|daughter|son|sister|brother|gran|nan|grandmother|granddad|grandad|auntie|carers?)(?![\w-])"
)
_MOHAMMED = re.compile(rf"(?<![\w.'’-])(?P<name>(?:Mohd|Md)\.\s{NAME})(?!\w)")
"""The given name as South Asia shortens it, which is no title."""
_JI = re.compile(rf"(?<![\w.'’-])(?P<name>{NAME})(?=[\s-]ji(?!\w))")


def _written_as_a_word(cue: str) -> bool:
    """Whether a cue is in small letters, in capitals, or opens with one."""
    return cue.islower() or cue.isupper() or cue[1:].islower() or not cue.isalpha()


def _parted(text: str, found: re.Match[str]) -> bool:
    """Whether a cue is another word: a drain that is out (`PORT EX, ANALFISTEL`), millilitres (`30 CC. NOLOTIL`)."""
    cue = found["cue"].lower()
    if cue == "ex":
        return "," in found["link"]
    return cue == "cc" and text[: found.start()].rstrip()[-1:].isdigit()


def _of_no_list(name: str) -> bool:
    """Whether the words of a name among capitals are names or on no list."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.unlisted import unlisted
    from mmbuilder.scrub.keep.words import fold

    lists = load()
    words = re.findall(r"[^\W\d_]{3,}", name)
    return any(
        unlisted(word, lists) or (fold(word) in lists.given and not lists.known(fold(word))) for word in words
    )


def _does(cue: str, name: str) -> bool:
    """Whether what stands behind a patient, among capitals, is what became of them: a word that nobody bears."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    first = fold(re.findall(r"[^\W\d_]+", name)[0])
    return cue.lower() in ("pt", "patient") and load().known(first) and not load().borne(first)


_RANKS = frozenset({"consultant", "cons", "registrar", "reg", "fellow", "trainee", "resident", "locum"})
_OF_A_TRADE = re.compile(
    r"\W+(?:[^\W\d_]+\s)?(?:surgeon|anaesthetist|anesthesiologist|physician|radiologist|oncologist|nurse|midwife|pharmacist)s?\b",
    re.IGNORECASE,
)


def _specialty(text: str, found: re.Match[str], name: re.Match[str]) -> bool:
    """Whether what stands behind a rank is a specialty, which nobody bears: `Consultant Colorectal Surgeon`."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    if found["cue"].lower() not in _RANKS:
        return False
    word, lists = re.findall(r"[^\W\d_]+", name[0])[0], load()
    end = found.start("name") + name.start() + len(word)
    told = lists.known(fold(word)) or _OF_A_TRADE.match(text, end) is not None
    return told and not lists.borne(fold(word))


def _a_day(name: str) -> bool:
    """Whether a list or a clinic is told by its day: `Monday's list`."""
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    return fold(name) in load().months


def _a_given_name(word: str) -> bool:
    """Whether somebody has a word for a first name, and no eponym is called so: `Kit`, not `Lynch`."""
    from mmbuilder.scrub.detectors._called import may_be_called
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    lists, plain = load(), fold(word)
    return plain in lists.given and plain not in lists.eponym_words and may_be_called(word)


def _line(text: str, at: int) -> str:
    """The line that a place is in."""
    end = text.find("\n", at)
    return text[text.rfind("\n", 0, at) + 1 : end if end >= 0 else len(text)]


def find(text: str) -> Iterator[Span]:
    """Yield each name by itself; the cue stays."""
    for pattern in (_CUED, _THEIRS, _JI):
        for found in pattern.finditer(text):
            if pattern is _CUED and not _written_as_a_word(found["cue"]):
                continue  # "MoM, Co 14 Cr 9": metal on metal
            if pattern is _CUED and "." in found["link"] and found["cue"].lower() not in _SHORTENED:
                continue
            if pattern is _CUED and _parted(text, found):
                continue
            capitals = _line(text, found.start()).isupper()
            for at, name in enumerate(re.finditer(NAME, found["name"])):
                if pattern is _THEIRS and _a_day(name[0]):
                    continue
                if pattern is _CUED and _specialty(text, found, name):
                    break
                if capitals and (_does(found["cue"], name[0]) or (at and not _of_no_list(name[0]))):
                    break  # "WITNESS ABRAHAM SITHOLE, CELL SAVER OK", "PT FOUND UNRESPONSIVE"
                start = found.start("name")
                yield from judged(text, start + name.start(), start + name.end(), KIND, 0.85)
    for found in _WHOSE.finditer(text):
        if _a_given_name(found["name"]):
            yield Span(*found.span("name"), KIND, LETTER, "[name]", 0.86)
    for found in _MOHAMMED.finditer(text):
        yield Span(*found.span("name"), KIND, LETTER, "[name]", 0.85)
    for found in _SMALL.finditer(text):
        yield from judged(text, *found.span("name"), KIND, 0.7, small=True)
