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
EXAMPLES = (
    "posted by @quillorne_scrubs last week",
    "(@ward9nurse)",
    "user name: jquillorne7",
    "login hbaek02 was used",
    "user caanzjl97",
    "Instagram: velkonar.scrubs",
)
NEAR_MISSES = (
    "infusion @ 20 ml/h",
    "at 40 @20 min",
    "list @0900",
    "the user changed 3 settings",
    "user interface 2.0",
    "login failed at 0930",
    "drug user 20y",
)

_HANDLE = re.compile(r"(?<![\w@.+-])@(?=[\w.]{0,30}[^\W\d_])[^\W\d][\w.]{1,29}\w")
_CUED = re.compile(
    r"(?<!\w)(?:user(?:\s?name|\s?id)?|login|log-?on|account\sname|twitter|instagram|facebook|tiktok|linkedin|whatsapp|skype|handle)"
    r"(?:\s(?:is|was|name))?(?P<link>\s?:\s?|\s)(?P<name>[a-z][a-z0-9._-]{2,29})(?!\w)",
    re.IGNORECASE,
)


def find(text: str) -> Iterator[Span]:
    """Yield every handle."""
    for found in _CUED.finditer(text):
        figures = re.fullmatch(r"[A-Za-z._-]{2,}\d{1,4}", found["name"]) is not None
        if figures or ":" in found["link"]:
            yield span(found, KIND, LETTER, "[user name]", 0.8, "name")
    if "@" in text:
        yield from (span(found, KIND, LETTER, "[user name]", 0.85) for found in _HANDLE.finditer(text))
