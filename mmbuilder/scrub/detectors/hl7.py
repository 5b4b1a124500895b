"""Segments of HL7 messages pasted from an interface: the patient, the next of kin, the visit, the order, the insurance.

Source: HL7 Version 2.5, chapters 3, 4 and 6 (segments PID, NK1, PV1, ORC, OBR and IN1; the numbers of their fields from memory);
45 CFR 164.514(b)(2)(i)(A) to (J). https://www.hl7.org/implement/standards/product_brief.cfm?product_id=185
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from mmbuilder.scrub.plan import Span

KIND = "field of a message"
LETTER = "H"
SOURCE = "HL7 Version 2.5, chapters 3, 4 and 6 (from memory)"
EXAMPLES = (
    "PID|1||0113657^^^^MR||QUENBY^MOIRA^J||19610304|F",
    "OBR|1|PL33962^OE|25-0016299^LAB||CRP^C-reactive protein",
    "NK1|1|QUENBY^TOM|SPO",
    "PV1|1|I|HERON^12^B||||4471^QUILLORNE^T",
    "IN1|1|A|771|QUENSURE",
)
NEAR_MISSES = (
    "OBX|1|NM|CRP^C-reactive protein||310|mg/L",
    "MSH|^~\\&|LAB",
    "PID tuning of the warmer",
    "PV1| is empty",
)

_SEGMENT = re.compile(r"(?<![^\s/])(?P<name>PID|NK1|PV1|ORC|OBR|IN1)\|(?P<fields>[^\r\n]*)")
_FIELDS: Mapping[str, frozenset[int]] = {
    "PID": frozenset({2, 3, 4, 5, 6, 7, 9, 11, 12, 13, 14, 18, 19, 20, 21, 23, 29}),
    "NK1": frozenset({2, 4, 5, 6, 13, 16}),
    "PV1": frozenset({3, 5, 6, 7, 8, 9, 17, 19, 44, 45}),
    "ORC": frozenset({2, 3, 4, 9, 10, 11, 12, 14}),
    "OBR": frozenset({2, 3, 6, 7, 8, 10, 14, 16, 17, 22, 28, 32}),
    "IN1": frozenset({2, 3, 4, 5, 7, 8, 16, 18, 19, 36}),
}
"""The fields of each segment that name, place, date or number somebody."""


def find(text: str) -> Iterator[Span]:
    """Yield every field that identifies, whole, with what stands in it."""
    for segment in _SEGMENT.finditer(text):
        start = segment.start("fields")
        for number, field in enumerate(segment["fields"].split("|"), 1):
            said = field.strip()
            if number in _FIELDS[segment["name"]] and any(map(str.isalnum, said)):
                at = start + field.index(said)
                yield Span(at, at + len(said), KIND, LETTER, "[removed]", 0.95)
            start += len(field) + 1
