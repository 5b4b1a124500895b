"""A name, or initials, at the head of a sentence before what only people do: `Vraxley to chase bloods`, `DW took over at 21:00`.

Source: 45 CFR 164.514(b)(2)(i)(A), names, also of staff as this house has it; initials are a derivative of one (HHS
guidance on de-identification, 26 November 2012, from memory). What people do is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._called import may_be_called
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "Blessing to chase bloods",
    "Vraxley has gone for blood",
    "Vraxley to chase bloods",
    "DW took over at 21:00",
    "Plan: CT. QH to review",
    "LQ RN at the desk",
    "Present: DQ, QW and the fellow",
    "Apologies: SWJ, KQ",
    "Case 3 - QL, 66F, presented",
    "QK 79M list of the day",
    "Case 3 - SL, 66F, presented",
)
NEAR_MISSES = (
    "GI to review",
    "ID to advise on antibiotics",
    "MDT to discuss",
    "SALT to assess",
    "Hope to see her in clinic",
    "Bleeding has gone on for an hour",
    "Pain to review",
    "CT to review",
    "Surgeon took over at 21:00",
    "Bloods to chase",
    "Present: ST elevation in V2",
    "Apologies: none",
    "Pressure has gone up",
    "ICU RN called",
    "Grace to follow the plan",
    "AF 76 bpm, HR 66M",
    "sats 94, BP, 66F",
)

_OPENS = r"(?:^|(?<=[.;:]\s)|(?<=\n))[ \t]*"
_CAP = r"[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+"
_ACTS = (
    r"\s(?:to\s(?:chase|d/w|dictate|ring|phone|rv|liaise|hand\sover|relieve|cover)"
    r"|(?:has|have|had)\sgone\s(?:for|to|home|off)|took\sover|taking\sover|handed\sover|is\schasing|will\schase|relieved\s(?:by|me|us))(?!\w)"
)
_ACTS_OF_INITIALS = rf"(?:{_ACTS}|\s(?:to\s(?:see|review|call|discuss|speak|attend|assist|scrub|close|contact|write|check)|assisted|scrubbed|reviewed|aware|informed)(?!\w))"
_NAMED = re.compile(rf"{_OPENS}(?P<name>{_CAP}){_ACTS}", re.MULTILINE)
_INITIALS = re.compile(rf"{_OPENS}(?P<name>[A-Z]{{2,3}}){_ACTS_OF_INITIALS}", re.MULTILINE)
_NURSE = re.compile(r"(?<![\w.-])(?P<name>[A-Z]{2,3})\s(?:RN|CRNA|LPN|RM|EN)(?![\w-])")
_AGED = re.compile(
    rf"(?:{_OPENS}|[Cc]ase\s\d{{1,2}}\s?[-–:.]\s)(?P<name>[A-Z]{{2,3}}),?\s\d{{1,2}}\s?(?:[MF](?!\w)|y/?o|yrs?(?!\w))",
    re.MULTILINE,
)
_ROLL = re.compile(
    r"(?<!\w)(?:present|apologies|attendees|attended(?:\sby)?|in\sattendance|team|cc)\s?:\s(?P<run>[^.\n]{2,120})",
    re.IGNORECASE,
)
_ONE = re.compile(r"(?:^|(?<=,\s)|(?<=/)|(?<=and\s))(?P<name>[A-Z]{2,3})(?=,|/|\sand\s|$)")


def find(text: str) -> Iterator[Span]:
    """Yield names and initials of those who act, and initials in a roll of who was there."""
    for found in _NAMED.finditer(text):
        if may_be_called(found["name"]):
            yield span(found, KIND, LETTER, "[name]", 0.75, "name")
    for pattern in (_INITIALS, _NURSE, _AGED):
        for found in pattern.finditer(text):
            if found["name"] not in ABBREVIATIONS or found[0].lower().startswith("case"):
                yield span(found, KIND, LETTER, "[name]", 0.75, "name")
    for roll in _ROLL.finditer(text):
        for found in _ONE.finditer(roll["run"]):
            if found["name"] not in ABBREVIATIONS:
                at = roll.start("run")
                yield Span(at + found.start(), at + found.end(), KIND, LETTER, "[name]", 0.75)
