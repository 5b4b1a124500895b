"""Whether a measure of an action says how it is counted and for how long, or only what is looked at."""

from __future__ import annotations

import re

_COUNTED = re.compile(
    r"\d|/|%|\b(?:out of|each|every|none|all|median|per|half"
    r"|jede[mnrs]?|alle[mnrs]?|keine[mnrs]?|je|pro|hälfte)\b",
    re.IGNORECASE,
)
"""A figure, a share, or a word that stands for one; ours, of common practice."""

_TIMED = re.compile(
    r"(?:\d|\b(?:an?|each|every|per|one|two|three|four|five|six|eight|nine|ten|twelve|first|next|whole"
    r"|eine[mnrs]?|jede[mnrs]?|je|pro|zwei|drei|vier|sechs|acht|neun|zehn|zwölf|nächsten?))[\s-]*"
    r"(?:days?|weeks?|months?|quarters?|years?|tagen?|wochen?|monat(?:en?|s)?|quartal(?:en?|s)?|jahr(?:en?|s)?)\b",
    re.IGNORECASE,
)
"""A length of time, or how often; in the languages of the decks; ours, of common practice."""


def counted(measure: str) -> bool:
    """Whether it can be counted: `20 lists of 20`, `bags / lists`; not `better awareness`."""
    return _COUNTED.search(measure) is not None


def timed(measure: str) -> bool:
    """Whether it says for how long: `for 3 months`, `of 20 each month`; not `20 lists of 20`."""
    return _TIMED.search(measure) is not None
