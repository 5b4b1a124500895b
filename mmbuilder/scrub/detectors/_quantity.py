"""What a figure of the clinic may be and point to nobody: doses, sizes, values, scores, times, stages, models and codes.

`clinical` is the one grammar behind `odd_number`, which proposes every other figure for removal: a form that is
forgotten here is a clinical number to keep by hand, never an identifier that stays.

Source: forms of values and doses, common practice; TNM (UICC), ICD-10 and OPCS-4 codes, HGVS names of variants, dbSNP
numbers, HLA alleles and numbers of registered trials from memory.
"""

from __future__ import annotations

import re
from itertools import pairwise

from mmbuilder.scrub.detectors._span import UNIT

_MORE_UNITS = (
    r"(?:mgs|mcgs|kgs|gr|gm|gms|mls|dl|dL|fl|pg|nmol|pmol|umol|µmol|micromol|kcal|kJ|MBq|mSv|mGy|kV|mAs|ms|Pa|PSI|psi|lbs?|oz|stone|ft|inch(?:es)?|miles?|feet|ppm|yds?|yards?|kms?|met(?:re|er)s?|lengths|laps|flights|stairs"
    r"|beats|breaths|cells?|copies|reads|CFU|cfu|colonies|organisms|steps|calories|cycles|amp(?:oule)?s?|vials?|caps(?:ules)?|sachets?|bottles?|pools?|bags?|doses?|puffs?|sprays?"
    r"|patients|cases|people|women|men|births|deliveries|children|procedures|operations|voxels|pixels|words|pounds|euros?|dollars?|million|mill?|lakh|thousand|per|in\stotal"
    r"|Jahren?|Tagen?|Stunden?|Minuten?|Tropfen|Stück|Einheiten|IE|I\.E\.|UI|ans|jours?|heures?|gouttes|años|días|horas|gotas|unidades|bar|U|R|G/L|T/L|mm3|mm³|cm2|cm²|m2|m²)"
)
_AFTER = re.compile(rf"\s?(?:{UNIT}|{_MORE_UNITS}(?![^\W\d_])|/(?=\S)|[×^])|\s?[x×]\s?10|,\d{{3}}(?!\d)")

