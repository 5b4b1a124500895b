"""The calendar as people write it: patterns of dates, and what a full date means."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from mmbuilder.case.dates import month_of, real
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

_SHORTENED = r"(?:\.(?!\s*$|\s+(?-i:[A-Z])))?"
"""The full stop of a shortened month, but not that of the sentence: `4 Nov. at night`, and `4 Nov. She`."""
MONTH = (
    r"(?:Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|Sept?(?:ember)?|Oct(?:ober)?"
    r"|Nov(?:ember)?|Dec(?:ember)?|JAN(?:UARY)?|FEB(?:RUARY)?|MAR(?:CH)?|APR(?:IL)?|MAY|JUNE?|JULY?|AUG(?:UST)?"
    rf"|SEPT?(?:EMBER)?|OCT(?:OBER)?|NOV(?:EMBER)?|DEC(?:EMBER)?)(?![^\W\d_]){_SHORTENED}"
)
LOWER = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    rf"|nov(?:ember)?|dec(?:ember)?)(?![^\W\d_]){_SHORTENED}"
)
WEEKDAY = r"(?:Mon|Tues?|Wed(?:nes)?|Thu(?:rs?)?|Fri|Sat(?:ur)?|Sun)(?:day)?(?![^\W\d_])\.?"
FULL_WEEKDAY = r"(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)days?"
YEAR = r"(?:19|20)\d\d"
FULL_MONTH = r"(?:January|February|April|June|July|August|September|October|November|December)(?![^\W\d_])"
"""Months whose names are no other word, for places where case cannot help."""

_NAMES = frozenset({"kasim"})
"""A month without its marks that somebody is called."""


def _plain(month: str) -> str:
    """A month as it is typed without marks: `fevrier`, `Mean Fomhair`."""
    return "".join(sign for sign in unicodedata.normalize("NFD", month) if not unicodedata.combining(sign))


_ABROAD = {
    "enero": 1, "febrero": 2, "marzo": 3, "abril": 4, "mayo": 5, "junio": 6, "julio": 7, "agosto": 8, "septiembre": 9,
    "setiembre": 9, "octubre": 10, "noviembre": 11, "diciembre": 12, "januar": 1, "jänner": 1, "februar": 2, "märz": 3, "april": 4,
    "mai": 5, "juni": 6, "juli": 7, "august": 8, "oktober": 10, "dezember": 12, "janvier": 1, "février": 2,
    "mars": 3, "avril": 4, "juin": 6, "juillet": 7, "août": 8, "septembre": 9, "octobre": 10, "novembre": 11,
    "décembre": 12, "janeiro": 1, "fevereiro": 2, "março": 3, "maio": 5, "junho": 6, "julho": 7, "setembro": 9, "outubro": 10,
    "novembro": 11, "dezembro": 12, "gennaio": 1, "febbraio": 2, "aprile": 4, "maggio": 5, "giugno": 6, "luglio": 7,
    "settembre": 9, "ottobre": 10, "dicembre": 12, "januari": 1, "februari": 2, "maart": 3, "mei": 5, "augustus": 8,
    "marts": 3, "maj": 5, "desember": 12, "augusti": 8, "stycznia": 1, "lutego": 2, "marca": 3, "kwietnia": 4, "maja": 5,
    "czerwca": 6, "lipca": 7, "sierpnia": 8, "września": 9, "października": 10, "listopada": 11, "grudnia": 12,
    "ledna": 1, "února": 2, "března": 3, "dubna": 4, "května": 5, "června": 6, "července": 7, "srpna": 8, "září": 9,
    "října": 10, "listopadu": 11, "prosince": 12, "ocak": 1, "şubat": 2, "nisan": 4, "mayıs": 5, "haziran": 6, "temmuz": 7,
    "ağustos": 8, "eylül": 9, "ekim": 10, "kasım": 11, "aralık": 12, "ianuarie": 1, "februarie": 2, "martie": 3, "aprilie": 4,
    "iunie": 6, "iulie": 7, "septembrie": 9, "octombrie": 10, "noiembrie": 11, "decembrie": 12, "január": 1, "február": 2,
    "március": 3, "április": 4, "május": 5, "június": 6, "július": 7, "augusztus": 8, "szeptember": 9, "október": 10,
    "tammikuuta": 1, "helmikuuta": 2, "maaliskuuta": 3, "huhtikuuta": 4, "toukokuuta": 5, "kesäkuuta": 6, "heinäkuuta": 7,
    "elokuuta": 8, "syyskuuta": 9, "lokakuuta": 10, "marraskuuta": 11, "joulukuuta": 12,
    "eanáir": 1, "feabhra": 2, "márta": 3, "aibreán": 4, "bealtaine": 5, "meitheamh": 6, "iúil": 7, "lúnasa": 8, "meán fómhair": 9,
    "deireadh fómhair": 10, "samhain": 11, "samhna": 11, "nollaig": 12, "nollag": 12, "ionawr": 1, "chwefror": 2, "mawrth": 3,
    "ebrill": 4, "mehefin": 6, "gorffennaf": 7, "awst": 8, "hydref": 10, "tachwedd": 11, "rhagfyr": 12, "gener": 1, "febrer": 2,
    "març": 3, "maig": 5, "juny": 6, "juliol": 7, "setembre": 9, "desembre": 12, "xaneiro": 1, "febreiro": 2, "xuño": 6, "xullo": 7,
    "urtarrilaren": 1, "otsailaren": 2, "martxoaren": 3, "apirilaren": 4, "maiatzaren": 5, "ekainaren": 6,
    "uztailaren": 7, "abuztuaren": 8, "irailaren": 9, "urriaren": 10, "azaroaren": 11, "abenduaren": 12, "januarie": 1,
    "siječnja": 1, "veljače": 2, "ožujka": 3, "travnja": 4, "svibnja": 5, "lipnja": 6, "kolovoza": 8, "rujna": 9,
    "studenoga": 11, "prosinca": 12, "julai": 7, "ogos": 8, "disember": 12, "agustus": 8, "hunyo": 6, "hulyo": 7, "setyembre": 9,
    "oktubre": 10, "nobyembre": 11, "disyembre": 12,
}  # fmt: skip
_ABROAD |= {_plain(month): number for month, number in _ABROAD.items() if _plain(month) not in _NAMES}
ABROAD = "|".join(sorted(_ABROAD, key=len, reverse=True))
"""Months in Spanish, German, French, Portuguese, Italian, Dutch and, as they stand after a day, in Danish, Norwegian, Swedish,
Polish, Czech, Turkish, Romanian, Hungarian, Finnish, Irish, Welsh, Catalan, Galician, Basque, Afrikaans, Croatian, Malay and Filipino."""

_IN_ABROAD = re.compile(
    rf"(?<!\d)(\d{{1,2}})(?:\.|er|º)?\s(?:de\s)?({ABROAD})\s(?:de\s|del\s)?({YEAR})(?!\d)", re.IGNORECASE
)

_WORDS = re.compile(
    rf"(?:(?P<d1>\d{{1,2}})(?:st|nd|rd|th)?(?:\sof)?[\s.,/-]*(?P<m1>{LOWER})"
    rf"|(?P<m2>{LOWER})[\s.,/-]*(?P<d2>\d{{1,2}})(?:st|nd|rd|th)?)[\s.,/'’-]+(?P<y>{YEAR})(?!\d)",
    re.IGNORECASE,
)
_SEVERAL = re.compile(
    r"\d(?:st|nd|rd|th)?\s?(?:to|and|or|until|till|&|-|–|/)\s?\d{1,2}(?:st|nd|rd|th)?(?:\sof)?"
    rf"[\s./-]{{0,2}}{LOWER}",
    re.IGNORECASE,
)
_FIRST_YEAR = re.compile(rf"({YEAR})[-/.]?(\d{{2}})[-/.]?(\d{{2}})(?!\d)")
_FIGURES = re.compile(rf"(?<!\d)(\d{{1,2}})\s?[-/._ ]\s?(\d{{1,2}})\s?[-/._ ]\s?({YEAR})(?!\d)")


def read(text: str) -> date | None:
    """Return the date that is written; None where part is missing, it has two readings, or it is a range."""
    text = view(text)
    if _SEVERAL.search(text):
        return None
    if found := _WORDS.search(text):
        month = month_of((found["m1"] or found["m2"]).lower())
        return real(int(found["y"]), month, int(found["d1"] or found["d2"]))
    if found := _IN_ABROAD.search(text):
        return real(int(found[3]), _ABROAD[found[2].lower()], int(found[1]))
    if found := _FIRST_YEAR.search(text):
        return real(int(found[1]), int(found[2]), int(found[3]))
    if found := _FIGURES.search(text):
        return _in_figures(int(found[1]), int(found[2]), int(found[3]))
    return None


def _in_figures(first: int, second: int, year: int) -> date | None:
    if first <= 12 and second <= 12 and first != second:
        return None  # two readings
    return real(year, second, first) if second <= 12 else real(year, first, second)


def could_be(first: int, second: int) -> bool:
    """Whether two figures could be day and month, in either order."""
    return (1 <= first <= 31 and 1 <= second <= 12) or (1 <= first <= 12 and 1 <= second <= 31)


_TIME_AFTER = re.compile(
    r"(?:,?\s(?:at\s|@\s?|around\s|um\s|gegen\s|à\s|vers\s|a\slas?\s)?(?:(?:[01]\d|2[0-3])[0-5]\d(?:\s?(?:z|h|hrs?))?(?![\w%/]|[.,]\d)(?!\s?(?:m|mg|ml|units?|g)\b)"
    r"|(?:[01]?\d|2[0-3])[:.][0-5]\d(?:\s?[ap]\.?m\.?|\suhr)?(?![\w%/]|[.,:]\d)(?!\s?(?:mg|ml|mm|l|g|kg|units?)\b)|\d{1,2}\s?(?:[ap]m|h(?:\s?[0-5]\d)?|uhr|baje(?:\s(?:raat|subah|shaam|dopahar))?)(?!\w))"
    r"|\sat\s(?:1[0-2]|[1-9])(?=\s?[.;)]|(?m:$))"
    r"|\s(?:early\s|late\s)?(?:night|morning|evening|afternoon|lunchtime|teatime|am|pm|arvo|früh|vormittag|mittag|nachmittag|abend|nacht|matin|soir|après-midi|nuit|raat|subah|shaam)(?!\w))",
    re.IGNORECASE,
)
_OF_A_YEAR = re.compile(
    r",?\s(?:(?:of\s)?(?:this|last|next)\syear|(?:d\.|v\.|k\.|l\.|lfd\.|dieses|letzten|vorigen|vergangenen|kommenden|nächsten|laufenden)\s?J(?:ahres|\.)"
    r"|de\seste\saño|del\s(?:año\s(?:en\scurso|pasado)|presente(?:\saño)?|corriente(?:\saño)?|cte\.?|pte\.?|actual)|de\scette\sannée|de\sl['’]année\s(?:dernière|passée)|(?:du\s)?courant)(?!\w)",
    re.IGNORECASE,
)
"""What tells the year without its figures: `this year`, `d. J.`, `del presente`."""
_TIME_BEFORE = re.compile(
    r"(?<![\w.,/:-])(?:(?:[01]\d|2[0-3])[0-5]\d,?\s|(?:[01]?\d|2[0-3])[:.][0-5]\d(?:\s?[ap]m|\suhr|h)?(?:,?\s|\s(?:on|am|le|el|del)\s))$",
    re.IGNORECASE,
)
"""`0130 sat`, `21:14 on Sunday`."""
_LONGEST_BEFORE = 16
_WHOLE = re.compile(r"(?:19|20)\d\d|['’]\d\d$|(?<!\d)\d{1,2}([./-])\d{1,2}\1\d\d$")
"""A date that tells its year, in four figures or two."""


_OPENS_WITH_TIME = re.compile(
    r"^[ \t]*(?:[^\W\d_]{2,3}\.?[ \t])?(?:\d{1,2}[./-](?:\d{1,2}|[^\W\d_]{3})\.?[ \t])?(?:[01]\d|2[0-3])[:.]?[0-5]\d(?![\w%/]|[.,:]\d)",
    re.MULTILINE,
)
_FEWEST = 2
"""Lines that open with their time make a chart."""


def timed(text: str, found: Iterable[Span]) -> Iterator[Span]:
    """Yield each date without a year with the time of day that is written right beside it: `sat 0130`, `friday night`.

    A whole date is told as a day of the case, so the time beside it may stay; and so may the one that opens a line of a
    chart: `20/11 1410 CT`, below `0800 ...`.
    """
    charted = len(_OPENS_WITH_TIME.findall(text)) >= _FEWEST
    for span in found:
        said = text[span.start : span.end]
        if _WHOLE.search(said) or (charted and _heads_a_line(text, span)):
            yield span
            continue
        of_a_year = _OF_A_YEAR.match(text, span.end)
        end = of_a_year.end() if of_a_year else span.end
        after = _TIME_AFTER.match(text, end)
        before = (
            _TIME_BEFORE.search(text, max(0, span.start - _LONGEST_BEFORE), span.start)
            if said[0].isalpha()
            else None
        )
        yield replace(span, start=before.start() if before else span.start, end=after.end() if after else end)


def _heads_a_line(text: str, span: Span) -> bool:
    """Whether a date opens a line together with a time."""
    start = text.rfind("\n", 0, span.start) + 1
    found = _OPENS_WITH_TIME.match(text, start)
    return found is not None and span.start < found.end()


def holds(text: str, words: tuple[str, ...]) -> bool:
    """Whether a text holds one of some words or stems, whatever its case: cheaper than any pattern."""
    low = text.lower()
    return any(word in low for word in words)
