"""Is an acute tryptase raised over the person's own baseline?"""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly, said

NAME = "mast cell tryptase"
FORMULA = "raised if acute > 1.2 × baseline + 2 µg/L"
SOURCE = "from memory: Valent P and others, Int Arch Allergy Immunol 2012;157:215-225"
CAUTION = f"Times count from the onset; a normal value does not rule anaphylaxis out. {REVIEW_ONLY}"
INPUTS = {"acute": Measured("µg/L", 0, 500), "baseline": Measured("µg/L", 0, 300)}
EXAMPLES = (
    Example(
        {"acute": "11 µg/L", "baseline": "4 µg/L"},
        ("limit: 6.8 µg/L", "raised"),
        "worked example; common practice, no source",
    ),
    Example({"acute": "6.5 ng/mL", "baseline": "4 ng/mL"}, ("limit: 6.8 µg/L", "not raised"), "computed"),
    Example(
        {"acute": "8 µg/L", "baseline": "5 µg/L"},
        ("limit: 8.0 µg/L", "not raised"),
        "the limit itself is not above it: the formula as it is written",
    ),
)


def work(acute: float, baseline: float) -> Result:
    """Return the limit in µg/L and whether the acute value is above it."""
    limit = 1.2 * baseline + 2
    return Result(
        (one(limit, "µg/L", 1, "limit"), said("raised" if acute > limit else "not raised")),
        steps=(f"1.2 × {plainly(baseline)} + 2 = {limit:.1f} µg/L",),
    )