_NAMES = (
    r"ferritin|c?k|cpk|ck-?mb|pro-?bnp|nt-?pro-?bnp|bnp|trop(?:onin)?(?:[\s-]?[it])?|d-?dimers?|ldh|ast|alt|alp|ggt|gamma-?gt|amylase|lipase|crp|pct|wcc|wbc|white\scells|leu[ck]os?|leukozyten|leucocitos|leucocytes"
    r"|plt|platelets|plaquettes|plaquetas|thrombos?|thrombozyten|plts|rbc|red\scells|neut(?:rophil)?s?|lymph(?:ocyte)?s?|polys|polymorphs|cd4|count|counts|cell\scount|afp|cea|psa|b?-?hcg|beta-?hcg|ca\s?\d+[.-]?\d*|hb"
    r"|glucose|glycaemia|bm|na|sodium|cr|creat(?:inine)?|urea|triglycerides|chol(?:esterol)?|cortisol|renin|testosterone|prolactin|b12|folate|vit(?:amin)?\sd|tsh|lactate|ammonia|nh3|igg|ige|igm|haptoglobin|osm(?:olality)?|ca"
    r"|load|viral\sload|titre|titer|titers|titres|viral|cmv|ebv|hcv|hbv|hiv|hcg|total|copies|act|dlp|dose|vol(?:ume)?|output|uo|urine|drain(?:ed|age)?|balance|bilan|bilanz|ebl|blood\sloss|loss|intake|input|fluids?"
    r"|flow|rate|power|energy|joules|svr|svri|pvr|dwell|reads|pressure|weight|weighed|wt|bw|gewicht|poids|peso|efw|height|cells|size|n|of|nnt|nnh|pixels|resolution|heparin|insulin|penicillin|benzylpen|enoxaparin|clexane|dalteparin|epo"
)
_MEASURE = re.compile(
    rf"(?<![^\W_])(?:{_NAMES})(?:[\s:=<>~≈(]|\s(?:of|was|is|at|to|up\sto|over|about|around|peaked|peak|rose|fell|now|then|only|number|code|from)){{1,4}}"
    r"(?:[\d.,]{1,8}(?:\s?(?:to|then|and|now|from|->|→|,|/|-|–|>)){1,2}\s?){0,4}$",
    re.IGNORECASE,
)
_CODED = re.compile(
    r"(?<![^\W_])(?:PM(?:ID|C)|SNOMED(?:[\s-]CT)?|SCTID|LOINC|RxNorm|UMLS|OMIM|MIM|ORPHA|ATC|CPT|ICD(?:-?(?:9|10|11))?(?:-?(?:CM|PCS|GM))?|OPCS(?:-?4)?|OPS|CCAM|GMDN|ISBN|ISSN|doi|issue|article|EC|UN|(?:BS\s)?EN(?:\sISO)?|ISO|IEC|DIN|ASTM|version|software|firmware"
    r"|build|release|model|mod|type|cat(?:alogue)?|part|item|page|pages|pp|vol|figure|fig|table|chapter|section|standard|guideline|aged?|TR|TE|TI|SRK|fault|error|alarm(?!\scode)e?|alarma(?!\scod)|Fehler(?:code)?|Störung|erreur|panne|avería|AWMF|Leitlinie|GHM|GHS)"
    r"(?:\s(?:of|was|is|code|codes|number|no\.?|nos?))?[\s:=.#]*$",
    re.IGNORECASE,
)
"""What stands before a number that is printed, sold or published by the thousand."""
_CODED_IN_A_ROW = re.compile(
    r"(?<![^\W_])(?:SNOMED(?:[\s-]CT)?|LOINC|RxNorm|CPT|(?:ICD|CIM|CIE)-?(?:9|10|11)?|OPCS(?:-?4)?|OPS|CCAM|ATC)\s[A-Z\d][A-Z\d.-]{2,17}(?:[\s,;]+[^\W\d_]+){0,6}[\s,;]+$"
)
"""The next of several codes: `SNOMED 80146002 appendectomy, 74474003`."""
_SUBSTANCE = re.compile(r"(?<![^\W_])CAS(?:\s(?:RN|no\.?|number))?[\s:.#]{1,2}\d{2,7}-\d\d-\d")
"""A substance by its number at Chemical Abstracts; a case of the police is called the same: `CAS 118/02/2026`."""
_OUT_OF = re.compile(r"(?<!\d)\d{1,4}\s(?:of|von|sur|de|aus)\s$")
"""What a number is a share of: `44 von 1182`."""

