"""Whether an interval stands beside a word: "delayed by 12 min" is a fact, "delayed" a verdict."""

from __future__ import annotations

import re

_NEARBY = 60
"""Characters on either side, within the sentence; common practice, no source."""

_NUMBER = (
    r"(?:\d+(?:[.,]\d+)?|half\s+an?|an?|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
    r"|fifteen|twenty|thirty|forty|fifty|sixty|ninety"
    r"|halbe[nr]?|eine[nrms]?|zwei|drei|vier|fünf|sechs|sieben|acht|neun|zehn|elf|zwölf|fünfzehn|zwanzig"
    r"|dreißig|vierzig|fünfzig|sechzig|neunzig)"
)
_UNIT = (
    r"(?:s|secs?|seconds?|mins?|minutes?|h|hrs?|hours?|days?|weeks?|months?|years?"
    r"|sek|sekunden?|minuten?|std|stunden?|tag|tagen?|wochen?|monat|monaten?|jahr|jahren?)"
)
_CLOCK = r"(?:[01]?\d|2[0-3])[:.][0-5]\d"
_INTERVAL = re.compile(
    rf"(?<![\w.]){_NUMBER}[\s-]*{_UNIT}(?!\w)|(?<![\d.:]){_CLOCK}(?!\d)[^.;!?]*?(?<![\d.:]){_CLOCK}(?!\d)",
    re.IGNORECASE,
)
_STOP = re.compile(r"[.;!?](?=\s|$)|\n")


def beside(text: str, start: int, end: int) -> bool:
    """Whether an interval, or two clock times, stands near `text[start:end]` in the same sentence."""
    before = _STOP.split(text[max(0, start - _NEARBY) : start])[-1]
    after = _STOP.split(text[end : end + _NEARBY])[0]
    return bool(_INTERVAL.search(before) or _INTERVAL.search(after) or _INTERVAL.search(before + "|" + after))
