"""Who wrote a message, as a chat is saved: the stamp of its time, then the name up to the colon.

Source: 45 CFR 164.514(b)(2)(i)(A), names; how saved chats look is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._called import may_be_called
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "8/3/26, 5:40 - Quonse Adj: lavado",
    "[12/01/2026, 02:14:07] Quorra Vey 🦴: on my way",
    "12.01.26, 02:14 - Heidi: komme",
    "[02:14, 12/01/2026] dr quorra: ok",
    "[02:14] Quorra: ok",
    "12/01/2026, 2:14 pm - Will: yes",
)
NEAR_MISSES = (
    "[02:14] Urine: 70 ml",
    "[02:14:30] Theatre coordinator: ready",
    "[02:14] BP: 80/40",
    "[02:14] You: ok",
    "02:14 Foley: 300 ml",
    "[02:14] ITU consultant: no bed",
)

_DAY = r"(?:\d{1,4}[./-]\d{1,2}[./-]\d{2,4})"
_TIME = r"(?:\d{1,2}[:.]\d\d(?:[:.]\d\d)?(?:\s?[aApP]\.?\s?[mM]\.?)?)"
_STAMPED = re.compile(
    rf"^(?:\[(?:{_DAY},?\s)?{_TIME}(?:,?\s{_DAY})?\]\s(?:-\s)?|{_DAY},?\s{_TIME}\s[-–]\s)"
    r"(?P<name>[^\W\d_][^:\n\t]{0,38}[^\W\d_]|[^\W\d_]{1,2})[^:\w\n]{0,4}:\s",
    re.MULTILINE,
)
_WORD = re.compile(r"[^\W\d_]+")


def find(text: str) -> Iterator[Span]:
    """Yield the sender, if some word of it may be somebody's name."""
    for found in _STAMPED.finditer(text):
        words = _WORD.findall(found["name"])
        if any(map(may_be_called, words)) and not all(map(_of_the_house, words)):
            yield span(found, KIND, LETTER, "[name]", 0.85, "name")


def _of_the_house(word: str) -> bool:
    """Whether a word tells what somebody is: `Theatre coordinator`."""
    lists, plain = load(), fold(word)
    return plain in lists.roles or (lists.known(plain) and plain not in lists.given)
