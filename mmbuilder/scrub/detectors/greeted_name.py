"""First names after a greeting: `Hi Cath,`, `cher Bernard,`, `Liebe Heidi!`. The judge knows most; not those that are words.

Source: 45 CFR 164.514(b)(2)(i)(A), names; how letters and messages open is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._called import may_be_called
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "Hi Cath, sorry for long one",
    "Cher confrère, cher Bernard,",
    "Liebe Heidi!",
    "hola Pili, mira esto",
    "Dear Quorra,",
    "Thanks Bill.",
    "morning Quorra - can you",
)
NEAR_MISSES = (
    "Dear All,",
    "Dear Colleague,",
    "Hi both, quick one",
    "Dear Sir,",
    "Cher confrère,",
    "Hi Team, the list",
    "Liebe Kollegen,",
    "Dear Parents,",
    "morning Labs, chased",
    "Hi CRP, 240",
    "Dear Surgeon,",
    "Hola Equipo,",
)

_GREETED = re.compile(
    r"(?<!\w)(?i:hi|hiya|hello|hey|dear|thanks|thank\syou|thx|cheers|morning|evening|hallo|liebe[rs]?|hola|querid[oa]|estimad[oa]|cher|chère|bonjour|salut)"
    r"\s(?P<name>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+)(?=\s?[,.!\n]|\s[-–]\s|\s?$)",
    re.MULTILINE,
)


def find(text: str) -> Iterator[Span]:
    """Yield who is greeted, if somebody may be called so."""
    for found in _GREETED.finditer(text):
        if may_be_called(found["name"]):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")
