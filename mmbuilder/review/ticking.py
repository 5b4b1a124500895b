"""Signs that a grid was filled in to be full: practice.md (c) 10.

Each is a question to the author, not a verdict; a case may really be so.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache
from typing import NamedTuple

from mmbuilder.review import strength
from mmbuilder.review.shipped import read

ALL_ROWS = 7
"""Factor types of Vincent 1998, READ [S51]."""

_SAME = 3
"""Rows with one sentence, practice.md (c) 10."""


@cache
def _words() -> tuple[frozenset[str], dict[str, frozenset[str]]]:
    """Return fillers, and what says nothing alone; what is left of a cell without fillers is what it says."""
    tree = read("ticking")
    return frozenset(tree["fillers"]), {name: frozenset(words) for name, words in tree["bare"].items()}


class Row(NamedTuple):
    """A factor of the grid: its row, what it says, and whether it asks what would have been otherwise."""

    row: str
    what: str
    counterfactual: bool


def signs(factors: Sequence[Row], actions: Sequence[str], *, went_well: int) -> tuple[str, ...]:
    """Return what a reader would ask about a grid.

    Args:
        factors: those that count, without any that were considered and excluded.
        actions: what each action says.
        went_well: how many things are told that held or went well.
    """
    return (*_of_factors(factors), *_of_actions(actions), *_of_what_held(factors, went_well))


def _of_factors(factors: Sequence[Row]) -> Iterator[str]:
    if len({factor.row for factor in factors}) >= ALL_ROWS:
        yield (
            f"all {ALL_ROWS} rows of the grid are full; an empty row is honest, and most cases have some: "
            "keep what has evidence"
        )
    most = max(Counter(filter(None, (_plain(factor.what) for factor in factors))).values(), default=0)
    if most >= _SAME:
        yield f"one sentence stands in {most} rows; say it once, in the row where it can be changed"
    for name, words in _words()[1].items():
        if any(_only(factor.what, words) for factor in factors):
            yield f"a factor says '{name}' and no more; say who had to know what, and what stood in the way"
    if factors and not any(factor.counterfactual for factor in factors):
        yield (
            "no factor says what would have been otherwise without it; ask of each: would the first sign, "
            "the recognition or the response have changed?"
        )


def _of_actions(actions: Sequence[str]) -> Iterator[str]:
    if actions and all(_is_training(action) for action in actions):
        yield "every action is training; it fades and leaves with people: add one that changes the place"


def _of_what_held(factors: Sequence[Row], went_well: int) -> Iterator[str]:
    if factors and not went_well:
        yield "nothing is told that held or went well; something did, and it is worth keeping on purpose"


def _is_training(action: str) -> bool:
    said = strength.implied(action)
    return said is not None and said.entry in ("training", "simulation held once")


def _plain(text: str) -> str:
    return " ".join(re.findall(r"\w+", text.casefold()))


def _only(text: str, words: frozenset[str]) -> bool:
    left = set(_plain(text).split()) - (_words()[0] - words)
    return bool(left) and left <= words
