"""Find a column by its heading; a heading in the file is free text and is never repeated."""

from __future__ import annotations

import re
from collections.abc import Sequence

from mmbuilder.case.tidy import tidy

_UNIT = re.compile(
    r"\s*(?:\(.*\)|\[.*\]|/\s?(?:min|s|l|kg)\b.*|%"
    r"|\b(?:mm ?hg|cm ?h2o|k?pa|bpm|°?[cf]|mmol/l|g/l|ml(?:/h)?))\s*$"
)

VITAL_SIGNS = frozenset(
    {
        *("time", "date", "clock", "hr", "heart rate", "pulse", "pulse rate", "ecg rate"),
        *("spo2", "sao2", "sats", "saturation", "bp", "nibp", "nibp mean", "nibp sys", "nibp dia"),
        *("ibp", "abp", "abp mean", "art", "art mean", "map", "sbp", "dbp", "systolic", "diastolic", "mean"),
        *("etco2", "fico2", "fio2", "eto2", "rr", "resp rate", "respiratory rate", "temp", "temperature"),
        *("cvp", "tidal volume", "vt", "peak pressure", "ppeak", "plateau pressure", "peep", "mac"),
        *("bis", "tof", "urine", "urine output", "hb", "lactate", "crp", "wcc", "iop", "glucose", "score"),
    }
)
"""Headings that carry nobody's identity, so a message may name them."""


def plain(heading: str) -> str:
    """Return a heading in the form that is compared."""
    return tidy(heading.strip().strip("\ufeff")).replace("₂", "2")


def base(heading: str) -> str:
    """Return a plain heading without its unit."""
    return _UNIT.sub("", heading).strip() or heading


def unit(heading: str) -> str:
    """Return the unit a heading ends with, without its brackets and spaces; empty where it has none."""
    found = re.search(_UNIT.pattern, heading.strip(), re.IGNORECASE)
    return re.sub(r"[\s()\[\]]", "", found[0]) if found else ""


def place(wanted: str, cells: Sequence[str]) -> int | None:
    """Return the position of a heading; None where it is not there, or stands there twice.

    It matches as written, or else without the unit of either.
    """
    return places([wanted], cells)[0]


def places(wanted: Sequence[str], cells: Sequence[str]) -> list[int | None]:
    """Return the position of each of several headings, as `place` does; the row is read once."""
    headings = [plain(cell) for cell in cells]
    bases = [base(heading) for heading in headings]
    return [_place(plain(name), headings, bases) for name in wanted]


def _place(name: str, headings: list[str], bases: list[str]) -> int | None:
    for sought, row in ((name, headings), (base(name), bases)):
        count = row.count(sought)
        if count:
            return row.index(sought) if count == 1 else None
    return None


def near(wanted: str, cells: Sequence[str]) -> str:
    """Say which column may have been meant: its heading if that is a vital sign, else its position."""
    from difflib import get_close_matches

    headings = [base(plain(cell)) for cell in cells]
    close = get_close_matches(base(plain(wanted)), headings, n=1, cutoff=0.6)
    if not close:
        return ""
    if close[0] in VITAL_SIGNS:
        return f"a heading close to it: {close[0]}"
    return f"a heading close to it in column {headings.index(close[0]) + 1}"
