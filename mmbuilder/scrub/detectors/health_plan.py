"""Numbers of health plans, insurances, policies and members.

Source: 45 CFR 164.514(b)(2)(i)(I), health plan beneficiary numbers; cue words also Spanish, German and French.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "health plan number"
LETTER = "I"
SOURCE = "45 CFR 164.514(b)(2)(i)(I)"
EXAMPLES = (
    "policy no. PX-1002003",
    "insurance number 88412077",
    "member ID 5501-2201",
    "Versichertennummer A123456789",
    "póliza ES-4410-22",
    "numéro d'assuré 4410-2207",
    "beneficiary no 774411-01",
    "group number 88213",
    "Medicaid ID AB12345C",
)
NEAR_MISSES = (
    "hospital policy 2019",
    "family members 2 and 3",
    "insurance of 1000 a year",
    "group 2 of 4",
    "plan for 2026",
)

_NUMBER = cued(
    r"policy\s(?:no|number)\.?|insurance\s(?:no|number|policy)\.?|Versicherten(?:nummer|-?nr\.?)|Versicherungsnummer|Vers\.-?Nr\.?|KVNR"
    r"|p[óo]liza|tarjeta\ssanitaria|CIP(?=\s[A-Z])|n(?:uméro|°|º)\sd['’]assur[ée]{1,2}|mutuelle(?:\sn(?:°|º|o\.?))?|HICN|MBI|GRP|DVA|OHIP|Krankenkasse|KV-?Nr\.?|pre-?auth(?:ori[sz]ation)?|auth(?:ori[sz]ation)?\scode",
    r"policy|Krankenkasse|DVA|auth(?:ori[sz]ation)?|health\scard|member(?:ship)?|insurance|insurer|plan|beneficiary|subscriber|group|Medicaid|Medicare|health\s(?:plan|card|insurance)|payer|assur[ée]{1,2}",
)


def find(text: str) -> Iterator[Span]:
    """Yield the number; the word before it stays."""
    yield from (
        span(found, KIND, LETTER, "[health plan number]", 0.88, 1) for found in _NUMBER.finditer(text)
    )
