"""Parts of a picture, put together until no two of them meet."""

from __future__ import annotations

from collections.abc import Iterable

Area = tuple[int, int, int, int]
"""left, top, right, bottom."""


def apart(areas: Iterable[Area]) -> list[Area]:
    """Return areas that hold all of these, none of which meets another, sorted."""
    out: list[Area] = []
    for area in areas:
        while met := next((other for other in out if _meet(area, other)), None):
            out.remove(met)
            area = min(area[0], met[0]), min(area[1], met[1]), max(area[2], met[2]), max(area[3], met[3])
        out.append(area)
    return sorted(out)


def _meet(one: Area, other: Area) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
