"""What the Basic Profile asks for an attribute.

Source: DICOM PS3.15 (2024e), Annex E: Table E.1-1 (rows in `profile.txt`), actions in E.3. The
table has 621 rows; only those are listed here that were read for this project. The others
need not be: whatever is neither listed nor one of the few attributes of `kept.py` is dropped,
which is stricter than any action of the table.
"""

from __future__ import annotations

import re
from enum import StrEnum
from functools import cache
from pathlib import Path


class Action(StrEnum):
    """What is done with an attribute, by the table's letters."""

    REMOVE = "X"
    EMPTY = "Z"
    DUMMY = "D"
    NEW_UID = "U"


@cache
def rows() -> tuple[tuple[str, str], ...]:
    """(tag as eight figures, x for any; action as the table has it)."""
    lines = (Path(__file__).parent / "profile.txt").read_text("utf-8").splitlines()
    return tuple((line.split()[0], line.split()[1]) for line in lines if not line.startswith("#"))


def action(tag: int) -> Action | None:
    """What the table asks for; None where it has no row here.

    Of several letters the last: an empty or dummy value is valid for every Type of attribute.
    """
    if tag >> 16 & 1:
        return Action.REMOVE  # private attributes: of an odd group
    told = next((told for pattern, told in _patterns() if pattern.fullmatch(f"{tag:08X}")), None)
    return Action(told[-1]) if told else None


@cache
def _patterns() -> tuple[tuple[re.Pattern[str], str], ...]:
    return tuple((re.compile(tag.replace("x", "[0-9A-F]")), told) for tag, told in rows())
