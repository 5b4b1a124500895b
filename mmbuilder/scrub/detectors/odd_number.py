"""A number by its form, with nothing to announce it: every figure that the grammar of the clinic does not know is proposed.

Five figures in a row, a nought before three, letters and figures together, groups that no series of values makes
(`HCU 00417729`, `2951 60418 1 / 2`, `25/H/04481`, `FQ-00A93-22C`, `4471/25`). What `_quantity` knows stays: doses, sizes, values with
their unit or their name, scores, times, stages, models, codes; and so does what a citation prints.

Source: 45 CFR 164.514(b)(2)(i)(H) medical record numbers, (R) any other unique number; that nothing but an identifier has
such a form is common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._groups import NO_TIME_OF_A_LINE, known, whole
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._quantity import clinical, measured, model, round_number, time_of_day
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "record number"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(H), (R)"
EXAMPLES = (
    "448120 for theatre",
    "UR 448120",
    "Acc# 25044812",
    "K448120 next on the list",
    "wristband read q0448120",
    "specimen 25S044812",
    "policy QX-4481200",
    "histology H25-04481",
    "25/H/04481",
    "25.044812.Q",
    "report 2025/03/448",
    "Asset QED-00771 replaced",
    "scan on the fridge IRIS-7720-AE shows",
    "FQ-00A93-22C signed in",
    "prison no A0417QX",
    "QDH 771209 had no label",
    "G1017 25 662 091 given over 3 h",
    "QMP-25-0772 about pain relief",
    "2025/INQ/0441 closed",
    "sample QB-0091-X4 frozen",
    "private fund QHU 00417729.",
    "card 2951 60418 1 / 2",
    "THQST 712034 BA9QZ shown",
    "trailer QRK 4471 Q",
    "read as 7740 1182, allergy",
    "acc uq2025 0093317, cyst",
    "60 83 71 / 31926819",
    "call 0912-4472 logged",
    "swipe 004 7719 dead",
    "histo q25/4471",
    "recipient QBQX417 flown in",
    "xray cq24 77 1902 please",
    "platelets pool P0771 24 118 220",
    "slide 24-QH-1182 A3 to them",
    "courier QX 7718 2204 GB, 2 pots",
    "lead QDA-88 4471 V, fitted",
    "swab M,25.0041877.T went",
    "last digits xxxx xxxx 4471",
    "cochlear proc 1904477 L",
    "file UR 118 204/26",
    "CAS 118/02/2026 at the station",
    "CR 118/02/2026 opened",
    "folio CE-0044177 y -78",
    "CT (QCU-QAD 7704117)",
)
NEAR_MISSES = (
    "Olympus GIF-H290 and Pentax EG29-i10",
    "LigaSure LF1937 and Olympus TJF-Q190V",
    "1000000 CFU per ml",
    "grew 10000000 organisms",
    "CMV 124563 copies",
    "viral load 1245634",
    "SN60WF +21.0 D",
    "E4V5M6, G3P2, T3N1M0",
    "platelets 245000",
    "ISO-80369 and IEC-60601",
    "PMID 12345678",
    "SNOMED CT 80146002",
    "2018;153(7):e180001",
    "NCT01234567",
    "heparin 250000 units",
    "20x30x4000 voxels",
    "L1L2L3L4L5S1",
    "ferritin 124563",
    "levels 1.123456",
    "0.6041666666666666",
    "COVID-19 and SARS-CoV-2",
    "Harmonic HD 1000i failed twice",
    "AO 42-A1",
    "Swan-Ganz",
    "WHO-2016 and ESC-2020",
    "HLA-B2705 and CA-19-9",
    "ISO-9001, IEC-60601-1",
    "EORTC QLQ-C30",
    "GCS 15 1430 1500",
    "BP 120 80 and HR 110 1430",
    "NCT-01234567",
    "T2-weighted, FLAIR",
    "MA60AC 21 D, ZCB00 22.5",
    "IL-6 1200",
    "TNM-8, AJCC-2017",
    "GTN 50 1430",
    "CK 124563",
    "H2O2 3 percent",
    "Ti-6Al-4V alloy",
    "AO 42-A1 and 31-A2",
    "AAOS-2021-22",
    "RBC 12 24 and WBC 14 1200",
    "ferritin 14022, ck 88410, d-dimer 11840",
    "50mg/50ml, 1000mcg/2ml",
    "abg 7.31/6.2/10.4/22.1",
    "AO 32-A3.1, ICD K57.20",
    "B*5701 and rs429358",
    "c.1521_1523delCTT",
    "tourniquet 0840-1012",
    "1.012 to 1.0125",
    "urine 2650 1980",
    "adrenaline 1:10000 and 1:200000",
    "knee 0-0-120",
    "OUT 13H40",
    "walks 1200yd, swims 10400m",
    "arm 3 fault 23008, undocked",
    "Fehler 23008 am Arm 3",
    "error code 104-22871",
    "paid N350,000 and Rs45,000",
    "CAS 7732-18-5, CAS no. 50-78-2",
    "CO-AMOX 1.2 G 0908\n0911 ETCO2 1.8",
    "BP 118 204 and 120/80",
    "cannulae 19F/25F and 14G/16G/18G",
    "10,14:00,,echo\n11,14:20:30,,closed",
    "RET M918T, CHEK2 1100del, OXA-48 and CTX-M-15",
)

_TOKEN = re.compile(
    r"(?<![^\W_])(?:[^\W\d_]{1,20}+[-/.*_]?+){0,3}+\d[^\W_]*+(?:[-/.*_:][^\W_]++|,(?=\d)\d++)*+"
)
_LETTERED_GROUPS = re.compile(
    rf"(?<![\w./+-])(?P<letters>[A-Z]{{1,5}})(?:\s|-(?!(?:19|20)\d\d))?\d{{2,4}}(?:[\s-]{NO_TIME_OF_A_LINE}\d{{2,7}}){{1,3}}(?:/\d{{2}}(?:\d\d)?|\s?[A-Z](?!\w))?(?![\w%]|[.,:/-]\d)"
)
_OF_A_YEAR = re.compile(r"(?<![\w.,:/+-])(?<!\d )\d{2,3}(?: \d{3}){1,2}/\d{2}(?:\d\d)?(?![\w%]|[.,:/-]\d)")
"""Groups of figures with a year: `118 204/26`."""
_OF_A_MONTH = re.compile(
    r"(?<![\w.,:/+-])(?:3[2-9]|[4-9]\d|\d{3,5})/(?:0[1-9]|1[0-2])/(?:19|20)\d\d(?![\w/-]|[.,]\d)"
)
"""The running number of a month: `118/02/2026`."""
_RUN_TOGETHER = re.compile(r"[A-Z]{1,3}\d{3,4}[\s-]\d{2,4}[\s-]\d")
"""Three figures or more written to a letter, and groups behind: no row of values."""
_SMALL_GROUPS = re.compile(
    r"(?<![\w./+-])[a-z]{1,3}\d{2,4}(?:(?:[ -]\d{2,4}){2}|[ -]\d{3,4}(?<![ -](?:[01]\d|2[0-3])[0-5]\d)(?<!0))(?![\w%]|[.,:/-]\d| \d)"
)
_BOTH_SIDES = re.compile(r"(?<![\w./+-])(?P<letters>[A-Z]{2,5})\s\d{4}\s[A-Z](?![\w'’&/-])")
_FOURS = re.compile(r"(?<![\w.,:/+-])(?<!\d )\d{4}(?: \d{4}){1,3}(?![\w%]|[.,:/-]\d| \d)")
_LISTED = re.compile(r"[A-Z]{4,6}\d{3}")
"""More letters than a gene, a model or a drug has before three figures: `ABQX417`."""
_TOGETHER = re.compile(r"(?P<letters>[^\W\d_]+)\d+")
_MASKED = re.compile(
    r"(?<![^\W_])(?:[xX]{2,4}|[*•]{2,6})(?:[ -]?(?:[xX]{2,4}|[*•]{2,6})){0,4}[ -]?\d{3,5}(?!\w|[.,]\d)"
)
"""The last figures of a number whose others are hidden: `xxxx xxxx 4471`."""
_POSTED = re.compile(r"(?<![\w./-])[A-Z]{2}\s?\d{3,4}\s?\d{3,4}\s?\d{0,3}\s?[A-Z]{2}(?![\w'’&/-])")
"""A parcel, as posts number them: two letters, eight or nine figures, a country (UPU S10, from memory)."""
_DOTTED = re.compile(r"(?<!\w)[A-Z],\d{2}\.\d{5,8}\.[A-Z](?!\w)")
"""A laboratory's own: `M,25.0041877.T`."""
_ROW_AND_TIME = re.compile(r"\d{1,4},\d\d?:\d\d(?::\d\d)?")
"""The first two fields of a table whose fields are parted by commas: `10,14:00,,echo`."""
_FIGURE = re.compile(r"\d")


