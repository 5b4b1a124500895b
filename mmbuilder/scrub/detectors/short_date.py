"""Days and months without a year, and dates run together or misspelt, as hurried notes write them: `21/1`, `5.6.`, `01oct24`.

A day and a month with a stroke have the form of a share, an acuity, a pressure or a number of days (`4/5`, `6/9`, `18/8`, `10/7`). So a
pair is a date where no share can be so great, where a word for a visit or a test stands before it, or where it stands with another
that is a date; what is known as a measure stays.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; sevenths, twelfths and fifty-seconds for days, months and weeks,
and acuities, common practice. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from mmbuilder.scrub.detectors._calendar import ABROAD, LOWER, MONTH, YEAR, timed
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._quantity import bores, measured
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.fuzzy import Misspellings
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "home 23rd. Seen in clinic",
    "Besprechung am 14., OP am 3. durch",
    "revisión el 12, ingresó el 3.",
    "revu le 12, opéré le 3 par",
    "reported wk 47, closed",
    "in hospital from 10/2 to 10/19.",
    "ACDF C5-6 11/18 DR QUENBY",
    "d/c 3/12 to the nursing home",
    "Pt told 19.11. Letter sent",
    "mother told 19.11 and father",
    "stenosis on duplex 5/10",
    "week commencing 12 May",
    "end of January",
    "back to theatre 3/11",
    "rv 14/8, then home",
    "on 12/3 for relook",
    "stopped in mid-September",
    "w/c 4 nov",
    "12march2025",
    "baby born 18/11, well",
    "theatre 2 now, 0312 21/1",
    "hemiarthroplasty 27/12, amts 6",
    "bloods from 14/9 still pending",
    "cancelled 2/10 and 9/10, now for 16/10",
    "ecg 01oct24 0917 lbbb",
    "seen 7feb, no change",
    "course 20-21 june",
    "off from 23-27 dec",
    "op mid-july",
    "died early aug, pm pending",
    "booked wk of 9 june",
    "seit gestern, 5.6. Delir",
    "tci 23.11. for lap chole",
    "next review clinic 12 5 25 with nurse",
    "1 7 24 cataract R, 15 7 24 cataract L",
    "last period 28 4, hcg",
    "stoma formed in 09/23, reversed 02/24",
    "readmitted 12 Septmber 2024",
    "seen Febuary 3 in clinic",
    "hospitalisé du 3 au 9 juin",
    "admit hua 5 agast ko",
    "list moved to november",
    "cité le 12/04, cicatrice",
    "28/2: CRP 212. 1/3: CRP 148. 2/3: CRP 66.",
    "signed 7/iii/25",
    "dob 5 v 71",
    "seen 9 viii 26 in clinic",
    "Re: Mr Quillorne, 30 iv 62, of this town",
    "plastics flap 11/9, rehab",
    "given at induction on 17.11. Grade 3",
    "transferred to Quenby 21.11 at 0300",
    "cesárea 18-11 por atonía",
    "Minutes by Bev. Next: 16th.",
    "op date 14 x 26",
    "Quenby, 9 iii 62, left hip",
    "cita 12-06 en consulta",
    "seen 3/14, follow up 4/28",
    "due tues 11th and 18th",
    "pump checked 12.02. by them",
    "bile leak, perc drain 11/10",
    "drain out 9/10, pain 3/10",
    "ERCP 12/10, stent 14/10",
    "Vaccinated 10/31, rash 11/2, SJS by 11/5",
    "audit by end Mar",
    "DOS 2/27",
    "on 2/27 and wk of 3/9",
    "OP-Programm 5.3., Punkt 2",
    "ayer 3/2 fiebre",
    "wk of the 12th",
    "night of 3rd/4th",
    "Kontrolle III/2026",
    "bis Ende Mär",
    "a primeros de mayo",
    "OP 9.I. Prim. Quenby",
    "stationär 9.-12.XI., dann ambulant",
)
NEAR_MISSES = (
    "OP am 4. postop. Tag, Visite am 3. Tag",
    "scan at wk 38, wk 6",
    "control el 50 %, opéré le 4e jour",
    "alta el día 11.",
    "GCS from 8/15 to 3/15, acuity 6/9 to 6/18",
    "f/u 3/12, d/c with 3/12 of warfarin",
    "pain 4/10 to 2/10",
    "12/14 access sheath, tight",
    "changed to the 10/12 Fr sheath",
    "10/12 sheaths, at least five",
    "told 7.4 mmol",
    "gauge 18/10 in the tray",
    "screws 14/2 and 16/2",
    "power 4/5, now 5/5; pain 7/10 then 3/10",
    "from 6/9 to 6/12, then 6/6",
    "BiPAP 18/8, PS 16/6, TA 13/8",
    "review 18/12, abx 14/7, home 10/7",
    "GCS 14/15, AMTS 8/10, nodes 2/14",
    "24/22 at 98, 20/12 in the left",
    "on 2/3 occasions, by 1/3",
    "hb 28.2. Next bloods tomorrow",
    "CRP was 12.4. repeat later",
    "12 14 16 Fr dilators",
    "28/22 head, 13/8 mm stem",
    "3rd mayor of the town",
    "an august body, march on",
    "12 hours, 3 months, 5 minutes",
    "30/10 nodes, 25/9 mmHg",
    "home 10/7, stents 2/3 patent, drains 2/4 out",
    "AMTS 6/10 (was 8/10 on arrival), GCS 13/15 (from 14/15)",
    "ASA II/III, Grad 2.II, Typ 3/IV",
    "end may be near",
    "on 1/20 dilution, on 2/28 nodes",
    "start Dec 4 mg, middle May-Thurner stent",
    "Punkt 3.I. der Leitlinie",
    "morphine 5 iv 10 later, 2 x 26 screws",
    "Schatzker 3 vi 20 degrees",
    "pH 7.11 at 0300, K 4.12 at 0310",
    "on 2.5 mg, on 12.5 for a week, since 1.25 ml",
    "drain 14-10 ml, pain 16-12",
    "swab count 12/12, then 14/10",
    "Bauchtuch-Zählung 12/12 und 20/11 Tupfer",
)

_D = r"(?:0?[1-9]|[12]\d|3[01])"
_M = r"(?:0?[1-9]|1[0-2])"
_TH = r"(?:st|nd|rd|th)?"
_TO = r"\s?(?:to|and|&|until|till|-|–|/|au|et|bis|und|al|y|a|e|se)\s?"
_INDIAN = r"(?:jan(?:a)?v[ae]r[iy]|far(?:a)?v[ae]r[iy]|march|apra?il|maee|jun|julai|agast|a?ug[au]st|sitambar|a[ck]tu[bv]ar|navambar|disambar)"
_MONTHS = rf"(?:{LOWER}|(?:{ABROAD})(?!\w))"
_FULL = r"(?:January|February|July|September|October|November|December)"
_BEFORE = r"(?<![\w.,/:+-])"
_BY_WORD = (
    re.compile(rf"{_BEFORE}{_D}{_TH}[-/]?{LOWER}['’]?(?:{YEAR}|\d\d)?(?!\w|[.,]\d)(?<!\dmay)(?<!\dmar){NOT_MEASURED}", re.IGNORECASE),
    re.compile(rf"{_BEFORE}{_D}{_TH}{_TO}{_D}{_TH}\.?\s(?:of\s|de\s)?{_MONTHS}(?:\s(?:de\s)?{YEAR})?(?!\w)(?<!\smay)(?<!\smar)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:wk|week|w/?c|w/?e|wkend|weekend)\s(?:of|commencing|beginning|ending|from)?\s?(?:the\s)?{_D}{_TH}\s{LOWER}(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:(?:wk|week|wkend|weekend|w/?e|w/?c)\s(?:of|commencing|beginning|ending|from)|night\sof)\s(?:the\s)?({_D}(?:st|nd|rd|th)(?:{_TO}{_D}(?:st|nd|rd|th))?)(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:early|mid|late|(?:end|start|beginning|middle)\sof|[Aa]nfang|[Mm]itte|[Ee]nde|début|fin|mi|courant|(?:principios|primeros|mediados|finales)(?:\sde)?)[\s-](?:{_MONTHS}|(?:mär|okt|dez|ene|abr|ago|dic|janv|févr|avr|juil|août|déc)(?!\w))(?:\s{YEAR})?(?!\w)(?!\s(?:be|have|need)\b)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?i:end|beg(?:in|inning)?|start|middle)[\s-](?:{MONTH}|(?:jan|feb|apr|jun|jul|aug|sept?|oct|nov|dec)(?!\w))(?!\s(?:be|have|need)\b|-[A-Z]|\s\d{{1,3}}(?!\d))"),
    re.compile(r"(?<!\w)(?:in|since|until|till|til|by|last|next|this|from|back\sin)\s((?:jan|feb|apr|jun|jul|aug|sept?|oct|nov|dec)(?!\w))(?!\s\d)", re.IGNORECASE),
    re.compile(rf"(?<![\w-]){_FULL}(?![\w-])(?:,?\s{YEAR}(?!\d))?", re.IGNORECASE),
    re.compile(rf"(?:(?:day|mon|tues?|weds?|thu(?:rs?)?|fri|sat|sun)\s(?:the\s)?|\son\sthe\s){_D}(?:st|nd|rd|th)((?:(?:,\s|\s(?:and|or|&|then|to)\s)(?:the\s)?{_D}(?:st|nd|rd|th)){{1,4}})(?!\w)(?!\s(?:rib|toe|finger|ray|metatarsal|metacarpal|nerve|attempt|case|week|day|centile))", re.IGNORECASE),
    re.compile(rf"{_BEFORE}{_D}{_TH}\s(?:of\s)?(?:Apl|Jly|Febr|Mch|Sepr|Octr|Novr|Decr|Jany)(?!\w)\.?(?:,?\s{YEAR}(?!\d))?", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:besprechung|sitzung|konferenz|op|operation|termin|kontrolle|aufnahme|entlassung|verlegung|revision|gespräch|visite)\sam\s({_D}\.)(?=\s?[;)]|,(?!\s?\d)|\s(?!post|p\.|tag)[a-zäöü]|\s?(?m:$))", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:revisión|cita|consulta|control|ingres[óo]|alta|sesión|operad[oa]|intervenid[oa])\sel\s({_D})(?=\s?[,;)]|\s?\.(?!\d)|\s?(?m:$)|\s(?:por|con|en|a\slas)\b)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:revue?|vue?|opérée?|rdv|consultation|contrôle|sortie?|hospitalisée?|réunion|staff|rmm)\sle\s({_D})(?=\s?[,;)]|\s?\.(?!\d)|\s?(?m:$)|\s(?:par|avec|à|pour)\b)", re.IGNORECASE),
    re.compile(r"(?<!\w)((?:wk|week)\s(?:4[3-9]|5[0-3]))(?=\s?[,;.)]|\s?(?m:$))", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:home|d/c|discharged?|admitted|readmitted|extubated|rebooked|reviewed|listed|died|rip|next(?:\s(?:meeting|mtg|clinic|review|appt))?|meeting|mtg|due|clinic|appt|ct|mri|theatre|again|until|till)(?:\s?:)?(?:\son)?\s({_D}(?:st|nd|rd|th))(?=\s?[,;)]|\s?\.(?!\d)|\s?(?m:$))", re.IGNORECASE),
    re.compile(rf"{_BEFORE}{_D}\s{_INDIAN}(?=\s(?:ko|se|tak|ki|ka|ke|mein)\b)", re.IGNORECASE),
)  # fmt: skip
"""With the name of the month: run together, several days, part of a month, a month alone that is no other word."""
_WITHOUT_DAY = _BY_WORD[4:8]
_ZERO_FIRST = re.compile(rf"{_BEFORE}0[1-9]/(?:1\d|2\d)(?![\w/%]|[.,:-]\d){NOT_MEASURED}")
"""Month and year: no share opens with a nought."""
_STROKE = re.compile(
    rf"{_BEFORE}(?P<day>{_D})/(?P<month>{_M})(?![\w/%°]|[.,:+-]\d){NOT_MEASURED}"
    r"(?!\s(?:of|cases|patients|nodes|lymph|on\s(?:the\s)?(?:moca|mmse|amts|gcs)|points?|eyes|centres|units|swabs|limbs|samples|bottles|occasions|strength|doses?|days|nights|fingers|course|ago|later|head|stem|stent|graft|balloon|catheter|sheath|r|l)\b)",
    re.IGNORECASE,
)
_ROMAN = re.compile(
    rf"{_BEFORE}{_D}[./-](?:i{{1,3}}|iv|vi{{0,3}}|ix|xi{{0,2}}|x)[./-](?:{YEAR}|\d\d)(?!\w|[.,]\d)",
    re.IGNORECASE,
)
_ROMAN_BLANKS = re.compile(
    rf"{_BEFORE}(?<!\d\s){_D}\s(?:(?P<sure>i{{2,3}}|vi{{1,3}}|ix|xi{{1,2}})|i|iv|v|x)\s(?:{YEAR}|\d\d)(?![\w%/]|[.,:-]\d|\s\d){NOT_MEASURED}",
    re.IGNORECASE,
)
"""A month in Roman figures between spaces: `9 viii 26`; what is a route, a letter or a sign too (`5 iv 10`) by the word before."""
_OF_A_YEAR = re.compile(r"(?<![\w.,/:+-])(?:I{1,3}|IV|VI{0,3}|IX|XI{0,2}|X)/20[0-4]\d(?![\w/])")
"""Month or quarter in Roman figures, and year: `III/2026`."""
_ROMAN_MONTH = re.compile(
    rf"{_BEFORE}(?<!Punkt )(?<!Abschnitt )(?<!Kapitel )(?<!Ziffer )(?<!Zahn )(?<!Grad )(?<!Typ )(?<!Stadium )(?<!grade )(?<!section )(?:{_D}\.?\s?[-–/]\s?)?{_D}\.(?:I{{1,3}}|IV|VI{{0,3}}|IX|XI{{0,2}}|X)\.(?=[\s,;:)]|$)"
)
"""A month in Roman figures, no year: `9.I.`."""
_DASHED = re.compile(
    rf"{_BEFORE}(?:{_D}-0[1-9]|(?:1[3-9]|2\d|3[01])-1[0-2])(?![\w%/-]|[.,:]\d){NOT_MEASURED}"
)
_MONTH_FIRST = re.compile(
    rf"{_BEFORE}(?:0?[1-9]|1[0-2])/(?:1[3-9]|2\d|3[01])(?![\w/%°]|[.,:+-]\d){NOT_MEASURED}(?!\s(?:of|cases|patients|nodes|swabs|points?))"
)
"""As Americans write it; only after a word for a visit, or where the next one stands after a comma and a word."""
_BY_SOMEBODY = re.compile(r"\s(?:by\s|w/\s?)?dr\.?\s[^\W\d_]", re.IGNORECASE)
_STAY = re.compile(
    rf"{_BEFORE}(?P<first>(?:0?[1-9]|1[0-2])/(?:0?[1-9]|[12]\d|3[01]))\s?(?:to|through|thru|[-–])\s?(?P<last>(?:0?[1-9]|1[0-2])/(?!15(?!\d))(?:1[3-9]|2\d|3[01]))(?![\w/%°]|[.,:+-]\d)"
)
"""From a day to a day, as Americans write them."""
_WENT = re.compile(
    r"(?<![\w/])(?:d/?c|discharged|transferred|tfr|died|rip|(?:re)?admitted|adm)\s(?:on\s)?$", re.IGNORECASE
)
_TO_A_PLACE = re.compile(r"\s(?:to|from|by|under)\s")
"""What goes to a place does so on a day: `d/c 3/12 to the home`."""
_AMERICAN_BEHIND = re.compile(
    r",\s[a-z]{3,12}\s(?:on\s)?(?:0?[1-9]|1[0-2])/(?:0?[1-9]|[12]\d|3[01])(?=[,.;]|(?m:$))"
)
_EVENT = (
    r"dos|doa|(?:wk|week|wkend|weekend)\sof|seen|since|dated?|due|cancell?ed|canc|booked|listed|list|clinic|opd|op|opn|theatre|bloods?|labs?|ct|cta|mra|mri|uss?|cxr|xr|axr|echo|ecg|duplex|doppler|angiogram|scan|biopsy|bx|admitted|adm|admit|readmitted|discharged?|d/?c|died|rip|born|dob|d\.o\.b|edd|lmp"
    r"|period|tci|moved|transferred|tfr|reviewed|review|rv|r/v|f/?u|follow[\s-]?up|letter|entry|called|phoned|rang|visit|appt|appointment|pre-?op|rtt|relook|washout|sutures|ros|clips|last|next|rpt|repeat(?:ed)?|started|stopped|taken"
    r"|sent|results?|histo|path|swab|cultures?|consent(?:ed)?|delivered|extubated|intubated|reported|rep|formed|reversed|removed|inserted|changed|fell|checked|serviced|tested|calibrated|expires?|expiry|signed|typed|dictated|cité|revu|vu|opéré|hospitalisé|ingres[óo]|cesárea|cirugía|intervención|colecistectomía|apendicectomía|alta|consulta|cita|control|operado|aufgenommen|entlassen|kontrolle|termin|op-programm|verlegt|verstorben|†|gestern|ayer|hoy|anoche|hier|demain"
    r"|drain(?:ed)?|pigtail|stent(?:ed)?|ercp|mrcp|ogd|egd|gastroscopy|colonoscopy|endoscopy|bronchoscopy|laparoscopy|laparotomy|operation|operated|embolised|coiled|transfused|home|flap|closure|reversal|angioplasty|embolisation|debridement|amputation|sternotomy|thoracotomy|bypass|excision|fixation|replacement"
    r"|heute|morgen|tomorrow|yesterday|yest|yday|today|tmrw|tonight|now|now\sfor|hemiarthroplasty|surgery|procedure|day"
)
_AFTER_EVENT = re.compile(
    rf"(?<![\w/])(?:{_EVENT})(?:\s(?:on|out|in|placed|done|for|from|at|again|only|then|the|of|was|is|in|le|el|am|den|du|to))*[\s:(,-]{{1,3}}$",
    re.IGNORECASE,
)
_AFTER_WORD = re.compile(
    r"(?<!\w)(?:on|until|till|til|by|from|before|after|le|du|el|del|am|vom|bis|seit|zum|ab|w/?[bce])\s$",
    re.IGNORECASE,
)
_ON = re.compile(r"(?<!\w)(?:on|since|until)\s$", re.IGNORECASE)
_ON_A_DAY = re.compile(
    r"(?<!\w)(?:on|since|until|till)\s(?P<date>(?:0?[1-9]|[12]\d|3[01])\.(?:0[1-9]|1[0-2]))(?=[,;)]|\.(?:\s|$)|\s?$|\s(?:at|and|with|for|by|in|to)\s)"
    r"|(?<![\w.,/:+-])(?P<timed>(?:[12]\d|3[01])\.(?:0[1-9]|1[0-2]))(?=\s(?:at|@|um|a\slas|à)\s?(?:(?:[01]\d|2[0-3])[:.h]?[0-5]\d|\d{1,2}[:.h]\d\d|\d{1,2}\s?[ap]m)(?!\w))",
    re.MULTILINE,
)
"""A day with a dot where a day must stand, or with a time of day: `on 17.11.`, `21.11 at 0300`."""
_TOLD = re.compile(
    rf"(?<!\w)(?i:told|informed|apologi[sz]ed|spoken\sto|disclosed|discharged|(?:re)?admitted|letter\s(?:sent|posted))(?:\s(?:on|again|to))?\s"
    rf"(?P<date>{_D}\.{_M}\.?)(?![\w%/°]|[.,:]\d){NOT_MEASURED}"
)
"""A day with dots where nothing is measured: `pt told 19.11 and husband`. As a time of day it would go as well."""
_CLOSED = re.compile(r"\s?[.,;)](?!\d)|\s?(?m:$)|\s(?:and|with|for|at|to)\s")
_NO_DATE = re.compile(
    r"(?<!\w)(?:bp|ta|pa|t/a|rr|nibp|bi-?pap|cpap|niv|ipap|ps|pc|pcv|simv|peep|pip|vent|druck|tension|pression|presión|tensión|pressures?|va|visus|acuity|vision|snellen|logmar|ph|power|mrc|pain|vas|nrs|eva|score|gcs|amts?|mmse|moca|apgars?"
    r"|(?:swab|gauze|instrument|needle|pack)s?|count(?:ed|s)?|(?:[^\W\d_]+-?)?zählung|bauchtücher|tupfer|kompressen|nadeln|recuento|contaje|gasas|compresas|compresses|comptage"
    r"|nodes?|ln|ganglions|ganglios|size|stem|head|cup|graft|murmur|allred|er|pr|reflexes|grade|kps|quadrants?|cdr|iop|tio|hertel|exophth\w*|esterman|ishihara|barthel|bar|dacron|ptfe|balloon|catheter|sheath|coil|stent(?=\s\d)|guide|mesh|gauge|broche|pins?|wires?|screws?|schrauben?|tornillos?|bicortical|pipe|tube|handle|blade|needle|bit)\b(?:\s[^\W\d_]{1,12}){0,2}[\s:=(]{1,2}(?:\d[\d/.+-]*[\s,;(]{1,2}(?:(?:to|then|and|und|et|y|now|both|r|l|re|le|od|os|was|from|prev(?:iously)?|before|baseline|usually|jetzt|war|zuvor|vorher|avant|puis|antes|luego|era)\s?){0,2}){0,4}$",
    re.IGNORECASE,
)
_DOTTED = re.compile(
    rf"{_BEFORE}(?P<day>{_D})\.\s?(?P<month>{_M})\.(?P<next>(?=[,;)])|(?=\s[a-zäöü])|(?=\s[A-ZÄÖÜ])|(?=\s?$))"
)
_GERMAN = re.compile(
    r"\b(?:[Dd](?:er|ie|as|em|en|es)|[Ee]ine?[nmrs]?|und|mit|nach|wurde|wegen|vom?|auf|bei|ist|hatte|im|am|zu[rm]?)\b"
)
"""Small words of a German sentence."""
_GERMAN_DAY = re.compile(r"(?<!\w)(?:seit|gestern|heute|vorgestern|übermorgen|vom|zum|bis)(?!\w)")
_BLANKS = re.compile(
    rf"(?<![\w.,/:+-])(?<!\d\s)(?P<day>{_D})\s(?P<month>{_M})\s(?:(?:19|20)\d\d|1\d|2\d)(?![\w%/]|[.,:-]\d|\s\d){NOT_MEASURED}"
)
_TWO_BLANKS = re.compile(
    rf"(?<!\w)(?:lmp|last\speriod|edd|due\sdate|dob|tci)[\s:]{{1,2}}({_D}\s{_M})(?![\w%/]|[.,:-]\d|\s\d)",
    re.IGNORECASE,
)
_OPENS = re.compile(r"(?:^|[.,;:\n(]\s?)$")
_MISSPELT = (
    re.compile(rf"{_BEFORE}{_D}{_TH}(?:\sof)?\s(?P<month>[^\W\d_]{{5,10}})(?!\w)(?:,?\s(?:{YEAR}|['’]\d\d)(?!\d))?"),
    re.compile(rf"(?<!\w)(?P<month>[^\W\d_]{{5,10}})\s{_D}{_TH}(?![\w%/:]|[.,]\d)(?:,?\s{YEAR}(?!\d))?{NOT_MEASURED}"),
)  # fmt: skip
_FIGURE = re.compile(r"\d")


def find(text: str) -> Iterator[Span]:
    """Yield every such date; what a citation prints stays."""
    yield from timed(text, outside(text, _found(view(text))))


def _found(text: str) -> Iterator[Span]:
    for pattern in _BY_WORD if _FIGURE.search(text) else _WITHOUT_DAY:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[date]", 0.8, 1 if found.re.groups else 0)
    if not _FIGURE.search(text):
        return
    for found in (*_ZERO_FIRST.finditer(text), *_TWO_BLANKS.finditer(text)):
        if not _NO_DATE.search(text, max(0, found.start() - 40), found.start()):
            yield span(found, KIND, LETTER, "[date]", 0.75, found.re.groups)
    yield from _with_strokes(text)
    for roman in (_ROMAN, _ROMAN_MONTH, _OF_A_YEAR):
        yield from (span(found, KIND, LETTER, "[date]", 0.85) for found in roman.finditer(text))
    for found in _DASHED.finditer(text):
        if _AFTER_EVENT.search(text, max(0, found.start() - 40), found.start()):
            yield span(found, KIND, LETTER, "[date]", 0.7)
    for found in _MONTH_FIRST.finditer(text):
        before = text[max(0, found.start() - 40) : found.start()]
        told = (
            _AFTER_EVENT.search(before)
            or _BY_SOMEBODY.match(text, found.end())
            or _AMERICAN_BEHIND.match(text, found.end())
            or (_ON.search(before) and _CLOSED.match(text, found.end()))
        )
        if told and not _NO_DATE.search(before) and not bores(text, *found.span()):
            yield span(found, KIND, LETTER, "[date]", 0.7)
    for found in _STAY.finditer(text):
        acuity = any(said.startswith("6/") for said in found.groups())
        if not acuity and not _NO_DATE.search(text, max(0, found.start() - 40), found.start()):
            yield from (span(found, KIND, LETTER, "[date]", 0.75, group) for group in ("first", "last"))
    yield from _with_dots(text)
    yield from (span(found, KIND, LETTER, "[date]", 0.75, "date") for found in _TOLD.finditer(text))
    for found in _ON_A_DAY.finditer(text):
        if not measured(text, *found.span(found.lastgroup or 0)):
            yield span(found, KIND, LETTER, "[date]", 0.75, found.lastgroup or 0)
    for found in _ROMAN_BLANKS.finditer(text):
        before = text[max(0, found.start() - 40) : found.start()]
        closed = found["sure"] and _OPENS.search(before) and _CLOSED.match(text, found.end())
        between = before.endswith(", ") and text.startswith(",", found.end())  # `Mr Quillorne, 30 iv 62, of`
        if closed or between or _AFTER_EVENT.search(before):
            yield span(found, KIND, LETTER, "[date]", 0.8 if between else 0.75)
    for found in _BLANKS.finditer(text):
        before = text[max(0, found.start() - 40) : found.start()]
        if _AFTER_EVENT.search(before) or (
            _OPENS.search(before) and re.match(r"\s[^\W\d_]", text[found.end() : found.end() + 2])
        ):
            yield span(found, KIND, LETTER, "[date]", 0.7)
    for pattern in _MISSPELT:
        for found in pattern.finditer(text):
            if _month_with_a_slip(found["month"]):
                yield span(found, KIND, LETTER, "[date]", 0.75)


def _with_strokes(text: str) -> Iterator[Span]:
    """Yield pairs that are dates by themselves or by the word before, then those joined to one by a comma or a word."""
    pairs = [
        found
        for found in _STROKE.finditer(text)
        if not _NO_DATE.search(text, max(0, found.start() - 48), found.start())
        and not bores(text, *found.span())
    ]
    sure = [_a_date(text, found) for found in pairs]
    for at, found in enumerate(pairs):
        first = max(0, at - _NEIGHBOURS)
        beside = zip(pairs[first : at + _NEIGHBOURS + 1], sure[first : at + _NEIGHBOURS + 1], strict=True)
        if sure[at] or (
            not _of_time(int(found["day"]), int(found["month"]))
            and any(a_date and _together(text, found, other) for other, a_date in beside)
        ):
            yield span(found, KIND, LETTER, "[date]", 0.75)


_NEIGHBOURS = 4
"""Pairs on each side with which one may stand in a row."""


def _a_date(text: str, found: re.Match[str]) -> bool:
    day, month = int(found["day"]), int(found["month"])
    before = text[max(0, found.start() - 40) : found.start()]
    if _WENT.search(before) and _TO_A_PLACE.match(text, found.end()):
        return True
    if _AFTER_EVENT.search(before):
        return not _of_time(day, month) and not (day == _SIX and month in _ACUITIES)
    if text[found.end() : found.end() + 2] == ": " and _OPENS.search(before):
        return True  # 28/2: CRP 212. 1/3: CRP 148.
    if day > _MONTHS_OF_A_YEAR:
        return not _of_time(day, month) and not (day == _TWENTY and month in (10, 12))
    return not _share(found) and _AFTER_WORD.search(before) is not None


def _share(found: re.Match[str]) -> bool:
    """Whether a pair may be a share, a strength, an acuity or a number of days or months: `4/5`, `10/10`, `6/9`, `5/7`."""
    day, month = int(found["day"]), int(found["month"])
    return (
        day <= month <= _SIX or day == month or (day == _SIX and month in _ACUITIES) or _of_time(day, month)
    )


_MONTHS_OF_A_YEAR, _SIX, _TWENTY, _SEVENTHS = 12, 6, 20, 7
_ACUITIES = frozenset({4, 5, 6, 9, 12})
"""`6/9` is an acuity, `20/12` one in feet."""


def _of_time(day: int, month: int) -> bool:
    """Whether sevenths or twelfths are a number of days or months, or always: `10/7`, `18/12`, `24/7`."""
    return (month == _SEVENTHS and (day <= 12 or day % _SEVENTHS == 0 or day == 24)) or (
        month == 12 and (day <= 12 or (day % 3 == 0 and day != 27))
    )


def _together(text: str, found: re.Match[str], other: re.Match[str]) -> bool:
    """Whether no more than a few words stand between two pairs of one sentence."""
    between = (
        text[found.end() : other.start()]
        if found.start() < other.start()
        else text[other.end() : found.start()]
    )
    return re.fullmatch(r"[\s,&+-]{1,2}(?:[^\W\d_]{1,9}[\s,]{1,2}){0,3}(?:\d{1,2}/\d{1,2}[\s,&]{1,2}(?:[^\W\d_]{1,9}[\s,]{1,2}){0,3}){0,3}", between) is not None  # fmt: skip


def _with_dots(text: str) -> Iterator[Span]:
    """Yield days and months with two dots: what no figure that ends a sentence has, or in German."""
    german = (_GERMAN.search(text) or _GERMAN_DAY.search(text)) is not None
    for found in _DOTTED.finditer(text):
        before = text[max(0, found.start() - 40) : found.start()]
        ends = re.match(r"\s[A-ZÄÖÜ]|\s?$", text[found.end() : found.end() + 3]) is not None
        told = _AFTER_EVENT.search(before) or _AFTER_WORD.search(before)
        if found["day"][0] == "0":
            yield span(
                found, KIND, LETTER, "[date]", 0.8
            )  # no figure with a decimal opens with a nought and a digit
            continue
        if measured(text, *found.span()) or _NO_DATE.search(before) or (ends and not german):
            continue
        closed = text[found.end() : found.end() + 1] in (",", ";", ")")
        if (
            told
            or german
            or closed
            or found["month"][0] == "0"
            or (_OPENS.search(before) and " " not in found[0])
        ):
            yield span(found, KIND, LETTER, "[date]", 0.75)


@cache
def _spellings() -> Misspellings:
    return Misspellings(
        fold(month)
        for month in (*_FULL[3:-1].split("|"), "August", "April", "März", *ABROAD.split("|"))
        if len(month) >= _LONG
    )


_LONG = 6
"""Letters of the shortest month whose misspelling is known again."""


@cache
def _month_with_a_slip(word: str) -> bool:
    """Whether a word is one slip away from a month and is no word itself."""
    from mmbuilder.scrub.keep.lists import load

    plain = fold(word)
    lists = load()
    if len(plain) < _LONG - 1 or lists.known(plain) or plain in lists.given or plain in lists.family:
        return False
    return _spellings().nearest(plain) is not None
