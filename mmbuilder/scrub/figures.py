"""Whether a figure that the judge takes for an identifier is one that the clinic writes so: the guard of figures."""

from __future__ import annotations

import re

from mmbuilder.scrub.detectors._calendar import ABROAD
from mmbuilder.scrub.detectors._quantity import STAINED, clinical, distance, measured, model
from mmbuilder.scrub.judging.reading import flags
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.words import word_set

_PART = re.compile(r"[^\W_]+")
_PIECE = re.compile(r"(?<!\d)\d{1,3}(?:[ \u00a0\u202f]\d{3})+(?!\d)|\S*\w")
_OFFSET = re.compile(
    r"(?<!\w)(?:day|days|tag|jour|día|pod|wk|week|month)\s?(?:[-\N{MINUS SIGN}+]?\d|\[)", re.IGNORECASE
)
"""A day of the case: what a date becomes."""
_TELLS_NOBODY = re.compile(
    r"(?:19|20)\d\d"
    r"|(?:T?[+\N{MINUS SIGN}-])?(?:(?:[01]?\d|2[0-3])(?::[0-5]\d(?::[0-5]\d)?|[.h](?:1[3-9]|[2-5]\d)|(?<=0\d)[.h]0\d)|\d{1,2}:[0-5]\d)"
    r"|(?:0?\d|1[0-2])[ap]m|\d{1,3}\.0|\d{1,2}\.\d{1,2}\.\d|[1-8]?\d(?:[FM]|yo)|G\d{1,2}P\d{1,2}|(?:[12]\d|3\d|4[0-4])w[0-6]d|3[2-9]|[4-8]\d|\d|[36]/(?:[4569]|7\.5|9\.5|1[28]|24|36|38|60)|20/\d{2,3}|1/60|[A-Z]{3,5}[xX]\d|[1-4]\d-[12]?\d-1\d\d"
)
"""A year; a time, with a dot only where no day and month can be meant, or of a half of the day; a decimal nought; a version; an age that may
be told; pregnancies and births, weeks and days of one; more than a month has days; one figure; an acuity in metres or feet;
how often something was grafted; what a stent graft measures at both ends and along."""
_REGISTERED = re.compile(
    rf"(?:NCT|ISRCTN|ACTRN|CTRI|DRKS|PMC|PMID|HLA)[-/\s:]?\S+|(?:NG|CG|QS|TA|IPG|MTG|DG)\d{{1,3}}|[A-Z]{{6,}}-\d{{1,3}}|{STAINED}"
)
"""Numbers of registered trials and papers, of guidelines, of tissue types and of stains, and trials in a series (`KEYNOTE-564`): published,
whatever stands beside them."""
_ORDINAL = re.compile(r"\d{1,2}(?:st|nd|rd|th)")
_IN_TURN = re.compile(
    r"\s(?:go|goes|tries|try|attempt|pass|time|look|shot|bolus|dose|cycle|shock|stitch|suture|clip|bag|unit|pool|litre|degree|stage|part|rib|toe|finger|ray|nerve|space|ventricle|trimester|opinion|assistant|baby|twin|pregnancy|floor|year|century|(?:per)?centile|generation|line)s?(?!\w)"
)
"""What is counted, behind its place in a row: `the 3rd go`."""
_COUNTED = re.compile(
    r"(?<!\w)(?:(?:swab|gauze|instrument|needle|pack)s?|count(?:ed|s)?|(?:[^\W\d_]+-?)?zählung|bauchtücher|tupfer|kompressen|nadeln|recuento|contaje|gasas|compresas|compresses|comptage)"
    r"(?:\s[^\W\d_]{1,12}){0,3}[\s:]{1,2}$",
    re.IGNORECASE,
)
_PAIR = re.compile(r"\d{1,2}/\d{1,2}")
"""What is counted before a wound is closed, and how many of how many: `Bauchtuch-Zählung 12/12`."""
_OF_A_WHILE = re.compile(r"\d{1,2}/(?:7|52|12|24)")
_AGO = re.compile(r"\s?(?:ago|later|earlier|prior|hx|h/o|history|duration|post[\s-]?op)(?!\w)", re.IGNORECASE)
_FOR = re.compile(
    r"(?<!\w)(?:for|with|after|past|last|over|within|every|ill|unwell|poorly|vomiting|pain|fever)\s$",
    re.IGNORECASE,
)
"""Days, weeks, months and hours as British notes write them: `seen 3/7 ago`, `ill 5/7`."""
_SHORT_DRUG = re.compile(
    r"\s(?:\d{1,4}\s?(?:mcg|µg|ug|mg|g|ml|units?|iu)|(?:3[2-9]|[4-9]\d|\d{3,4})\s?(?:od|bd|tds|tid|bid|qds|qid|prn|s/?c|iv|im|po))(?!\w)",
    re.IGNORECASE,
)
"""A dose behind letters that are a month too: `oct 100 tds`."""
_COMA = re.compile(r"(?<!\w)(?:gcs|glasgow)(?!\w)", re.IGNORECASE)
_OF_FIFTEEN = re.compile(r"(?:[3-9]|1[0-5])/15")


