"""What a layer has read, so that it need not read it again: the templates of a ward, a case after one edit."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping
from typing import Generic, TypeVar

_Asked = TypeVar("_Asked", bound=Hashable)
_Told = TypeVar("_Told")

MOST = 10_000
"""Things that are remembered; beyond, those that are not asked for now are forgotten."""


class ReadBefore(Generic[_Asked, _Told]):
    """What was told of each thing that was asked about.

    Args:
        tell: told things that are new, tells of each in their order.
    """

    def __init__(self, tell: Callable[[Collection[_Asked]], Iterable[_Told]]) -> None:
        self._tell = tell
        self._told: dict[_Asked, _Told] = {}

    def of(self, asked: Collection[_Asked]) -> Mapping[_Asked, _Told]:
        """Return what is told of these things, among others."""
        new = [one for one in dict.fromkeys(asked) if one not in self._told]
        if len(self._told) > MOST:
            self._told = {one: self._told[one] for one in asked if one in self._told}
        self._told.update(zip(new, self._tell(new), strict=True))
        return self._told
