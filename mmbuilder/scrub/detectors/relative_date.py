"""Parts of dates that are no calendar date: `last Tuesday`, `Q3 2025`, `winter 2024/25`, `the bank holiday`.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year: a weekday, a quarter or a season of a
year is more exact than the year. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import FULL_MONTH, LOWER, MONTH, WEEKDAY, YEAR, holds, timed
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

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
    "doppler booked thurs 14th nov.",
    "ct 7 jan clear",
    "nursing home 1st dec, peg leaking",
    "clinic wed 9 oct",
    "w/c 4 nov",
    "seen tues 4pm",
    "arrest Monday at 14:30",
    "well until the evening of Saturday the 5th",
    "rv 14/8, then home",
    "on 12/3 for relook",
    "ercp tomorrow 9/8",
    "stopped in mid-September",
    "theatre 4 sat 0130",
    "trauma call 0105 mon: ped v car",
    "cath mane 0800 thurs",
    "told by phone 03:55 Sat.",
    "leaking since friday night",
    "bled sat night, came in sun am",
    "next hd sat",
    "rv weds 22nd w histo",
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
)

_SEASON = r"(?:[Ss]pring|[Ss]ummer|[Aa]utumn|[Ww]inter|[Ff]all|verano|invierno|otoño|primavera|Sommer|Winter|Herbst|Frühjahr|été|hiver|automne|printemps)"
_SHORT = r"(?:mon|tues?|weds?|thu(?:rs?)?|fri|sat|sun)"
_CLOCK = r"(?:\s?(?:,|at|@|around|about|approx|c\.)?\s?(?:(?:[01]?\d|2[0-3])[:.][0-5]\d(?!\d)|(?:[01]\d|2[0-3])[0-5]\d(?:\s?h(?:rs)?)?(?![\d%]|\s?m)|\d{1,2}(?:[:.]\d\d)?\s?(?:am|pm)))"
"""A time of day right after a weekday, which together tell one hour of a year: `tues 4pm`."""
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
    re.compile(rf"(?<!\w)(?:mon|tues?|weds?|thu(?:rs?)?|fri|sat|sun),?\s(?:the\s)?(?:{_D}/{_M}(?!\d)|{_D}(?:st|nd|rd|th)(?!\w)|{_D}\s(?:{FULL_MONTH}|march|may)(?!\w))", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:(?:sat|sun|mon|tues?|weds?|thurs?|fri)(?=\s(?:night|am|pm|morning|evening|eve|aft(?:ernoon)?)(?!\w))|(?:next|hd|dialysis|clinic|list|op|review|until|till|mane|since)\s(?:on\s)?((?:sat|sun)(?=\s?[.,;]|$)))", re.IGNORECASE),
    re.compile(r"(?<![\w/])(?:mon|tues|weds?|thurs|fri)(?=[,.;]?(?:\s|$))(?!\s\d+\s?(?:mg|ml|mm))", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:early|mid|late)[\s-]{MONTH}(?:\s{YEAR})?(?!\s?\d)"),
    # the evening of Saturday the 5th
    re.compile(rf"(?<!\w)(?:the\s)?(?:evening|night|morning|afternoon|(?:early|small)\shours)\sof\s(?:(?:the\s)?{WEEKDAY}(?:,?\s(?:the\s)?{_D}(?:st|nd|rd|th)?(?!\w)(?:\s(?:of\s)?{MONTH})?)?|the\s{_D}(?:st|nd|rd|th)(?!\s(?:post|day|rib|week))|{_D}(?:st|nd|rd|th)?\s{MONTH}(?:\s{YEAR})?)(?!\w)"),
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
_WITH_FIGURES = (
    # sat 0130, 0310 sat: a clock of four figures beside it
    re.compile(r"(?<!\w)(?:sat|sun|mon|tues?|weds?|thurs?|fri)(?=,?\s(?:[01]\d|2[0-3])[0-5]\d(?:h|hrs)?(?![\w%/]|[.,]\d)(?!\s?(?:ml|mg|units)))", re.IGNORECASE),
    re.compile(r"(?<=(?<![\w./-])(?<!spo2 )(?:[01]\d|2[0-3])[0-5]\d\s)(?:sat|sun|mon|tues?|weds?|thurs?|fri)(?!\w)(?!\s(?:up|in|on|at\s|out|\d\d))", re.IGNORECASE),
    re.compile(r"(?<=\d[:.]\d\d\s)(?:Sat|Sun|Mon|Tues?|Weds?|Thurs?|Fri)(?=[.,;)]|$)"),
    # thurs 14th nov, wed 9 oct, mon 3rd: 1st dec, 7 jan; `3 oct scans` and `12 dec` by themselves are no dates
    re.compile(rf"(?<!\w){_SHORT}(?:day|nesday|urday|sday)?,?\s(?:the\s)?{_D}(?:st|nd|rd|th)?\s(?:of\s)?{LOWER}(?:\s{YEAR})?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/:]){_D}(?:st|nd|rd|th)\s(?:of\s)?{LOWER}(?:[\s,]{{1,2}}{YEAR})?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/:]){_D}\s(?:jan|feb|apr|jun|jul|aug|sept?|oct|nov)(?!\w)(?!\s(?:scan|image|show|macula|done|was|is))(?:[\s,]{{1,2}}{YEAR})?"),
    re.compile(rf"(?<!\w)(?:on|since|by|until|till|from|w/?c|w/?e|seen|clinic|review|rv|f/u|due|tci|op|bloods|date|dated|adm|admitted|dc|d/c|home)\s({_D}\s(?:mar|dec|may))(?=[\s]?[,.;)]|$)"),
    re.compile(rf"(?<!\w)(?:w/?c|w/?e|week\s(?:commencing|ending|beginning))\s({_D}(?:st|nd|rd|th)?\s{LOWER})(?!\w)", re.IGNORECASE),
    # tues 4pm, Monday at 14:30
    re.compile(rf"(?<!\w)(?:(?:last|next|this|on)\s)?((?:(?-i:{WEEKDAY})|mon|tues?|weds?|thurs?|fri|(?:mon|tues|wednes|thurs|fri|satur|sun)day|(?:sat|sun)(?=\s?(?:at\s)?\d{{1,2}}(?:[:.]\d\d)?\s?(?:am|pm))){_CLOCK})(?!\w)", re.IGNORECASE),
    # on 12/3, rv 14/8: the day above the month, which no fraction has
    re.compile(r"(?<!\w)(?:on|since|until|till|rv|r/v|review|clinic|due|f/u|fu|tci|adm|op(?:n|'d)?|ct|mri|uss|cxr|bloods|dated|clerked|w/?c|by|seen|phoned|rang|called|emailed|letter|wrote)\s(?:on\s)?((?:1[3-9]|2[0-35-9]|3[01])/(?!(?:7|12)(?!\d))(?:[1-9]|1[01])|1[0-2]/(?!7(?!\d))[1-9])(?![\d/%]|[.,:-]\d)(?!\s(?:occasions|strength|dose|days|nights|fingers|limbs|course|mm|cm|h(?:ourly)?\b))", re.IGNORECASE),
    re.compile(rf"(?<!\w)((?:tomorrow|yesterday|today|tonight|tmrw|tmw)\s\(?{_D}/{_M})(?![\d/%])", re.IGNORECASE),
)  # fmt: skip
"""Asked about a text with a figure only."""
_FIGURE = re.compile(r"\d")


def find(text: str) -> Iterator[Span]:
    """Yield every part of a date."""
    if holds(text, _MAY_BE) or _WITH_STROKE.search(text):
        yield from timed(text, _found(text))


_MAY_BE = tuple(
    word_set(
        """
    day mon tue wed thu fri sat sun spring summer autumn winter fall quarter holiday year term night week jan feb mar apr may jun jul aug sep oct nov dec
    q1 q2 q3 q4 st nd rd th w/ verano invierno oto primavera herbst frühj été hiver automne printemps halloween hogmanay juneteenth navidad noche heilig
    weihn silvester noël pâques ostern oster pfingst holi dussehra passover kippur easter raksha vaisakhi baisakhi navratri onam pongal eid hashanah santa reyes
    toussaint karfr fronl nikol fawkes
    """
    )
)
"""Letters of which some must stand in a text, or no pattern is run."""
_WITH_STROKE = re.compile(r"\d/\d")


def _found(text: str) -> Iterator[Span]:
    patterns = _PATTERNS + _WITH_FIGURES if _FIGURE.search(text) else _PATTERNS
    for pattern in patterns:
        for found in pattern.finditer(text):
            own = found.re.groups and len(found[1] or "") > 1
            yield span(found, KIND, LETTER, "[date]", 0.8, 1 if own else 0)
