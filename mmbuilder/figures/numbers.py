"""Numbers under the marks that have no words: the place of an event in the story, or of a crowd of them.

Numbers stand in a row of their own below the marks. Where two would meet, or one would stand on a
pole, they are moved aside or put together as `3–6`, so that every mark without words can be looked up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from mmbuilder.figures.style import width
from mmbuilder.safe.text import SafeText, fill, number

Key = tuple[str, int]

_AIR = 5.0
"""Least distance between two numbers; points."""

_CLEAR = 3.0
"""Between a number and a pole; points."""


@dataclass(frozen=True)
class Numbered:
    """A mark without words: what it belongs to, its number and where it stands."""

    key: Key
    number: int
    x: float


@dataclass(frozen=True)
class Tag:
    """A number or the ends of a run of them, and the left end of its words; points."""

    members: tuple[Numbered, ...]
    left: float

    @property
    def text(self) -> SafeText:
        """`7`, or `3–6` for a crowd."""
        return _said(self.members)

    @property
    def right(self) -> float:
        """Right end of its words."""
        return self.left + width(self.text)

    def of(self, shown: Iterable[Key]) -> Tag | None:
        """Return what of it a cut may show, in the middle of its place; None if nothing."""
        known = frozenset(shown)
        kept = tuple(one for one in self.members if one.key in known)
        return Tag(kept, (self.left + self.right - width(_said(kept))) / 2) if kept else None


def tags(marks: Iterable[Numbered], left: float, right: float, poles: Sequence[float]) -> tuple[Tag, ...]:
    """Give every mark its number between two limits; what would meet is put together."""
    made: list[Tag] = []
    for mark in sorted(marks, key=lambda one: (one.x, one.number)):
        made.append(_tag((mark,), left, right, poles))
        while len(made) > 1 and made[-2].right + _AIR > made[-1].left:
            last = made.pop()
            made[-1] = _tag((*made[-1].members, *last.members), left, right, poles)
    return tuple(made)


def _tag(members: tuple[Numbered, ...], left: float, right: float, poles: Sequence[float]) -> Tag:
    """Centre it under its marks, or as near to that as no pole is in the way."""
    wide = width(_said(members))
    wished = min(max((members[0].x + members[-1].x - wide) / 2, left), right - wide)
    starts = [wished, *(start for pole in poles for start in (pole + _CLEAR, pole - _CLEAR - wide))]
    free = [start for start in starts if left <= start <= right - wide and _clear(start, wide, poles)]
    return Tag(members, min(free, key=lambda start: abs(start - wished), default=wished))


def _clear(start: float, wide: float, poles: Sequence[float]) -> bool:
    return not any(start - _CLEAR < pole < start + wide + _CLEAR for pole in poles)


def _said(members: tuple[Numbered, ...]) -> SafeText:
    numbers = sorted(one.number for one in members)
    if len(numbers) == 1:
        return number(numbers[0])
    return fill("{first}–{last}", first=number(numbers[0]), last=number(numbers[-1]))
