"""Days of the week, whole or short, in five languages: `last tuesday`, `tue fri`, `since sat`, `OP am Do`, `lun 14/10`, `shukrvar`.

`sat` and `sun` are words too, and so are the two letters of German days: they count after what tells when, before a part of the day, or
beside another day of the week.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year: a weekday is more exact than the year; short forms, common
practice. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import ABROAD, FULL_WEEKDAY, LOWER, holds, timed
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "seen tues 4pm",
    "arrest Monday at 14:30",
    "Sat 14/3",
    "seen last tuesday",
    "bloods on Tuesday last",
    "on MONDAY",
    "a friday list",
    "on Monday the list was long",
    "Wed night",
    "rv tues, then home",
    "dn visits tue fri",
    "theatre 4 sat 0130",
    "trauma call 0105 mon: ped v car",
    "cath mane 0800 thurs",
    "told by phone 03:55 Sat.",
    "leaking since friday night",
    "bled sat night, came in sun am",
    "next hd sat",
    "off legs since sat uti?",
    "seen mon, not sun, thx",
    "bank shift sun nt",
    "home sat if ok",
    "ros wednes, clips tuesd",
    "OP am Do, 14.11., Drainage ex",
    "nächste visite do mail",
    "Wiedervorstellung Mo 9.12. um 8:30",
    "Mi. Visite, CRP fallend",
    "revu jeu. 5 sept., sec",
    "consulta el lun 14/10",
    "shukrvar ko dressing",
    "bis Sa. nüchtern",
    "EVOLUCIÓN lun 19: fiebre",
    "Thu 19: CT",
    "packs in Tues-Thurs",
    "Nacht Mi/Do",
    "Kontrolle Do in 2 Wo (Amb.)",
    "mo besprechung mit der leitung",
    "knife to skin 21:14 on Sunday, haemostasis",
    "drain ex, fr kontrolle",
)
NEAR_MISSES = (
    "sat up in bed, sun rash",
    "sun exposure and sun cream",
    "sat 16 minutes, sat 94 on air",
    "sat out in the chair",
    "wed to the idea, newly wed",
    "he sat, then stood",
    "avoid the sun, wear a hat",
    "mon mari est venu et mon dos",
    "art sat 98, o2 sat low",
    "so am I, do as told",
    "was so bis ans Ende",
    "mi foot, so sore, do not move",
    "dom 2, mar 3",
    "Mon to Fri cover is thin",
    "sats 94, sat 14:30 in the chair",
    "tue es nicht, tu es malade",
    "fri 3 mm free margin",
    "14 Fr 1.5 cm",
    "Metallentfernung nach 12 Mon.",
    "sat 16: 94, dom 2, mar 3",
    "mid-day sun 3: cream",
    "Mo-Fr 8-16 Uhr, Mon - Fri cover",
    "so kontrolle nicht nötig, do review",
)

_PART = r"(?:night|nt|nite|am|pm|morn(?:ing)?|eve(?:ning)?|aft(?:ernoon)?|arvo|noon|lunchtime|midday|clinic|list|shift|round|ward\sround|on-?call)"
_CLEAR = r"(?:mon|tues?|weds?|thu|thurs?|fri|wednes|tuesd|thursd|wednesd|saturd|mond|frid|sund)"
_EITHER = r"(?:sat|sun)"
_CLOCK = r"(?:(?:[01]\d|2[0-3])[0-5]\d(?:h|hrs)?(?![\d%/]|[.,]\d)(?!\s?(?:ml|mg|units|m\b))|\d{1,2}(?:[:.]\d\d)?\s?[ap]m(?!\w))"
_WHEN = (
    r"(?:since|wr|ptwr|handover|post-?take|meeting|on|until|till|til|by|for|last|next|this|every|each|due|not|or|and|seen|came|home|clinic|list|op|review|rv|r/v|mane|tmrw|shift|call|booked|moved|from|hd|dialysis|theatre|cancelled|discharge|discharged|dc|d/c|fu|f/u"
    r"|w/e|weekend|working|works|rota|oncall|on-call|nights?|bank|swap|swapped|adm|admitted|bloods|ct|mri|scan|after|before|wash-?out|relook)"
)
_NO_DAY = (
    r"(?!\s(?:up|in|on\sthe|on\sa|out|down|with|at|by|beside|back|there|through|upright|forward|comfortably|next|her|him|them|idle|still|quietly|for|over|around|down|idly|probe|monitor|reading|drop\w*|fell|low|high|of|was|were|\d{2}(?:\s?%|\s|,|\.|(?m:$))"
    r"|exposure|cream|screen|light|lamp|burn\w*|rash|damage|hat|rise|set|tan|block|glasses|lounger|bed|shone|protection))"
)
_CLEARLY = re.compile(
    rf"(?<![\w/'’-]){_CLEAR}(?![\w'’/-])(?!\s(?:to|in(?!\s\d)|her|him|couple|mari|père|mère|fils|dos|bras|es|\d+\s?(?:mg|ml|mm))\b)",
    re.IGNORECASE,
)
_WED = re.compile(r"(?<!\w)(?:newly|to|was|were|got|is|be|been|just|recently)[\s-]$", re.IGNORECASE)
_MONTHS_LONG = re.compile(r"(?<!\w)(?:nach|in|seit|alle|vor|für|über)\s\d{1,2}\s$", re.IGNORECASE)
"""What stands before German months: `nach 12 Mon.`"""
_FRENCH = re.compile(
    r"(?<!\w)(?:le|la|les|est|une?|des|pour|avec|dans|il|elle|et|je|nous|vous|pas|chez)(?!\w)"
)
_PERHAPS = (
    re.compile(rf"(?<!\w){_WHEN}\s(?:on\s|the\s)?(?P<day>{_EITHER}){_NO_DAY}(?![\w'’/-])", re.IGNORECASE),
    re.compile(rf"(?<![\w'’-])(?<!the\s)(?P<day>{_EITHER})(?=,?\s(?:{_PART}(?!\w)|{_CLOCK}))", re.IGNORECASE),
    re.compile(rf"(?<![\w'’-])(?P<day>{_EITHER})(?=,?\s(?:the\s)?\d{{1,2}}(?:st|nd|rd|th|/\d)(?!\w))", re.IGNORECASE),
    re.compile(rf"(?<=(?<![\w./-])(?<!spo2\s)(?:[01]\d|2[0-3])[0-5]\d\s)(?P<day>{_EITHER}){_NO_DAY}(?!\w)", re.IGNORECASE),
    re.compile(r"(?<=\d[:.]\d\d\s)(?P<day>Sat|Sun)(?=[.,;)]|(?m:$))"),
    re.compile(rf"(?<![\w'’-])(?:{FULL_WEEKDAY}|{_CLEAR})(?:[\s,/&+-]{{1,3}}|\s(?:and|or|to|then|not|till|until)\s)(?P<day>{_EITHER}){_NO_DAY}(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w'’-])(?P<day>{_EITHER})(?=(?:[\s,/&+-]{{1,3}}|\s(?:and|or|to|then)\s)(?:{FULL_WEEKDAY}|{_CLEAR}|sun)(?!\w))", re.IGNORECASE),
)  # fmt: skip
_SEVERAL = re.compile(
    rf"(?<![\w/'’-])(?!(?i:mon)\s?[-–]\s?(?i:fri|sun))(?:(?i:{_CLEAR}|{_EITHER})(?:\s?[-–/&+]\s?(?i:{_CLEAR}|{_EITHER}))+|(?!Mo[/–-](?:Fr|So))(?P<one>Mo|Di|Mi|Do|Fr|Sa|So)[/–-](?!(?P=one))(?:Mo|Di|Mi|Do|Fr|Sa|So))(?![\w/'’-])"
)
"""Days side by side: `Tues-Thurs`, `Mi/Do`; not the working week."""
_OF_THE_MONTH = re.compile(
    rf"(?<![\w'’-])(?:{_CLEAR}|(?-i:Sat|Sun)|lun|mar|mer|mi[ée]|jue|vie|s[áa]b|dom|jeu|ven|sam|dim|(?-i:Mo|Di|Mi|Do|Fr|Sa|So)(?=\.?\s\d\d?\.))\.?\s(?:0?[1-9]|[12]\d|3[01])\.?(?=\s?:(?!\s?\d)|\s[-–]\s(?!\d))",
    re.IGNORECASE,
)
"""At the head of what was done that day: `lun 19: TAC`, `Thu 19 - CT`."""
_EVERY = re.compile(
    r"(?<!\w)Mon(?:day)?(?:\s(?:to|till)\s|\s?[-–]\s?)(?:Fri|Sun|Sat)(?:day)?(?!\w)", re.IGNORECASE
)
"""Hours of a service: `Mon to Fri`."""
_LEADING = re.compile(
    r"(?<!\w)(?:last|this|next|every|early|late)\s$",
    re.IGNORECASE,
)
_ALONE = re.compile(rf"(?<!\w){FULL_WEEKDAY}(?!\w)(?:\s(?:last|gone|week|fortnight)(?!\w))?", re.IGNORECASE)
_GERMAN = (
    re.compile(r"(?<!\w)(?<!\d\s)(?P<day>(?:Mo|Di|Mi|Do|Fr|Sa|So)\.?,?\s(?:den\s|d\.\s)?(?:0?[1-9]|[12]\d|3[01])\.\s?(?:0?[1-9]|1[0-2])\.?)(?!\d)"),
    re.compile(r"(?<!\w)(?:am|ab|seit|vom|zum|jeden|nächsten?|letzten?|kommenden)\s(?P<day>(?:Mo|Di|Mi|Do|Fr|Sa|So)\.?)(?=[\s,;)]|(?m:$))"),
    re.compile(r"(?<!\w)(?P<day>(?:Mo|Di|Mi|Do|Fr|Sa|So)\.?\sin\s(?:\d{1,2}|einer|zwei|drei|vier|sechs)\s(?:Wo(?:chen?|\.)?|Mon(?:aten?|\.)))(?!\w)"),
    re.compile(r"(?<!\w)bis\s(?P<day>(?:Mo|Di|Mi|Do|Fr|Sa|So)\.)(?=[\s,;)]|(?m:$))"),
    re.compile(r"(?<!\w)(?:visite|termin|kontrolle|wiedervorstellung|wv|sprechstunde|dienst|verbandswechsel|vw|op|entlassung|entl\.?)\s(?:am\s)?(?P<day>(?:mo|di|mi|do|fr|sa|so)\.?)(?=[\s,;)]|(?m:$))(?!\s(?:not|as|the|it|that|you|we|to|much)\b)", re.IGNORECASE),
    re.compile(r"(?:(?m:^)|[.;:]\s)(?P<day>(?:Mo|Di|Mi|Do|Fr|Sa|So)\.)(?=\s[A-ZÄÖÜ])"),
    re.compile(r"(?:(?m:^)|[.,;:]\s)(?P<day>(?:mo|di|mi|do|fr|sa)\.?)(?=\s(?:besprechung|konferenz|visite|kontrolle|termin|konsil|verlegung|entlassung|revision|re-?op|second-?look|verbandswechsel|früh|vormittag|nachmittag|abend|nacht)(?!\w))"),
)  # fmt: skip
_ROMANCE = re.compile(
    rf"(?<!\w)(?:lun|mar|mer|jeu|ven|sam|dim|mié|mie|jue|vie|s[áa]b|dom)(?:\.\s\d{{1,2}}|\s\d{{1,2}}(?=[/-]\d|\s(?:{ABROAD})))(?:er)?(?:[/-]\d{{1,2}}(?:[/-]\d{{2,4}})?)?(?:\s(?:de\s)?(?:{ABROAD}|sept|janv|févr|avr|juil|août|oct|nov|déc|ene|abr|ago|dic|{LOWER})\.?)?(?!\w)",
    re.IGNORECASE,
)
_HINDI = re.compile(
    r"(?<!\w)(?:som|mangal|budh|guru|brihaspati|veer|shukra?|shani|ravi|it|aet)[vw]aa?r(?!\w)", re.IGNORECASE
)
_EITHER_WORD = re.compile(rf"(?<!\w){_EITHER}(?!\w)", re.IGNORECASE)
_TWO_LETTERS = re.compile(
    r"(?<!\w)(?:Mo|Di|Mi|Do|Fr|Sa|So)(?!\w)|(?<!\w)(?:mo|di|mi|do|fr|sa)\.?\s[a-z]{3}|(?i:visite|termin|kontrolle|wiedervorstellung|sprechstunde|verbandswechsel|entlassung|entl\.)"
)
"""Without one of these a text is not searched for short days."""


def find(text: str) -> Iterator[Span]:
    """Yield every day of the week, with the time of day beside it; what a citation prints stays."""
    yield from timed(text, outside(text, _found(view(text))))


def _found(text: str) -> Iterator[Span]:
    for found in _ALONE.finditer(text):
        yield Span(_start(text, found.start()), found.end(), KIND, LETTER, "[day of the week]", 0.6)
    for found in _CLEARLY.finditer(text):
        before = text[max(0, found.start() - 10) : found.start()]
        low = found[0].lower()
        months = low == "mon" and _MONTHS_LONG.search(text, max(0, found.start() - 12), found.start())
        if months or _in_every(text, found.start()):
            continue
        if not ((low == "wed" and _WED.search(before)) or (low in ("mon", "tue") and _FRENCH.search(text))):
            yield Span(_start(text, found.start()), found.end(), KIND, LETTER, "[date]", 0.7)
    perhaps = _PERHAPS if _EITHER_WORD.search(text) else ()
    for pattern in (*perhaps, *(_GERMAN if _TWO_LETTERS.search(text) else ())):
        yield from (span(found, KIND, LETTER, "[date]", 0.7, "day") for found in pattern.finditer(text))
    for pattern in (
        (_SEVERAL, _OF_THE_MONTH, _ROMANCE, _HINDI)
        if holds(text, ("var", "vaar", "war", "waar"))
        else (_SEVERAL, _OF_THE_MONTH, _ROMANCE)
    ):
        yield from (span(found, KIND, LETTER, "[date]", 0.75) for found in pattern.finditer(text))


def _in_every(text: str, start: int) -> bool:
    """Whether a short day is one end of a working week."""
    return any(
        every.start() <= start < every.end()
        for every in _EVERY.finditer(text, max(0, start - 12), start + 20)
    )


def _start(text: str, start: int) -> int:
    """The start with the word before it that tells which one: `last tuesday`."""
    found = _LEADING.search(text, max(0, start - 7), start)
    return found.start() if found else start
