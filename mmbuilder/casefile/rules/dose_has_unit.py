"""A dose and a volume of an event say their unit, and a dilution says in how many parts it is."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._bare import BARE, NUMBER
from mmbuilder.problem import Severity

CODE = "dose-no-unit"
WHY = "a unit is never guessed: mL, mg and per cent of one figure are three doses"
GOOD = """
timeline: {events: {3: {kind: drug, dose: adrenaline 1 in 1000 0.5 mL IM, volume: 300 mL}}}
"""
BAD = """
timeline: {events: {3: {kind: drug, dose: adrenaline 0.5 IM, volume: 300}}}
"""

_RATIO = re.compile(
    r"(?<![\d.,])1\s*(?:(?P<sign>:)|in|to)\s*(?P<parts>\d[\d,]*)(?![\d:])(?(sign)|(?!\s*[^\W\d]))"
)
"""`1:4`, `1 in 1,000`; `1 to 3 mL` is a range."""
_LEAST_STRENGTH = 100
"""1 in 100 and weaker are strengths of weight in volume; stronger ones are parts of a dilution (USP <7>)."""
_ROUTE = (
    r"(?:i\.?v|i\.?m|s\.?c|p\.?o|p\.?r|i\.?o|i\.?t|intra\w+|sub\w+|oral\w*|topical\w*|bolus|stat|slowly)\b\.?"
)
_FIGURE = re.compile(rf"(?<![\w.,/:]){NUMBER}(?=\s*(?P<after>{_ROUTE}|[,;)]|$)?)", re.IGNORECASE)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each dose and volume whose figures have no unit, and each dilution that can be two."""
    for place, event in enumerate(ctx.case.timeline.events):
        here = (*EVENTS, place)
        yield from _of(here, event.dose, event.volume)
        for at, other in enumerate(event.also):
            yield from _of((*here, "also", at), other.dose, other.volume)


def _of(path: Path, dose: FreeText | None, volume: FreeText | None) -> Iterator[Finding]:
    if volume is not None and BARE.fullmatch(volume.value):
        yield _told((*path, "volume"), "this volume has no unit", "a figure alone", "volume: 300 mL")
    if dose is None:
        return
    if any(_parts(found) for found in _RATIO.finditer(dose.value)):
        yield _told(
            (*path, "dose"),
            "this dilution can be read in two ways",
            "a ratio, which may be one part in all or one part with so many of diluent",
            "dose: 0.1 mL of 40 mg/mL made up to 0.4 mL",
        )
    elif _unitless(_RATIO.sub("", dose.value)):
        yield _told((*path, "dose"), "this dose has no unit", "a figure alone", "dose: adrenaline 0.5 mg IM")


def _parts(found: re.Match[str]) -> bool:
    """Whether a ratio is of parts; that of a drug's strength is of weight in volume."""
    return int(re.sub(r"\D", "", found["parts"])) < _LEAST_STRENGTH


def _unitless(dose: str) -> bool:
    """Whether every figure stands alone, or before a route."""
    figures = list(_FIGURE.finditer(dose))
    return bool(figures) and all(found["after"] is not None for found in figures)


def _told(path: Path, text: str, found: str, example: str) -> Finding:
    expected = "each figure with its unit; a dilution by what was drawn and what it was made up to"
    return Finding(path, text, found, expected, example, severity=Severity.WARN)
