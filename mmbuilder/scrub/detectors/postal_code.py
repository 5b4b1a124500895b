"""Postal codes: by full form (United Kingdom, Canada), by state (United States), by word (all others).

Source: 45 CFR 164.514(b)(2)(i)(B); BS 7666 form of the UK postcode; Canada Post (letters D, F, I, O, Q and U
are not used). Both forms from memory. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "postal code"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B); BS 7666"
EXAMPLES = (
    "Post code ZZ9 7TF",
    "lives at ZZ99 3WZ",
    "SW1A 1AA",
    "Springfield, IL 62701",
    "ZIP 90210",
    "90210-1234 CA",
    "K1A 0B1",
    "postcode 1234 AB",
    "Eircode D02 X285",
    "PLZ 10115",
    "zz9 7tf",
    "Zz9 7tf",
    "SW1A-1AA",
    "lives at zz99 3wz",
    "12 Quillorne Road, ZZ97TF",
    "PIN 110 099",
    "D-10199 Berlin",
    "D02 X285 on the label",
    "Dunmorrow NSW 2099",
    "code postal 75099",
    "C.P. 28099",
    "Brackenholme, New York 10199",
    "SW1A 1AA",
)
NEAR_MISSES = (
    "at L4 5 mm below",
    "T10 PEEP 5",
    "B12 1MG given",
    "C5 6 disc",
    "S1 2 nerve roots",
    "ME 40000 units",
    "SN60WF +21.0 D",
    "zip closure at 12 cm",
    "platelets 15000",
    "IN 10000 patients",
    "T3N1M0",
    "T1N0M0",
    "T4N2M1",
    "T2N 1M0",
    "at l4 5th attempt",
    "is at2 3rd pass",
    "in s1 2nd root",
    "pt4 5hr later",
    "pT2N0M0 and ypT3N1M0",
    "SA60AT and SN60WF lenses",
    "ACT 1204 seconds",
    "T10 2345",
    "PIN 3 of 4",
    "G3P2L1 and G4P3A1",
    "CP 3 and C.P. angle",
)

UK = re.compile(
    r"(?<!\w)(?:[A-PR-UWYZ]\d{1,2}|[A-PR-UWYZ][A-HK-YZ]\d{1,2}|[A-PR-UWYZ]\d[A-HJKPS-UW]"
    r"|[A-PR-UWYZ][A-HK-Y]\d[ABEHMNPRV-Y]|GIR)\s\d[ABD-HJLNP-UW-Z]{2}(?!\w)"
)
_UK_LOOSE = re.compile(
    r"(?<!\w)(?!(?:at|in|is|to|of|on|by|no|or|pt|op|gr)\d)[A-PR-UWYZ][A-HK-Z](?:\d{1,2}|\d[A-Z])[\s-]\d"
    r"(?!st|nd|rd|th|hr|ug|fr|hz|pd|dl|ed)[ABD-HJLNP-UW-Z]{2}(?!\w)",
    re.IGNORECASE,
)
"""In small letters, or with a dash: only with an area of two letters, as `l4 5th` is no code."""
_STATE = (
    r"(?:A[LKZR]|C[AOT]|D[CE]|FL|GA|HI|I[ADLN]|K[SY]|LA|M[ADEINOST]|N[CDEHJMVY]|O[HKR]|PA|RI|S[CD]|T[NX]|UT"
    r"|V[AT]|W[AIVY])"
)
_US = re.compile(rf"(?<![^\s,])(?:,\s?|(?!ID)){_STATE}[.,]?\s(\d{{5}}(?:-\d{{4}})?)(?![\w-])(?!\s[a-z])")
_US_COMMA = re.compile(rf"(?<=[^\W\d_]),\s{_STATE}[.,]?\s(\d{{5}}(?:-\d{{4}})?)(?![\w-])")
_US_FIGURES = re.compile(r"\d{5}(?:-\d{4})?")
_STATE_NAME = re.compile(
    r"(?<=[^\W\d_],\s)(?:New\s(?:York|Jersey|Mexico|Hampshire)|(?:North|South)\s(?:Carolina|Dakota)|(?:West\s)?Virginia|Rhode\sIsland|[A-Z][a-z]{3,12})"
    r",?\s(\d{5}(?:-\d{4})?)(?<!000)(?![\w-])(?!\s[a-z])"
)
_ZIP = re.compile(r"zip", re.IGNORECASE)
_US_NINE = re.compile(r"(?<![\w.,-])\d{5}-\d{4}(?![\w-])(?=\s?,?\s?(?:[A-Z]{2}\b|USA?\b|$|\.))")
CANADA = re.compile(
    r"(?<!\w)(?!T[0-4]N\s?[0-3]M[01](?!\w)|[EVM][1-6][EVM][1-6][EVM][1-6]|G\d{1,2}[\s-]?P\d[A-Z]\d)[ABCEGHJ-NPRSTVXY]\d[ABCEGHJ-NPRSTV-Z][\s-]?\d[ABCEGHJ-NPRSTV-Z]\d(?!\w)"
)
_CUED = re.compile(
    r"(?<![\w\[])(?:post\s?codes?|postal\s(?:code|address)|zip(?:\s?code)?|eircode|PLZ(?:/Ort)?|pin\s?code|CEP|CAP|PC(?=\s[A-Z]{1,2}\d)|code\spostal|c[óo]digo\spostal|Postleitzahl|(?:C\.?P\.?|B\.?P\.?)(?=[\s:]{1,2}\d{5}(?!\d)))"
    r"\s?(?:is|was)?[\s:.=-]{1,3}"
    rf"((?=[A-Z\s]{{0,5}}\d)[A-Z0-9]{{2,8}}(?:[\s-][A-Z0-9]{{2,4}})?)(?!\w){NOT_MEASURED}",
    re.IGNORECASE,
)

_ABROAD = re.compile(
    r"(?<![\w-])(?:(?:D|F|E|I)-\d{5}|(?:A|CH|B|L|DK)-\d{4})(?!\w|[.,]\d)"  # D-10199 Berlin
    r"|(?<!\w)PIN[\s:-]{1,3}(?P<pin>[1-9]\d\d\s?\d{3})(?!\w)"  # India
    r"|(?<![^\W_])(?:NSW|VIC|QLD|TAS|(?<=[a-z]\s)(?:WA|SA|NT|Vic|Qld|Tas)|ACT(?=,?\s26\d\d))\.?,?\s(?P<au>\d{4})(?!\w|[.,:/]\d|\s?m)"
    r"|(?:straße|strasse|str\.|weg|platz|rue|avenue|calle|address|adresse|Adresse|wohnt|wohnhaft|habite|vive|lives)[^\n.;]{0,40}?(?<!\w)"
    r"(?P<town>\d{5}(?:\s[A-ZÄÖÜÉ][a-zäöüßé-]{3,})?)(?!\w)"
)
_TOWN_BEHIND = re.compile(
    r"(?<![\w.,/-])\d{5}(?<!000)\s[A-ZÄÖÜ][a-zäöüß]{4,}(?!\w)(?=,|\.?$|\sin\sthe\saddress)"
)
EIRCODE = re.compile(
    r"(?<!\w)(?:[AC-FHKNPRTV-Y]\d\d|D6W)\s(?=[0-9AC-FHKNPRTV-Y]{0,3}\d)(?=\d{0,3}[A-Z])[AC-FHKNPRTV-Y][0-9AC-FHKNPRTV-Y]{3}(?!\w)"
)
_UK_TOGETHER = re.compile(r"(?<!\w)[A-PR-UWYZ][A-HK-Z]?\d[\dA-Z]?\d[ABD-HJLNP-UW-Z]{2}(?!\w)", re.IGNORECASE)
_HOME = re.compile(
    r"(?:address|home|lives?|living|resid\w+|street|road|lane|avenue|close|crescent|drive|terrace|gardens|flat|house|from)\b[^\n.;]{0,40}$",
    re.IGNORECASE,
)
"""A code without its space has the form of a lens model: only where somebody's home was just spoken of."""


