"""Names beside a grade or an office that only people have: `RN Quenby called`, `SHO Hand`, `Pfarrer Vrax`, `(Quenby, PGY-3)`, `Vraxley ST4`.

A cue as sure as these makes a name of what may be a word too, unless what follows makes a thing of it: `RN Hand hygiene`.

Source: 45 CFR 164.514(b)(2)(i)(A), names, also of staff as this house has it; the grades are common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._called import may_be_called
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "RN Quenby called x3",
    "RN PAGE CALLED X3, NO CALLBACK",
    "seen by SHO Hand at 0310",
    "FY1 Dot to chase",
    "informed F2 Vraxley",
    "PGY4 QUENBY",
    "Seelsorge Pfarrer Vrax 13:10",
    "Pastor Vrax at the bedside",
    "surgery (Quenby, PGY-3) to see",
    "Vraxley ST4 assisted",
    "team: Quonse (med reg), Tilly F1",
    "HO Pike, cardiology echo",
    "ODP Gaz held cricoid",
    "Quonse (SpR) scrubbed",
    "Detective Vrax rang",
    "round: Vrax/Quonse/FY1 Dot",
)
NEAR_MISSES = (
    "RN Hand hygiene audit",
    "SHO Long day shift",
    "SHO Call room",
    "ODP Cover came from bank, RN Ratio was low",
    "RN Home visit",
    "RN CALLED AT 0310",
    "FY1 Bloods done",
    "ST4 Trauma list",
    "surgery (Consultant, ST7) to see",
    "Plan (med reg)",
    "Bloods F1",
    "Ward (SHO) aware",
    "NP Swab taken",
    "Grade ST2",
    "V4 ST2 mm",
    "Weber F1",
    "Stage F2 fibrosis, Metavir F2",
)

_GRADE = r"(?:FY[12]|F[12]|SHO|HO|SpR|StR|CT[1-3]|CST|ST[1-8]|PGY[\s-]?[1-7]|MIR|RN|LPN|CRNA|S/N|N/S|HCA|ODP|ANP|ACP|TVN|BCN|CNS|IADE|IBODE|PJler(?:in)?|FJ|MTA|OTA|ATA)"
_OFFICE = (
    r"(?:Pfarrer(?:in)?|Pastor(?:in)?|Kaplan|Pater|Abbé|Imam|Rabbi(?:ner)?|Reverend|Rev|Vicar|Chaplain|Detective|Inspector|Constable|Sergeant|Sgt|Kommissar(?:in)?"
    r"|Senator|Councillor|Cllr|Coroner|Magistrate|Notar|Maître|PC|DC|DS)"
)
_CAP = r"(?:[^\W\d_a-zß-öø-ÿ][^\W\d_]+(?:['’-][^\W\d_]+)*)"
_BEFORE = re.compile(
    rf"(?<![\w-])(?:{_GRADE}|{_OFFICE}\.?)\s(?:[A-Z]\.?\s)?(?P<name>(?P<first>{_CAP})(?:\s(?P<last>{_CAP}))?)(?![\w-])"
)
_BEHIND = re.compile(
    rf"(?<![\w.'’-])(?P<name>{_CAP})(?:,?\s\((?:{_GRADE}|(?:[a-z]{{2,9}}\s)?(?:reg|registrar|cons|consultant|fellow|resident|trainee))\)|,?\s(?:{_GRADE})(?=[,.;)]|$|\s(?:to|and|on|at|assisted|scrubbed|called|informed|aware)\b))",
    re.MULTILINE,
)
_A_THING = re.compile(r"\s[^\W\d_]")
_ACTS = re.compile(
    r"\s(?:to|at|on|and|then|in|off|from|with|for|is|was|had|has|who|by|said|says|gave|saw|did|came|went|took|rang|called|asked|told|paged|bleeped|noticed|found|assisted|scrubbed|aware|informed|present|took)(?!\w)",
    re.IGNORECASE,
)
_DEED = re.compile(
    r"\s(?:held|gave|said|rang|took|saw|found|noticed|told|asked|called|scrubbed|drew|passed|fetched|came)(?!\w)"
)
"""What only somebody does."""


def find(text: str) -> Iterator[Span]:
    """Yield the name; the grade stays."""
    for found in _BEFORE.finditer(text):
        first, last = found["first"], found["last"]
        given = first.istitle() and fold(first) in load().given
        if not (
            given or may_be_called(first) or (_short_name(first) and _DEED.match(text, found.end("first")))
        ):
            continue
        if last and may_be_called(last):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")
        elif _DEED.match(text, found.end("first")) or not _a_thing(text, found):
            yield span(found, KIND, LETTER, "[name]", 0.86, "first")
    for found in _BEHIND.finditer(text):
        if may_be_called(found["name"]) and not _more_a_word(fold(found["name"])):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")


def _short_name(word: str) -> bool:
    """Whether a word of three or four letters is one that no English sentence has: `Gaz`."""
    plain, lists = fold(word), load()
    told = plain in lists.heads or plain in lists.roles or plain.upper() in ABBREVIATIONS
    return word.istitle() and len(word) <= _SHORT and not lists.plain_word(plain) and not told


_SHORT = 4


def _more_a_word(plain: str) -> bool:
    lists = load()
    return plain in lists.eponym_words or (plain in lists.word_names and plain not in lists.given)


def _a_thing(text: str, found: re.Match[str]) -> bool:
    """Whether a name that is a word stands before a noun: `RN Hand hygiene`."""
    plain, lists = fold(found["first"]), load()
    if not (lists.known(plain) or plain in lists.word_names or plain in lists.eponym_words):
        return False
    end = found.end("first")
    return _A_THING.match(text, end) is not None and not _ACTS.match(text, end)
