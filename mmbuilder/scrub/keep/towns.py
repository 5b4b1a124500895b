"""Names of towns and villages of the world (GeoNames; `gather_towns` says which): many are words or family names too."""

from __future__ import annotations

from functools import cache
from pathlib import Path

TOWNS = Path(__file__).parent / "towns.txt"


@cache
def towns() -> frozenset[str]:
    """Every name, folded, its words parted by single spaces; read once per process."""
    return frozenset(TOWNS.read_text("utf-8").splitlines())
