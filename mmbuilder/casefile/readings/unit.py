"""The unit in a heading of the file against the unit that the case gives its line."""

from __future__ import annotations

from mmbuilder.case.freetext import FreeText
from mmbuilder.casefile.readings.columns import unit
from mmbuilder.casefile.readings.faults import Pen

_RATES = frozenset({"bpm", "/min", "1/min", "min-1", "beats/min", "breaths/min"})
_SPELT = {
    **{"kpa": "kPa", "mmhg": "mmHg", "cmh2o": "cmH2O", "mmol/l": "mmol/L", "g/l": "g/L", "g/dl": "g/dL"},
    **{"c": "°C", "f": "°F", "°c": "°C", "°f": "°F"},
}
"""Units that are met in any case of letters; in others a capital tells one prefix from another."""

_TEMPERATURES = ("°C", "°F")
"""Their zero is not the same, so that they are no units that can be multiplied into each other."""


def tell_unit(stated: FreeText, heading: str, pen: Pen) -> None:
    """Tell a heading in another unit: its figures are neither converted in silence nor taken as they are."""
    written, said = _spelt(unit(heading)), _spelt(stated.value)
    if not written or written == said or {written.casefold(), said.casefold()} <= _RATES:
        return
    # Late: units are read only where two differ.
    from mmbuilder.clinic.units import factor, same_kind

    if written not in _TEMPERATURES and not same_kind(written, written):
        return  # brackets may hold anything: a side, a place
    alike = same_kind(written, said)
    if (alike and factor(written, said) == 1) or (not alike and len(written) == 1 and written != "%"):
        return  # one letter that is no unit of this kind: left, right
    pen.write(
        "readings-unit",
        "the heading of this column has another unit than the line",
        at=stated,
        warns=said not in _TEMPERATURES and not same_kind(said, said),
        found=f"a heading in {written}",
        expected=f"the unit that the figures of the file are in: {written}, if its heading is right",
        why="the same figure in another unit is another reading; none is turned into it unasked",
        example=f"unit: {written}",
    )


def _spelt(words: str) -> str:
    plain = "".join(words.split()).replace("μ", "µ").replace("₂", "2")
    return _SPELT.get(plain.casefold(), plain)
