"""A number announced by a word: `MRN 00482913`, `lot no. LJ20931`. The word stays, the number goes."""

from __future__ import annotations

import re

from mmbuilder.scrub.detectors._span import NOT_MEASURED

_LINK = (
    r"(?:\s{0,2}(?:numbers?|nos?|nr|num|id|ref|code|#|№)(?![^\W\d_])\.?)?\s{0,2}(?:is|was|:|=|#|-|–)?\s{0,2}"
)
_NAMED_LINK = r"\s{0,2}(?:numbers?|nos?|nr|num|id|ref|#|№)(?![^\W\d_])\.?\s{0,2}(?:is|was|:|=|#|-|–)?\s{0,2}"
_LOOSE = (
    r"(?:\s{0,2}(?:numbers?|nos?|nr|num|id|ref|code|#|№)(?![^\W\d_])\.?)?"
    r"(?:\s{0,2}(?:(?:is|was|of)(?![^\W\d_])|[:=#,;/(\[\"'“‘-])){0,3}\s{0,2}"
)
"""Also brackets, quotation marks and commas, after a word that announces nothing but a number."""
_GROUPS = (
    r"[A-Z]{0,3}\d{1,7}(?:[ -]\d{2,6}){1,3}(?:[ -]\d)?(?![\w.]?\d)(?!\w|[-/]\w)(?-i:\s[A-Z](?![\w'’&/.-]))?"
)
_TOKEN = r"(?=[\w/.-]{0,40}?\d[\w/.-]{0,40}?\d)[A-Za-z0-9](?:[\w/.-]{0,38}\w)"


def cued(strong: str, weak: str = "", least: int = 4, *, loose: bool = False) -> re.Pattern[str]:
    """Return a pattern whose group 1 is the announced number.

    Args:
        strong: words (alternatives of a pattern) that are enough by themselves.
        weak: words that need "number", "no", "id" or the like after them.
        least: letters and figures the number must have.
        loose: whether brackets, quotation marks, commas or "of" may stand after a strong word.
    """
    cues = rf"(?:{strong}){_LOOSE if loose else _LINK}" + (rf"|(?:{weak}){_NAMED_LINK}" if weak else "")
    value = rf"(?=(?:(?:[/.-]| (?=\d))?[^\W_]){{{least}}})(?:{_GROUPS}|{_TOKEN})"
    return re.compile(rf"(?<![^\W_])(?:{cues})({value}){NOT_MEASURED}", re.IGNORECASE)
