"""Find any of many byte strings in megabytes of packed pixels, in one pass."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_HEAD = 4
"""Bytes of a form that are looked for first."""


class Forms:
    """Byte strings of six bytes or more, in lower case, each with what it stands for."""

    def __init__(self, forms: Mapping[bytes, int]) -> None:
        self.forms = forms

    @cached_property
    def _by_head(self) -> dict[int, list[bytes]]:
        heads = defaultdict[int, list[bytes]](list)
        for form in self.forms:
            heads[int.from_bytes(form[:_HEAD], "little")].append(form)
        return heads

    @cached_property
    def _firsts(self) -> NDArray[np.bool_]:
        """For each two bytes, whether a form begins with them."""
        import numpy as np

        table = np.zeros(65536, bool)
        table[[head & 0xFFFF for head in self._by_head]] = True
        return table

    def within(self, data: bytes) -> Iterator[int]:
        """What every form found in `data` stands for; letters A to Z count as small."""
        lowered = data.lower()
        for place, head in self._places(lowered):
            yield from (self.forms[form] for form in self._by_head[head] if lowered.startswith(form, place))

    def _places(self, data: bytes) -> Iterator[tuple[int, int]]:
        """Where the first four bytes of a form stand: two by table, then all four."""
        import numpy as np

        if len(data) < _HEAD or not self.forms:
            return
        signs = np.frombuffer(data, np.uint8)
        pairs = signs[:-1].astype(np.uint16) | (signs[1:].astype(np.uint16) << 8)
        likely = np.flatnonzero(self._firsts[pairs[:-2]])
        fours = pairs[likely].astype(np.uint32) | (pairs[likely + 2].astype(np.uint32) << 16)
        for place, head in zip(likely.tolist(), fours.tolist(), strict=True):
            if head in self._by_head:
                yield place, head
