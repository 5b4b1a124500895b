"""What belongs together in a line: a figure and its unit, a day, a stand-in and its letter."""

from __future__ import annotations

import re

from mmbuilder.safe.direction import has_leftward, isolated

_UNITS = (
    "%|‰|°C?|[kcmµn]?m[²³23]?|[mdcµ]?L|[kmµnp]?g|[mµnp]?mol|mmHg|cmH2O|k?Pa|[kM]?Hz|dB|D|[mµ]?s|min|h|m?Eq|[mk]?I?U|u|m?V|m?A"
    "|m?Gy|J|W|Fr|G|bpm|units?|seconds?|minutes?|hours?|days?|weeks?|months?|years?|o'clock|Uhr"
    "|Sekunden?|Minuten?|Stunden?|Tage?n?|Wochen?|Monate?n?|Jahre?n?"
)
_BOUND = re.compile(
    rf"(?<=\d) (?=(?:{_UNITS})(?!\w))"  # a figure and its unit
    r"|(?<=\d h) (?=\d\d\b)"  # `T+36 h 48`
    r"|(?<=\bDay) (?=−?\d)|(?<=\bDays) (?=\d)|(?<=\bTag) (?=−?\d)"
    r"|(?<=[^\W\d_]) (?=[A-HJ-Z]\b(?!['’.+−-]))"  # a stand-in and its letter: `Town A`
)


_FIGURE = re.compile(rf"\d[\d.,/]*[ \u00a0](?:{_UNITS})(?:/\w+)?(?!\w)")


def ordered(text: str) -> str:
    """Return the words with each figure before its unit: among Arabic letters it would stand behind."""
    return _FIGURE.sub(lambda found: isolated(found[0]), text) if has_leftward(text) else text


def bound(text: str) -> str:
    """Return the words with a no-break space wherever no line may be broken."""
    return _BOUND.sub("\N{NO-BREAK SPACE}", text)
