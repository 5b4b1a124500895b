"""Parts of dates that are no calendar date: `last Tuesday`, `Q3 2025`, `winter 2024/25`, `the bank holiday`.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year: a weekday, a quarter or a season of a
year is more exact than the year. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import ABROAD, FULL_MONTH, LOWER, MONTH, WEEKDAY, YEAR, holds, timed
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "12th march",
    "Reported in Q3 2025",
    "third quarter of 2025",
    "Kontrolle KW 12/25",
    "audit due by Q3",
    "the autumn term",
    "since autumn 2024",
    "winter 2024/25",
    "winter 23/24, summer '25",
    "the March list",
    "week 23 of 2025",
    "second Monday in May",
    "first week of March",
    "wound gaping since sun 9th",
    "meeting wed 12/6",
    "RETURN TO THEATRE SAT 16 MARCH",
    "doppler booked thurs 14th nov.",
    "ct 7 jan clear",
    "nursing home 1st dec, peg leaking",
    "clinic wed 9 oct",
    "well until the evening of Saturday the 5th",
    "ercp tomorrow 9/8",
    "rv weds 22nd w histo",
    "Im 1. Quartal 2026 fielen vier an",
    "Bilan du 2e semestre 2025",
    "En el primer trimestre de 2026",
    "Dx early 2017, recurrence later",
    "in der ersten Märzwoche lief",
    "Nuit du 3 au 4, seule",
    "turno noche del 24/25 se desconectó",
    "Nachtdienst vom 3. auf den 4. Mai",
    "shift 14/15 raat",
    "in der Nacht vom 3. zum 4. gestürzt",
    "audit Q2/26",
    "am 3. des Monats",
    "Kontrolle 12. KW",
    "report H1 2026",
    "am 5. d. M. entlassen",
    "on the 5th of last month",
    "el 12 del corriente",
    "le 5 du mois dernier",
)
NEAR_MISSES = (
    "the winter plan",
    "spring loaded needle",
    "Q fever and Q waves",
    "QRS 120, Q4H",
    "the fall in pressure",
    "the third quarter of the meniscus",
    "on the 4th attempt",
    "March fracture",
    "the 5th metatarsal",
    "on the 3rd day at 9",
    "sun exposure",
    "first half of the list",
    "last day of treatment",
    "sat up in bed, sun rash",
    "review 2/52",
    "seen 6/7 later",
    "holiday planned",
    "sat 16 minutes",
    "3 oct scans and 12 dec",
    "on 2/3 occasions, on 1/4 strength",
    "sats 94, sat 14:30 in the chair",
    "power 4/5 on 3/7, rv 6/52",
    "wed 4 mm",
    "nuit: 3 ou 4 selles",
    "vom 3. auf den 4. Finger",
    "vom 3. bis 5. Tag",
    "H1N1, H2 2000 mg",
    "premier trimestre de grossesse",
    "late 2000 ml drain",
    "tab 1/2 raat ko",
    "in the 5th month of this year",
    "el 5 % del mes",
)

_SEASON = r"(?:[Ss]pring|[Ss]ummer|[Aa]utumn|[Ww]inter|[Ff]all|verano|invierno|otoño|primavera|Sommer|Winter|Herbst|Frühjahr|été|hiver|automne|printemps)"
_SHORT = r"(?:mon|tues?|weds?|thu(?:rs?)?|fri|sat|sun)"
_CLOCK = r"(?:\s?(?:,|at|@|around|about|approx|c\.)?\s?(?:(?:[01]?\d|2[0-3])[:.][0-5]\d(?!\d)|(?:[01]\d|2[0-3])[0-5]\d(?:\s?h(?:rs)?)?(?![\d%]|\s?m)|\d{1,2}(?:[:.]\d\d)?\s?(?:am|pm)))"
"""A time of day right after a weekday, which together tell one hour of a year: `tues 4pm`."""
_DAYS = r"(?:mon|tues|wednes|thurs|fri|satur|sun)days?"
_D = r"(?:0?[1-9]|[12]\d|3[01])"
_M = r"(?:0?[1-9]|1[0-2])"
_PATTERNS = (
    re.compile(rf"(?<!\w)(?:(?:early|late|mid)[\s-])?{_SEASON}(?:\s(?:of|de|del))?\s(?:{YEAR}(?:[/-]\d{{2,4}})?|['’][0-4]\d|[0-4]\d/[0-4]\d)(?!\d)"),
    re.compile(r"(?<!\w)(?:last|this|next|early|late)\s(?:spring|summer|autumn|winter)(?!\w)(?!\s(?:plan|loaded|rota))"),
    re.compile(rf"(?<!\w)Q[1-4][\s/-]?(?:of\s)?(?:FY)?(?:{YEAR}|['’]\d\d|(?<=/)[2-4]\d)(?!\d)"),
    re.compile(r"(?<!\w)(?:H[12]\s20[0-4]\d|[12]H[2-4]\d)(?!\w|\s?(?:m[gl]|g)\b)"),
    re.compile(rf"(?<!\w)(?:first|second|third|fourth|last|1st|2nd|3rd|4th)\squarter(?:\sof)?\s{YEAR}(?!\d)"),
    # wed 12/6, sun 9th, SAT 16 MARCH, sat am: hurried notes; a bare "sat" or "sun" is a word
    re.compile(rf"(?<!\w)(?:mon|tues?|weds?|thu(?:rs?)?|fri|sat|sun),?\s(?:the\s)?(?:{_D}/{_M}(?!\d)|{_D}(?:st|nd|rd|th)(?!\w)|{_D}\s(?:{FULL_MONTH}|march|may)(?!\w))", re.IGNORECASE),
    # the evening of Saturday the 5th
    re.compile(rf"(?<!\w)(?:the\s)?(?:evening|night|morning|afternoon|(?:early|small)\shours)\sof\s(?:(?:the\s)?{WEEKDAY}(?:,?\s(?:the\s)?{_D}(?:st|nd|rd|th)?(?!\w)(?:\s(?:of\s)?{MONTH})?)?|the\s{_D}(?:st|nd|rd|th)(?!\s(?:post|day|rib|week))|{_D}(?:st|nd|rd|th)?\s{MONTH}(?:\s{YEAR})?)(?!\w)"),
    # back to theatre 3/11: day and month after what is done on a day; twelfths, sevenths and weeks stay
    re.compile(rf"(?<=[Tt]he\s){MONTH}(?=\s(?:list|clinic|meeting|rota|audit|weekend|admission|bank)\b)"),
    re.compile(rf"(?<!\w)(?:the\s)?(?:first|second|third|fourth|last|1st|2nd|3rd|4th)\s(?:week(?:end)?|days?|{_DAYS}|half)\s(?:of|in)\s(?:{MONTH}|{FULL_MONTH})(?:\s{YEAR})?", re.IGNORECASE),
    re.compile(rf"(?<!\w)week\s\d{{1,2}}\s(?:of|,)\s?{YEAR}(?!\d)"),
    re.compile(r"(?<!\w)(?:KW\s?\d{1,2}(?:[/.]\d{2,4})?|[1-5]?\d\.\sKW|(?:spring|summer|autumn|winter|michaelmas|hilary|trinity|lent)\sterm)(?!\w)", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:in|since|during|by|until|end\sof|start\sof|for)\s(Q[1-4])(?!\w)"),
    re.compile(rf"(?<!\w)(?:(?:[1-4]|I{{1,3}}|IV)\.|(?:erst|zweit|dritt|viert)e[ns]?)\s(?:Quartal|Halbjahr)(?:\s(?:{YEAR}|\d\d))?(?!\w)"),
    re.compile(rf"(?<!\w)(?:1er|[2-4]e|premier|deuxième|second|troisième|quatrième|primer|segundo|tercer|cuarto|último|dernier)\s(?:trimestre|semestre|cuatrimestre)\s(?:del?\s)?{YEAR}(?!\d)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:early|late|mid|Anfang|Mitte|Ende|début|fin|principios\sde|mediados\sde|finales\sde)[\s-]{YEAR}(?![\d%]|\s?m[lg]\b)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:(?:erst|zweit|dritt|viert|letzt)en\s)?(?:{ABROAD})woche(?!\w)", re.IGNORECASE),
)  # fmt: skip
_WITH_FIGURES = (
    # thurs 14th nov, wed 9 oct, mon 3rd: 1st dec, 7 jan; `3 oct scans` and `12 dec` by themselves are no dates
    re.compile(rf"(?<!\w){_SHORT}(?:day|nesday|urday|sday)?,?\s(?:the\s)?{_D}(?:st|nd|rd|th)?\s(?:of\s)?{LOWER}(?:\s{YEAR})?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/:]){_D}(?:st|nd|rd|th)\s(?:of\s)?{LOWER}(?:[\s,]{{1,2}}{YEAR})?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/:]){_D}\s(?:jan|feb|apr|jun|jul|aug|sept?|oct|nov)(?!\w)(?!\s(?:scan|image|show|macula|done|was|is))(?:[\s,]{{1,2}}{YEAR})?"),
    re.compile(rf"(?<!\w)(?:on|since|by|until|till|from|w/?c|w/?e|seen|clinic|review|rv|f/u|due|tci|op|bloods|date|dated|adm|admitted|dc|d/c|home)\s({_D}\s(?:mar|dec|may))(?=[\s]?[,.;)]|(?m:$))"),
    # tues 4pm, Monday at 14:30
    # on 12/3, rv 14/8: the day above the month, which no fraction has
    re.compile(rf"(?<!\w)((?:tomorrow|yesterday|today|tonight|tmrw|tmw)\s\(?{_D}/{_M})(?![\d/%])", re.IGNORECASE),
    # am 5. d. M., the 5th of last month, el 12 del corriente, le 5 courant
    re.compile(rf"(?<![\w.,/:-]){_D}\.\s?(?:[dvlk]\.\s?M\.|(?:dieses|vorigen|letzten|vergangenen|kommenden|nächsten|laufenden|des)\sMonats)(?!\w)"),
    re.compile(rf"(?<!\w)(?:the\s)?{_D}(?:st|nd|rd|th)\sof\s(?:this|last|next)\smonth(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:el|del|al)\s({_D}\s(?:del?\s)?(?:corriente(?:\smes)?|cte\.?|presente(?:\smes)?|mes\s(?:pasado|en\scurso|actual|próximo|que\sviene)|este\smes))(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:le|du|au)\s({_D}\s(?:courant|(?:du\smois\s(?:dernier|prochain|courant)|de\sce\smois)))(?!\w)", re.IGNORECASE),
    # the nights between two days: nuit du 3 au 4, noche del 24/25, vom 3. auf den 4. Mai, 14/15 raat
    re.compile(rf"(?<!\w)nuits?\sdu\s({_D}\s?(?:au|/)\s?{_D})(?![\w/%])", re.IGNORECASE),
    re.compile(rf"(?<!\w)noche\sdel\s({_D}\s?(?:al|/)\s?{_D})(?![\w/%])", re.IGNORECASE),
    re.compile(rf"(?<!\w)[Vv]om\s({_D}\.\s(?:auf\sden\s{_D}\.(?:\s(?i:{ABROAD})(?!\w))?|(?:zum|bis(?:\szum)?)\s{_D}\.(?!\s(?i:{ABROAD})(?!\w))))(?!\w)(?!\s(?:[A-ZÄÖÜ](?!anuar|uni|uli)[a-zäöü]+))"),
    re.compile(rf"(?<![\w.,/:-])(?![12]/[234]\s)({_D}/{_D})(?=\s(?:raat|night)(?!\w))", re.IGNORECASE),
)  # fmt: skip
"""Asked about a text with a figure only."""
_FIGURE = re.compile(r"\d")


def find(text: str) -> Iterator[Span]:
    """Yield every part of a date."""
    if holds(text, _MAY_BE) or _WITH_STROKE.search(text):
        yield from timed(text, _found(text))


_MAY_BE = (
    "d. m",
    "d.m",
    *word_set(
        """
    day mon tue wed thu fri sat sun spring summer autumn winter fall quarter year term night week jan feb mar apr may jun jul aug sep oct nov dec
    q1 q2 q3 q4 kw st nd rd th w/ verano invierno oto primavera herbst frühj été hiver automne printemps quartal halbjahr trimestre semestre anfang mitte ende début fin raat nuit noche vom early late mid woche monat month corriente cte presente mes mois courant h1 h2 1h 2h
    """
    ),
)
"""Letters of which some must stand in a text, or no pattern is run."""
_WITH_STROKE = re.compile(r"\d/\d")


def _found(text: str) -> Iterator[Span]:
    patterns = _PATTERNS + _WITH_FIGURES if _FIGURE.search(text) else _PATTERNS
    for pattern in patterns:
        for found in pattern.finditer(text):
            own = found.re.groups and len(found[1] or "") > 1
            yield span(found, KIND, LETTER, "[date]", 0.8, 1 if own else 0)
