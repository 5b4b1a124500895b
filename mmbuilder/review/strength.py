"""How strong an action is, by what its words say it does.

The action hierarchy of RCA2 (National Patient Safety Foundation 2015) after the VA National Center for
Patient Safety: what changes the place holds, what asks people to remember does not. Categories READ,
check-values.md C2 [S147, AHRQ's printing]; those that only RCA2 has are from memory, and say so.

The tool never sets a strength: the author does, with a reason. It objects where words and strength differ.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Literal

from mmbuilder.review.phrases import Cues, cues, pattern, possible, squeezed
from mmbuilder.review.quoted import Span, touches
from mmbuilder.review.shipped import fields, read

Strength = Literal["stronger", "intermediate", "weaker"]
ORDER: tuple[Strength, ...] = ("weaker", "intermediate", "stronger")


@dataclass(frozen=True)
class Category:
    """One category of the hierarchy, as its file says.

    Attributes:
        name: as a reader is told.
        basis: where its place in the hierarchy was seen.
        forms: phrases that speak of it (see `phrases`).
        unless: phrases around it in which it is something else.
        carries: whether it only speaks of what follows: a lecture on a checklist is a lecture.
    """

    name: str
    strength: Strength
    why: str
    basis: str
    forms: tuple[str, ...]
    unless: tuple[str, ...] = ()
    carries: bool = False


@dataclass(frozen=True)
class Hierarchy:
    """The files.

    Attributes:
        about, next, the: words by which what a lecture is about is joined to it, and parted from the next
            measure.
    """

    source: str
    categories: tuple[Category, ...]
    about: str
    next: str
    the: str
    groups: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Implied:
    """What the words of an action say.

    Attributes:
        strength: of the strongest measure in it.
        entry: the category that matched, in our words.
        why: why it stands there.
        several: whether the action holds measures of different strength.
    """

    strength: Strength
    entry: str
    why: str
    several: bool = False


def implied(text: str) -> Implied | None:
    """Return what the hierarchy makes of an action, or None where no category is spoken of.

    Of measures that overlap the longest counts ("simulation training" is no training); of several
    measures the strongest does, as an action is as strong as its strongest part.
    """
    found = _longest(list(_matches(text)))
    if not found:
        return None
    best = max(found, key=lambda match: ORDER.index(match[1].strength))[1]
    several = len({category.strength for _, category in found}) > 1
    told = "; of several measures in one action the strongest counts" if several else ""
    return Implied(best.strength, best.name, best.why + told, several)


def challenge(stated: str, text: str) -> str | None:
    """Return what to say to an author whose stated strength is not what the words say, or None.

    Raises:
        ValueError: there is no such strength.
    """
    if stated not in ORDER:
        raise ValueError("a strength is one of: stronger, intermediate, weaker")
    said = implied(text)
    if said is None or said.strength == stated:
        return None
    higher = ORDER.index(stated) > ORDER.index(said.strength)
    way_out = (
        "mark it so, add a measure that changes the place or the equipment, or say what else it does"
        if higher
        else "it may be worth more than it is marked; mark it so, or give the reason"
    )
    return (
        f"marked {stated}, but it speaks of {said.entry}, which the action hierarchy counts as "
        f"{said.strength} ({said.why}); {way_out}"
    )


def _matches(text: str) -> Iterator[tuple[Span, Category]]:
    plain = squeezed(text)
    for place, category in enumerate(_load().categories):
        if not possible(_cues(place), plain):
            continue
        wanted, spared = _patterns(place)
        elsewhere = tuple(match.span() for match in spared.finditer(text)) if spared else ()
        for match in wanted.finditer(text):
            if not touches(match.span(), elsewhere):
                yield match.span(), category


def _longest(matches: list[tuple[Span, Category]]) -> list[tuple[Span, Category]]:
    """Keep the longest of those that overlap; of equals the stronger."""

    def size(match: tuple[Span, Category]) -> tuple[int, int]:
        (start, end), category = match
        return end - start, ORDER.index(category.strength)

    kept: list[tuple[Span, Category]] = []
    for match in sorted(matches, key=size, reverse=True):
        if not touches(match[0], tuple(span for span, _ in kept)):
            kept.append(match)
    return kept


@cache
def _load() -> Hierarchy:
    tree = read("strength")
    return Hierarchy(**{**tree, "categories": tuple(Category(**fields(row)) for row in tree["categories"])})


@cache
def _cues(place: int) -> Cues:
    words = _load()
    return cues(words.categories[place].forms, words.groups)


@cache
def _patterns(place: int) -> tuple[re.Pattern[str], re.Pattern[str] | None]:
    words = _load()
    category = words.categories[place]
    wanted = pattern(category.forms, words.groups) + (_about(words) if category.carries else "")
    spared = re.compile(pattern(category.unless, words.groups), re.IGNORECASE) if category.unless else None
    return re.compile(wanted, re.IGNORECASE), spared


def _about(words: Hierarchy) -> str:
    """What a lecture, a mail or a policy is about, up to the next measure."""
    return (
        rf"(?:\s+(?:[\w'’-]+\s+){{0,2}}?(?:{words.about})\s+"
        rf"(?:(?!\s(?:{words.next})\s(?!(?:{words.the})\s))[^,;.+])*)?"
    )
