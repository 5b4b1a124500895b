"""Visual acuity in logMAR and letters; what sources dispute is shown by each."""

from __future__ import annotations

import re
from math import log10

from mmbuilder.clinic.inputs import Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, said
from mmbuilder.clinic.units import number

NAME = "visual acuity"
FORMULA = "logMAR = log10(distance read at ÷ distance tested at); letters = 85 − 50 × logMAR"
SOURCE = "Bach M, acuity tables; Holladay JT, J Refract Surg 1997;13:388-391"
CAUTION = (
    "Say corrected or pinhole, and the test distance. Counting fingers and less are words, not "
    f"lines. {REVIEW_ONLY}"
)
LOW = {
    "CF": (("Schulze-Bonsel and Bach", 1.9), ("Holladay, at 2 ft", 2.0)),
    "HM": (("Schulze-Bonsel and Bach", 2.3), ("Holladay, at 2 ft", 3.0)),
    "PL": (("Bach, imputed", 2.7),),
    "NPL": (("Bach, imputed", 3.0),),
}
"""logMAR of low vision by convention: hand movements are 2.3 or 3.0, and nobody settles which."""
_SAME = {"FC": "CF", "HMM": "HM", "LP": "PL", "NLP": "NPL"}


def line(text: str) -> Value:
    """Read `6/19`, `20/50`, `0.63` or a word of low vision.

    Raises:
        ValueError: it is none.
    """
    plain = "".join(text.split()).upper()
    word = _SAME.get(plain, plain)
    if word in LOW:
        return word
    found = re.fullmatch(r"([\d.,]+)/([\d.,]+)", plain)
    decimal = number(found[1]) / number(found[2]) if found else number(plain)
    if not 0.001 <= decimal <= 4:
        raise ValueError("not an acuity")
    return decimal


INPUTS = {"acuity": Written(line, "a line such as 6/19 or 20/50, a decimal, or CF, HM, PL, NPL", "6/19")}
_TABLE = "Bach M, acuity table; recomputed"
EXAMPLES = (
    Example({"acuity": "6/19"}, ("logMAR: 0.50", "letters: 60"), _TABLE),
    Example({"acuity": "20/50"}, ("logMAR: 0.40", "letters: 65"), _TABLE),
    Example({"acuity": "0.63"}, ("logMAR: 0.20", "letters: 75"), _TABLE),
    Example({"acuity": "6/6"}, ("logMAR: 0.00", "letters: 85"), _TABLE),
    Example({"acuity": "6/60"}, ("logMAR: 1.00", "letters: 35"), _TABLE),
    Example({"acuity": "20/63"}, ("logMAR: 0.50", "letters: 60"), "Holladay JT, conversion chart: 0.50"),
    Example(
        {"acuity": "HM"},
        ("HM",),
        "Bach M; Holladay JT",
        ("logMAR by Schulze-Bonsel and Bach: 2.3", "logMAR by Holladay, at 2 ft: 3.0"),
    ),
)


def work(acuity: float | str) -> Result:
    """Return logMAR and letters; for low vision the word, and logMAR by each convention."""
    if isinstance(acuity, str):
        disputed = tuple(_by(name, value) for name, value in LOW[acuity])
        return Result((said(acuity),), disputed)
    logmar = -log10(acuity)
    letters = 85 - 50 * logmar
    return Result(
        (one(logmar, "", 2, "logMAR"), one(letters, "", 0, "letters")),
        steps=(f"−log10({acuity:.3f}) = {logmar:.2f}", f"85 − 50 × {logmar:.2f} = {letters:.0f}"),
    )


def _by(convention: str, value: float) -> Answer:
    return one(value, "", 1, f"logMAR by {convention}")
