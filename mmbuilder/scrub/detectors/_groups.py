"""A number as a whole: the groups of figures and the letters that are written beside it, and which letters are none of its own."""

from __future__ import annotations

import re

from mmbuilder.scrub.detectors._quantity import AFTER_A_VALUE, measured
from mmbuilder.scrub.words import word_set

NO_TIME_OF_A_LINE = r"(?!(?<=\n)(?:[01]\d|2[0-3])[0-5]\d(?!\d))"
"""A new line that opens with a time of day is a new entry of a chart."""
_LETTERS_BEFORE = re.compile(r"(?<![\w.-])(?P<letters>[A-Z]{2,5}-[A-Z]{2,5}|[A-Z]{1,5}|[a-z]{2,4})\s$")
_LETTERS_AFTER = re.compile(
    r"[^\S\n](?:(?![FM]\s[1-8]?\d(?!\d))[A-Z](?![\w.'’&/-])|[A-Z]{2}(?=\s?[,;.)]|(?m:$))|[a-z](?=\s?[,;.)]|(?m:$)))"
)
_NEXT = re.compile(
    rf"(?:\s|\s?[/-]\s){NO_TIME_OF_A_LINE}(?P<said>\d{{1,8}}(?:-\d{{1,2}})?|[A-Z]{{0,3}}\d[A-Z\d]{{1,6}}|[A-Z]\d)(?![\w%]|[.,:/-]\d){AFTER_A_VALUE}"
)
_ITS_NEXT = re.compile(
    rf"(?:\s?[,/]\s?|\s(?:and|&|y|und|et|to|bis)\s)[-–]\d{{1,4}}(?![\w%]|[.,:/-]\d){AFTER_A_VALUE}"
)
"""The last figures of the next number: `0044177 y -78`."""
_BEFORE = re.compile(r"(?<![\w.,:/-])(?P<said>\d{2,6}|[A-Za-z]{1,3}\d{2,6})(?:\s|\s[/-]\s)$")


_LETTERS = 13
"""Characters before a number in which its letters stand."""


def whole(text: str, start: int, end: int) -> tuple[int, int]:
    """A number with the groups and letters that are written beside it: `2951 60418 1 / 2`."""
    while found := _NEXT.match(text, end):
        end = found.end()
    if found := _LETTERS_AFTER.match(text, end):
        end = found.end()
    if found := _ITS_NEXT.match(text, end):
        end = found.end()
    for _ in range(4):
        found = _BEFORE.search(text, max(0, start - 14), start)
        if not found or measured(text, found.start("said"), found.end("said")):
            break
        start = found.start()
    found = _LETTERS_BEFORE.search(text, max(0, start - _LETTERS), start)
    own = found is not None and not all(map(known, found["letters"].split("-")))
    return (found.start() if found and own else start), end


def known(letters: str) -> bool:
    """Whether letters before a figure are an abbreviation, a measure or a word of the clinic."""
    from mmbuilder.scrub.detectors.homely_place import known_letters

    if len(letters) < 2:
        return letters in _SINGLE
    return letters in _MEASURED or letters in _CUES or known_letters(letters.upper())


_SINGLE = frozenset("TLCSP")
"""Letters that open a level, a stage or a score by themselves."""
_CUES = word_set(
    "HCPC GMC NMC GDC GPHC NPI DEA LANR RPPS MRN UMRN UHID EMPI CHI NHI NHS SSN NINO IMEI UDI UBRN UPRN PIN IHI NIR DNI NIE BSN CPF CURP RUT PESEL AMKA PHN IP"
)
"""What says which number it is stays."""
_MEASURED = word_set("CK CPK BNP AFP CEA LDH ALT AST HIV CMV EBV PMID OMIM PEG CT MR Hb WCC PLT UO FR SC")
