"""Where a finding ends: no field of a table and no line of a note runs on into the next by itself.

`Dr Quillorne`, below it `Haemoglobin 61`, is a name and a value. Lines of a note are short and carry no full stop; a line
of prose that was broken at its width may well part a first name from a family name, so behind a long line a word
that may be a name ends nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.judging.reading import flags
from mmbuilder.scrub.keep.guard import GRADED
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.morbus import diseases
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Layer, Span
from mmbuilder.scrub.values_behind import YEARS, end_before_values
from mmbuilder.scrub.words import word_set

_ONWARD = re.compile(r"\s*[\n\t]\s*(?P<word>[^\W\d_]+)")
_HOUSE_BELOW = re.compile(
    r"\s*\n[ \t]*(?:[^\W_][\w'’.-]*[ \t]){1,4}(?:Surgery|Practice|Hospital|Infirmary|Clinic|(?:Health|Medical)[ \t]Cent(?:re|er)|House|Road|Rd|Street|Lane|Avenue|Close|Drive|Ward|Unit|Department|Dept)\b"
)
"""Below a name, the line of an address is none of it."""
_LABEL = re.compile(r"\s+(?P<word>[^\W\d_]+)$")
_CODE = re.compile(r"\s[A-Z]$")
_COUNTED = re.compile(r"\d+[A-Z]\d")
_BEHIND = re.compile(r"\s?:")
_PROSE = re.compile(r"\s?:|\s+(?:[^\W_A-Z]|\d)")
_LAST = re.compile(r"([^\W\d_]+)\W*$")
_COUNT = re.compile(r"\d{1,2}\s[^\W\d_]")
_DATE_FIELD = re.compile(r"(?:\d{1,2}[/.-]\d{1,2}[/.-](?:\d\d){1,2}|\d{4}-\d\d-\d\d)(?=,\S)")
_AGED = re.compile(r"\s+(?:[1-8]?\d\s?[MF]|[FM]\s[1-8]?\d)(?!\w)")
"""Behind the number of a record, the age and sex of its patient: `4471-9926  47F`."""
_SEX = re.compile(r"\s[FM]$")
"""The sex before the age, where both stand behind: `K448120 F 66`."""
_TIME = re.compile(r"(?<=[^\W\d_])\s(?:[01]\d|2[0-3])[0-5]\d$")
_NUMBERED = re.compile(
    r"\d\D*\s\d{4}$|(?:box|postfach|room|unit|suite|apt|apartment|flat|lot|plot|road|rd|route|highway|hwy|way|drive|street|st|avenue|ave|no|nr|km|ward)\.?\s\d{4}$",
    re.IGNORECASE,
)
"""A time of day behind a place, which is none of it unless places of its kind are told by figures: `Quenby Infirmary 2300`."""
_WEEKDAY = re.compile(r"\s(?:Mon|Tues?|Wed|Thurs?|Fri|Sat|Sun)\w*$")
_DATED = re.compile(r"\s\d{1,2}[/.]\d")
"""Behind a name, the weekday of a date is no part of it: `sister Chidinma Sat 14/11`."""
_NURSE = re.compile(r"(?<=\b[SCN]/)[NSM]\s")
"""The end of a short grade before a name: `S/N Quillorne`."""
_SENTENCE = re.compile(r"[.!?]\s*\n\s*")
_PARTED_DAY = re.compile(r"\d{1,2}[ \t]*\n\s*[^\W\d_]+")
"""A figure that ends a line and a word that opens the next: `eGFR 31`, below it `Mei:`."""
_DIALLED = "DE"
"""The letters of telephone and fax numbers: `x22` behind one is its extension."""
_NAMES = "AB"
"""The letters of names: of people, of places."""
_BROKEN = 55
"""Characters of a line from which on it may have been broken at its width."""
_LABELS = word_set(
    """
    date time age sex hour hora fecha edad sexo datum zeit uhrzeit alter heure date_de job role ward bed signed note plan hosp dept pat dom
    school parents employer occupation runner floor camera
    """
)
"""What a field is called, though somebody may bear it as a name."""
_VALUE = re.compile(
    r"\s?:|\.?\s(?:(?:No|Nr|Num|Núm)\b|[nN][º°]|#|[^\W\d_]{0,3}[/-]?\d)|\.\s(?:Herrn?|Frau|Hr|Fr)\b"
)
"""What follows a label: `Hosp E/88120`, `Pat. Herrn`."""
_OPENS = re.compile(r"(?:^|[\n:;])\s?$")
_NAMED = re.compile(r"\.\s[^\W\d_a-zß-öø-ÿ]")
"""A label that opens a line, before a name: `Pat. Quillorne`; in a sentence, `told Pat. Bleeding stopped`, it is one."""
_LETTER = re.compile(r"(?<![^\W\d_]\s)(?<![\w.])[FLMR](?=\s{2}|\t|$|\s[A-Z]{2,4}\b)", re.MULTILINE)
"""A sex or a side in a field of its own, or before an abbreviation: `R IJ cordis`."""


def within(text: str, span: Span) -> Iterator[Span]:
    """Yield a finding as far as it is of one field, one line and one name; nothing where only a word is left of it."""
    if span.letter in _NAMES:
        if span.layer is Layer.MODEL and _label_or_letter(text, span):
            return
        name = _name(text, _before_its_time(text, span))
        if name.end == span.end or text[name.start : name.end].strip().lower() not in _LABELS:
            yield name
        return
    if _PARTED_DAY.fullmatch(text, span.start, span.end) and not _long(text, span.start):
        return
    cut = _in_its_field(text, span)
    if span.letter not in _DIALLED:
        cut = replace(cut, end=end_before_values(text, cut.start, cut.end))
    if found := _SENTENCE.search(text, cut.start, cut.end):
        late = replace(cut, start=found.end())
        if _figures(text[late.start : late.end]):
            yield late
    else:
        yield replace(cut, end=_of_the_line(text, cut))


def _label_or_letter(text: str, span: Span) -> bool:
    """Whether what the judge took for a name is a label before its value, or a letter for a sex or a side."""
    if text[span.start : span.end].lower() in _LABELS:
        opens = _OPENS.search(text[max(0, span.start - 2) : span.start]) is not None
        return _VALUE.match(text, span.end) is not None or (
            opens and _NAMED.match(text, span.end) is not None
        )
    return span.end - span.start == 1 and _LETTER.match(text, span.start) is not None


def _in_its_field(text: str, span: Span) -> Span:
    """The finding up to the tab or the age at which its field ends, a date up to the comma; a number that is whole by then."""
    dated = _DATE_FIELD.match(text, span.start, span.end)
    aged = _AGED.search(text, span.start, span.end)
    if aged is None and YEARS.match(text, span.end):
        aged = _SEX.search(text, span.start, span.end)
    tab = text.find("\t", span.start, span.end)
    at = dated.end() if dated else tab if tab >= 0 or aged is None else aged.start()
    whole = span.letter == "C" or _figures(text[span.start : max(at, span.start)]) >= _ENOUGH
    return replace(span, end=at) if at > span.start and whole else span


def _of_the_line(text: str, span: Span) -> int:
    """Where a number ends that is whole at the end of its line: `07700 900771`, below it `B3`; `0441771`, below it `8 RBC`."""
    at = text.find("\n", span.start, span.end)
    if at < 0 or span.letter == "C":
        return span.end
    before, after = text[span.start : at].rstrip(), text[at : span.end].lstrip()
    counted = _COUNT.match(text, span.end - len(after)) is not None
    ends = _figures(before) >= _ENOUGH and (after[:1].isalpha() or _figures(before) >= _LONG or counted)
    return span.start + len(before) if ends else span.end


_ENOUGH, _LONG = 5, 9
"""Figures of a number that may end with its field; of one that ends with its line whatever follows."""


def _before_its_time(text: str, span: Span) -> Span:
    """What the judge took for a place without the time of day that is written behind it."""
    if span.letter != "B" or span.layer is not Layer.MODEL or _NUMBERED.search(text, span.start, span.end):
        return span
    found = _TIME.search(text, span.start, span.end)
    return replace(span, end=found.start()) if found else span


def _figures(said: str) -> int:
    return sum(map(str.isdigit, said))


def _name(text: str, span: Span) -> Span:
    """A name without the next line or field, a label behind it, or the letter that opens a code: `Mrs Quorne G3P2`."""
    if grade := _NURSE.match(text, span.start, span.end):
        span = replace(span, start=grade.end())
    day = _WEEKDAY.search(text, span.start, span.end)
    if day and _DATED.match(text, span.end):
        return replace(span, end=day.start())
    found = _ONWARD.search(text, span.start, span.end)
    if found and span.letter == "A" and _HOUSE_BELOW.match(text, found.start()):
        return replace(span, end=found.start())
    if found and _ends(text, span, found, broken=_long(text, found.start())):
        return replace(span, end=found.start())
    label = _LABEL.search(text, span.start, span.end)
    if label and len(label["word"]) > 1 and _FIGURE.match(text, span.end) and _measures(label["word"]):
        return replace(span, end=label.start())
    if span.letter != "A":  # `QUENDON WARD:`; of a place no field of a table goes on in the next
        tab = text.find("\t", span.start, span.end)
        return replace(span, end=tab) if tab > span.start else span
    if (start := _operation(text, span)) is not None:
        return replace(span, end=start)
    for start, _ in diseases(text, span.start + 1, span.end):
        return replace(span, end=span.start + len(text[span.start : start].rstrip()))  # `Hr. Quenby M. Crohn`
    if (
        label
        and _BEHIND.match(text, span.end)
        and (label["word"].lower() in _LABELS or _ends(text, span, label, broken=True))
    ):
        return replace(span, end=label.start())
    found = _CODE.search(text, span.start, span.end)
    if found and (_COUNTED.match(text, span.end) or _sex_or_side(text, span.start, found)):
        return replace(span, end=found.start())
    return span


_TWO = re.compile(r"([^\W\d_]+)(?P<gap>\s)(?P<last>[^\W\d_]+)$")
_DONE = re.compile(
    r"['’]s(?=\s?[,.;:)]|\s?$|\s(?:at|on|today|tomorrow|yesterday|done|redo|next|first|then|procedure|operation|resection|POD|[Dd]ay)\b)",
    re.MULTILINE,
)


def _operation(text: str, span: Span) -> int | None:
    """Where a name ends before an eponym that is what is done to somebody: `Mrs Quillorne Whipple's, then`, `Mr Foley Foley out`."""
    found = _TWO.search(text[span.start : span.end])
    if found is None or fold(found["last"]) not in load().eponym_words:
        return None
    done = _DONE.match(text, span.end) is not None
    return span.start + found.start("gap") if done or found["last"] == found[1] else None


def _sex_or_side(text: str, start: int, found: re.Match[str]) -> bool:
    """Whether a letter behind a name is a sex before an age, or the side of a part of the body: `Ada Quenby F 57`, `Quenby L hip`."""
    if found[0].strip() in ("F", "M"):
        whole = " " in text[start : found.start()].strip()  # `Quenby M 57` may be a first name in short
        return whole and YEARS.match(text, found.end()) is not None
    part = _PART_OF_A_BODY.match(text, found.end())
    return found[0].strip() in ("L", "R") and part is not None and load().called(fold(part[1])) == _ANATOMY


def _measures(word: str) -> bool:
    """Whether a word before a figure is the name of a value or a score, and nobody's: `Quenby Hb 92`."""
    lists, plain = load(), fold(word)
    short = word in ABBREVIATIONS or word == "Hb"
    told = lists.called(plain) not in (None, "an ordinary word") and not lists.borne(plain)
    return short or told or plain in GRADED


_FIGURE = re.compile(r"\s\d")
_PART_OF_A_BODY = re.compile(r"\s([a-z]{3,})(?!\w)")
_ANATOMY = "anatomy"


def _long(text: str, end: int) -> bool:
    """Whether the line that ends here is as long as one that was broken at its width."""
    return end - (text.rfind("\n", 0, end) + 1) >= _BROKEN


def _ends(text: str, span: Span, found: re.Match[str], *, broken: bool) -> bool:
    """Whether a name is told by what stands before, and none by the word that follows."""
    lists = load()
    before = _LAST.search(text, span.start, found.start())
    if before is None or fold(before[1]) in lists.titles | lists.roles | lists.particles | lists.articles:
        return False
    word = fold(found["word"])
    if "m" in flags(word) and word not in lists.word_names:
        return True  # a day of the week
    if lists.borne(word):
        if not broken:
            return _PROSE.match(text, found.end()) is not None
        return found.re is _LABEL and lists.called(word) is not None
    return lists.known(word) or lists.plain_abroad(word) or word.upper() in ABBREVIATIONS