_DECIMAL = r"\d{1,5}(?:[.,]\d{1,4})?"
_WITH_UNIT = re.compile(
    rf"[x×<>~]?{_DECIMAL}(?:-{_DECIMAL})?(?:{UNIT}|{_MORE_UNITS}|k|K|mil)(?:s|er)?(?:[/.-](?:{_DECIMAL})?(?:{UNIT}|{_MORE_UNITS})){{0,3}}"
    rf"|{_DECIMAL}(?:[xX×]{_DECIMAL}){{1,3}}(?:mm|cm|m)?"
)
_TIME = r"(?:[01]\d|2[0-3])[0-5]\d"
_WHOLE = re.compile(
    r"\d{1,3}(?:[.,]\d{3})+(?:[.,]\d{1,2})?|\d{1,5}[.,]\d{1,4}"  # 1,200,000; 5.9672
    rf"|{_TIME}(?:[-/]{_TIME}){{1,4}}|{_TIME}(?:h|hrs?|z|Z|H|Uhr)?"  # 0840-1012
    r"|\d{1,2}[:.hH]\d{2}(?:[:.]\d{2})?(?:[-/]\d{1,2}[:.hH]\d{2})?(?:[ap]m)?"
    r"|(?:19|20)\d\d(?:[-/](?:\d\d|(?:19|20)\d\d))?"  # years
    r"|\d{1,3}:\d{1,3}(?:,\d{3})+|\d{1,3}:\d{1,6}|\d{1,3}-0-\d{1,3}|[xX×]\d{1,5}|\d{1,3}(?:\.\d{1,3}){2,5}|\d\.\d{5,6}|0\.\d{5,17}"  # 1:10,000; a joint by the neutral zero method (0-0-120); versions; a share as a program writes it
    r"|(?:[A-Z]{1,3}|Rs|KSh|Ksh|TSh|USh|kr)\d{1,3}(?:,\d{3})+(?:\.\d\d)?"  # N350,000: money
    r"|0{2,3}|\d{1,2}-\d-\d-\d(?:-\d)?|\d{1,2}-0(?:/\d{1,2}-0){1,3}|\d{1,2}(?:/\d{1,2}){2,4}"  # 1-0-1-0, Apgar 9/10/10
)
_DATE = re.compile(
    r"(?:0?[1-9]|[12]\d|3[01])([-/.])(?:0?[1-9]|[12]\d|3[01])\1(?:19|20)?\d\d(?:-\d{1,2}\1\d{1,2}\1(?:19|20)?\d\d)?|(?:19|20)\d\d[-/.](?:0?[1-9]|1[0-2])(?:[-/.]\d{1,2})?(?:T[\d:.]+)?"
    r"|(?:19|20)\d\d-?W\d\d(?:-\d)?|\d{1,4}(?:st|nd|rd|th)?[-/.]?(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/.]?\d{0,4}",
    re.IGNORECASE,
)
"""What the detectors of dates judge."""
_PUBLISHED = re.compile(
    r"(?:NCT|ISRCTN|EudraCT|PMC|PMID|ISO|IEC|EN|BS|ASTM|CD|COVID|SARS|MERS|ACTRN|CTRI|DRKS|NG|CG|QS|TA|IPG|HLA|CA|IL|CYP|WHO|ESC|ACC|AHA|AAOS|AJCC|UICC|TNM|NICE|SIGN|ICD|OPCS|CPT|DSM|EORTC|QLQ|SF"
    r"|FIGO|EAU|AAGBI|GOLD|NCEPOD|HSE|MHRA|FDA|CE(?=[-\s]?\d{4}(?!\d))|EU|UN|CAS|EC|DIN|AS|NZS|ANSI|NFPA|LOINC|RFC|IEEE|PEG|Omega|HPV|SPF|IPv|USB|MPEG|JPEG|RAL|STAT|NSAID|GDPR|HIPAA|CFR)[-/\s]?(?:\d|[A-Z]{1,4}-?\d)",
    re.IGNORECASE,
)
STAINED = r"(?:CK|TTF|SOX|PAX|GATA|CDX|MLH|MSH|PMS|MUC|BCL|HMB|NKX|Ki|PD-L|WT|S)-?\d{1,3}(?:[./]\d{1,2})?"
"""What pathologists stain: `CK20`, `TTF-1`."""
_CODES = re.compile(
    r"(?:[yrcpmu]{0,2}[A-Za-z]{1,3}\d{1,2}[a-z]{0,3}){2,8}[+-]?"  # T4N2M0, E4V5M6, G3P2, H1N1pdm09
    r"|[A-Za-z]\d{1,2}[a-z]?(?:[-/][A-Za-z]?\d{1,2}[a-z]?){1,6}"  # T11/T12, C5/6/7, V1-V6
    r"|\d{2}-[A-Z]\d(?:\.\d){1,2}"  # AO 32-A3.1
    r"|[A-Z]\d{2}(?:\.[\dX]{1,4}[A-Z]{0,2})?|[A-Z]{1,2}\d{1,2}\.\d{1,2}"  # ICD-10, ICD-10-CM, OPCS-4
    r"|rs\d{3,10}|N[MPCGR]_\d{4,9}(?:\.\d{1,2})?|ENS[GTP]\d{6,12}|[cgmnpr]\.[A-Za-z]{0,3}\d.*"  # variants
    r"|[ACDEFGHIKLMNPQRSTVWY]\d{1,3}(?:[ACDEFGHIKLMNPQRSTVWYX*]|fs|del|dup|ins)|\d{3,5}(?:del|dup|ins)[ACGT]{0,6}"  # V600E
    rf"|{STAINED}"
    r"|(?:CTX-M|OXA|NDM|VIM|IMP|KPC|SHV|TEM)-\d{1,3}|t\d{3}"  # enzymes and strains of microbes
    r"|(?:HLA-)?[A-Z]{1,4}\d?\*\d{2}(?::?\d{2}){0,2}"  # B*57:01
    r"|[A-Za-z]\d{4}|[A-Z]{2,3}\d{1,3}[A-Z]{0,2}|[A-Z]{1,5}[-/](?:19|20)\d\d(?:[-/]\d\d)?"  # Z0011, MA60AC, ESC-2020
    r"|[A-Z][a-z]?(?:-\d{1,2}[A-Z][a-z]?){1,3}"  # Ti-6Al-4V
    r"|(?:(?:19|20)\d\d)(?:er|s|'s)|[1-9]\d?00[a-z]"  # HD 1000i: a type
    r"|\d{1,2}(?:F|Fr|Ch|G)(?:/\d{1,2}(?:F|Fr|Ch|G)){1,3}"  # sizes of cannulae: 19F/25F
)
_ROUND = re.compile(r"[1-9]\d*000")
_RANGE = re.compile(rf"({_DECIMAL})[-–]({_DECIMAL})")
_VALUE = r"(?:0|[1-9]\d{0,3})(?:[.,]\d{1,3})?"
_STROKES = re.compile(rf"{_VALUE}(?:/-?{_VALUE}){{1,6}}|0[.,]\d{{1,2}}(?:-{_VALUE}){{1,6}}")
_NOT_A_VALUE = re.compile(r"0\d")


