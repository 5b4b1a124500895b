"""Names as lists and labels write them (`OSKAVARN, Jane`), and initials with dots (`J.K.S.`).

Source: 45 CFR 164.514(b)(2)(i)(A), names; initials are a derivative of one (HHS guidance on
de-identification, 26 November 2012, from memory). https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._person import judged
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "listed name"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "OSKAVARN, Jane for laparotomy",
    "QUILLORNE-VOSS, T",
    "Note by J.K.S. on the round",
    "signed K.L.",
    "MORENO QUENCO, Milagros – fuga",
    "QUENGER, TOM",
    "Quillorne J1, Vashtern A2",
    "Ada Quillorne¹, Tom Vashtern² and B. Ombrelay1,3",
    "SAU 1\tQuillorne, R\t34",
    "bay 3 bed 2  Marsh, Wm   RX220",
    "Fox, B   67   D2",
    "2. Quenwin, Rose X38-0006 varicose",
    "Fox, Bea 66F hernia",
    "Pt QUENGATA, Mere, NHI QBB7719",
)
NEAR_MISSES = (
    "CT, Doppler and angiogram",
    "E.C.G. and C.T. done",
    "NICE, Royal College",
    "U.S. scan",
    "p.r.n. and b.d.",
    "MRSA, Klebsiella",
    "HEMABATE, BAKRI, B-LYNCH",
    "ZUG NACH RUSSELL, BÜGEL",
    "BP, Hb and INR",
    "GREEN FLUID, BROWN STAIN",
    "SCANDIV, LOLA, DILALA and LADIES trials",
    "Factor8, Interleukin6 and Caspase3",
    "Zone1, Zone2 and Zone3",
    "Hip, R\t34",
    "Drain, L   200 ml",
    "R thoracic 8th ICS MAL, L thigh",
    "Bloods, G   pending",
    "Hernia, Rose 66F",
    "Drain, Robinson 20F",
    "TRALI, P/F 110",
)

_COMMA = re.compile(
    r"(?<![\w.-])(?P<last>(?:[^\W\d_a-zß-öø-ÿ]{3,}\s)?[^\W\d_a-zß-öø-ÿ]{3,}(?:['’-][^\W\d_a-zß-öø-ÿ]+)*),\s(?P<first>(?P<shouted>[^\W\d_a-zß-öø-ÿ]{3,}(?![\w.-]))|[^\W\d_a-zß-öø-ÿ](?:[^\W\d_A-ZÀ-ÖØ-Þ]+(?:-[^\W\d_]+)?|(?![\w./-])))(?:\s[A-Z](?!\w)\.?)?"
)
_DOTS = re.compile(r"(?<![\w.])(?:[A-Z]\.[\s-]?){3}(?![\w])")
_SIGNED = re.compile(r"(?<!\w)(?:signed|sgd|by|initials)[\s:]{1,2}((?:[A-Z]\.\s?){2}|[A-Z]{3}(?=\.?$))(?!\w)")


_NUMBERED = re.compile(r",?\s\(?(?:NHI|MRN|NHS|DOB|UR|URN|HN|[Hh]osp|CHI|[A-Z]{0,3}\d{5,}|d\.?o\.?b)(?!\w)")
"""What stands behind a whole name only."""
_TRIALS = re.compile(
    r"(?:,?\s(?:(?:and|or|&)\s)?[A-Z][A-Z\d-]{2,})*\s(?:trials?|stud(?:y|ies)|RCTs?|data)(?!\w)"
)
"""Names in capitals that end in this are of trials: `SCANDIV, LOLA and LADIES trials`."""


def _of_things(last: str) -> bool:
    """Whether what stands before the comma ends in a word that is nobody's name: `GREEN FLUID`."""
    word, lists = fold(last.split()[-1]), load()
    return " " in last and lists.known(word) and word not in lists.word_names