def find(text: str) -> Iterator[Span]:
    """Yield codes by form, by state and by word."""
    text = view(text)
    for found in (*UK.finditer(text), *_UK_LOOSE.finditer(text)):
        yield span(found, KIND, LETTER, "[postal code]", 0.85)
    for found in CANADA.finditer(text):
        yield span(found, KIND, LETTER, "[postal code]", 0.85)
    for found in (*_ABROAD.finditer(text), *EIRCODE.finditer(text), *_TOWN_BEHIND.finditer(text)):
        yield span(found, KIND, LETTER, "[postal code]", 0.75, found.lastgroup or 0)
    for found in _UK_TOGETHER.finditer(text):
        if _HOME.search(text, max(0, found.start() - 60), found.start()):
            yield span(found, KIND, LETTER, "[postal code]", 0.75)
    for found in _US_NINE.finditer(text):
        yield span(found, KIND, LETTER, area(found[0]), 0.7)
    for pattern in (_US, _US_COMMA, _STATE_NAME):
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, area(found[1]), 0.86, 1)
    for found in _CUED.finditer(text):
        american = _US_FIGURES.fullmatch(found[1]) and _ZIP.match(found[0])
        yield span(found, KIND, LETTER, area(found[1]) if american else "[postal code]", 0.85, 1)


RESTRICTED = frozenset(
    [
        "036",
        "059",
        "063",
        "102",
        "202",
        "203",
        "204",
        "205",
        "369",
        "556",
        "692",
        "753",
        "772",
        "790",
        "821",
        "823",
        "830",
        "831",
        "878",
        "879",
        "884",
        "890",
        "893",
    ]
)
"""Areas of 20,000 people or fewer: the union of Census 2000 (17, secondary source), Census 2010 (14 read in a weak
source, 2 from memory) and the American Community Survey 2018-2022 by tabulation area (18, computed)."""
VINTAGE = "union of 2000, 2010 and 2018-2022"


def area(code: str) -> str:
    """Stand-in for a ZIP code: its first three figures where that area has more than 20,000 people, else 000.

    Source: 45 CFR 164.514(b)(2)(i)(B)(1) and (2).
    """
    return f"[ZIP {'000' if code[:3] in RESTRICTED else code[:3]}xx]"