AFTER_A_VALUE = (
    rf"(?!\s?(?:{UNIT}|{_MORE_UNITS}(?![^\W\d_])|y\.?/?o|yrs?|F|M|male|female|\+|-?year)(?![^\W\d_]))"
)
"""Behind a group of figures that belongs to a number before it, no unit, sex or age stands."""


_AFTER_LONG = re.compile(
    r"\s?(?:units?|iu|IU|IE|U\.?I\.?|copies|cells?|reads|cfu|colonies|organisms|voxels|pixels|words|patients|people|births|deliveries|cases|women|men|children|procedures|euros?|dollars?|pounds|per\b|in\stotal|/|×|x\s?10|\^|million|mm3|mm³|steps|cycles)",
    re.IGNORECASE,
)
"""What is counted in hundreds of thousands: no litres and no metres."""


_BORES = re.compile(r"(?P<inner>\d{1,2}(?:\.\d)?)/(?P<outer>\d{1,2}(?:\.\d)?)(?:F|Fr|Ch)?")
_BORED = re.compile(
    r"(?:\s?(?:F|Fr|Ch|French))?(?:\s[^\W\d_]+){0,2}\s(?:sheaths?|UAS|dilators?|introducers?|Schleusen?|vainas?|gaines?)(?!\w)",
    re.IGNORECASE,
)
_WALL = 3
"""French by which a sheath is wider outside than inside, at most (common practice, no source)."""


def bores(text: str, start: int, end: int) -> bool:
    """Whether two figures are what a sheath measures inside and outside: `12/14 access sheath`."""
    found = _BORES.fullmatch(text, start, end)
    return (
        found is not None
        and 0 < float(found["outer"]) - float(found["inner"]) <= _WALL
        and _BORED.match(text, end) is not None
    )


def measured(text: str, start: int, end: int, *, long: bool = False) -> bool:
    """Whether a unit stands behind a figure, or what is measured, counted or printed before it."""
    before = text[max(0, start - 44) : start]
    return (
        (_AFTER_LONG if long else _AFTER).match(text, end) is not None
        or _MEASURE.search(before) is not None
        or bores(text, start, end)
        or _CODED.search(before) is not None
        or _OUT_OF.search(before) is not None
        or _SUBSTANCE.fullmatch(text, text.rfind("CAS", max(0, start - 12), start), end) is not None
        or _CODED_IN_A_ROW.search(text, max(0, start - 80), start) is not None
    )


