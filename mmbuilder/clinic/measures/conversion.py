"""One value in the other unit its laboratory, or country, would print."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Chosen, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one
from mmbuilder.clinic.units import amount, same_kind

NAME = "conversion"
FORMULA = "value × factor of the substance"
SOURCE = "molar masses; pressure by NIST SP 811 (2008) appendix B.8"
CAUTION = f"One unit through a series; the factor belongs to one substance. {REVIEW_ONLY}"
FACTORS = {
    "creatinine": ("mg/dL", "µmol/L", 88.42, 0),
    "bilirubin": ("mg/dL", "µmol/L", 17.1, 0),
    "glucose": ("mg/dL", "mmol/L", 1 / 18.02, 1),
    "lactate": ("mg/dL", "mmol/L", 1 / 9.01, 1),
    "haemoglobin": ("g/dL", "g/L", 10, 0),
    "gas pressure": ("kPa", "mmHg", 7.50062, 0),
    "pressure": ("mmHg", "cmH2O", 1.35951, 1),
}
"""Of each: the one unit, the other, what the first is multiplied by, decimals of the second."""


def _read(text: str) -> Value:
    given = amount("value", text, "1.9 mg/dL")
    if not given.unit or given.low != given.high:
        raise ValueError("one value with its unit")
    return (given.low, given.unit)


INPUTS = {"of": Chosen(tuple(FACTORS)), "value": Written(_read, "a figure with its unit", "1.9 mg/dL")}
_WORKED = "worked example; common practice, no source"
EXAMPLES = (
    Example({"of": "creatinine", "value": "1.9 mg/dL"}, ("168 µmol/L",), _WORKED),
    Example({"of": "creatinine", "value": "168 µmol/L"}, ("1.9 mg/dL",), "the same backwards"),
    Example({"of": "haemoglobin", "value": "8.2 g/dL"}, ("82 g/L",), "definition"),
    Example({"of": "gas pressure", "value": "15.8 kPa"}, ("119 mmHg",), _WORKED),
    Example({"of": "bilirubin", "value": "3.51 mg/dL"}, ("60 µmol/L",), "computed from the molar mass"),
    Example({"of": "glucose", "value": "180 mg/dL"}, ("10.0 mmol/L",), "computed from the molar mass"),
    Example({"of": "lactate", "value": "4.0 mmol/L"}, ("36.0 mg/dL",), "computed from the molar mass"),
    Example({"of": "pressure", "value": "10 mmHg"}, ("13.6 cmH2O",), "computed from NIST SP 811"),
)


def work(of: str, value: tuple[float, str]) -> Result:
    """Return the value in the other unit; in words where its unit is not one of the two."""
    figure, unit = value
    first, second, factor, digits = FACTORS[of]
    if _same(unit, first, of):
        made, end, places = figure * factor, second, digits
    elif _same(unit, second, of):
        made, end, places = figure / factor, first, 1
    else:
        from mmbuilder.clinic.faults import Fault, InputFault

        raise InputFault(
            Fault("value", "a unit of another kind", f"{first} or {second}", example=f"value: 1 {first}")
        )
    return Result((one(made, end, places),), steps=(f"{figure:g} {unit} = {made:.{places}f} {end}",))


def _same(unit: str, other: str, of: str) -> bool:
    """Whether it is this unit: by its name where both are of one dimension."""
    if of in ("haemoglobin", "gas pressure", "pressure"):
        return unit.replace(" ", "").casefold() == other.casefold()
    return same_kind(unit, other)
