"""How much a word on no list is made like a name: log odds of its letter groups, names against words.

A naive Bayes over groups of two to four letters, counted once over the names of names.txt and the words of
the vocabulary and the clinical lists. For hurried notes, where no capital tells.

Run after changing a list:

python -m mmbuilder.scrub.keep.likeness
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

from mmbuilder.scrub.keep.lists import Lists, load

WEIGHED = Path(__file__).parent / "likeness.txt"
LIKE_A_NAME = 1.0
"""Least mean log odds a letter: three in four names that were not counted lie above, one word in thirty."""
_SIZES = (2, 3, 4)
_SHORTEST = 4
_SEEN_LEAST = 8
_ENGLISH = re.compile(
    r"\w{3,}(?:worth|thwaite|waite|ley|leigh|ton|ford|ham|shaw|by|dale|croft|well|bury|combe|stead|stow|brook|field|wood|gate|thorpe"
    r"|wick|ridge|hurst|cott|burn|mere|law|sey|kins|cock|smith|man|son|ward|more|low|holm|beck|keld|garth|pool|water|stone|clough|grew|bourne|burgh|borough|mead|moor|stock|thorn|wright|wich|wych|minster|nall)s?"
)
"""English surnames and places are made of words, which letter groups take for a word."""


def like_a_name(plain: str) -> bool:
    """Whether a folded word is made as names are."""
    return _ENGLISH.fullmatch(plain) is not None or log_odds(plain) >= LIKE_A_NAME


def log_odds(plain: str) -> float:
    """Mean log odds a letter that a folded word is a name; 0 where nothing is known."""
    weights = _weights()
    known = [weights[group] for group in _groups(plain) if group in weights]
    return sum(known) / max(_SHORTEST, len(plain)) if known else 0.0


@cache
def _weights() -> dict[str, float]:
    pairs = (line.rsplit(" ", 1) for line in WEIGHED.read_text("utf-8").splitlines())
    return {group: int(tenths) / 10 for group, tenths in pairs}


def _groups(word: str) -> Iterator[str]:
    edged = f"^{word}$"
    for size in _SIZES:
        yield from (edged[at : at + size] for at in range(len(edged) - size + 1))


def weighed(lists: Lists) -> dict[str, float]:
    """Log odds of every letter group that was seen often enough; spellings made by a rule do not count.

    The file is of before the words of other countries were listed: made with them, one name of the tenth set was missed.
    """
    from mmbuilder.scrub.keep.compile import drugs
    from mmbuilder.scrub.keep.compile import terms as listed

    names = {name for name in lists.given | lists.family if not lists.known(name)}
    terms = {word for term in lists.terms for word in term.split() if word.isalpha()}
    words = (lists.vocabulary | terms) - (set(drugs()) - set(listed("drugs"))) - lists.given - lists.family
    in_names, in_words = _counted(names), _counted(words)
    all_names, all_words = in_names.total(), in_words.total()
    return {
        group: math.log((in_names[group] + 0.5) / all_names) - math.log((in_words[group] + 0.5) / all_words)
        for group in sorted(in_names.keys() | in_words.keys())
        if in_names[group] + in_words[group] >= _SEEN_LEAST
    }


def _counted(words: Iterable[str]) -> Counter[str]:
    counts: Counter[str] = Counter()
    for word in words:
        if len(word) >= _SHORTEST:
            counts.update(set(_groups(word)))
    return counts


if __name__ == "__main__":
    rows = (f"{group} {round(10 * weight)}" for group, weight in weighed(load()).items())
    WEIGHED.write_text("\n".join(row for row in rows if not row.endswith(" 0")) + "\n", "utf-8")
