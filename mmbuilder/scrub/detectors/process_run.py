"""Runs of washers, sterilisers and cell savers: `Steris cycle 4419`, `cycles 311-314`, `flash cycle F-77`, `load L/0620/3`.

A run leads through the register of the sterile services to a tray, an operation and its patient.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying number or code; that a run is told by its number is
common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._quantity import time_of_day
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.plan import Span

KIND = "run number"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "cycle 4419, indicator not turned",
    "autoclave 2 failed, cycles 311-314 recalled",
    "flash cycle F-77 for a dropped elevator",
    "in load L/0620/3 released",
    "washer run W8842",
    "Autoclave cycle no. 20417",
)
NEAR_MISSES = (
    "cycle 3 of chemotherapy",
    "cycles 4 to 6",
    "cardiac cycle 800 ms",
    "load 500 mg over 20 minutes",
    "a load of 1200 N",
    "cycle 28 days",
    "run 03",
    "viral load 1200 copies/ml",
    "cycle length 320",
    "menstrual cycle D21",
)

_RUN = re.compile(
    r"(?<!\w)(?<!viral\s)(?P<word>cycles?|loads?|runs?)\s(?:no\.?\s|number\s|#\s?)?"
    rf"(?P<run>\d{{3,6}}(?:\s?[-–]\s?\d{{3,6}})?|[A-Z]{{1,3}}[-/]?\d{{2,6}}(?:[-/]\d{{1,6}})*)(?![\w/]|[.,]\d){NOT_MEASURED}(?!\s?(?:ms|N)\b)"
)
_DAY = re.compile(r"[DT]\d{1,2}$")
"""A day of a cycle: `D21`."""


def find(text: str) -> Iterator[Span]:
    """Yield every number of a run; the word before it stays."""
    for found in _RUN.finditer(text):
        a_list = found["word"].startswith("run") and time_of_day(found["run"])
        if not a_list and not _DAY.fullmatch(found["run"]):
            yield span(found, KIND, LETTER, "[run number]", 0.75, "run")
