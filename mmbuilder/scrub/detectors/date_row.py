"""The other days of a row that ends with its month: `3, 4 and 7 June`, `el 3 y el 5 de marzo`, `vom 3. bis 5. März`.

A comma alone joins no row: in `Hb 9, 4 June` the first figure is a result.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; how rows are written is common practice, no
source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import ABROAD, LOWER
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "Attended 3, 4 and 7 June",
    "on the 1st, 2nd and 9th of May",
    "Entre el 3 y el 5 de marzo",
    "Vom 3. bis 5. März febril",
    "am 3., 4. und 5. März",
    "du 3 au 5 mars",
    "les 3, 4 et 6 avril",
    "3 aur 5 March ko aaye",
    "from 3 until the 5 March",
)
NEAR_MISSES = (
    "grade 3, 4 ports",
    "3 and 5 mm ports",
    "2 to 4 units",
    "ports of 5, 5 and 12 mm",
)

_DAY = r"(?:0?[1-9]|[12]\d|3[01])(?:st|nd|rd|th|er|[ºª.°])?"
_THE = r"(?:(?:the|el|le|den|dem|am|al)\s)?"
_AND = rf"(?:\s(?:and|or|to|until|till|y|e|o|a|al|et|ou|au|bis|und|oder|aur|ya|se)\s|\s?[&+–-]\s?){_THE}"
_ROW = re.compile(
    rf"(?<![\w.,/:-])({_DAY}(?:,\s?{_THE}{_DAY})*)(?={_AND}{_DAY}\s?(?:of\s|de\s)?(?:{LOWER}|{ABROAD})(?!\w))",
    re.IGNORECASE,
)


def find(text: str) -> Iterator[Span]:
    """Yield the days before the last of a row; the last is found with its month."""
    yield from (span(found, KIND, LETTER, "[date]", 0.85, 1) for found in _ROW.finditer(text))