def find(text: str) -> Iterator[Span]:
    """Yield every number of such a form; what a citation prints stays."""
    yield from outside(text, _found(view(text)))


def _found(text: str) -> Iterator[Span]:
    if not _FIGURE.search(text):
        return
    for found in _TOKEN.finditer(text):
        if _odd(text, found):
            yield Span(*whole(text, *found.span()), KIND, LETTER, "[record number]", 0.5)
    yield from (
        span(found, KIND, LETTER, "[record number]", 0.6)
        for pattern in (_MASKED, _POSTED, _DOTTED, _OF_A_YEAR, _OF_A_MONTH)
        for found in pattern.finditer(text)
    )
    for pattern in (_LETTERED_GROUPS, _BOTH_SIDES):
        for found in pattern.finditer(text):
            enough = pattern is _BOTH_SIDES or sum(map(str.isdigit, found[0])) >= _ENOUGH
            told = known(found["letters"]) and not _RUN_TOGETHER.match(found[0])
            if enough and not told and not measured(text, *found.span()):
                yield Span(*whole(text, *found.span()), KIND, LETTER, "[record number]", 0.5)
    for found in _SMALL_GROUPS.finditer(text):
        if sum(map(str.isdigit, found[0])) > _ENOUGH:
            yield Span(*found.span(), KIND, LETTER, "[record number]", 0.45)
    for found in _FOURS.finditer(text):
        if any(not time_of_day(part) and part[-1] != "0" for part in found[0].split()) and not measured(
            text, *found.span()
        ):
            yield Span(*found.span(), KIND, LETTER, "[record number]", 0.45)


