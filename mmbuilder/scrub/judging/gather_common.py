"""Make common.txt: how common words are in English, German, French and Spanish, by the package wordfreq (data: CC BY-SA 4.0).

Run by hand where the package is installed: `python -m mmbuilder.scrub.judging.gather_common`
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator

from mmbuilder.scrub.judging.common import COMMON, LANGUAGES
from mmbuilder.scrub.keep.words import fold

RAREST = 3.0
"""On the Zipf scale: once in a million words (van Heuven and others 2014, from memory)."""
STEPS = 2.5
"""Steps of the figure to one of the scale: 9 for the commonest."""


def step(zipf: float) -> int:
    """The figure of a frequency: 0 below the rarest, 1 to 9."""
    return 0 if zipf < RAREST else min(9, int((zipf - RAREST) * STEPS) + 1)


def counted(language: str) -> Iterator[tuple[str, int]]:
    """Each folded word of one language with its figure."""
    words = importlib.import_module("wordfreq")
    for word in words.iter_wordlist(language, "large"):
        figure = step(words.zipf_frequency(word, language, "large"))
        if not figure:
            return  # the commonest come first
        plain = fold(word)
        if plain.isascii() and plain.isalpha() and len(plain) > 1:
            yield plain, figure


def gathered() -> dict[str, list[int]]:
    """The figures of every word, in the order of `LANGUAGES`; of spellings that fold to one, the highest."""
    found: dict[str, list[int]] = {}
    for place, language in enumerate(LANGUAGES):
        for plain, figure in counted(language):
            figures = found.setdefault(plain, [0] * len(LANGUAGES))
            figures[place] = max(figures[place], figure)
    return found


if __name__ == "__main__":
    rows = (f"{plain} {''.join(map(str, figures))}\n" for plain, figures in gathered().items())
    COMMON.write_text("".join(sorted(rows)), "ascii")
