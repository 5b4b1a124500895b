"""Whether a measure of an action says how it is counted, or only what is looked at."""

from __future__ import annotations

import re

_COUNTED = re.compile(r"\d|/|%|\b(?:out of|each|every|none|all|median|per|half)\b", re.IGNORECASE)
"""A figure, a share, or a word that stands for one; ours, of common practice."""


def counted(measure: str) -> bool:
    """Whether it can be counted: `20 lists of 20`, `bags / lists`; not `better awareness`."""
    return _COUNTED.search(measure) is not None
