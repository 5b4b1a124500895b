"""What a measurement of a patient can be at all: beyond it a slip of the pen or another unit is likelier.

Bounds are wider than any course; common practice, no source. A score of pain ends where its scale does.
"""

from __future__ import annotations

import re

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.units import factor, same_kind

BY_DECILITRE = {
    "creatinine": 88.42,
    "bilirubin": 17.1,
    "glucose": 1 / 18.02,
    "lactate": 1 / 9.01,
}
"""From mg/dL to the molar unit, by molar mass; practice.md (e) 17."""


def _molar(unit: str, low: float, high: float, substance: str) -> Measured:
    times = BY_DECILITRE[substance]
    return Measured(unit, low, high, also=(("mg/dL", lambda value: value * times),))


_HAEM = 16.114
"""Grams of haemoglobin to a millimole of haem; molar mass of one subunit, from memory."""
_EQUIVALENT = (("mEq/L", float),)
"""Of one charge: a millimole is a milliequivalent."""
_KNOWN = (
    (
        ("haemoglobin", "hemoglobin", "Hb", "Hgb"),
        Measured("g/L", 10, 250, also=(("mmol/L", lambda value: value * _HAEM),)),
    ),
    (("creatinine",), _molar("µmol/L", 5, 3_000, "creatinine")),
    (("bilirubin",), _molar("µmol/L", 0, 1_500, "bilirubin")),
    (("glucose",), _molar("mmol/L", 0.1, 150, "glucose")),
    (("lactate",), _molar("mmol/L", 0, 40, "lactate")),
    (("potassium", "K"), Measured("mmol/L", 0.5, 15, also=_EQUIVALENT)),
    (("sodium", "Na"), Measured("mmol/L", 80, 220, also=_EQUIVALENT)),
    (("albumin",), Measured("g/L", 3, 80)),
    (("C-reactive protein", "CRP"), Measured("mg/L", 0, 1_000)),
    (("tryptase", "baseline tryptase"), Measured("µg/L", 0, 5_000)),
    (("eye pressure", "intraocular pressure", "IOP"), Measured("mmHg", 0, 100)),
    (("mean pressure", "mean arterial pressure", "MAP"), Measured("mmHg", 0, 250)),
    (("end-tidal carbon dioxide", "ETCO2"), Measured("kPa", 0, 20)),
    (("oxygen saturation", "saturation", "SpO2"), Measured("%", 0, 100, bare=True)),
    (("pulse", "heart rate"), Measured("/min", 0, 350, bare=True)),
    (("breathing rate", "respiratory rate"), Measured("/min", 0, 120, bare=True)),
    (("weight",), Measured("kg", 0.3, 400)),
    (("height",), Measured("cm", 20, 260)),
)
RATED = Measured("points", 0, 10, bare=True)
"""Pain from 0, none, to 10, the worst there is: LOINC 72514-3, READ in HL7 Belgium's value set of it."""
_OF_LINE = ("mm", "cm")
_MARKED = Measured("mm", 0, 100)
"""Pain marked on a line of 100 mm: Royal College of Emergency Medicine, pain assessment tools, READ."""
SIDES = frozenset(["right", "left", "r", "l", "re", "le", "od", "os", "of", "the", "in"])
EYE = frozenset(["eye", "eyes"])
"""Words of a name that do not change what is measured; but a pressure is known only as that of an eye."""


def words_of(name: str) -> frozenset[str]:
    """Return the words of a measure's name, in whatever order they stand."""
    return frozenset(re.findall(r"\w+", name.casefold()))


_PAIN = words_of("pain schmerz schmerzen ruheschmerz belastungsschmerz nrs vas")
_LINE = words_of("vas visual analogue analog visuelle analogskala")
"""Words of a name that say that pain was marked on a line, and not told as a number."""
_OF_PAIN = words_of(
    "score scale rating numeric numerical at on in rest movement moving coughing walking worst least average "
    "night morning wound abdominal back leg arm head numerische skala bei ruhe bewegung belastung wunde"
)
"""Words of a name that say which pain, or how it was told; beside others it may be of something else."""


_BY_NAME = {words_of(name): kind for names, kind in _KNOWN for name in names}


def possible(name: str, unit: str = "") -> Measured | None:
    """Return what a measurement of this name can be, whichever side of the body it is of; None if unknown.

    Args:
        name: as a case writes it.
        unit: as well; pain in millimetres is a mark on a line, which is another scale than a number told.
    """
    words = words_of(name) - SIDES
    return _BY_NAME.get(words) or _BY_NAME.get(words - EYE) or _pain(words - EYE, unit)


def _pain(words: frozenset[str], unit: str) -> Measured | None:
    if not words & _PAIN or words - _PAIN - _LINE - _OF_PAIN:
        return None
    return _MARKED if words & _LINE or unit in _OF_LINE else RATED


def per(name: str, given: str, wanted: str) -> float | None:
    """What a figure of this measurement in one unit is multiplied by to be in another; None if unknown.

    mg/dL of creatinine are so many µmol/L, and of glucose so many others.
    """
    kind = possible(name)
    if kind is None:
        return None
    one, other = (_in_its_own(kind, unit) for unit in (given, wanted))
    return None if one is None or other is None else one / other


def _in_its_own(kind: Measured, unit: str) -> float | None:
    """How many of the unit it is known by one of another unit is."""
    if same_kind(unit, kind.unit):
        return factor(unit, kind.unit)
    return next((turn(factor(unit, other)) for other, turn in kind.also if same_kind(unit, other)), None)
