"""Dates and weekdays in Spanish, German, French and Hindi-English notes.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; names of months and days as dictionaries
have them. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import ABROAD, LOWER, YEAR, holds, timed
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "el cinco de marzo",
    "am fünften März operiert",
    "le cinq mars",
    "paanch April ko",
    "veintiuno de mayo",
    "el 14 de marzo de 2026",
    "am 14. März 2026",
    "le 3 février 2026",
    "1er mai 2025",
    "en enero de 2025",
    "im Oktober 2024",
    "vu mardi à 14:30",
    "am Dienstag",
    "el viernes por la noche",
    "14 tareekh ko admit hua",
    "somvar ko aaya",
    "Fecha de nacimiento: 1951",
    "vu en décembre",
    "am 9.1. aufgenommen",
    "Entlassung zum 9.",
    "Pat. JG 1958",
    "am Montag, den 9. Januar entlassen",
    "9-ene-2025",
    "9 gennaio 2025",
    "9 janv. 2025",
    "d. 14. marts",
    "17 Nisan takıldı",
    "Revue le 7 janv., sec",
    "Aufnahme Freitagabend",
    "cirugía el pasado martes",
    "reçu le 8 nov, résultat le 15",
    "5 października 2024",
    "15 tarikh july ko",
    "danach erst Okt. 2025 mit Rezidiv",
    "El 1.º de mayo se quedó",
    "Citada para abril, llegó antes",
    "tapé le 9.12, reçu après",
    "pendiente la TAC del día 23; se hizo",
    "drenaje sáb 21 por la noche",
    "Jahrgang 1929",
    "janm 1934 ka hai",
    "bis 31. März d. J.",
    "12 Meán Fómhair 1969",
    "depuis le 3 au soir",
    "semaine du 9, garde du 14 au 15",
    "la noche del 14",
    "el pasado día 14",
    "el día 3 de los corrientes",
    "cita el 14",
    "geni 3 Gorffennaf 1951",
    "né le 3 fevrier 1951",
    "sesión del jueves q viene",
    "3 de marzo del presente",
)
NEAR_MISSES = (
    "two may follow",
    "six may leak",
    "il marche, dix mars de plus",
    "do may be",
    "mai più 3",
    "un mars de plus",
    "Sol 500 ml",
    "der Mai",
    "lunes lista",
    "Freitagsdienst 24 h",
    "2 mars bars",
    "marzo",
    "am 2.5 mm",
    "3 mag tablets",
    "bis 2.5 mg",
    "en mai-thurner",
    "le 2.5 mg, le 3.5 mm",
    "el día 3 se retiró",
    "vie 21 años",
    "4. postop. Tag, 2. Tag",
    "OP am 3., 4. und 5. Finger",
    "la mañana del 2º día, nuit du 3e jour",
    "el próximo 2 % de los casos",
)

_DAYS = (
    r"lunes|martes|miércoles|jueves|viernes|sábado|domingo|Montag|Dienstag|Mittwoch|Donnerstag|Freitag|Samstag|Sonnabend|Sonntag"
    r"|lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche|somvaar|somvar|mangalvar|budhvar|guruvar|shukravar|shukrvar|shukravaar|shanivar|shanivaar|ravivar|ravivaar|mangalvaar|budhvaar|guruvaar|itwar|itvar"
)
_BEFORE = r"el|los|este|pasado|am|den|vom|letzten|seit|le|ce|du|vu|depuis|dernier|opéré|jusqu['’]à"
_SHORT = r"(?:ene|feb|abr|ago|sept?|oct|nov|dic|jän|mär|okt|dez|janv|févr?|avr|juil|août|déc|gen|mag|giu|lug|set|ott|fev|abr|mai|out)"
_LONG = (
    r"(?:enero|febrero|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre|Januar|Jänner|Februar|März|April|Mai|Juni|Juli|August"
    r"|September|Oktober|November|Dezember|janvier|février|avril|juin|juillet|août|septembre|octobre|novembre|décembre|janeiro|fevereiro|março"
    r"|gennaio|febbraio|aprile|maggio|giugno|luglio|settembre|ottobre|dicembre)"
)
"""Months alone, after a preposition; `mars`, `marzo` and `mai` in small letters are other words too."""
_IN_WORDS = (
    r"(?:primero|uno|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez|once|doce|trece|catorce|quince|dieci(?:séis|siete|ocho|nueve)|veinte|veinti[a-zéó]{2,6}|treinta(?:\sy\suno)?"
    r"|(?:ers|zwei|drit|vier|fünf|sechs|sieb|siebten|acht|neun|zehn|elf|zwölf|dreizehn|vierzehn|fünfzehn|sechzehn|siebzehn|achtzehn|neunzehn|[a-zäöü]{0,8}zwanzigs|dreißigs|einunddreißigs)te[nr]?"
    r"|premier|deux|trois|quatre|cinq|six|sept|huit|neuf|dix(?:-(?:sept|huit|neuf))?|onze|douze|treize|quatorze|quinze|seize|vingt(?:(?:-|\set\s)[a-z]{2,6})?|trente(?:\set\sun)?"
    r"|ek|do|teen|char|chaar|paanch|panch|chhe|chhah|saat|aath|nau|das|gyarah|barah|baarah|terah|chaudah|pandrah|solah|satrah|atharah|unnees|bees|ikkees|baais|pachees|tees)"
)
"""Days of the month in words."""
_D = r"(?:0?[1-9]|[12]\d|3[01])"
_PATTERNS = (
    re.compile(rf"(?<!\w){_IN_WORDS}\s(?:de\s)?(?:{ABROAD}|{LOWER})(?:\s(?:de\s|del\s)?{YEAR})?(?!\w)(?<!\smars)(?<!\smarch)(?<!\smai)(?<!\smay)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:le|au|du)\s({_IN_WORDS}\s(?:mars|mai))(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/])(?:0?[1-9]|[12]\d|3[01])(?:\.?[ºª°]|\.|er)?\s(?:de\s)?(?:{ABROAD})(?:\s(?:de\s|del\s)?{YEAR})?(?!\w)(?<!\d\smars)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:{ABROAD})\s(?:de\s|del\s)?{YEAR}(?!\d)", re.IGNORECASE),
    re.compile(rf"(?<![\w.,/])(?:0?[1-9]|[12]\d|3[01])(?:\.\s?|[\s/-]){_SHORT}(?:\.?[\s/-]{YEAR}|(?=\.(?:\s*(?m:$)|\s+(?-i:[A-Z])))|\.(?=\s[^\d]|[,;)]))(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w){_SHORT}\.?\s{YEAR}(?!\d)", re.IGNORECASE),
    re.compile(rf"(?<!\w)le\s((?:0?[1-9]|[12]\d|3[01])\.(?:0?[1-9]|1[0-2]))(?=\s?[,;)]|\.?(?m:$)){NOT_MEASURED}"),
    # `día 3` is a day after the operation; from the thirteenth on, one of the month (common practice, no source)
    re.compile(r"(?<!\w)(?:el|del|al)\s(día\s(?:1[3-9]|2\d|3[01]))(?=\s?[,;.)]|(?m:$)|\s(?:por|a\sla|se|y|en|con|sin)\b)(?!\s?[,;.)]?\s?(?:post|po\b))"),
    re.compile(r"(?<!\w)((?:lun|mi[ée]|jue|vie|s[áa]b|dom|jeu|ven|sam|dim)\.?\s(?:0?[1-9]|[12]\d|3[01]))(?=\s(?:por\sla|a\slas?|à|matin|soir|noche|mañana|tarde)\b)", re.IGNORECASE),
    re.compile(r"(?<![\w])(?<!\d\s)(?:le|el)\s((?:1er|0?[1-9]|[12]\d|3[01])(?=\s?[,;)]|\.?(?m:$)|\.\s[A-ZÀ-Þ]))"),
    re.compile(rf"(?<!\w)(?:Entlassung|Termin|WV|Wiedervorstellung|Kontrolle|Aufnahme|OP|Verlegung)\s(?:am|zum|ab|bis\szum)\s({_D}\.)(?=\s?[,;)](?!\s?\d)|\s?(?m:$))"),
    # le 3 au soir, la noche del 14, semaine du 9, el pasado día 14
    re.compile(rf"(?<!\w)(?:le|du|depuis\sle|dès\sle)\s((?:1er|{_D})\sau\s(?:matin|soir))(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:semaine|week-?end|we|nuit|soirée|matinée|journée|garde|noche|madrugada|tarde|mañana|guardia|semana|finde)\sd(?:u|el)\s((?:1er|{_D})(?:\s?(?:au|al|-|/|y)\s?{_D})?)(?![\w/%]|[.,:]\d|\s?º){NOT_MEASURED}", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:el|del|al)\s((?:pasado|próximo)\s(?:día\s)?{_D}|día\s{_D}\sde(?:l|\slos)\scorrientes?)(?![\w/%]|[.,:]\d){NOT_MEASURED}", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:am|vom|seit|bis|ab|zum)\s((?:0?[1-9]|[12]\d|3[01])\.(?:0?[1-9]|1[0-2])\.)(?!\d)"),
    re.compile(rf"(?<!\w)(?:en|desde|hasta|para|pour|für|im|seit|bis|Anfang|Mitte|Ende|depuis|fin|début|mi|em|desde|dal|nel|sinds)[\s-]({_LONG})(?!\w)"),
    re.compile(rf"(?<!\w)(?:{_DAYS}),?\s(?:den\s|el\s|le\s)?(?:0?[1-9]|[12]\d|3[01])\.?(?:\s(?:de\s)?(?:{ABROAD}))?(?:\s(?:de\s|del\s)?{YEAR})?(?![\w:]|[.,]\d|\.?\s(?:post|p\.?\s?o|Tag))", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:{_BEFORE})\s({_DAYS})(?!\w)", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:Mon|Diens|Donners|Frei|Sams|Sonn)tag(?:vor|nach)?(?:abend|nacht|morgen|mittag|früh)(?!\w)"),
    re.compile(rf"(?<!\w)(?:(?:el\s)?(?:pasado|próximo)|letzten?|nächsten?|kommenden|vergangenen|pichh?le|agle|dernier|prochain)\s(?:{_DAYS})(?!\w)|(?<!\w)(?:{_DAYS}|(?:lun|mi[ée]|jue|vie|s[áa]b|dom)\.?(?=\s(?:que|[qk])\s))\s(?:pasado|próximo|siguiente|entrante|(?:que|[qk])\sviene|en\s(?:huit|quinze)|dernier|prochain|in\seiner\sWoche|in\s(?:zwei|drei|vier|\d)\sWochen)(?!\w)", re.IGNORECASE),
    re.compile(r"(?<!\w)(?:(?:Mon|Diens|Donners|Frei|Sams|Sonn)tag|Mittwoch|Sonnabend|martes|miércoles|jueves|viernes|mardi(?!\sgras)|mercredi|jeudi|vendredi|samedi|dimanche)s?(?!\w)"),
    re.compile(rf"(?<!\w)({_DAYS})(?=\s(?:à|um|a\slas|ko|por\sla|früh|abend|soir|matin|raat))", re.IGNORECASE),
    re.compile(rf"(?<![\w.])(\d{{1,2}}\s(?:tareekh|tarikh|tareek)(?:\s{LOWER})?)(?!\w)", re.IGNORECASE),
    re.compile(rf"(?:[Ff]echa\sde\snacimiento|F\.?\s?nac\.?|nacid[oa]\sen|Jahrgang|Jh?g\.?|JG|jan(?:a)?m|geb(?:oren)?\.?(?:\sam)?|née?\s(?:le|en)|[Dd]ate\sde\snaissance|[Jj]anam)[\s:]{{1,3}}({YEAR}|\d{{1,2}}[./-]\d{{1,2}}[./-]\d{{2,4}})(?!\d)"),
)  # fmt: skip


def find(text: str) -> Iterator[Span]:
    """Yield every date and weekday; what a citation prints stays."""
    if holds(text, _MAY_BE) or _WITH_FIGURE.search(text):
        yield from timed(text, outside(text, _found(text)))


_MAY_BE = (
    *sorted({*ABROAD.lower().split("|"), *_DAYS.lower().split("|")}),
    *_SHORT[3:-1].lower().replace("?", "").split("|"),
    *word_set(
        "tag mittwoch sonnabend tareekh tarikh tareek nac. nacid nacimiento geb né naissance jahrgang jg jhg janm janam día sep fev fév"
    ),
)
"""Words of which one must stand in a text, or no pattern is run; a date that has none is told by its figures."""
_WITH_FIGURE = re.compile(
    r"\d\.\d|(?<!\w)(?:le|el|del|du|au|día|am|zum|ab)\s(?:pasado\s|próximo\s)?(?:1er|\d\d?)(?!\d)|(?<!\w)(?:lun|mi[ée]|jue|vie|s[áa]b|dom|jeu|ven|sam|dim)\.?\s\d",
    re.IGNORECASE,
)
"""The same for a day and month with dots, and for a short day of the week: its letters alone stand in too many words."""


def _found(text: str) -> Iterator[Span]:
    """Yield every date and weekday."""
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[date]", 0.85, 1 if found.re.groups else 0)
