"""Diseases in German notes, called after who described them: `M. Crohn`, `Mb. Basedow`, `Morbus Bechterew`.

Common practice, no source. `M.` is a French title too: there nobody may be likely to bear the name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold

_SAID = re.compile(r"(?<![\w.])(?P<mark>M\.|Mb\.?|Morbus)\s(?P<name>[^\W\d_]{4,})")


def diseases(text: str, start: int = 0, end: int | None = None) -> Iterator[tuple[int, int]]:
    """Yield where a disease is written between two places, its mark and its name."""
    lists = load()
    for found in _SAID.finditer(text, start, len(text) if end is None else end):
        plain = fold(found["name"])
        sure = found["mark"] != "M." or not lists.borne(plain)
        if sure and plain in lists.eponym_words:
            yield found.span()