def clinical(said: str) -> bool:
    """Whether the form of a figure alone is one of the clinic: a time, a value, a dose, a range, a stage, a model."""
    if said.isdigit():
        return (len(said) < _LONG and not _zero_first(said)) or _WHOLE.fullmatch(said) is not None
    if (
        _DATE.fullmatch(said)
        or _WHOLE.fullmatch(said)
        or _WITH_UNIT.fullmatch(said)
        or _PUBLISHED.match(said)
    ):
        return True
    if any(sign.isalpha() for sign in said):
        return _CODES.fullmatch(said) is not None
    return _range(said) or _strokes(said)


_MODEL = re.compile(r"(?=[^\W_]*-?[^\W_]*[^\W\d_])(?:[^\W_]+-)?(?:[^\W\d_]*\d){1,4}[^\W\d_]*")
_NAMED_BEFORE = re.compile(r"(?<![^\W_])([^\W\d_a-z][^\W\d_]+)\s(?:[A-Z]{1,3}\s)?$")


def model(text: str, start: int, end: int) -> bool:
    """Whether letters with up to four figures stand right behind a maker or a device by its name: `Olympus GIF-H290` is a type, no serial."""
    before = _NAMED_BEFORE.search(text, max(0, start - 24), start)
    if before is None or not _MODEL.fullmatch(text, start, end):
        return False
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold

    return load().called(fold(before[1])) == DEVICE


DEVICE = "a device or material"


def sized(said: str) -> bool:
    """Whether it is a figure with the name of a unit that is no single letter: `9mm`; `4W` may be a ward."""
    return _WITH_UNIT.fullmatch(said) is not None and sum(map(str.isalpha, said)) > 1


_DISTANCE = re.compile(r"[1-9]\d{0,3}(?:[.,]\d{1,2})?(?:yds?|yards?|m|kms?|miles?|met(?:re|er)s?)")


def distance(said: str) -> bool:
    """Whether a figure is written together with the distance that somebody walks or swims: `100yd`."""
    return _DISTANCE.fullmatch(said) is not None


_LONG = 5
"""Figures in a row that no value without a unit or a name has."""


def round_number(said: str) -> bool:
    """Whether a number is a round one, as counts and doses are: `250000`."""
    return _ROUND.fullmatch(said) is not None


def time_of_day(said: str) -> bool:
    """Whether four figures may be a time of day."""
    return re.fullmatch(_TIME, said) is not None


def _zero_first(said: str) -> bool:
    return len(said) > 2 and said[0] == "0"


def _range(said: str) -> bool:
    """Whether two figures are a range, which goes up, or two that are compared: no nought opens one of four figures."""
    found = _RANGE.fullmatch(said)
    if not found:
        return _ups(said)
    low, high = found[1], found[2]
    if any(_zero_first(part) and "." not in part and "," not in part for part in (low, high)):
        return False
    short = max(len(low), len(high)) < 4
    return short or float(low.replace(",", ".")) < float(high.replace(",", "."))


def _ups(said: str) -> bool:
    """Whether three figures or more are sizes or pressures: none of one, two and four figures in turn, no nought before one."""
    parts = said.split("-")
    return (
        len(parts) > 2
        and all(part.isdigit() and len(part) < 4 and not _NOT_A_VALUE.match(part) for part in parts)
        and all(abs(len(one) - len(next_)) < 2 for one, next_ in pairwise(parts))
        and (max(map(len, parts)) == 3 or parts == sorted(parts, key=int))
    )


def _strokes(said: str) -> bool:
    """Whether figures with strokes are pressures, gases or shares: `7.31/6.2/10.4`, `120/80`."""
    if not _STROKES.fullmatch(said):
        return False
    parts = said.split("/")
    return not any(_zero_first(part) and "." not in part for part in parts) and (
        sum(map(len, parts)) < 7 or "." in said or "," in said or all(part[-1] == "0" for part in parts)
    )
