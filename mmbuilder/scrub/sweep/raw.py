"""Find any of many byte strings in megabytes of packed pixels, in one pass."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cached_property

_SMALL = 512


class Forms:
    """Byte strings of six bytes or more, in lower case, each with what it stands for."""

    def __init__(self, forms: Mapping[bytes, int]) -> None:
        self.forms = forms

    @cached_property
    def _by_head(self) -> dict[int, list[bytes]]:
        heads = defaultdict[int, list[bytes]](list)
        for form in self.forms:
            heads[int.from_bytes(form[:4], "little")].append(form)
        return heads

    def within(self, data: bytes) -> Iterator[int]:
        """What every form found in `data` stands for; letters A to Z count as small."""
        lowered = data.lower()
        if len(lowered) < _SMALL:
            yield from (value for form, value in self.forms.items() if form in lowered)
            return
        for place, head in self._places(lowered):
            yield from (self.forms[form] for form in self._by_head[head] if lowered.startswith(form, place))

    def _places(self, data: bytes) -> Iterator[tuple[int, int]]:
        """Where the first four bytes of a form stand: two by table, then all four."""
        import numpy as np

        heads = np.fromiter(self._by_head, np.uint32)
        table = np.zeros(65536, bool)
        table[heads & 0xFFFF] = True
        signs = np.frombuffer(data, np.uint8)
        pairs = signs[:-1].astype(np.uint16) | (signs[1:].astype(np.uint16) << 8)
        likely = np.flatnonzero(table[pairs[:-2]])
        fours = pairs[likely].astype(np.uint32) | (pairs[likely + 2].astype(np.uint32) << 16)
        sure = np.isin(fours, heads)
        yield from zip(likely[sure].tolist(), fours[sure].tolist(), strict=True)
