"""Spherical equivalent of a refraction, its error against the target, and the other sign of cylinder."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Counted, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said
from mmbuilder.clinic.units import number

NAME = "refraction"
FORMULA = "spherical equivalent = sphere + cylinder ÷ 2; error = spherical equivalent − target"
SOURCE = "geometrical optics; common practice, no source"
CAUTION = (
    "A refraction settles weeks after an operation; say when and by what it was measured. The same "
    f"eye reads otherwise in the other sign of cylinder. {REVIEW_ONLY}"
)
MOST = 40
"""Dioptres beyond which a slip of the pen is likelier."""
_PLANO = ("PL", "PLANO")


def dioptres(text: str) -> Value:
    """Read `−0.75`, `+1.25 D`, `0` or `plano`. A figure without its sign could be either, and is refused.

    Raises:
        ValueError: it is none.
    """
    plain = "".join(text.split()).upper()
    if plain in _PLANO:
        return 0.0
    for ending in ("DIOPTRES", "DIOPTERS", "DS", "DC", "D"):
        plain = plain.removesuffix(ending)
    value = number(plain)
    if (value and plain[0] not in "+-−") or not -MOST <= value <= MOST:
        raise ValueError("not a power with its sign")
    return value


def shown(value: Value) -> str:
    """Write a power with its sign."""
    assert isinstance(value, float)
    return f"{_signed(value)} D"


_POWER = f"dioptres with the sign written, from −{MOST} to +{MOST}, or plano"
INPUTS = {
    "sphere": Written(dioptres, _POWER, "−0.75 D", shown=shown),
    "cylinder": Written(dioptres, _POWER, "−1.50 D", shown=shown),
    "axis": Counted(0, 180, required=False),
    "target": Written(dioptres, _POWER, "−0.25 D", required=False, shown=shown),
}
_PAGE = "rules of transposition with worked answers, public teaching page; recomputed"
EXAMPLES = (
    Example(
        {"sphere": "−0.75", "cylinder": "−1.50"},
        ("spherical equivalent: −1.50 D", "other sign of cylinder: −2.25 / +1.50"),
        "worked example; common practice, no source",
    ),
    Example(
        {"sphere": "-4.00 DS", "cylinder": "-2.00 DC", "axis": "175"},
        ("spherical equivalent: −5.00 D", "other sign of cylinder: −6.00 / +2.00 × 85"),
        _PAGE,
    ),
    Example(
        {"sphere": "+4.00", "cylinder": "−2.00", "axis": "180", "target": "plano"},
        ("spherical equivalent: +3.00 D", "error: +3.00 D", "other sign of cylinder: +2.00 / +2.00 × 90"),
        _PAGE,
    ),
    Example(
        {"sphere": "+0.50", "cylinder": "−1.00", "axis": "90", "target": "−0.25"},
        ("spherical equivalent: 0.00 D", "error: +0.25 D", "other sign of cylinder: −0.50 / +1.00 × 180"),
        "computed; an axis of 90 turns to 180, never to 0",
    ),
    Example(
        {"sphere": "−1.00", "cylinder": "+0.25"},
        ("spherical equivalent: −0.875 D", "other sign of cylinder: −0.75 / −0.25"),
        "half of a quarter, computed",
    ),
    Example(
        {"sphere": "−1.25", "cylinder": "0"}, ("spherical equivalent: −1.25 D",), "no cylinder: the sphere"
    ),
)


def work(sphere: float, cylinder: float, axis: float | None, target: float | None) -> Result:
    """Return the spherical equivalent, the error against the target, and the transposed form."""
    equivalent = sphere + cylinder / 2
    answers = [said(f"{_signed(equivalent)} D", "spherical equivalent")]
    steps = [f"{_signed(sphere)} + ({_signed(cylinder)} ÷ 2) = {_signed(equivalent)} D"]
    if target is not None:
        answers.append(said(f"{_signed(equivalent - target)} D", "error"))
        steps.append(f"{_signed(equivalent)} − ({_signed(target)}) = {_signed(equivalent - target)} D")
    if cylinder:
        other = f"{_signed(sphere + cylinder)} / {_signed(-cylinder)}{_turned(axis)}"
        answers.append(said(other, "other sign of cylinder"))
        steps.append(f"sphere and cylinder added, sign of the cylinder changed, axis turned by 90°: {other}")
    return Result(tuple(answers), steps=tuple(steps))


def _signed(value: float) -> str:
    """In hundredths, or thousandths where there are some: half of 0.25 D is 0.125 D."""
    if not round(value, 3):
        return "0.00"
    told = f"{value:+.3f}".replace("-", "−")
    return told.removesuffix("0")


def _turned(axis: float | None) -> str:
    """The axis at right angles, from 1 to 180."""
    return "" if axis is None else f" × {(axis + 90 - 1) % 180 + 1:.0f}"
