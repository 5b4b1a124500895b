"""How common a word is in English, German, French and Spanish, as the package wordfreq counts it (`common.txt`)."""

from __future__ import annotations

from bisect import bisect_left
from functools import cache, lru_cache
from pathlib import Path

COMMON = Path(__file__).parent / "common.txt"
"""Made by `gather_common`: a folded word and a figure for each of `LANGUAGES` on each line, sorted."""
LANGUAGES = ("en", "de", "fr", "es")
NOT = (0, 0, 0, 0)


@cache
def _lines() -> list[str]:
    return COMMON.read_text("ascii").splitlines()


@lru_cache(maxsize=32_768)
def common(plain: str) -> tuple[int, ...]:
    """How common a folded word is in each of `LANGUAGES`, 0 for rare and 9 for the commonest; with hyphens, as its rarest half."""
    if "-" in plain:
        return min(common(half) for half in plain.split("-"))
    lines = _lines()
    at = bisect_left(lines, plain + " ")
    if at < len(lines) and lines[at].startswith(plain + " "):
        return tuple(int(figure) for figure in lines[at][len(plain) + 1 :])
    return NOT
