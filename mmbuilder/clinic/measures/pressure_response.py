"""How the pressure of an eye answered to a steroid: by the rise, or by the pressure reached."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, plainly, said

NAME = "pressure response to steroid"
FORMULA = (
    "rise = on steroid − before; Armaly, by the rise: under 6 low, to 15 intermediate, over 15 high; "
    "Becker, by the pressure reached: under 20 low, to 31 intermediate, over 31 high; series of 1967: "
    "a rise of 6 or more"
)
SOURCE = (
    "Becker's limits as in Lewis and others, 1988, abstract; the rise of 6 mmHg: Arch Ophthalmol "
    "1967;77:593-597, abstract; from memory: Armaly MF, 1963 and 1965"
)
CAUTION = (
    "The definitions are of dexamethasone 0.1 % four times a day for four weeks (Armaly, 1967) or six "
    "(Becker); another drug, route or time is another test. Name the definition: one eye may be low by one "
    f"and high by another. {REVIEW_ONLY}"
)
INPUTS = {"before": Measured("mmHg", 1, 80), "on steroid": Measured("mmHg", 1, 90)}
ARMALY = "by the rise (Armaly)"
BECKER = "by the pressure reached (Becker)"
SERIES = "by a rise of 6 mmHg (series of 1967)"


def _three(armaly: str, becker: str, series: str) -> tuple[str, str, str]:
    return f"{ARMALY}: {armaly}", f"{BECKER}: {becker}", f"{SERIES}: {series}"


_LIMITS = "the limits as printed, or from memory for Armaly"
EXAMPLES = (
    Example(
        {"before": "16 mmHg", "on steroid": "30 mmHg"},
        ("rise: 14 mmHg",),
        _LIMITS,
        _three("intermediate", "intermediate", "response"),
    ),
    Example(
        {"before": "14 mmHg", "on steroid": "30 mmHg"},
        ("rise: 16 mmHg",),
        f"over 15 by the rise, not over 31 reached: {_LIMITS}",
        _three("high", "intermediate", "response"),
    ),
    Example(
        {"before": "21 mmHg", "on steroid": "24 mmHg"},
        ("rise: 3 mmHg",),
        f"a small rise from a high start: {_LIMITS}",
        _three("low", "intermediate", "no response"),
    ),
    Example(
        {"before": "16 mmHg", "on steroid": "31 mmHg"},
        ("rise: 15 mmHg",),
        f"both upper limits: {_LIMITS}",
        _three("intermediate", "intermediate", "response"),
    ),
    Example(
        {"before": "20 mmHg", "on steroid": "32 mmHg"},
        ("rise: 12 mmHg",),
        f"over 31 reached, not over 15 by the rise: {_LIMITS}",
        _three("intermediate", "high", "response"),
    ),
    Example(
        {"before": "13 mmHg", "on steroid": "19 mmHg"},
        ("rise: 6 mmHg",),
        f"both lower limits: {_LIMITS}",
        _three("intermediate", "low", "response"),
    ),
    Example(
        {"before": "14 mmHg", "on steroid": "20 mmHg"},
        ("rise: 6 mmHg",),
        f"20 reached is intermediate: {_LIMITS}",
        _three("intermediate", "intermediate", "response"),
    ),
    Example(
        {"before": "18 mmHg", "on steroid": "16 mmHg"},
        ("rise: −2 mmHg",),
        f"a fall is a low response: {_LIMITS}",
        _three("low", "low", "no response"),
    ),
)


def work(before: float, on_steroid: float) -> Result:
    """Return the rise in mmHg and the category by each definition; none is preferred."""
    rise = on_steroid - before
    return Result(
        (one(rise, "mmHg", 0, "rise"),),
        (
            _category(rise, 6, 15, ARMALY),
            _category(on_steroid, 20, 31, BECKER),
            said("response" if rise >= 6 else "no response", SERIES),
        ),
        steps=(f"{plainly(on_steroid)} − {plainly(before)} = {f'{plainly(rise)}'.replace('-', '−')} mmHg",),
    )


def _category(value: float, middle_from: float, middle_to: float, definition: str) -> Answer:
    place = (value >= middle_from) + (value > middle_to)
    return said(("low", "intermediate", "high")[place], definition, place)
