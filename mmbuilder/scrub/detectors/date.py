"""Calendar dates and parts of dates more exact than the year, in all their forms.

A full date becomes a Day number where Day 0 is known, else `[date]`. A year alone may stay,
except a year of birth, which tells an age. Times of day and Day numbers are left alone.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; ISO 8601-1 (2026-03-14).
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import (
    FULL_MONTH,
    LOWER,
    MONTH,
    WEEKDAY,
    YEAR,
    could_be,
    holds,
    timed,
)
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C); ISO 8601-1"
EXAMPLES = (
    "on the 14th at noon",
    "on 2026-03-14 at night",
    "14 March 2026",
    "March 14th 2026",
    "March 14, 2026",
    "14/03/26",
    "14.3.2026",
    "Mar 2026",
    "14-Mar-26",
    "14Mar2026",
    "the 14th of March",
    "Saturday 14 March 2026",
    "next Tuesday 4th June",
    "since April",
    "14 march 2026",
    "20260314",
    "stamped 2024:11:03 02:14",
    "born 1931",
    "DOB 14.02.1957",
    "3 May",
    "2026-03-14T09:30",
    "Monday 14th",
    "MAY 2026",
    "January to March 2025",
    "3 to 5 March 2026",
    "12 / 03 / 2025",
    "03.02.2025-05.02.2025",
    "seen in 2025-03",
    "20250203T1406",
    "12–03–2024",
    "12‑03‑2024",
    "12. 3. 2024",
    "12/03/2024-14/03/2024",
    "03/2024",
    "march 2024",
    "Mar '24",
    "12 / 09 / 2025",
    "by 12–09–2025",
    "12 03 2025",
    "12_03_2025",
    "12−03−2025",
    "12⁄03⁄2025",
    "１２/０３/２０２５",
    "١٢/٠٣/٢٠٢٥",
    "12032025",
    "2025-071",
    "2025-W11",
    "Mar/12/2025",
    "2025Mar12",
    "March12 2025",
    "12 III 2025",
    "since october",
    "between March and May",
    "week 12 of 2024",
    "12 april",
    "march 12",
    "on may 5",
    "14/03 in clinic",
    "clinic 14.3.",
    "seen on the 14th",
    "March the 12th",
    "DOB: 030251",
    "DOB 03 02 51",
    "Born: 1931-02",
    "b. 1931",
    "IMG_20250312_1406",
    "12/03/2025to",
    "12 march",
    "DOA 12/3, DOD 19/3",
    "2025-03-12T14:06:33+01:00",
    "9/1/25-11/1/25 in ICU",
    "epoch 1741788393",
    "bloods 3/3: Hb 101",
    "Between November and January he lost weight",
    "packing daily until 20th.",
    "died on the 29th from sepsis",
    "last scan on 9/9.",
    "skeletal survey requested 30/10",
    "histology sent 28.8, no answer",
    "drain out 20.9.",
    "blood patch 11/7 1100",
    "operated 22 aug 0300z",
    "INR due 9/6, dose 5",
    "admitted 15 RAMADAN 1445",
    "2024年6月18日 gastrectomy",
    "CT 01.04 at 19.20",
    "bed held til the 7th\nform signed",
    "f/u 3/12 @ 1030",
    "born 3 Tishrei 5786",
)
NEAR_MISSES = (
    "Acuity was 6/9 unaided and 20/40 at week 2",
    "adrenaline 1:4 and 1:10,000",
    "blood pressure 120/80",
    "10-0 nylon and 5-0 PDS",
    "acuity 3/60",
    "at L4/5 and L3/4",
    "it may need 2 units",
    "May need a second look",
    "doses of 5/10/15 mg",
    "patients march on; 3 sat up in bed",
    "repeat 2/7 then 6/52",
    "at 14:30 and 09.45",
    "Christmas disease",
    "on day 3",
    "Day 14, 24/7 cover",
    "the sun was low",
    "in 2019 the trust changed its policy",
    "software version 3.2.10",
    "sec 12 dec 4",
    "vitrectomy at 4000 cpm",
    "Fri 3 mm", "2.5/3.5 mm",
    "at 9.30", "9.30 to 12 o'clock", "10-0 nylon, 5-0 and 2/0", "20/10 and 20/12 acuity", "may 5 mm be enough",
    "up to 12 may be given", "infused at 2000-300 ml", "1/2000 dilution", "levels 2010-2019", "12 mm and 10.0",
    "the 14th rib", "10 10 2000 ml", "grade III 20 mm", "from 1430 to 1510", "in 12 march fractures", "T12 3 mm",
    "admitted 3/12 ago", "listed 2/52 later", "Apgar 9/10/10", "Easter egg pupil", "date 6/52 hence", "Br J Surg 2014;101(3):204-12.", "JAMA Surg 2018 Jul 1;153(7):e180001", "Accessed 3 May 2024",
    "until 5th rib cut", "PC 22/10 and BiPAP 18/8", "TA 12/8, FC 94", "GCS 14/15 and MMSE 26/30", "13/15 swabs", "sent 28.8 ml", "seen 6.5 mm", "on 2.5.", "pain 4/10 on 6/7.", "nodes 12/30, GCS 11/15",
    "doi:10.1002/2024-03-12.x",
)  # fmt: skip

_DAY = r"(?:0?[1-9]|[12]\d|3[01])"
_ORDINAL = rf"{_DAY}(?:st|nd|rd|th)"
_TAIL_YEAR = (
    rf"[\s.,/'’-]{{0,3}}(?:{YEAR}|['’]?\d\d(?![\d:.%/A-Za-z]|\s?(?:{LOWER}|mg|ml|mm|units|h\b)))(?!\d)"
)
_BEFORE = rf"(?<![\w.,/:])(?:(?:next|last|this)\s)?(?:{WEEKDAY},?\s+)?(?:the\s+)?"

_RANGE = r"\s?(?:to|and|or|until|till|&|-|–|/)\s?"
_DAYS = rf"(?:(?:{_ORDINAL}|{_DAY}){_RANGE})?"
_MONTHS = rf"(?:{MONTH}{_RANGE}){{0,3}}"

_PATTERNS = (
    # 2026-03-14, 2026/3/14, 20260314
    re.compile(
        rf"(?<!\w)(?<!\d[.,/:-]){YEAR}([-/.])(?:0?[1-9]|1[0-2])\1{_DAY}(?!\d)(?:T\d\d:?\d\d(?::?\d\d(?:\.\d{{1,6}})?)?)?"
        r"(?:(?:(?<=:\d\d)|(?<=T\d{4})|\s\d\d:\d\d(?::\d\d)?)\s?(?:Z(?!\w)|UTC|GMT|BST|[+-]\d\d:?\d\d))?"
    ),
    re.compile(rf"(?<![\w:]){YEAR}:(?:0[1-9]|1[0-2]):(?:0[1-9]|[12]\d|3[01])(?:\s\d\d:\d\d(?::\d\d)?)?(?![\w:])"),
    # 14 March 2026, 14th of March, 14-Mar-26
    re.compile(rf"{_BEFORE}{_DAYS}(?:{_ORDINAL}|{_DAY})(?:\sof)?[\s./-]{{0,2}}{MONTH}(?:{_TAIL_YEAR})?"),
    # March 14th 2026, March 2026
    re.compile(rf"(?<!\w)(?:{WEEKDAY},?\s+)?{MONTH}[\s.-]{{1,2}}(?:{_ORDINAL}|{_DAY})(?![\d:%]|\.\d)(?:{_TAIL_YEAR})?{NOT_MEASURED}"),
    re.compile(rf"(?<!\w){_MONTHS}{MONTH}[\s,/'’-]{{1,3}}(?:of\s)?{YEAR}(?!\d)"),
    re.compile(rf"(?<!\w)(?:in|since|until|till|during|last|next|early|late|mid|by|of|from|this)[\s-]({MONTH})(?![\s]?\d)"),
    # Saturday 14th, Sat 14/3, Monday
    re.compile(rf"(?<!\w){WEEKDAY},?\s+(?:the\s+)?{_ORDINAL}(?!\w)"),
    # 14/03: a leading nought is no fraction's
    re.compile(rf"(?<![\w.,/:-])(?:0[1-9]|[12]\d|3[01])/0[1-9](?![\w/%]|[.,:-]\d){NOT_MEASURED}"),
    re.compile(
        r"(?<!\w)(?:clinic|seen|list|review(?:ed)?|admitted|since)\s(?:on\s)?((?:1[3-9]|2\d|3[01])\.(?:0?[1-9]|1[0-2])\.)(?!\d)",
        re.IGNORECASE,
    ),
)  # fmt: skip
_FIGURES = re.compile(
    rf"(?<![\w.,/:-])(?<!Apgar )(?<!Apgars )(?<!APGAR )(?<!scores )(\d{{1,2}})([-/.])(\d{{1,2}})\2({YEAR}|\d\d)(?![\w/-]|[.,]\d){NOT_MEASURED}"
)
_RANGE_OF_FIGURES = re.compile(
    r"(?<![\w.,/:-])\d{1,2}([/.])\d{1,2}\1(?:\d{4}|\d\d)\s?(?:-|to|until|bis|al)\s?\d{1,2}\1\d{1,2}\1(?:\d{4}|\d\d)(?!\w|[.,/-]\d)"
)
_CUED_SHORT = re.compile(
    r"(?<!\w)(?:DOA|DOD|DOS|DOP|EDD|LMP|TCI|date(?:d)?(?:\sof\s\w+)?|(?:re-?)?admitted|adm|discharged|d/c'?d?|died|transferred|operated|listed|w/?b|w/?c|w/?e)"
    r"(?:\son)?[\s:]{1,2}(?!(?<=TCI\s)\d{1,2}\.\d)(?!(?:[1-9]|1[0-2])/(?:7|12|52)(?!\d)(?<!\d\d/12))((?:0?[1-9]|[12]\d|3[01])[/.](?:0?[1-9]|1[0-2])(?:\s?-\s?\d{1,2}[/.]\d{1,2})?)(?![\w/%]|[.,:-]\d|\s%)",
    re.IGNORECASE,
)
"""Day and month only, after a word for a date; sevenths, twelfths and fifty-seconds are days, months and weeks."""
_LABELLED = re.compile(
    r"(?<!\w)(?:(?:bloods?|labs|CXR|AXR|XR|CT|MRI|USS|echo|ECG)\s|POD\s?#?\d{1,2}\s\()((?:0?[1-9]|[12]\d|3[01])/(?:0?[1-9]|[12]\d|3[01]))(?=:\s|\)|\s-\s|,)",
    re.IGNORECASE,
)
_EPOCH = re.compile(
    r"(?<!\w)(?:epoch|unix(?:\stime)?|timestamp)[\s:=]{1,3}(1[4-9]\d{8}(?:\d{3})?)(?!\w)", re.IGNORECASE
)
_WRITTEN_YEAR = r"(?:19[2-9]|20[0-4])\d"
_JOINT = r"\s?[-/._]\s?"
_TOGETHER = (
    # 2025-03, 2025-071, 2025-W11, 20250203T1406
    re.compile(r"(?<![\w.,/:-])(?:19[3-9]\d|20[0-4]\d)[-/](?:0[1-9]|1[0-2](?=\D?(?m:$)|[^\d\s]))(?![\w/-]|[.,]\d)"),
    re.compile(rf"(?<![\w.,/:-])20[0-4][1-9]-(?:[0-2]\d\d|3[0-6]\d)(?![\w/-]|[.,]\d){NOT_MEASURED}"),
    re.compile(r"(?<![\w.,/:-])20\d\d-?W[0-5]\d(?:-?[1-7])?(?!\w)"),
    re.compile(r"(?<!\w)(?:week|wk|semana|semaine|woche)\s?(?:no\.?\s)?[0-5]?\d\s?(?:of\s|de\s|in\s|/\s?)?(?:19|20)\d\d(?!\d)", re.IGNORECASE),
    re.compile(rf"(?<![^\W_])(?<![\d][.,]){_WRITTEN_YEAR}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])(?=T\d|_|[^\w.,]|[.,](?!\d)|(?m:$))"),
    # 12032025
    re.compile(rf"(?<![^\W_])(?<!\d[.,])(?:0[1-9]|[12]\d|3[01])(?:0[1-9]|1[0-2]){_WRITTEN_YEAR}(?=_|[^\w.,]|[.,](?!\d)|(?m:$)){NOT_MEASURED}"),
    # 03/2024, Mar '24, march 2024, Mar/12/2025, 2025Mar12, 12march2025, 12 III 2025
    re.compile(rf"(?<![\w.,/:-])(?:0[1-9]|[2-9]|1[0-2])\s?/\s?{_WRITTEN_YEAR}(?!\d){NOT_MEASURED}"),
    re.compile(rf"(?<!\w){MONTH}\s?['’]\d\d(?!\d)"),
    re.compile(rf"(?<!\w){LOWER}[\s,/-]{{1,2}}{_WRITTEN_YEAR}(?!\d){NOT_MEASURED}", re.IGNORECASE),
    re.compile(rf"(?<!\w){LOWER}[\s./-]{{0,2}}{_DAY}(?:st|nd|rd|th)?[\s.,/-]{{1,3}}{_WRITTEN_YEAR}(?!\d)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,]){_WRITTEN_YEAR}[\s./-]{{0,2}}{LOWER}[\s./-]{{0,2}}{_DAY}(?!\d)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/]){_DAY}[\s./-]{{1,2}}(?:I{{1,3}}|IV|VI{{0,3}}|IX|XI{{0,2}}|X)[\s./-]{{1,2}}{_WRITTEN_YEAR}(?!\d)"),
    # since october, between March and May, 12 april, 12th march, march 12, on may 5, March the 12th
    re.compile(
        rf"(?<!\w)(?:in|since|until|till|during|last|next|early|late|by|from|this)\s({FULL_MONTH})(?!\s?\d)",
        re.IGNORECASE,
    ),
    re.compile(r"(?<!\w)(?:since|until|till)\s((?:march|may)(?!\w))(?!\s(?:\d|be|have|need))", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:[Bb]etween|[Ff]rom)\s({MONTH}{_RANGE}{MONTH})(?!\w)"),
    re.compile(rf"(?<![\w.,/:]){_DAY}\s{FULL_MONTH}", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/:]){_DAY}\smarch(?!\w)(?!\s(?:fracture|on\b))"),
    re.compile(rf"(?<!\w)(?:{FULL_MONTH}|march)\s(?:the\s)?(?:{_ORDINAL}|{_DAY})(?![\w:%]|[.,/]\d){NOT_MEASURED}", re.IGNORECASE),
    re.compile(rf"(?:^|(?<!\w)(?:on|since|from|by|until|before|after|list)\s)(may\s(?:the\s)?(?:{_ORDINAL}|{_DAY}))(?![\w:%]|[.,/]\d){NOT_MEASURED}"),
    re.compile(rf"(?<!\w){MONTH}\sthe\s{_ORDINAL}(?!\w)"),
    # on the 14th, Wed night
    re.compile(rf"(?<!\w)(?:until|till|since|by|from|on|seen|due|dated|sent|chased|done|found|rang|op|adm|admitted|reviewed|rv)\s({_ORDINAL})(?=\s?[.,;:)]|(?m:$))"),
    re.compile(r"(?<!\w)on\s(the\s(?:1[3-9]th|2[0246-9]th|21st|22nd|23rd|30th|31st))(?=\s(?:from|of|due|after|with|by|for|a|his|her|their|but|when|as)\b)"),
    re.compile(rf"(?<!\w)on\s(?:the\s)?({_DAY}/(?!(?:7|12|52)(?!\d))(?:0?[1-9]|1[01]))(?=[.,;)](?!\d)|(?m:$))"),
    # 30/10 and 18/11: no score, acuity or pressure of a ventilator has these
    re.compile(r"(?<!\w)(?:sent|seen|admitted|adm|operated|discharged|clerked|reviewed|born|died|removed|taken|dated|rv|letter|extubated|listed)\s(?:on\s)?((?:0?[1-9]|[12]\d|3[01])\.(?:0?[1-9]|1[0-2])\.?)(?![\w%]|[.,/:-]\d)(?!\s?(?:mg|ml|mm|cm|kg|g|l|units|h|hrs|days|%)\b)", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:out|relook|clips|stitches|drain|drains|op)\s((?:[12]\d|3[01])\.(?:0?[1-9]|1[0-2])\.(?=\s?(?m:$)|\s[A-Z,]|,))", re.IGNORECASE),
    re.compile(r"(?<![\w.,/:-])(?:0[1-9]|[12]\d|3[01])\.(?:0[1-9]|1[0-2])(?=\s(?:at\s)(?:[01]?\d|2[0-3])[.:][0-5]\d(?!\d))"),
    # 11/7 1100, 9/9 0600: a clock behind it
    re.compile(rf"(?<![\w.,/:-]){_DAY}/(?:0?[1-9]|1[0-2])(?=\s(?:at\s|@\s?)?(?:(?:[01]\d|2[0-3])[0-5]\d|(?:[01]?\d|2[0-3]):[0-5]\d)(?![\w/%]|[.,]\d))"),
    re.compile(rf"(?<![\w.,/:-])(?:{_DAY})\s(?:jan|feb|mar|apr|may|jun|jul|aug|sept?|oct|nov|dec)(?=\s(?:[01]\d|2[0-3])[0-5]\d(?:z|h)?(?!\w))", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:due|tci|next(?:\sone)?|found|inr|op\sdate|booked(?:\sfor)?|requested|repeat(?:ed)?|follow[\s-]?up|log\s\w+\sof|nct|last\s\w+)\s(?:on\s)?({_DAY}/(?!(?:7|12|52)(?!\d))(?:0?[1-9]|1[01]))(?![\w/%]|[.,:-]\d)"),
    # 15 Ramadan 1445; 2024年6月18日
    re.compile(rf"(?<![\w.,/])(?:{_DAY}(?:st|nd|rd|th)?\s)(?:Muharram|Safar|Rabi['’]?\s?(?:al-)?(?:awwal|thani|I{{1,2}})|Jumada\s(?:al-)?(?:ula|awwal|thani|akhir(?:a|ah)?|I{{1,2}})|Rajab|Sha['’]?ban|Ramadh?[aā]n|Ramzan|Shaww[aā]l|Dhu\s?(?:a?l-?)?['’]?(?:Qa|Hij)\w+)(?:\s1[34]\d\d)?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/])(?:{_DAY}(?:st|nd|rd|th)?\s(?:of\s)?)(?:Tishr[ei]i?|(?:Mar)?[CH]heshvan|Kislev|Tevet|Sh['’]?vat|Adar(?:\sI{{1,2}})?|Iyy?ar|Sivan|Tammuz|Elul|(?:Nisan|Av)(?=,?\s57))(?:,?\s57\d\d)?(?!\w)"),
    re.compile(r"(?:(?:19|20)\d\d|令和\d{1,2}|平成\d{1,2})\s?年\s?\d{1,2}\s?月(?:\s?\d{1,2}\s?日)?|(?:19|20)\d\d년\s?\d{1,2}월(?:\s?\d{1,2}일)?|(?<!\d)\d{1,2}\s?月\s?\d{1,2}\s?日"),
    re.compile(rf"(?<!\w)(?:on|by|since|until|till?|['’]til|from|before|after)\s(the\s{_ORDINAL})(?=\s?[.,;:)]|(?m:$)|\s(?:at|in|she|he|they|we|and|or|but|to|until|for|with|the\spatient)\b)"),
    re.compile(rf"(?<!\w){_ORDINAL}\s(?:inst|ult|prox)(?!\w)\.?"),
    re.compile(rf"(?<![\w.,/]){_DAY}\s(?:ult|prox)\.(?!\d)"),
    re.compile(r"(?<!\w)the\s(?:1[3-9]th|2[0246-9]th|21st|22nd|23rd|30th|31st)(?=\s?[,;)]|\.?(?m:$))"),
)  # fmt: skip
_ALL = _PATTERNS + _TOGETHER
_WITHOUT_MONTH = tuple(
    pattern for pattern in _ALL if "uary" not in pattern.pattern and "march" not in pattern.pattern
)
_MONTH_WORD = re.compile(r"(?<![^\W\d_])(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)", re.IGNORECASE)
"""Where no word begins as a month does, no pattern with the name of one is run."""
_SPACED = re.compile(
    rf"(?<!\d)(?<!\d[.,/:])(\d{{1,2}})(?:{_JOINT})(\d{{1,2}})(?:{_JOINT})({_WRITTEN_YEAR})(?!\d|[.,]\d)"
)
_BLANKS = re.compile(
    rf"(?<![\w.,/:-])(?<!\d )(0[1-9]|[12]\d|3[01]) (0[1-9]|1[0-2]) ({_WRITTEN_YEAR})(?!\w|[.,]\d| \d){NOT_MEASURED}"
)
_BORN = re.compile(
    r"(?<!\w)(?:born(?:\son|\sin)?|birth\s?year|(?:year|date)\sof\sbirth|d\.?o\.?b\.?|yob)[\s:]{1,3}"
    r"((?:18|19|20)\d\d(?:[-/.]\d{1,2}){0,2}|\d{8}|\d{6}|\d{1,2}[\s./-]\d{1,2}[\s./-]\d{2,4})(?!\d|-\d)",
    re.IGNORECASE,
)
_BORN_SHORT = re.compile(r"(?<![\w.])b\.\s?((?:18|19|20)\d\d)(?!\d|[.,]\d)")
_VERSION = re.compile(r"(?<![\w/])(?:version|ver|v|release|build|software|firmware)\.?\s*$", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield every date and part of a date; what a citation prints stays."""
    if _FIGURE_OR_ABROAD.search(text) or holds(text, _MAY_BE):
        yield from timed(text, outside(text, _found(text)))


