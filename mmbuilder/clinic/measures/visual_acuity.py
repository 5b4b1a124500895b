"""Visual acuity in logMAR and letters; what sources dispute is shown by each."""

from __future__ import annotations

from math import log10

from mmbuilder.clinic.acuity import LETTER, read_acuity
from mmbuilder.clinic.inputs import Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, said

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
_TAKEN = {"pinhole": "through a pinhole", "corrected": "with correction", "unaided": "without correction"}


def line(text: str) -> Value:
    """Read an acuity (see `clinic.acuity`).

    Returns:
        The word of low vision; or how it was written, its logMAR (of a bare figure the figure), the letters
        more or fewer that were read, and how it was taken, if that was said.

    Raises:
        ValueError: it is none.
    """
    found = read_acuity(text)
    return found.word or (found.how, found.figure, found.letters, found.manner)


def shown(value: Value) -> str:
    """Write an acuity as it was understood: a line by its decimal."""
    if not isinstance(value, tuple):
        return str(value)
    how, figure = value[0], value[1]
    assert isinstance(figure, float)
    if how == "letters":
        return f"{85 - 50 * figure:.0f} letters"
    told = figure if how in ("bare", "logmar") else 10**-figure
    name = {"bare": "", "logmar": "logMAR "}.get(str(how), "decimal ")
    return f"{name}{told:.3g}".replace("-", "−")


INPUTS = {
    "acuity": Written(
        line,
        "a line such as 6/19, 20/50, 6/12-1 or 6/12 part, 70 letters, a figure with its name such as "
        "decimal 0.63 or logMAR 0.3, or CF, HM, PL, NPL",
        "6/19",
        shown=shown,
    )
}
_TABLE = "Bach M, acuity table; recomputed"
EXAMPLES = (
    Example({"acuity": "6/19"}, ("logMAR: 0.50", "letters: 60"), _TABLE),
    Example({"acuity": "20/50"}, ("logMAR: 0.40", "letters: 65"), _TABLE),
    Example({"acuity": "decimal 0.63"}, ("logMAR: 0.20", "letters: 75"), _TABLE),
    Example({"acuity": "logMAR 0.4"}, ("logMAR: 0.40", "letters: 65"), _TABLE),
    Example({"acuity": "-0.1"}, ("logMAR: −0.10", "letters: 90"), "below 0 only logMAR can be, computed"),
    Example(
        {"acuity": "0.0"}, ("logMAR: 0.00", "letters: 85"), "a decimal of 0 is no sight: only logMAR can be"
    ),
    Example({"acuity": "6/12 part"}, ("logMAR: 0.30", "letters: 70"), "the line alone; told in a note"),
    Example(
        {"acuity": "0.3"},
        (),
        "both scales are in use; 0.3 as a decimal is logMAR 0.52, computed",
        (
            "logMAR if 0.3 is a decimal: 0.52",
            "logMAR if 0.3 is logMAR: 0.30",
            "letters if 0.3 is a decimal: 59",
            "letters if 0.3 is logMAR: 70",
        ),
    ),
    Example(
        {"acuity": "6/12-1"}, ("logMAR: 0.30", "letters: 70"), "the line alone; letters are told in a note"
    ),
    Example(
        {"acuity": "6/9+2"}, ("logMAR: 0.18", "letters: 76"), "the line alone; letters are told in a note"
    ),
    Example({"acuity": "6/6"}, ("logMAR: 0.00", "letters: 85"), _TABLE),
    Example({"acuity": "6/60"}, ("logMAR: 1.00", "letters: 35"), _TABLE),
    Example({"acuity": "6/600"}, ("logMAR: 2.00", "letters: 0"), _TABLE),
    Example({"acuity": "20/63"}, ("logMAR: 0.50", "letters: 60"), "Holladay JT, conversion chart: 0.50"),
    Example(
        {"acuity": "HM"},
        ("HM",),
        "Bach M; Holladay JT",
        ("logMAR by Schulze-Bonsel and Bach: 2.3", "logMAR by Holladay, at 2 ft: 3.0"),
    ),
)


def work(acuity: str | tuple[str, float, float, str]) -> Result:
    """Return logMAR and letters; for low vision the word, and for a bare figure each thing it may be.

    Letters beside a line are told in a note: the number is of the line alone.
    """
    if isinstance(acuity, str):
        disputed = tuple(_by(name, value) for name, value in LOW[acuity])
        return Result((said(acuity),), disputed)
    how, logmar, letters, manner = acuity
    if how == "bare":
        return _either(logmar)
    step = {
        "logmar": (),
        "letters": (f"(85 − {85 - 50 * logmar:.0f}) ÷ 50 = {logmar:.2f}",),
    }.get(how, (f"−log10({10**-logmar:.3f}) = {logmar:.2f}",))
    return Result(
        (_logmar(logmar), _letters(logmar)),
        steps=(*step, _letters_shown(logmar)),
        notes=(*_beside(how, logmar, letters), *((f"Taken {_TAKEN[manner]}.",) if manner else ())),
    )


def _either(figure: float) -> Result:
    """A bare 0.3 is a good eye on one scale and a poorer one on the other; nothing in it says which."""
    ways = [("decimal", -log10(figure)), ("logMAR", figure)]
    can = [(f"if {figure:g} is {'a ' if name == 'decimal' else ''}{name}", logmar) for name, logmar in ways]
    return Result(
        (),
        (*(_logmar(logmar, way) for way, logmar in can), *(_letters(logmar, way) for way, logmar in can)),
        notes=("Write decimal or logMAR before the figure to settle it.",),
    )


def _beside(how: str, logmar: float, letters: float) -> tuple[str, ...]:
    """What is written beside a line changes no number: charts do not agree on what a letter is worth."""
    if how == "part":
        return ("The number is of the whole line; only a part of it was read.",)
    if not letters:
        return ()
    count = f"{abs(letters):.0f} letter{'s' if abs(letters) > 1 else ''} {'more' if letters > 0 else 'fewer'}"
    made = f"{logmar - LETTER * letters:.2f}".replace("-", "−")
    return (
        f"The number is of the line alone. {count}, at {LETTER} a letter as on an ETDRS chart, would make "
        f"logMAR {made}.",
    )


def _logmar(value: float, way: str = "") -> Answer:
    return one(value, "", 2, f"logMAR {way}".strip())


def _letters(logmar: float, way: str = "") -> Answer:
    return one(_read_off(logmar), "", 0, f"letters {way}".strip())


def _letters_shown(logmar: float) -> str:
    left = 85 - 50 * logmar
    shown = f"85 − 50 × {logmar:.2f} = {left:.0f}".replace("-", "−")
    return shown if left >= 0 else f"{shown}: below the last letter of the chart"


def _read_off(logmar: float) -> float:
    """Letters of a chart: none are left beyond logMAR 1.7."""
    return max(0.0, 85 - 50 * logmar)


def _by(convention: str, value: float) -> Answer:
    return one(value, "", 1, f"logMAR by {convention}")
