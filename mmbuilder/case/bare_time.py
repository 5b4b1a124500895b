"""Times of day in four bare figures, told by a word beside them: `came 1030`, `the same evening 1840`.

Four figures by themselves are volumes, doses, numbers of devices and years far more often than times, so none
is one by its form: a word says so, or its place at the beginning of a sentence, or the nought that it opens
with. Only a case can tell whether it lies within its story (`counted_time`). What is told by `at`, `by`
and their like in every text says `told_time`.

The phrasings are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.case.told_time import UNIT, ToldTime, no_time


@dataclass(frozen=True)
class BareTime:
    """Four figures in a text that may be a time of day, by their place.

    Attributes:
        strong: the word that tells it is said of times alone, such as `evening`.
        beside: it stands right before the figures; by such a word they are a time in any case.
        year: they may as well be a year.
    """

    start: int
    end: int
    strong: bool
    beside: bool
    year: bool


_COUNTED = (
    r"patients|cases|people|persons|words|miles|steps|operations|procedures|times|beds|staff|pages|kcals?|calories|litres?"
    r"|out(?!\sof\s(?:theatre|room|recovery))|off(?!\s(?:bypass|pump|table|cpb))|of|bd|tds|qds|od|prn|stat|mark|series"
    r"|lost(?!\s(?:the|his|her|its|a|view|pulse|output|capture|airway|trace)\b)|given(?!\s\w)"
    r"|(?:blood|clots?|urine|ascites|bile|pus|chyle|fluids?|crystalloids?|colloids?|saline|albumin|plasma|dextrose|glucose"
    r"|hartmann\w*|ringer\w*|plasma-?lyte|heparin|insulin|metformin|paracetamol)(?!\w*\s\d)"
)
"""After what is counted, poured or given."""
_FIGURES = re.compile(
    r"(?<![\w.,:/+−–£$€<>=±≈#'’\\-])(?<!~(?=[12]))(?<!\d\s)(?P<all>(?:[01]\d|2[0-3])[0-5]\d)"
    rf"(?![\w°²³]|[:.,/]\d|\s?[-–/+×x]\s?(?!\d{{4}}(?![\w-]))\d|\s\d{{3}}|\s\d\d\s\d\d|\s(?:{_COUNTED})(?!\w)){UNIT}",
    re.IGNORECASE,
)
_CRASH_CALL = "2222"
"""The number that hospitals ring in an arrest."""

_WORDS = r"(?:\s(?!and\b|then\b)[^\W\d_][\w'’/&-]*\.?)"
"""A word between the one that tells a time and the figures."""
_DAY_PART = r"(?:morning|afternoon|evening|night|nachmittags?|abends?)"
_MET = (
    r"(?:came|comes|arriv(?:ed|es|al)|attended|called|told|informed|updated|scrubbed|kam(?:en)?|eingetroffen)"
)
_SINCE = re.compile(r"\b(?:since|seit)\s$", re.IGNORECASE)
_BESIDE = re.compile(
    rf"\b(?:{_DAY_PART}|{_MET}(?:\s(?:in|back|again|up|over|round|about|around))?)\s$", re.IGNORECASE
)
_NEARBY = re.compile(
    rf"\b(?:{_DAY_PART}{_WORDS}{{1,2}}|(?:{_MET}|seen|reviewed|bleeped|rang|phoned|paged){_WORDS}{{1,5}})\s$",
    re.IGNORECASE,
)
_WEAK = re.compile(
    r"\b(?:again|wieder|back|zurück|left|home|in(?:to)?\s(?:the\s)?(?:room|theatre|recovery|itu|icu|hdu|resus)"
    r"|out\sof\s(?:the\s)?(?:room|theatre|recovery)|start(?:ed|s)?|began|begun|finish(?:ed)?|end(?:ed|s)?|stopped|closed|incision"
    r"|extubated|intubated|transferred|handover|handed\sover|decided"
    r"|(?:tourniquet|cuff|clamps?|bypass|cpb|lights?|table|ventilator)(?:\s(?:on|off|up|down|out)))"
    rf"{_WORDS}{{0,3}}\s$",
    re.IGNORECASE,
)
_SEEN = re.compile(r"\b(?:seen|reviewed)\s$", re.IGNORECASE)
"""Tells a time where the clause ends behind it, so that nothing is counted: `reviewed 1535, anxious`."""
_PUT = re.compile(r"\b(?:in|placed|sited|passed|inserted|removed|done|completed?)\s$", re.IGNORECASE)
"""Said of what was put somewhere: `JJ in 1014`."""
_AFTER_WEAK = re.compile(r"\s*(?:$|[.,;:!?)>–-]|\s(?:and|then|but|when|by|with|w|und|dann)\b)")
"""A word that is said of much else tells a time only at the end of what is said."""
_OPENS = re.compile(r"(?:^|[.;!?]\s+|\n\s*|(?:^|\n|\s)[-–•]\s)$")
_CLAUSE = re.compile(r"[^\W\d_][^\W\d_]+,\s$")
_BEHIND_AN_OPENING = re.compile(r"\s?[:,–-]\s|\s[^\W\d_]")

_NUMBERED = re.compile(
    r"\b(?:no|nos|number|nr|numbers?|ext|extension|bleep|pager|phone|tel|telephone|dial(?:led)?|model|type|mark|serial|lot|batch|ref"
    r"|code|pin|version|page|bed|bay|box|locker|reg|size|item|form|id|mrn|series|generator|machine|device|unit|kit|gauge)"
    r"\.?[\s:#]{1,2}$",
    re.IGNORECASE,
)
_NO_TIME = re.compile(
    r"\b(?:of|for|to|than|about|around|over|under|another|extra|is|was|were|be|an?|the|plus|total|only|some|nearly|almost|with|per"
    r"|and|or|up\sto|x|gave|give|given|in)\s$",
    re.IGNORECASE,
)
"""Before what is counted, whatever stood earlier; `came in 1030` is told apart above."""
_VALUE = re.compile(
    r"\b(?:ebl|(?:blood\s)?loss|lost|bleed|ml|mls|litres?|volumes?|urine|uop?|output|diuresis|drain(?:s|ed|age|ing)?|ascites|effusion"
    r"|aspirat\w+|suction\w*|fluids?|crystalloids?|colloids?|saline|hartmann\w*|albumin|plasma|salvage|salvaged|bolus|boluses|dos(?:e|es|age)"
    r"|heparin|insulin|metformin|paracetamol|vancomycin|mg|mcg|iu|units?|pressures?|ck|crp|troponin|trop|lactate|ferritin|d-?dimer|bnp"
    r"|amylase|lipase|ldh|alt|ast|psa|b?-?hcg|platelets|plts|creatinine|wcc|counts?|levels?|results?|readings?|values?|titres?"
    r"|weights?|weigh(?:s|ed|ing)?|scores?|flows?|rates?|rpm|power|energy|feeds?|calories|kcal|residuals?|vte|tidal|infusion|bags?"
    r"|blutverlust|ausfuhr|ausscheidung|urin)\b",
    re.IGNORECASE,
)
_NEAR = re.compile(r"(?:[^\W\d_][\w'’/-]*[\s:=]+){0,5}$")
"""The last words before the figures, with no sign between them."""


def find(text: str) -> Iterator[BareTime]:
    """Yield each four figures that a word, or their place, may tell to be a time of day, in order."""
    for found in _FIGURES.finditer(text):
        start, end = found.span("all")
        if found["all"] != _CRASH_CALL and not no_time(text, start, end):
            told = _told(text, start, end)
            if told is not None:
                yield told


def own(text: str, hour: int, minute: int) -> Iterator[ToldTime]:
    """Yield the time of an event in the event's own words, without a colon: `extubated 1141 coughing`.

    What is written as the event's own time is that time, whatever stands beside it, but for what is poured,
    counted or measured; with a dot only behind a word of time.
    """
    for found in _FIGURES.finditer(text):
        start, end = found.span("all")
        before = text[max(0, start - 80) : start]
        counted = _NUMBERED.search(before) or _VALUE.search(_near(before))
        if found["all"] == f"{hour:02}{minute:02}" and not counted:
            yield ToldTime(start, end)
    at = rf"\bat\s(?P<all>0?{hour}\.{minute:02})(?![\w:]|\.\d){UNIT}"
    for dotted in re.finditer(at, text, re.IGNORECASE):
        yield ToldTime(*dotted.span("all"))


def _told(text: str, start: int, end: int) -> BareTime | None:
    said, before = text[start:end], text[max(0, start - 80) : start]
    year, nought = said.startswith(("19", "20")), said.startswith("0")
    value = _VALUE.search(_near(before)) is not None
    if _NUMBERED.search(before):
        return None
    met = _BESIDE.search(before) or (_SEEN.search(before) and _AFTER_WEAK.match(text, end))
    if met and not value:
        return BareTime(start, end, True, True, year)
    if year:
        return None
    if _SINCE.search(before):
        return BareTime(start, end, True, True, False)
    if _NEARBY.search(before) and not value and not _NO_TIME.search(before):
        return BareTime(start, end, True, False, False)
    if nought or _weakly(text, start, end, before):
        return BareTime(start, end, False, False, False)
    return None


def _weakly(text: str, start: int, end: int, before: str) -> bool:
    """Whether the figures open a sentence or a clause, or end one that tells of something at a time."""
    goes_on = _BEHIND_AN_OPENING.match(text, end) is not None
    if _OPENS.search(text[max(0, start - 4) : start]):
        return goes_on
    if _VALUE.search(re.split(r"[.;]\s|\n", before)[-1]):
        return False
    ended = _AFTER_WEAK.match(text, end) is not None
    weak = _WEAK.search(before) is not None and not _NO_TIME.search(before)
    return (ended and (weak or _PUT.search(before) is not None)) or (
        goes_on and _CLAUSE.search(before) is not None
    )


def _near(before: str) -> str:
    found = _NEAR.search(before)
    return found[0] if found else ""
