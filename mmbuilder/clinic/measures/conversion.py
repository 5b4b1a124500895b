"""One value in the other unit its laboratory, or country, would print."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Chosen, Value, WrittenRange
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, places, plainly
from mmbuilder.clinic.possible import BY_DECILITRE, possible
from mmbuilder.clinic.units import amount, factor, same_kind

NAME = "conversion"
FORMULA = "value × factor of the substance"
SOURCE = "molar masses; pressure by NIST SP 811 (2008) appendix B.8"
CAUTION = f"One unit through a series; the factor belongs to one substance. {REVIEW_ONLY}"
FACTORS = {
    "creatinine": ("mg/dL", "µmol/L", BY_DECILITRE["creatinine"], 0),
    "bilirubin": ("mg/dL", "µmol/L", BY_DECILITRE["bilirubin"], 0),
    "glucose": ("mg/dL", "mmol/L", BY_DECILITRE["glucose"], 1),
    "lactate": ("mg/dL", "mmol/L", BY_DECILITRE["lactate"], 1),
    "haemoglobin": ("g/dL", "g/L", 10, 0),
    "gas pressure": ("kPa", "mmHg", 7.50062, 0),
    "pressure": ("mmHg", "cmH2O", 1.35951, 1),
}
"""Of each: the one unit, the other, what the first is multiplied by, least decimals of the second."""
ONE_DIMENSION = ("haemoglobin", "gas pressure", "pressure")
"""Both units of these are of one dimension, so that the unit's name alone says which way to go."""


def _read(text: str) -> Value:
    given = amount("value", text, "1.9 mg/dL")
    if not given.unit:
        raise ValueError("a value with its unit")
    return ((given.low, given.unit), (given.high, given.unit))


INPUTS = {
    "of": Chosen(tuple(FACTORS)),
    "value": WrittenRange(_read, "a figure, or a range, with its unit", "1.9 mg/dL"),
}
_WORKED = "worked example; common practice, no source"
EXAMPLES = (
    Example({"of": "creatinine", "value": "1.9 mg/dL"}, ("168 µmol/L",), _WORKED),
    Example({"of": "creatinine", "value": "168 µmol/L"}, ("1.9 mg/dL",), "the same backwards"),
    Example({"of": "haemoglobin", "value": "8.2 g/dL"}, ("82 g/L",), "definition"),
    Example({"of": "haemoglobin", "value": "120 g/L"}, ("12.0 g/dL",), "definition, backwards"),
    Example(
        {"of": "creatinine", "value": "0 mg/dL"}, ("0 µmol/L",), "nothing of one is nothing of the other"
    ),
    Example({"of": "gas pressure", "value": "15.8 kPa"}, ("119 mmHg",), _WORKED),
    Example({"of": "bilirubin", "value": "3.51 mg/dL"}, ("60 µmol/L",), "computed from the molar mass"),
    Example({"of": "glucose", "value": "180 mg/dL"}, ("10.0 mmol/L",), "computed from the molar mass"),
    Example({"of": "lactate", "value": "4.0 mmol/L"}, ("36.0 mg/dL",), "computed from the molar mass"),
    Example({"of": "pressure", "value": "10 mmHg"}, ("13.6 cmH2O",), "computed from NIST SP 811"),
    Example({"of": "creatinine", "value": "19 mg/L"}, ("168 µmol/L",), "1.9 mg/dL in another scale"),
    Example({"of": "creatinine", "value": "0.168 mmol/L"}, ("1.9 mg/dL",), "168 µmol/L in another scale"),
    Example({"of": "glucose", "value": "1.8 g/L"}, ("10.0 mmol/L",), "180 mg/dL in another scale"),
    Example({"of": "gas pressure", "value": "15800 Pa"}, ("119 mmHg",), "15.8 kPa in another scale"),
    Example({"of": "creatinine", "value": "1.9-2.1 mg/dL"}, ("168 to 186 µmol/L",), "computed"),
    Example({"of": "bilirubin", "value": "0.1 mg/dL"}, ("1.7 µmol/L",), "computed from the molar mass"),
)


def work(of: str, value: tuple[float, str]) -> Result:
    """Return the value in the other unit, whatever the scale its own is written in."""
    figure, unit = value
    first, second, times, digits = FACTORS[of]
    if figure < 0 and of != "pressure":
        raise InputFault(Fault("value", "a figure below zero", "0 or more", example=f"value: 1 {first}"))
    backwards = _is(unit, second) if of in ONE_DIMENSION else same_kind(unit, second)
    start, end, by = (second, first, 1 / times) if backwards else (first, second, times)
    if not (_is(unit, start) or same_kind(unit, start)):
        raise InputFault(
            Fault("value", "a unit of another kind", f"{first} or {second}", example=f"value: 1 {first}")
        )
    scaled = figure * (1 if _is(unit, start) else factor(unit, start))
    made = scaled * by
    kind = possible(of)
    if kind is not None and (scaled if backwards else made) > kind.high:
        most = f"at most {plainly(kind.high)} {kind.unit}"
        raise InputFault(Fault("value", "a figure that cannot be", most, example=f"value: 1 {first}"))
    decimals = places(made, 1 if backwards else digits)
    return Result(
        (one(made, end, decimals),),
        steps=(f"{plainly(scaled)} {start} × {by:.5g} = {made:.{decimals}f} {end}".replace("-", "−"),),
    )


def _is(unit: str, other: str) -> bool:
    """Whether it is this very unit, by its name."""
    return unit.replace(" ", "").casefold() == other.casefold()
