"""Visual acuity as it is written: a line, letters, a figure with its scale, or a word of low vision.

The one reader of it: the figure of the clinic and the charts of follow-up visits both ask here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import log10

from mmbuilder.clinic.units import number

LOW = ("CF", "HM", "PL", "NPL")
"""Counting fingers, hand movements, perception of light, none: an order, from the best, and no distances."""

LETTER = 0.02
"""logMAR of one letter: five to a line of 0.1, as on an ETDRS chart (from memory)."""

_FAR, _NEAR = 0.001, 4.0
"""The decimals that are an acuity at all."""


@dataclass(frozen=True)
class Acuity:
    """An acuity that could be read.

    Attributes:
        how: `word`, `line`, `part` (of a line), `decimal`, `logmar`, `letters`, or `bare`: a figure that
            may be a decimal or a logMAR.
        figure: the logMAR of what was written, without single letters; of a bare figure the figure itself.
        letters: read beyond the line, or short of it.
        word: of `LOW`.
        manner: how it was taken, where that was said: `pinhole`, `corrected`, `unaided`.
    """

    how: str
    figure: float = 0.0
    letters: float = 0.0
    word: str = ""
    manner: str = ""

    @property
    def logmar(self) -> float | None:
        """With the single letters counted; None for a word and for a bare figure."""
        return None if self.how in ("word", "bare") else self.figure - LETTER * self.letters


def names_acuity(name: str) -> bool:
    """Whether a measure of this name is visual acuity."""
    return _NAMED.search(name) is not None


_NAMED = re.compile(
    r"\bacuity\b|\b(?:BC|UC|CD|UD|D)?VA\b|^vision\b|\b(?:fern|nah)?visus\b|\bsehschärfe\b", re.IGNORECASE
)


def read_acuity(text: str) -> Acuity:
    """Read `6/19`, `20/50 pinhole`, `6/12-1`, `6/12 part`, `70 letters`, `decimal 0.63`, `CF at 1 m`.

    Raises:
        ValueError: it is none, no eye sees so much or so little, or two are told at once.
    """
    plain = " ".join(text.split()).replace("−", "-").replace("–", "-")
    for word, form in _WORDS:
        if found := form.match(plain):
            rest = plain[found.end() :]
            if _TWO.search(rest):
                raise ValueError("two acuities")
            return Acuity("word", word=word)
    found = _FORM.fullmatch(plain)
    if found is None:
        raise ValueError("not an acuity")
    manner = _MANNERS.get((found["before"] or found["after"] or "").casefold(), "")
    how, figure = _figure(found)
    return Acuity(how, figure, float((found["more"] or "0").replace(" ", "")), manner=manner)


def _figure(found: re.Match[str]) -> tuple[str, float]:
    """Return how it was written, and its logMAR; of a bare figure the figure."""
    if found["at"]:
        at, whole = number(found["at"]), number(found["whole"])
        return "part" if found["part"] else "line", _of_decimal(at / whole if whole else 0.0)
    if found["letters"]:
        return "letters", _sane((85 - float(found["letters"])) / 50)
    if found["scale"] and found["scale_after"]:
        raise ValueError("two scales")
    figure = number(found["figure"])
    how = _scale((found["scale"] or found["scale_after"] or "").lower(), figure)
    return how, _of_decimal(figure) if how == "decimal" else figure


def _scale(said_to_be: str, figure: float) -> str:
    """What a figure without a line is: what it is said to be, or what alone it can be, or `bare`."""
    can = {"decimal": _FAR <= figure <= _NEAR, "logmar": _is_logmar(figure)}
    left = [scale for scale, possible in can.items() if possible and said_to_be in ("", scale)]
    if not left:
        raise ValueError("not an acuity")
    return left[0] if len(left) == 1 else "bare"


def _of_decimal(decimal: float) -> float:
    if not _FAR <= decimal <= _NEAR:
        raise ValueError("not a line of a chart")
    return -log10(decimal)


def _sane(logmar: float) -> float:
    if not _is_logmar(logmar):
        raise ValueError("more letters than a chart has")
    return logmar


def _is_logmar(figure: float) -> bool:
    return -log10(_NEAR) <= figure <= -log10(_FAR)


_WORDS = tuple(
    (word, re.compile(rf"(?:{forms})\b", re.IGNORECASE))
    for word, forms in (
        ("CF", r"CF|FC|count(?:ing)? fingers?|FZ|Fingerzählen"),
        ("HM", r"HMM?|hand (?:movements?|motions?)|HBW|Handbewegung(?:en)?"),
        ("PL", r"PL|LP|perception of light|light perception|Lux|LS|Lichtschein(?:wahrnehmung)?"),
        (
            "NPL",
            r"NPL|NLP|no (?:PL|LP|perception of light|light perception)|nulla lux|kein(?:e|en)? Lichtschein",
        ),
    )
)
"""How each word is written, in the languages of the decks; a distance or a remark may follow."""
_TWO = re.compile(
    r"\b(?:or|to|oder|bis)\b|\?|\b(?:CF|FC|FZ|HMM?|HBW|N?PL|N?LP|fingers?|movements?|motions?)\b|\d\s*/\s*\d",
    re.IGNORECASE,
)
"""In what follows a word: another acuity, or doubt which it was."""

_MANNERS = {
    "pinhole": "pinhole", "with pinhole": "pinhole", "ph": "pinhole",
    "corrected": "corrected", "aided": "corrected", "with glasses": "corrected", "glasses": "corrected",
    "with correction": "corrected", "cc": "corrected",
    "unaided": "unaided", "uncorrected": "unaided", "without glasses": "unaided", "sc": "unaided",
}  # fmt: skip
"""Corrected, pinhole and unaided are different measurements (practice: say which)."""

_MANNER = "|".join(sorted(map(re.escape, _MANNERS), key=len, reverse=True))
_NUMBER = r"\d+(?:[.,]\d+)?"
_FORM = re.compile(
    rf"(?:(?P<before>{_MANNER})\s+)?"
    rf"(?:(?P<at>{_NUMBER})\s*/\s*(?P<whole>{_NUMBER})"
    r"\s*(?:(?P<part>part(?:ial)?|p)|(?P<more>[+-]\s*[1-5]))?"
    r"|(?:ETDRS\s*)?(?P<letters>\d{1,3})\s*(?:ETDRS\s*)?letters"
    rf"|(?P<scale>decimal|logmar)?\s*(?P<figure>[+-]?{_NUMBER})\s*(?P<scale_after>decimal|logmar)?)"
    rf"(?:,?\s*\(?(?P<after>{_MANNER})\)?)?",
    re.IGNORECASE,
)
