"""How far a name reaches: over the words beside it that say what house it is, and over a person's initials.

The judge knows `Quenby` of `Quenby Medical Ctr` and `Tannenquell` of `Unfallkrankenhaus Tannenquell`. What it leaves is a
word of any house, yet it tells which of the houses of a town is meant.
"""

from __future__ import annotations

import re
from dataclasses import replace

from mmbuilder.scrub.detectors._of_place import HOUSE
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Decision, Layer, Span

_FIRM = r"Co-op|Coop|Ltd|Limited|plc|PLC|LLC|LLP|Inc|Pty|Pvt|GmbH|KG|Bros|Solicitors|Haulage|Logistics|Farms?|Foods|Airlines|Airport"
_HOUSE = rf"{HOUSE}|Cent(?:re|er)|Ctr"
_PART = r"General|Central|Regional|District|Memorial|Royal|University|Teaching|Community|Medical|Health|Group|Practice|Surgery|Eye|North|South|East|West|Norte|Sur|Nord|Süd"
_ENDS = r"(?=[,.;:)]|\s[(–-]|\s*$|\s(?:and|for|on|at|to|by|reg|SpR|registrar|consultant|team|switchboard|said|accepted|declined|refused)\b)"
_BEHIND_A_PLACE = re.compile(rf"(?:\s(?:&\s)?(?:{_PART}|{_HOUSE}|{_FIRM})(?!\w)){{1,3}}")
_BEHIND_A_NAME = re.compile(
    rf"(?:\s(?:{_PART}))?\s(?:{_HOUSE}|{_FIRM})(?![\w-])|\s(?:General|Central|Regional|Memorial|Royal){_ENDS}",
    re.MULTILINE,
)
"""Behind what may be a person only what no person has: `Okonjo Surgery` may be an operation."""

_OF = r"(?:\s(?:de\sla|del?|du|des|of|der|am|an\sder|zu|St\.?))?"
_HOUSE_ABROAD = (
    r"(?:[^\W\d_a-z][^\W\d_]*-)?(?:[^\W\d_a-z][^\W\d_]*)?(?:[Kk]rankenhaus|[Kk]linik|[Kk]linikum|[Ss]pital|[Pp]flegeheim|[Ss]eniorenheim)"
    r"|Hospital(?:\s(?:General|Universitario|Regional|Comarcal|Clínico|Infantil))?|Clínic[ao]|Clinique|Hôpital|Residencia|Colegio|Lycée|Collège|École"
    r"|Kanzlei|Spedition|Bäckerei|Metzgerei|Firma|Praxis"
)
_BEFORE_A_PLACE = re.compile(
    rf"(?<![\w-])(?:(?:University|Royal|Mount|St\.?|Saint)\s|(?:{_HOUSE_ABROAD}){_OF}\s)$"
)
_BEFORE_A_NAME = re.compile(rf"(?<![\w-])(?:{_HOUSE_ABROAD}){_OF}\s$")
_INITIALS = re.compile(r"(?:(?<=^)|(?<=[\s(/,:]))(?:[A-Z]\.\s?){1,2}$")
_CLASS = re.compile(
    r"(?i:vitamin|hepatitis|class|type|grade|group|child|weber|stage|factor|phase)\s[A-Z]\.\s?$"
)
_OF_A_DATE = re.compile(r"[/.]\d{1,2}(?!\d)")
"""The rest of a day of which the judge took the first figure into a name: `Quenbyview 9/28`."""
_OPENS_A_ROW = re.compile(
    r"(?:^|\n)[ \t]*(?:\d{1,2}[.):]?\s)?(?P<word>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]{2,}\s)$"
)
_NUMBERED_BEHIND = re.compile(
    r",?\s+\(?(?:[A-Z]{0,4}-?\d[\dA-Z/-]{4,}|\d{1,2}\s?[MF](?!\w)|[MF]\s?\d{1,2}(?!\w))"
)
"""A line of a list opens with the whole name, and a number or an age follows: `4. Hone Quenby K180036`."""
_LONGEST = 60
"""Characters before and behind a name in which its house may be told."""


def whole(text: str, span: Span) -> Span:
    """The finding with what belongs to it on either side; the judge's, of a person or a place that goes."""
    if span.layer is not Layer.MODEL or span.decision is not Decision.REPLACE or span.letter not in "AB":
        return span
    before = text[max(0, span.start - _LONGEST) : span.start].rpartition("\t")[2]
    field = text.find("\t", span.end, span.end + _LONGEST)  # nothing of the next field belongs to it
    named = span.letter == "A"
    parted = text[span.end - 1].isdigit() and _OF_A_DATE.match(text, span.end)
    behind = parted or (_BEHIND_A_NAME if named else _BEHIND_A_PLACE).match(
        text, span.end, field if field >= 0 else span.end + _LONGEST
    )
    ahead = (_BEFORE_A_NAME if named else _BEFORE_A_PLACE).search(before)
    if named and not ahead and not _CLASS.search(before):
        ahead = _INITIALS.search(before) or _first_name(text, span, before)
    return replace(
        span,
        start=span.start - len(ahead[ahead.lastgroup or 0]) if ahead else span.start,
        end=behind.end() if behind else span.end,
    )


def _first_name(text: str, span: Span, before: str) -> re.Match[str] | None:
    """The word that opens a line of a list before a surname, unless it is one of the clinic."""
    found = _OPENS_A_ROW.search(before)
    if found is None or not _NUMBERED_BEHIND.match(text, span.end):
        return None
    plain, lists = fold(found["word"].strip()), load()
    told = plain in lists.heads or plain in lists.roles or plain in lists.titles
    return None if told or lists.called(plain) not in (None, _ORDINARY) else found


_ORDINARY = "an ordinary word"
"""What the lists call a word that is no term."""
