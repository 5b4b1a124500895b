"""Who wrote a message, as a chat is saved: the stamp of its time, then the name up to the colon; or names and colons alone, in turn.

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
from mmbuilder.scrub.words import word_set

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
    "Quonse: u free\nMe: omw\nQuonse: thanks",
    "Quonse: which one\nVrax: the hip, bleeding\nQuonse: coming",
    "Marcus CRNA: which one\nDr Vrax: the hip, bleeding\nMarcus CRNA: coming",
)
NEAR_MISSES = (
    "[02:14] Urine: 70 ml",
    "[02:14:30] Theatre coordinator: ready",
    "[02:14] BP: 80/40",
    "[02:14] You: ok",
    "02:14 Foley: 300 ml",
    "[02:14] ITU consultant: no bed",
    "Plan: CT\nBloods: sent\nPlan: theatre",
    "Surgeon: clamp\nAnaes: wait\nSurgeon: now",
    "Foley: 200 ml\nFoley: 300 ml",
    "Quenrol: 200 mg\nVraxidine: 4 mg\nQuenrol: 200 mg",
)

_DAY = r"(?:\d{1,4}[./-]\d{1,2}[./-]\d{2,4})"
_TIME = r"(?:\d{1,2}[:.]\d\d(?:[:.]\d\d)?(?:\s?[aApP]\.?\s?[mM]\.?)?)"
_STAMPED = re.compile(
    rf"^(?:\[(?:{_DAY},?\s)?{_TIME}(?:,?\s{_DAY})?\]\s(?:-\s)?|{_DAY},?\s{_TIME}\s[-–]\s)"
    r"(?P<name>[^\W\d_][^:\n\t]{0,38}[^\W\d_]|[^\W\d_]{1,2})[^:\w\n]{0,4}:\s",
    re.MULTILINE,
)
_WORD = re.compile(r"[^\W\d_]+")
_HEAD = re.compile(
    r"^(?P<name>[^\W\d_]{2,20}(?:\s[^\W\d_]{1,20})?):\s(?!\d)(?=[^\n]{0,80}[^\W\d_]{2})", re.MULTILINE
)
_OURSELVES = ("Me", "You", "ME", "me")
_IN_TURN = 3
"""Messages of at least two people, one of whom writes again, make a chat."""


def find(text: str) -> Iterator[Span]:
    """Yield the sender, if some word of it may be somebody's name."""
    for found in _STAMPED.finditer(text):
        words = _WORD.findall(found["name"])
        if any(map(may_be_called, words)) and not all(map(_of_the_house, words)):
            yield span(found, KIND, LETTER, "[name]", 0.85, "name")
    heads = [
        found for found in _HEAD.finditer(text) if found["name"] in _OURSELVES or _somebody(found["name"])
    ]
    names = [found["name"] for found in heads]
    if len(heads) >= _IN_TURN and 1 < len(set(names)) < len(names):
        named = (found for found in heads if found["name"] not in _OURSELVES)
        yield from (span(found, KIND, LETTER, "[name]", 0.86, "name") for found in named)


def _somebody(said: str) -> bool:
    """Whether every word of a head may be somebody's name, but for a title before it or a trade behind."""
    words = _WORD.findall(said)
    if len(words) > 1 and fold(words[0]) in load().titles:
        words = words[1:]
    elif len(words) > 1 and (words[-1] in _TRADES or fold(words[-1]) in load().roles):
        words = words[:-1]
    return all(map(may_be_called, words)) and not any(map(_of_the_house, words))


_TRADES = word_set("CRNA RN ODP SHO SpR Reg HCA FY F ST CT ANP ACP PA NP OT PT MW JR SR PG")
"""Behind the name of who writes, in short."""


def _of_the_house(word: str) -> bool:
    """Whether a word tells what somebody is: `Theatre coordinator`."""
    lists, plain = load(), fold(word)
    return plain in lists.roles or (lists.known(plain) and plain not in lists.given)
