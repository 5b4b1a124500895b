"""Listed towns where something tells that a town is meant: `sent to Oxford yesterday`, `the Chelmsford vascular team`.

A name that is no word beside needs little; one that is (`Bath`, `Oxford` of the knee score) needs a cue that only a
place has, and nothing behind it that it could belong to. Before a team that is called by it, a word on no list at
all is a name as well.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; the names are those of GeoNames (`keep/towns.py`), the
cues are common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._of_place import (
    AT,
    CAP,
    GOING,
    clinical,
    followed_by_no_noun,
    of_any_house,
    plain_of_a_place,
    shortened,
)
from mmbuilder.scrub.detectors._tail import with_town
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.passage import term_around
from mmbuilder.scrub.keep.towns import towns
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import phrase
from mmbuilder.scrub.kin import PATTERN as KIN
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "Ross procedure 2004 in Preston (private)",
    "sent to Oxford yesterday",
    "Sent to Bury for a second opinion",
    "Sent to Oxford for a second opinion.",
    "transferred from Swansea overnight",
    "lives in Bath with her son",
    "referred by the GP in York.",
    "flew home to Liverpool on day 9",
    "CT done in Lancaster showed free air",
    "came from Kingston upon Hull by road",
    "The Chelmsford team declined",
    "Sohn aus Uelzen will Arzt sprechen",
    "home Yakima tomorrow",
    "Quenby Memorial, Uelzen",
    "Prof Quenby (Concord) attended",
    "rang the HPB team at Aintree, no bed",
    "Basingstoke vascular on call asked for CTA",
    "the Bath registrar came over",
    "Vraxholm bed manager had no bed",
    "the Quennisport liver unit took him",
    "oesophagectomy in Aberdeen, chyle leak day 4",
    "daughter in Cardiff, son Glyn in Oswestry.",
)
NEAR_MISSES = (
    "Oxford knee score 22",
    "Grading nach Elston, score de Elston",
    "the plan (Reading) and the team (Bath)",
    "at McBurney, at Luschka.",
    "according to Milan and UCSF criteria",
    "graded by Boston bowel preparation",
    "brought to Theatre and anaesthetised",
    "moved to Recovery at once",
    "The Vascular team declined",
    "The Airway team was called",
    "The WHO team brief was done",
    "Medtronic team in theatre",
    "Am Ende der Operation",
    "im Zug der Narkose",
    "seen in Paris III hernia",
    "Liverpool Care Pathway was begun",
    "back to Bristol stool 4",
    "our team and their registrar",
    "referred to SALT",
    "fall in Glasgow, colectomy in Crohn's",
    "ileostomy in Trendelenburg, angiogram in Takayasu.",
    "her son in Theatre, his wife in Recovery.",
)

_JOIN = r"[\s-](?:(?:upon|on|under|in|by|le|la|les|de|del|the|an\sder|am)[\s-])?"
_RUN = rf"(?:St\.?\s)?{CAP}(?:{_JOIN}(?:St\.?\s)?{CAP}){{0,3}}"
_DONE = r"[^\W\d_]{2,}(?:ectomy|ostomy|otomy|plasty|oscopy|graphy|gram|bypass|repair|graft)|EUS|ERCP|PCI|TAVI|CABG"
"""What is done to somebody, and somewhere: `oesophagectomy in Aberdeen`."""
_YEAR_IN = r"(?<![\w.,/-])(?:19|20)\d\d\s(?:in|at)"
"""Behind a year, something was done there: `Ross procedure 2004 in Quentown`."""
_BEHIND = re.compile(rf"(?:(?P<going>{GOING}|{_YEAR_IN})|(?<!\w)(?i:{AT}))\s(?P<run>{_RUN})(?!\w)")
_OF_A_TEAM = re.compile(
    rf"(?<![\w.'’-])(?P<run>{_RUN})\s(?i:(?:(?:vascular|transplant|hepatobiliary|hpb|liver|pancreatic|upper\sgi|colorectal|neuro(?:surgical|surgery)?|cardiac"
    r"|cardiothoracic|thoracic|paediatric|pediatric|burns|plastics|spinal|trauma|stroke|obstetric|renal|urology|retrieval|surgical|medical|critical\scare"
    r"|icu|itu|nicu|picu|ecmo|anaesthetic|radiology|ir|bariatric|ent|max\sfax|eye|air\sambulance|gen\ssurg|ortho)\s){0,2}"
    r"(?:team|on[ -]call|registrar|reg|spr|consultant|cons|surgeons?|switchboard|bed\smanager|colleagues|guys|unit|crew))(?!\w)(?!-)"
)
_ABROAD = re.compile(
    rf"(?<!\w)(?:aus|in|à|en|desde|hacia|hasta|vers|ex|tfr|via|(?:verlegt|verlegung|gefahren|zurück|transport)\snach|(?:viene|vient|llega|procede|arrive|natural|originaire)\sd[eu])\s(?P<run>{_RUN})(?!\w)(?!['’-]\w)"
)
_HOME = re.compile(rf"(?<!\w)(?:home|d/c|discharged?)\s(?:to\s)?(?P<run>{_RUN})(?!\w)(?!['’-]\w)")
_LAST_OF_LINE = re.compile(
    rf"(?:Hosp(?:ital)?|Memorial|Private|ICU|Clinic|Street|St|Road|Rd|Lane|Avenue|Ave|House|Cottage|Farm|Court|Surgery|Cent(?:re|er)|University|Infirmary|Practice|School|Klinik(?:um)?|Krankenhaus|Spital|straße|str\.|weg|gasse|\d[A-Za-z]?),\s(?P<run>{_RUN})(?=\s?$|\s{{2}}|\s?[;)])",
    re.MULTILINE,
)
"""Where an address or a letterhead ends: `Quenby Memorial, Ottawa`."""
_OF_SOMEBODY = re.compile(
    rf"(?<!\w)(?:Dr|Mr|Mrs|Ms|Miss|Prof|Professor|Sr|Dra?|Mme|Herr|Frau)\.?\s{CAP}(?:\s{CAP})?\s\((?P<run>{_RUN})\)"
)
"""Where somebody works, in brackets behind the name: `Prof Crowe (Concord)`."""
_AT_AN_EPONYM = re.compile(
    rf"(?<!\w)(?:at|(?:{_DONE}|(?i:{KIN})(?:\s{CAP}){{0,2}})\s(?:at|in))\s(?P<run>{CAP})(?=\s?[,.;:)]|\s?$|\s(?:and|last|next|who|for)\b)",
    re.MULTILINE,
)
"""A town that has given its name to a thing is no thing where something ends behind it: `HPB at Aintree,`, `a son in Cardiff.`"""
SURE = 0.86
"""The words beside do not outweigh it (`judged.WEAK`)."""
IN_AN_ADDRESS = 0.7
"""Where the town goes on with its state and code, these tell what it is."""


def find(text: str) -> Iterator[Span]:
    """Yield towns behind a preposition or a cue, and before a team that bears their name."""
    for found in _BEHIND.finditer(text):
        if end := _end(text, *found.span("run"), strong=found["going"] is not None):
            further = with_town(text, end) != end
            yield Span(found.start("run"), end, KIND, LETTER, "[place]", IN_AN_ADDRESS if further else SURE)
    for found in _ABROAD.finditer(text):
        if end := _end(text, *found.span("run"), strong=False):
            yield Span(found.start("run"), end, KIND, LETTER, "[place]", IN_AN_ADDRESS)
    for pattern in (_HOME, _LAST_OF_LINE):
        for found in pattern.finditer(text):
            if _no_term(phrase(found["run"])) and not text.isupper():
                yield Span(*found.span("run"), KIND, LETTER, "[place]", IN_AN_ADDRESS)
    for found in _OF_SOMEBODY.finditer(text):
        if phrase(found["run"]) in towns() and not term_around(text, *found.span("run")):
            yield Span(*found.span("run"), KIND, LETTER, "[place]", SURE)
    for found in _AT_AN_EPONYM.finditer(text):
        name = phrase(found["run"])
        if name in towns() and name in load().eponym_words and not load().borne(name):
            yield Span(*found.span("run"), KIND, LETTER, "[place]", SURE)
    for found in _OF_A_TEAM.finditer(text):
        start, end = _bare(text, *found.span("run"))
        if start < end and _bears_a_town(text, start, end):
            yield Span(start, end, KIND, LETTER, "[place]", SURE)


def _end(text: str, start: int, end: int, *, strong: bool) -> int | None:
    """Where the longest town that begins at `start` ends; one that is a word beside counts where the cue is strong."""
    for last in shortened(text, start, end):
        name = phrase(text[start:last])
        if name in towns() and (_no_word(name) or (strong and _alone(text, start, last))):
            return None if term_around(text, start, last) else last
    return None


def _no_word(name: str) -> bool:
    """Whether a name of a town is nothing beside: of several words, or on no list of words."""
    lists = load()
    if " " in name:
        return name not in lists.terms
    return len(name) >= _TELLING and name not in lists.foreign and unlisted(name, lists)


def _no_term(name: str) -> bool:
    """Whether a name of a town is no term of the clinic, no chosen word and no eponym, though a dictionary may have it."""
    lists = load()
    told = lists.called(name) is not None or name in lists.foreign or name in lists.eponym_words
    return name in towns() and len(name) > _TELLING and not told and name not in lists.months


_TELLING = 4
"""Letters of a name that is no word by chance."""


def _alone(text: str, start: int, end: int) -> bool:
    return not of_any_house(text[start:end]) and followed_by_no_noun(text, end)


def _bare(text: str, start: int, end: int) -> tuple[int, int]:
    """A name without what opens the sentence before it: `The Chelmsford`, `Discussed with` has no capital."""
    opening = re.match(r"(?:The|A|An|Our|Their|From|To|In|At|By|Then|When|Once|After)\s", text[start:end])
    return start + (opening.end() if opening else 0), end


def _bears_a_town(text: str, start: int, end: int) -> bool:
    name, lists = phrase(text[start:end]), load()
    if text[start:end].isupper() or plain_of_a_place(name) or term_around(text, start, end):
        return False
    if name in towns() and (_no_word(name) or name in lists.eponym_words):
        return True
    opens = not text[:start].rstrip() or text[:start].rstrip()[-1] in ".:;!?\n"
    if name in towns() and not opens and not clinical(name):
        return True
    return " " not in name and len(name) > _TELLING and unlisted(name, lists)
