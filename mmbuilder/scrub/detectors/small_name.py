"""Names in small letters behind a role, a form of address or a relative, as hurried notes have them: `runner quonse`, `oa vrax`.

Nothing but the lists tells such a name from a word. Behind what only a person follows it must be on no list; behind a
part of the work (`anästhesie hofmann`) it must be on a list of names, and be no word.

Source: 45 CFR 164.514(b)(2)(i)(A), names; the cues are common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.kin import KIN as RELATIVES
from mmbuilder.scrub.kin import PATTERN as KIN
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "mtp called, runner quonse",
    "frau quenbach, knie",
    "oa vraxhelm hat operiert",
    "schwester quonila und pfleger vraxo",
    "assistent war hofmann.",
    "op war hofmann mit petra.",
    "op war quenlinger mit am haken",
    "anästhesie krüger. wunde offen",
    "ehefrau quonse informiert",
    "hca quonse, scrub vraxa",
    "wr w khalid + bex.",
    "quonse to ring the son",
    "found by vraxal pt, no pulses",
    "anä vogt. rr 60",
    "interne quonsel, iade maeva",
    "schulte operiert morgen nach",
    "knie: hofmann übernimmt",
    "mark the ODP checked it, and",
    "pt marta d2 lap chole",
    "pt quonla 10/24 post rygb",
    "ct leak. quonse hca found hr 126",
    "all done - k. mwangi rn",
)
NEAR_MISSES = (
    "checklist done by memory, seen by chance, done by hand",
    "frau blutet nach, herr doktor",
    "anästhesie komplikationslos.",
    "op war schwierig.",
    "runner counted, scrub changed",
    "assistent war da.",
    "schwester gerufen.",
    "oa informiert",
    "wife aware, son upset",
    "scrub wash, scrub top.",
    "médecine interne, interne prévenu",
    "frau kreislaufstabil.",
    "op blut.",
    "patient kommt zurück, blut kommt",
    "tochter ruft an, naht hält",
    "will the ODP come, mark the site",
    "ask the reg said no one",
    "urol to review, gynae to see, pt to ring, wound to review",
    "w traction, w lymph nodes, by hand.",
    "lives w son, home w mum.",
    "seen by ward physio, told by reg",
    "op hartmann, op whipple.",
    "pt stable 12/24 post op, pt obeyng commands",
    "seen. bank hca found hr 126, night rn gave it",
    "done - s. aureus rn",
)

_ADDRESS = r"(?:runner|circulator|scrub|hca|odp|sho|porter|frau|herrn?|hr|oa|oä|schwester|pfleger|hebamme|kollegin|kollege|interne|iade|ibode|enfermer[ao]|celador)"
_WORK = r"(?:anästhesie|anästhesist(?:in)?|narkose|operateur(?:in)?|assisten[tz](?:in)?|op|operiert\svon|chirurg(?:in)?|instrumentiert|springer|surgeon|surg|anaes|anaesthetist|assistant|assist|anesth|chir|cirujano|anestesia|ayudante)"
_END = r"(?=\s?[,.;:)/]|\s?$|\s(?:und|mit|hat|ist|war|wurde|informiert|and|w|with|\+|&|et|y)(?!\w))"
_NAME = r"(?P<name>[^\W\d_A-ZÀ-ÖØ-Þ]{4,})(?!\w)"
_CUED = re.compile(rf"(?<![\w.'’/-]){_ADDRESS}\.?\s(?:dr\.?\s)?{_NAME}{_END}", re.MULTILINE)
_RELATED = re.compile(
    rf"(?<![\w.'’/-])(?:{KIN}|ehefrau|ehemann|tochter|sohn|bruder|hija|marido|nièce|fille|fils)\s{_NAME}{_END}",
    re.MULTILINE,
)
_AT_WORK = re.compile(rf"(?<![\w.'’/-]){_WORK}(?:\s?:|\swar|\swas)?\s{_NAME}{_END}", re.MULTILINE)
_WAS = re.compile(
    rf"(?<![\w.'’/-])(?:op|operateur(?:in)?|assistent(?:in)?|assistenz|anästhesie|narkose|instrumentiert)\s(?:war|macht|machte|hat)\s{_NAME}(?=\s(?:mit|und)\s|\s?[,.;]|\s?$)",
    re.MULTILINE,
)
_SHORT = r"(?P<name>[^\W\d_A-ZÀ-ÖØ-Þ]{3,})(?!\w)"
_WITH = re.compile(
    rf"(?<![\w.'’/-])(?:w|w/|d/w|rv\sby|seen\sby|done\sby|done\sw)\s{_SHORT}(?=\s?[,.;)+&/]|\s?$|\s(?:and|then|said|who|on|at|this|in|told)(?!\w))",
    re.MULTILINE,
)
_TO_DO = re.compile(
    rf"(?:^|[.;,:]\s){_SHORT}(?=\sto\s(?:ring|chase|review|rv|call|see|book|discuss|d/w|speak|dictate|update)(?!\w))",
    re.MULTILINE,
)
_OF_A_TRADE = re.compile(
    rf"(?<![\w.'’/-])(?:w|w/|d/w|with|by|from|told|asked)\s{_SHORT}(?=\s(?:pt|ot|bcn|cns|np|pa|rn|anp|acp|phleb|physio|reg|sho|odp|hca|fy1|f1|f2|ward\sclerk|porter)(?=\s?[,.;)]|\s?$))",
    re.MULTILINE,
)
_PATIENT = re.compile(
    r"(?<![\w.'’/-])pt\s(?P<name>[^\W\d_A-ZÀ-ÖØ-Þ]{3,})(?=\s(?:(?P<told>\d{1,2}/(?:7|12|24|52)|\d{1,2}\s?[mfy](?!\w)|bed\s\d|in\sbed)|d\d|post|[a-z/]+)|\s?[,.(]|$)",
    re.MULTILINE,
)
"""Of a name on no list, time or bed behind it tells as well."""
_AT_THE_HEAD = re.compile(
    r"(?:^|[.;,:]\s|\s-\s)(?P<name>(?P<initial>[a-z]\.?\s)?(?P<last>[^\W\d_A-ZÀ-ÖØ-Þ]{3,}))(?=,?\s(?:hca|hcsw|rn|sn|odp|rm|rmn|een)(?:\s?[,.;]|\s?$|\s(?:found|gave|said|noticed|told|took|rang|called|checked|saw|came|and|with|present|aware|informed|held|counted)(?!\w)))",
    re.MULTILINE,
)
"""At the head of a sentence before a trade that acts, or at its end as who wrote it."""
_ANAES = re.compile(
    rf"(?<![\w.'’/-])(?:anä|anäs|anästh|anaes|anesth|gas)\.?\s?:?\s{_NAME}{_END}", re.MULTILINE
)
"""No operation of anaesthetists is called after anybody: an eponym behind it is somebody (`anä vogt`, but `op hartmann`)."""
_SPECIALTIES = (
    "urol",
    "haem",
    "hem",
    "ortho",
    "neuro",
    "cardi",
    "resp",
    "gastro",
    "derm",
    "rheum",
    "endo",
    "micro",
    "path",
    "radiol",
    "onc",
    "pall",
    "obs",
    "gyn",
    "paed",
    "ped",
    "psych",
    "vasc",
    "plast",
    "pharm",
    "diet",
    "phys",
    "neph",
    "ophth",
    "gen",
    "trauma",
    "max",
    "surg",
    "med",
    "anaes",
    "icu",
    "itu",
    "hdu",
    "crit",
    "stoma",
    "pain",
    "derma",
)
"""How short forms of specialties open, on no list: `urol to review`."""
_BESIDE = re.compile(rf"\s(?:mit|und|with|and|w|\+|&|et|y)\s{_NAME}{_END}", re.MULTILINE)

_ACTING = re.compile(
    rf"(?:^|[.;,:]\s){_NAME}(?=\s(?:operierte?|übernimmt|übernahm|assistierte?|assistiert\shat|ruft\san|rief\san|sagte?|meinte?|schließt|entscheidet|informiert|weiß\sbescheid|kommt\s(?:dazu|nach|gleich)|opère|arrive|prévient|opera|avisa|viene)(?!\w))",
    re.MULTILINE,
)
_APPOSED = re.compile(
    r"(?:^|[.;,:]\s|\band\s)(?P<name>[^\W\d_]{3,}),?\sthe\s(?:ODP|HCA|reg|registrar|SHO|F1|F2|scrub(?:\snurse)?|anaesthetist|physio|porter|runner|midwife|rep|consultant|matron)"
    r"\s(?:checked|said|came|had|was|gave|held|did|took|rang|called|asked|opened|counted|noticed|saw|went|scrubbed)(?!\w)",
    re.MULTILINE,
)
"""Who is told by the work, and acts: `mark the ODP checked`."""


_MEANS = frozenset({"memory", "chance", "heart", "luck", "faith", "rote", "grace"})
"""What something is done by, which somebody may be called as well."""


def find(text: str) -> Iterator[Span]:
    """Yield names behind the cue, and who is named beside one."""
    for pattern, told in ((_CUED, _no_word), (_WAS, _no_word), (_RELATED, _no_word), (_AT_WORK, _a_name)):
        for found in pattern.finditer(text):
            if told(found["name"]):
                yield span(found, KIND, LETTER, "[name]", 0.76, "name")
                beside = _BESIDE.match(text, found.end("name"))
                if beside and _a_name(beside["name"]):
                    yield span(beside, KIND, LETTER, "[name]", 0.76, "name")
    for pattern in (_WITH, _TO_DO, _OF_A_TRADE):
        for found in pattern.finditer(text):
            said = found["name"]
            if said in RELATIVES or said in _MEANS or said.startswith(_SPECIALTIES):
                continue
            if _a_name(said) or (pattern is not _WITH and _no_word(said)):
                yield span(found, KIND, LETTER, "[name]", 0.76, "name")
                beside = _BESIDE.match(text, found.end("name"))
                if beside and _a_name(beside["name"]):
                    yield span(beside, KIND, LETTER, "[name]", 0.76, "name")
    for found in _ANAES.finditer(text):
        plain = fold(found["name"])
        if load().borne(plain) and plain in load().eponym_words and not load().known(plain):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")
    for found in _PATIENT.finditer(text):
        said = found["name"]
        if said not in RELATIVES and (_a_name(said) or (found["told"] and _no_word(said))):
            yield span(found, KIND, LETTER, "[name]", 0.76, "name")
    for found in _AT_THE_HEAD.finditer(text):
        last = found["last"]
        if last not in RELATIVES and (_a_name(last) or (not found["initial"] and _no_word(last))):
            yield span(found, KIND, LETTER, "[name]", 0.76, "name")
    for found in _ACTING.finditer(text):
        if _a_name(found["name"]):
            yield span(found, KIND, LETTER, "[name]", 0.76, "name")
    for found in _APPOSED.finditer(text):
        if load().borne(fold(found["name"])):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")


def _no_word(word: str) -> bool:
    lists, plain = load(), fold(word)
    if plain in lists.foreign or lists.ended_abroad(plain):
        return False
    return unlisted(word, lists) and not plain.endswith(_OF_WORDS)


_OF_WORDS = (
    "t",
    "en",
    "ig",
    "lich",
    "los",
    "bar",
    "stabil",
    "sam",
    "ung",
    "é",
    "ée",
    "ado",
    "ada",
    "ed",
    "ing",
    "ly",
    "ible",
    "able",
    "ic",
    "ous",
)
"""How words end that no list has, more often than names do."""


def _a_name(word: str) -> bool:
    """Whether a word is somebody's name, and seldom a word."""
    lists, plain = load(), fold(word)
    if plain in lists.foreign and plain not in lists.word_names:
        return False
    return lists.borne(plain) and not lists.known(plain) and plain not in lists.eponym_words