_DAYS = word_set(
    """
    mo di mi do fr sa so lun mar mer jeu ven vend sam dim lu ma me je ve vi lunes martes miércoles jueves viernes sábado domingo mié mie jue vie sáb sab dom
    lundi mardi mercredi jeudi vendredi samedi dimanche montag dienstag mittwoch donnerstag freitag samstag sonntag sonnabend montags dienstags
    somvaar mangalvaar budhvaar guruvaar shukravaar shanivaar ravivaar
    """
)
"""Days of the week of other languages, in full and short: most are words too, so the judge has to take them for a date first."""
_MONTHS = frozenset(fold(month) for month in ABROAD.split("|"))


_REACH = 48
"""Characters before a pair in which what was counted stands."""


def _of_calendar(part: str) -> bool:
    """Whether a word is a month or a day of the week."""
    plain = fold(part)
    return "m" in flags(plain) or plain in _MONTHS or part.lower() in _DAYS


def day_of_the_case(text: str, start: int, end: int) -> bool:
    """Whether a word or figure is of a day of the case: `Day 3`."""
    return any(
        found.start() < end and start < found.end() for found in _OFFSET.finditer(text, max(0, start - 8))
    )


_POSTOPERATIVE = re.compile(
    r"\s?(?<!\d)\d{1,2}(?:\.|º|°|e|st|nd|rd|th)?\s(?:(?:post-?op[^\W\d_]*\.?|p\.?\s?o\.?)(?:\s(?:tag|day|día|jour)(?!\w)|$)|(?:tag|day|día|jour)\s(?:post|p\.?\s?o))",
    re.IGNORECASE,
)


def up_to_a_day_of_the_case(text: str, start: int, end: int) -> int:
    """The end of a date without the day after the operation behind it: `Samstag` of `Samstag 4. postop. Tag`."""
    found = _POSTOPERATIVE.search(text, start)
    return found.start() if found and start < found.start() < end else end


def of_the_clinic(text: str, start: int, end: int, *, sure: bool) -> bool:
    """Whether a figure stays: a year, a day of the case, a time, a value with its name or unit, an acuity, a distance.

    What has a form that the clinic uses goes only where the judge is `sure`; letters alone only as a month or a day.
    """
    said = text[start:end]
    if day_of_the_case(text, start, end) or _REGISTERED.fullmatch(said) or _shining(text, start, said):
        return True
    if _PAIR.fullmatch(said) and _COUNTED.search(text, max(0, start - _REACH), start):
        return True
    if _ORDINAL.fullmatch(said) and _IN_TURN.match(text, end):
        return True
    if _OF_A_WHILE.fullmatch(said) and (
        _AGO.match(text, end) or _FOR.search(text, max(0, start - 12), start)
    ):
        return True
    if said.isalpha() and _SHORT_DRUG.match(text, end):
        return True
    if any(_of_calendar(part) for part in _PART.findall(said)):
        return False
    pieces = [found for found in _PIECE.finditer(said) if any(sign.isdigit() for sign in found[0])]
    return all(
        _TELLS_NOBODY.fullmatch(piece[0])
        or (_OF_FIFTEEN.fullmatch(piece[0]) and _COMA.search(text))
        or measured(text, start + piece.start(), start + piece.end())
        or distance(piece[0])
        or model(text, start + piece.start(), start + piece.end())
        or (not sure and clinical(piece[0]))
        for piece in pieces
    )


def _shining(text: str, start: int, said: str) -> bool:
    """Whether the day of the week is the sun: `off in the sun`."""
    return said == "sun" and text.endswith("the ", 0, start)
