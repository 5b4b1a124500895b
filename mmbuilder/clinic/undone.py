"""Words that stand where a figure would: the measurement was not done, which is neither zero nor normal."""

from __future__ import annotations

import re

_NOT_DONE = re.compile(
    r"(?:not (?:done|recorded|measured|taken|available|possible|tested|known|checked|assessed)\b.*"
    r"|could not be .*|unable\b.*|un(?:recordable|obtainable|known)|missing|awaited|pending|refused|declined"
    r"|nicht (?:erhoben|gemessen|bestimmt|durchgeführt|dokumentiert|bekannt|möglich|messbar|verfügbar)\b.*"
    r"|unbekannt|ausstehend|fehlt|abgelehnt"
    r"|n\.?/?[adr]\.?|[-–—?]*)",
    re.IGNORECASE,
)


def undone(words: str) -> bool:
    """Whether the words say that nothing was measured."""
    return _NOT_DONE.fullmatch(words) is not None