_MAY_BE = tuple(word_set("day mon tue wed thu fri sat sun jan feb mar apr may jun jul aug sep oct nov dec"))
"""Letters of which some must stand in a text that holds no figure and is English, or no pattern is run."""
_FIGURE_OR_ABROAD = re.compile(r"\d|[^\x00-\x7f]")


def _found(text: str) -> Iterator[Span]:
    """Yield every date and part of a date."""
    text = view(text)
    for pattern in _ALL if _MONTH_WORD.search(text) else _WITHOUT_MONTH:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[date]", 0.9, 1 if _announced(found) else 0)
    for found in _FIGURES.finditer(text):
        real = could_be(int(found[1]), int(found[3]))
        if real and not _VERSION.search(text, max(0, found.start() - 12), found.start()):
            yield span(found, KIND, LETTER, "[date]", 0.85)
    for found in (*_SPACED.finditer(text), *_BLANKS.finditer(text)):
        if could_be(int(found[1]), int(found[2])):
            yield span(found, KIND, LETTER, "[date]", 0.85)
    yield from (span(found, KIND, LETTER, "[date]", 0.9) for found in _RANGE_OF_FIGURES.finditer(text))
    for found in (
        *_BORN.finditer(text),
        *_BORN_SHORT.finditer(text),
        *_CUED_SHORT.finditer(text),
        *_LABELLED.finditer(text),
        *_EPOCH.finditer(text),
    ):
        yield span(found, KIND, LETTER, "[date]", 0.9, 1)


def _announced(found: re.Match[str]) -> bool:
    """Whether group 1 is the date and not a separator."""
    return bool(found.re.groups) and len(found[1] or "") > 1
