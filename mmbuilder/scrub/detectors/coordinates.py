"""Where on the earth something was: latitude and longitude, references of a national grid, three words of a map.

Source: ISO 6709 (degrees with decimals; degrees, minutes and seconds); a reference of the Ordnance Survey's grid, two letters with
six, eight or ten figures, after its word (from memory); 45 CFR 164.514(b)(2)(i)(B). https://www.iso.org/standard/75147.html
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "ISO 6709; 45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "found at 51.50121, -0.14022 by the crew",
    "position 48.8584 N, 2.2945 E",
    "50\u00b048'12\"N 1\u00b005'30\"W",
    "grid ref QX 298 801",
    "what3words ///quenby.lamp.stone",
    "lat 51.5012",
)
NEAR_MISSES = (
    "lactate 4.125, 3.250",
    "45\u00b0 of flexion, 30\u00b0 of tilt",
    "p 0.0012, 0.0451",
    "Sph -2.25, -0.75",
    "grid of 12 by 12",
    "lat 3.5 cm, long 12 cm",
)

_DEGREES = r"-?\d{1,3}\.\d{4,8}"
_FORMS = (
    re.compile(rf"(?<![\w.,-])(?:-?\d{{2}}\.\d{{4,8}}\s?[NS]?,\s?{_DEGREES}\s?[EW]?|\d{{1,2}}\.\d{{3,8}}\s?[NS],?\s\d{{1,3}}\.\d{{3,8}}\s?[EW])(?!\w|[.,]\d)"),
    re.compile(r"(?<!\w)\d{1,3}\s?\u00b0\s?\d{1,2}\s?['\u2019\u2032]\s?(?:\d{1,2}(?:\.\d+)?\s?[\"\u201d\u2033]\s?)?[NSEW](?!\w)"),
    re.compile(r"(?<!\w)(?:grid(?:\sref(?:erence)?)?|OS\sref|NGR)[\s:.]{1,2}([A-Z]{2}\s?\d{3,5}\s?\d{3,5})(?!\w)", re.IGNORECASE),
    re.compile(r"(?<![\w/])///[^\W\d_]+\.[^\W\d_]+\.[^\W\d_]+"),
    re.compile(rf"(?<!\w)(?:lat(?:itude)?|long?(?:itude)?)[\s:=]{{1,2}}({_DEGREES})(?!\w|[.,]\d)", re.IGNORECASE),
)  # fmt: skip


def find(text: str) -> Iterator[Span]:
    """Yield every position."""
    text = view(text)
    for pattern in _FORMS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[place]", 0.85, found.lastindex or 0)
