"""User names as social media and chat write them: `@` and a name.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying characteristic; common practice.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "user name"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = ("posted by @quillorne_scrubs last week", "(@ward9nurse)")
NEAR_MISSES = ("infusion @ 20 ml/h", "at 40 @20 min", "list @0900")

_HANDLE = re.compile(r"(?<![\w@.+-])@(?=[\w.]{0,30}[^\W\d_])[^\W\d][\w.]{1,29}\w")


def find(text: str) -> Iterator[Span]:
    """Yield every handle."""
    if "@" in text:
        yield from (span(found, KIND, LETTER, "[user name]", 0.85) for found in _HANDLE.finditer(text))