_ENOUGH = 6
"""Figures in groups after letters that are no abbreviation."""
_LEAST = 4
"""Figures that letters and figures together must have; three where a nought opens them (`004`)."""


def _odd(text: str, found: re.Match[str]) -> bool:
    """Whether nothing of the clinic has the form of a figure, and no unit and no name of a measure stands beside it."""
    said = found[0]
    start, end = found.span()
    figures = sum(map(str.isdigit, said))
    plain = said.isdigit()
    if (
        figures < _LEAST - 1
        or clinical(said)
        or _ROW_AND_TIME.fullmatch(said)
        or model(text, start, end)
        or _glued(text, start, end, plain=plain)
    ):
        return False
    if plain and round_number(said):
        return False
    if figures == _LEAST - 1 and not plain:
        return _LISTED.fullmatch(said) is not None and not known(said[:-3])
    together = _TOGETHER.fullmatch(said)
    if together and figures < _ENOUGH and known(together["letters"]):
        return False
    return not measured(text, start, end, long=plain and figures >= _ENOUGH)


def _glued(text: str, start: int, end: int, *, plain: bool) -> bool:
    """Whether more is written to the figure than the figure: a sign, a decimal, an address."""
    before, after = text[max(0, start - 2) : start], text[end : end + 2]
    if before[-1:] in ("+", "±", "@", "^", "\\", ")", "]", "=") and not (before[-1:] == "=" and not plain):
        return True
    if before[-1:] in ("-", "/", ".", ",", "−", ":") and before[:1].strip() != "":
        return True
    return after[:1] in ("@", "\\", "(", "+") or bool(re.match(r"[./:,;-]\w", after))
