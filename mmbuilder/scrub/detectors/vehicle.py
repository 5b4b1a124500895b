"""Vehicle plates by cue, and vehicle identification numbers by form and check digit.

Source: 45 CFR 164.514(b)(2)(i)(L); 49 CFR 565.15 (17 signs without I, O and Q; check sign in place 9, worked by
weights modulo 11, from memory). https://www.ecfr.gov/current/title-49/section-565.15
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "vehicle number"
LETTER = "L"
SOURCE = "45 CFR 164.514(b)(2)(i)(L); 49 CFR 565.15"
EXAMPLES = (
    "number plate ZZ55 KLM",
    "reg plate ZZ64 GDZ in the car park",
    "registration number of the car QX26 ZZT",
    "licence plate 8ZZZ999",
    "VIN 1M8GDM9AXKP042788",
    "Kennzeichen B-ZZ 1234",
    "matrícula 0000 ZZZ",
)
NEAR_MISSES = (
    "plate 3 holes",
    "a locking plate 4.5 mm",
    "registration in 2019",
    "the plate was bent",
    "car crash at 60 mph",
)

_PLATE = r"(?=[A-Z0-9 -]{0,9}\d)(?=[A-Z0-9 -]{0,9}[A-Z])[A-Z0-9]{1,4}(?:[ -]?[A-Z0-9]{1,4}){0,2}"
_CUED = re.compile(
    r"(?<!\w)(?:(?:number|licen[cs]e|registration|reg)\.?\s?plates?|(?:vehicle|car)\s(?:reg(?:istration)?|number)(?:\sno\.?)?|VRN|VRM"
    r"|registration(?:\snumber)?\sof\sthe\s(?:car|van|vehicle|motorcycle)|Kennzeichen|matrícula|immatriculation|plaque)"
    rf"(?:\s(?:is|was|no\.?|number))?[\s:]{{1,2}}(?-i:({_PLATE}))(?!\w)",
    re.IGNORECASE,
)
_VIN = re.compile(r"(?<!\w)(?=[A-Z0-9]{0,16}\d)[A-HJ-NPR-Z0-9]{17}(?!\w)")
_VALUES = {**{str(digit): digit for digit in range(10)}, **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
           **dict(zip("JKLMN", range(1, 6), strict=True)), "P": 7, "R": 9, **dict(zip("STUVWXYZ", range(2, 10), strict=True))}  # fmt: skip
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)


def find(text: str) -> Iterator[Span]:
    """Yield plates after their word, and numbers of 17 signs whose check sign is right or whose word stands before."""
    yield from (span(found, KIND, LETTER, "[vehicle number]", 0.9, 1) for found in _CUED.finditer(text))
    for found in _VIN.finditer(text):
        if checks(found[0]) or text[max(0, found.start() - 12) : found.start()].upper().rstrip(": ").endswith(
            "VIN"
        ):
            yield span(found, KIND, LETTER, "[vehicle number]", 0.9)


def checks(number: str) -> bool:
    """Whether the check sign of a vehicle identification number is right."""
    total = sum(_VALUES[sign] * weight for sign, weight in zip(number, _WEIGHTS, strict=True))
    return number[8] == "0123456789X"[total % 11]
