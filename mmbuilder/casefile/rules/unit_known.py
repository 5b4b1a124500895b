"""The unit of a line of readings is one that the clinic uses, or at least is not almost one."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import cache

from mmbuilder import packs
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest
from mmbuilder.clinic.units import same_kind
from mmbuilder.problem import Severity

CODE = "unit-not-known"
WHY = "the unit stands on the axis as it is written, and a figure in another unit is another reading"
GOOD = """
readings: [{file: readings/vitals.csv, lines: [{column: MAP, name: Mean pressure, unit: mmHg}]}]
"""
BAD = """
readings: [{file: readings/vitals.csv, lines: [{column: MAP, name: Mean pressure, unit: mmHgg}]}]
"""

_MORE = (
    *("kPa", "cmH2O", "Pa", "mbar", "bpm", "1/min", "breaths/min", "beats/min", "mL", "L", "mL/h", "mL/min"),
    *("L/min", "L/min/m²", "mL/kg/h", "mg/h", "µg/h", "µg/kg/min", "mg/dL", "g/dL", "mEq/L", "ng/mL", "U/L"),
    *("°F", "K", "J", "Hz", "dB", "mA", "V", "W", "s", "min", "h", "kg", "cm", "mm", "µm", "D"),
    *("ppm", "vol%"),
    *("fraction", "ratio", "index", "score", "points", "logMAR", "letters", "level"),
)
"""Units that readings come in beside those of the packs; what has no unit of its own says what it counts."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each unit that is not known and is like one that is."""
    for place, readings in enumerate(ctx.case.readings):
        for at, line in enumerate(readings.lines):
            meant = _meant(line.unit.value)
            if meant:
                yield Finding(
                    ("readings", place, "lines", at, "unit"),
                    "this unit is not known",
                    found="another word, or other letters",
                    expected=f"did you mean `{meant}`?",
                    example=f"unit: {meant}",
                    severity=Severity.WARN,
                )


def _meant(unit: str) -> str | None:
    """The known unit that an unknown one is like; None where it is known, or like none."""
    if "".join(unit.split()) in _known() or same_kind(unit, unit):
        return None
    return nearest(unit, _known())


@cache
def _known() -> Collection[str]:
    return dict.fromkeys((*(one.unit for pack in packs.every() for one in pack.references), *_MORE))
