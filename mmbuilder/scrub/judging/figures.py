"""How a figure, or figures and letters together, look to the judge: their size and make, never the figure itself."""

from __future__ import annotations

import re
from functools import lru_cache

_YEAR = re.compile(r"(?:19|20)\d\d")
_CLOCK = re.compile(r"(?:[01]\d|2[0-3])[0-5]\d")
_MONTHS, _DAYS, _SHORT, _LONG = 12, 31, 4, 9


@lru_cache(maxsize=8_192)
def form(text: str) -> str:
    """The form of a token of figures, or of figures and letters: `m` could be a month, `d` a day, `y` a year.

    Of figures alone the size is told, and a nought that opens them; of others each sort of sign in its order, up
    to three of a sort: `M20` is `A99`, `gm1904477` is `aa999`.
    """
    return _of_figures(text) if text.isdecimal() else _of_both(text)


def _of_figures(text: str) -> str:
    size, opens = len(text), "0" if text[0] == "0" and len(text) > 1 else ""
    if size < 3:
        value = int(text)
        return opens + ("m" if 0 < value <= _MONTHS else "d" if 0 < value <= _DAYS else "2")
    if size == _SHORT:
        return "y" if _YEAR.fullmatch(text) else f"{opens}t" if _CLOCK.fullmatch(text) else f"{opens}4"
    return f"{opens}{min(size, _LONG)}"


def _of_both(text: str) -> str:
    sorts = "".join("9" if sign.isdigit() else "A" if sign.isupper() else "a" for sign in text)
    return re.sub(r"(.)\1{3,}", r"\1\1\1", sorts)
