"""Parts of dates that are no calendar date: `last Tuesday`, `Q3 2025`, `winter 2024/25`, `the bank holiday`.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year: a weekday, a quarter or a season of a
year is more exact than the year. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import FULL_MONTH, MONTH, YEAR
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "seen last tuesday",
    "Reported in Q3 2025",
    "third quarter of 2025",
    "since autumn 2024",
    "winter 2024/25",
    "the August bank holiday list",
    "It was Good Friday",
    "the half-term week",
    "the March list",
    "Mon 2/3/26",
    "on the 14th at noon",
    "week commencing 12 May",
    "week 23 of 2025",
    "Ash Wednesday",
    "second Monday in May",
    "first week of March",
    "end of January",
    "Mother's Day",
    "wound gaping since sun 9th",
    "meeting wed 12/6",
    "RETURN TO THEATRE SAT 16 MARCH",
    "last well boxing day",
    "CICO ON EASTER MONDAY",
    "rv tues, then home",
    "back to theatre 3/11",
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
)

_SEASON = r"(?:[Ss]pring|[Ss]ummer|[Aa]utumn|[Ww]inter|[Ff]all|verano|invierno|otoño|primavera|Sommer|Winter|Herbst|Frühjahr|été|hiver|automne|printemps)"
_DAYS = r"(?:mon|tues|wednes|thurs|fri|satur|sun)days?"
_D = r"(?:0?[1-9]|[12]\d|3[01])"
_M = r"(?:0?[1-9]|1[0-2])"
_PATTERNS = (
    re.compile(rf"(?<!\w)(?:(?:early|late|mid)[\s-])?{_SEASON}(?:\s(?:of|de|del))?\s{YEAR}(?:[/-]\d{{2,4}})?(?!\d)"),
    re.compile(r"(?<!\w)(?:last|this|next|early|late)\s(?:spring|summer|autumn|winter)(?!\w)(?!\s(?:plan|loaded|rota))"),
    re.compile(rf"(?<!\w)Q[1-4][\s/-]?(?:of\s)?(?:FY)?(?:{YEAR}|['’]\d\d)(?!\d)"),
    re.compile(rf"(?<!\w)(?:first|second|third|fourth|last|1st|2nd|3rd|4th)\squarter(?:\sof)?\s{YEAR}(?!\d)"),
    re.compile(rf"(?<!\w)(?:(?:last|next|this|every|on|since|until|till|by|from|until)\s)(?:{_DAYS}|(?:mon|tue|tues|wed|thu|thur|thurs|fri)(?!\w))(?!\w)"),
    re.compile(rf"(?<!\w)(?:the\s)?(?:{MONTH}\s|early\s|late\s|spring\s)?[Bb]ank\s[Hh]oliday(?:\s(?:Monday|weekend))?(?!\w)"),
    re.compile(r"(?<!\w)(?:[Ll]ast|[Nn]ext)\s(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day(?!\w)"),
    re.compile(r"(?<!\w)(?:Good\sFriday|Easter\s(?:Sunday|Monday|[Ww]eekend)|Ash\sWednesday|Maundy\sThursday|Palm\sSunday|Shrove\sTuesday|Pancake\sDay|Remembrance\sSunday|Bonfire\s[Nn]ight|Guy\sFawkes(?:\s[Nn]ight)?|Mother(?:s['’]?|['’]s|ing)\s(?:Day|Sunday)|Father(?:s['’]?|['’]s)\sDay|Valentine['’]?s\sDay|All\sSaints['’]?\sDay|St\.?\s(?:Stephen|Andrew|George|David|Valentine)['’]?s\sDay|May\sDay|Juneteenth|Republic\sDay|Australia\sDay|Victoria\sDay|Columbus\sDay|Raksha\sBandhan|Vaisakhi|Baisakhi|Navratri|Onam|Pongal|Eid\sal-\w+|Rosh\sHashanah|Semana\sSanta|Nochevieja|Día\sde\sReyes|Reyes\sMagos|Toussaint|Karfreitag|Fronleichnam|Rosenmontag|Nikolaustag|Ostermontag|Ostersonntag|Pfingstmontag|Boxing\sDay|Hogmanay|Whit\s(?:Monday|Sunday)|New\sYear['’]s\s(?:Eve|Day)|Nochebuena|Navidad|Heiligabend|Weihnachten|Silvester|Noël|Pâques|Ostern|Pfingsten|Holi|Dussehra|Passover|Yom\sKippur|St\sPatrick['’]s\sDay|Halloween|Labor\sDay|Memorial\sDay|Fourth\sof\sJuly|Independence\sDay|Canada\sDay|ANZAC\sDay|Waitangi\sDay)(?!\w)", re.IGNORECASE),
    # wed 12/6, sun 9th, SAT 16 MARCH, sat am: hurried notes; a bare "sat" or "sun" is a word
    re.compile(rf"(?<!\w)(?:mon|tues?|wed|thu(?:rs?)?|fri|sat|sun),?\s(?:the\s)?(?:{_D}/{_M}(?!\d)|{_D}(?:st|nd|rd|th)(?!\w)|{_D}\s(?:{FULL_MONTH}|march|may)(?!\w))", re.IGNORECASE),
    re.compile(r"(?<![\w/])(?:mon|tues|weds?|thurs|fri)(?=[,.;]?(?:\s|$))(?!\s\d+\s?(?:mg|ml|mm))", re.IGNORECASE),
    # back to theatre 3/11: day and month after what is done on a day; twelfths, sevenths and weeks stay
    re.compile(rf"(?<!\w)(?:back\sto\s(?:theatre|th|ot)|theatre|rtt|relook|redo|discharged|readmitted|d/c|seen|clinic|f/u|fu|op|opn|surgery|review|bled|fell|died)\s(?:on\s)?({_D}/(?!(?:7|12|52)(?!\d)){_M})(?![\d/%])", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:[Hh]alf[\s-]term(?:\sweek)?|[Cc]hangeover\s[Dd]ay|[Bb]lack\s[Ww]ednesday)(?!\w)"),
    re.compile(rf"(?<=[Tt]he\s){MONTH}(?=\s(?:list|clinic|meeting|rota|audit|weekend|admission|bank)\b)"),
    re.compile(r"(?<!\w)(?:Mon|Tues?|Wed|Thu(?:rs?)?|Fri|Sat|Sun),?\s\d{1,2}([/.-])\d{1,2}\1(?:\d{4}|\d\d)(?!\d)"),
    re.compile(r"(?<!\w)on\sthe\s((?:[12]?\d|3[01])(?:st|nd|rd|th))(?=\s(?:at\s(?:noon|midnight|\d)|she|he|they|the\s(?:patient|list))|[.,;]|$)"),
    re.compile(rf"(?<!\w)(?:the\s)?(?:first|second|third|fourth|last|1st|2nd|3rd|4th)\s(?:week(?:end)?|days?|{_DAYS}|half)\s(?:of|in)\s(?:{MONTH}|{FULL_MONTH})(?:\s{YEAR})?", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:the\s)?(?:end|beginning|start|middle)\sof\s((?-i:{MONTH}))(?!\s?\d)", re.IGNORECASE),
    re.compile(rf"(?<!\w)week\s\d{{1,2}}\s(?:of|,)\s?{YEAR}(?!\d)"),
    re.compile(rf"(?<!\w)(?:week|w/?c|w/?e)\s?(?:commencing|ending|beginning)?\s((?:\d{{1,2}}\s{MONTH}|\d{{1,2}}/\d{{1,2}}(?:/\d{{2,4}})?))(?!\w)"),
)  # fmt: skip


def find(text: str) -> Iterator[Span]:
    """Yield every part of a date."""
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            own = found.re.groups and len(found[1] or "") > 1
            yield span(found, KIND, LETTER, "[date]", 0.8, 1 if own else 0)
