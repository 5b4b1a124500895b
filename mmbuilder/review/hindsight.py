"""Words that judge by what is known now.

The outcome colours how a decision looks afterwards: Fischhoff B. J Exp Psychol Hum Percept Perform
1975;1:288-299 (from memory). The list is section (c) 9 of the project's notes on practice.
"""

from __future__ import annotations

import re

from mmbuilder.review import lint
from mmbuilder.review.lint import Flag

__all__ = ["Flag", "find"]


_OPEN = re.compile(r"\W*(?:what|which|when|was|welche[rmns]?|wann|woran)\b[^?]*\?\W*", re.IGNORECASE)
"""`What would have made us stop?`: it asks for a sign, and judges nobody."""


def find(text: str, *, counterfactual: bool = False, asked: bool = False) -> tuple[Flag, ...]:
    """Return every word of hindsight in `text`, with why, and how it may be put instead.

    Args:
        text: what the author wrote.
        counterfactual: whether it answers "what if not?", where "would have" and "could have" belong.
        asked: whether it is put to the room, where an open question may hold them.
    """
    flags = lint.find("hindsight", text)
    if not counterfactual and not (asked and _OPEN.fullmatch(text)):
        return flags
    at_home = {entry.word for entry in lint.load("hindsight").words if entry.supposes}
    return tuple(flag for flag in flags if flag.word not in at_home)