_AUTHOR = r"(?:[A-Z]\.?\s?){0,2}[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+(?:[-\s][^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+){0,2}(?:\s[A-Z]{1,3})?"
_AFFILIATED = re.compile(
    rf"(?<![\w.-])(?P<first>{_AUTHOR})[1-9¹²³⁴-⁹](?:,[1-9])*(?P<more>(?:,\s|\sand\s|,\sand\s|\s&\s){_AUTHOR}[1-9¹²³⁴-⁹](?:,[1-9])*)+"
)
"""Authors with the figure of their affiliation behind each: `Quillorne J1, Vashtern A2`."""
_EACH = re.compile(rf"(?P<name>{_AUTHOR})(?=[1-9¹²³⁴-⁹])")


_IN_A_FIELD = re.compile(
    r"(?:^|\t|\s{2})(?P<name>(?P<last>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+(?:['’-][^\W\d_]+)?),\s(?:[A-Z]{1,2}\.?|Wm|Chas|Geo|Jas))(?=\t|\s{2}|$)",
    re.MULTILINE,
)
"""A surname and an initial that fill a field of a list: `Marsh, B`."""


_IN_A_LIST = re.compile(
    r"^[ \t]*(?:\d{1,2}[.):]?\s)?(?P<name>(?P<last>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+(?:['’-][^\W\d_]+)?),\s(?P<first>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+))"
    r"(?=,?\s+\(?(?:[A-Z]{0,4}-?\d[\dA-Z/-]{3,}|\d{1,2}\s?[MF](?!\w)|[MF]\s?\d{1,2}(?!\w)|\d{1,2}\s?y))",
    re.MULTILINE,
)
"""Surname and first name at the head of a line, before a number, or an age and a sex."""


def _in_fields(text: str) -> Iterator[Span]:
    lists = load()
    for found in _IN_A_LIST.finditer(text):
        last = fold(found["last"])
        if (
            fold(found["first"]) in lists.given
            and (lists.borne(last) or not lists.known(last))
            and last not in lists.heads
        ):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")
    for found in _IN_A_FIELD.finditer(text):
        word = fold(found["last"])
        ordinary = lists.known(word) or lists.plain_abroad(word)
        if not ordinary or (lists.borne(word) and lists.called(word) is None):
            yield span(found, KIND, LETTER, "[name]", 0.85, "name")


def _authors(text: str) -> Iterator[Span]:
    for found in _AFFILIATED.finditer(text):
        for one in _EACH.finditer(text, *found.span()):
            word = fold(re.findall(r"[^\W\d_]{2,}", one["name"])[-1])
            if not load().known(word) or word in load().word_names:
                yield span(one, KIND, LETTER, "[name]", 0.85, "name")


def find(text: str) -> Iterator[Span]:
    """Yield surname and forename together, or the initials."""
    for found in _COMMA.finditer(text):
        joined = "-" in found["last"] and max(map(len, found["last"].split("-"))) <= 4  # LIMA-LAD
        if (
            not joined
            and any(len(word) > 3 for word in re.findall(r"[^\W\d_]+", found["last"]))  # ICS MAL
            and (not found["shouted"] or fold(found["shouted"]) in load().given)
            and found["last"] not in ABBREVIATIONS
            and found["last"].isupper()
            and len(found["last"]) > 4
            and not _of_things(found["last"])
            and not _TRIALS.match(text, found.end())
        ):
            spans = [*judged(text, found.start(), found.end(), KIND, 0.85)]
            yield from spans
            if spans and spans[0].end == found.end("last") and _NUMBERED.match(text, found.end()):
                yield Span(found.start(), found.end(), KIND, LETTER, "[name]", 0.86)
    yield from _in_fields(text)
    yield from _authors(text)
    for found in _DOTS.finditer(text):
        if re.sub(r"[^A-Z]", "", found[0]) not in ABBREVIATIONS:
            yield Span(
                found.start(),
                found.end() - len(found[0]) + len(found[0].rstrip()),
                KIND,
                LETTER,
                "[name]",
                0.6,
            )
    for found in _SIGNED.finditer(text):
        if found[1] not in ABBREVIATIONS and not load().known(fold(found[1])):
            yield span(found, KIND, LETTER, "[name]", 0.7, 1)
