"""What was written for a measure at a visit, read: a figure with its unit, a rank of low vision, or words.

The written words stay what is shown; what is read here only says where they stand on a scale.
Nothing is guessed: a value that can be read in two ways stays words, and what was not done is no zero.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from enum import StrEnum

from mmbuilder.clinic.acuity import LOW, names_acuity, read_acuity
from mmbuilder.clinic.faults import InputFault
from mmbuilder.clinic.limits import ABOUT, ABOVE, BELOW
from mmbuilder.clinic.possible import RATED, per, possible
from mmbuilder.clinic.undone import undone
from mmbuilder.clinic.units import amount, factor, same_kind
from mmbuilder.safe.text import EMPTY, SafeText, fill, wording


class Side(StrEnum):
    """Whether a figure is the value, or only a limit of it (`<5 mg/L`)."""

    EXACT = "exact"
    BELOW = "below"
    ABOVE = "above"


@dataclass(frozen=True)
class Measured:
    """A figure between `low` and `high` (equal where it is one figure), in `unit`.

    Attributes:
        manner: how it was taken where that changes what it means (`pinhole`); empty if not said.
    """

    low: float
    high: float
    unit: SafeText
    side: Side = Side.EXACT
    manner: str = ""

    @property
    def middle(self) -> float:
        """Where its mark stands."""
        return (self.low + self.high) / 2


@dataclass(frozen=True)
class Ranked:
    """Vision too low for a line: its place in `RANKS`, which is an order and not a distance."""

    rank: int


@dataclass(frozen=True)
class NotDone:
    """The visit has no such measurement, or says that it was not done."""


@dataclass(frozen=True)
class Worded:
    """Said in words, or in a figure that can be read in more than one way."""


Value = Measured | Ranked | NotDone | Worded

LOGMAR = wording("logMAR")

RANKS = (wording("CF"), wording("HM"), wording("PL"), wording("NPL"))
"""Counting fingers, hand movements, perception of light, none. Conventions put HM at 2.3 or at 3.0 logMAR
(Schulze-Bonsel and Bach; Holladay), so no number is given to any of them here."""


def read(name: SafeText, written: SafeText) -> Value:
    """Read what was written for a measure of this name."""
    # Read, never shown: what is drawn is the safe text itself.
    words = " ".join(written.reveal().split())
    if undone(words):
        return NotDone()
    if is_acuity(name):
        return _acuity(words)
    return _rated(words, written) if possible(name.reveal()) is RATED else _figure(words, written)


def times(name: SafeText, given: SafeText, wanted: SafeText) -> float | None:
    """What turns one unit of a measure into another, by their kind or by its substance; None if nothing.

    A figure without a unit is not like one with a unit.
    """
    if given == wanted:
        return 1.0
    if not given or not wanted:
        return None
    one, other = given.reveal(), wanted.reveal()
    return factor(one, other) if same_kind(one, other) else per(name.reveal(), one, other)


def is_acuity(name: SafeText) -> bool:
    """Whether a measure of this name is visual acuity."""
    return names_acuity(name.reveal())


# --- acuity -----------------------------------------------------------------------------------


def _acuity(words: str) -> Value:
    try:
        found = read_acuity(words)
    except ValueError:
        return Worded()
    if found.word:
        return Ranked(LOW.index(found.word))
    logmar = found.logmar
    # A bare 0.3 may be a decimal or a logMAR.
    return Worded() if logmar is None else Measured(logmar, logmar, LOGMAR, manner=found.manner)


# --- figures with units -----------------------------------------------------------------------

_LIMITS = {
    word: side
    for words, side in ((BELOW, Side.BELOW), (ABOVE, Side.ABOVE), (ABOUT, Side.EXACT))
    for word in words
}
_LIMIT = re.compile(rf"({'|'.join(map(re.escape, _LIMITS))})\s*(.*)", re.IGNORECASE)

_WRITTEN: tuple[tuple[SafeText, tuple[str, ...]], ...] = (
    (wording("mmHg"), ("mm Hg",)),
    (wording("kPa"), ()),
    (wording("cmH2O"), ("cm H2O", "cmH₂O")),
    (wording("g/L"), ()),
    (wording("g/dL"), ()),
    (wording("mg/L"), ()),
    (wording("mg/dL"), ()),
    (wording("µg/L"), ("μg/L", "ug/L", "mcg/L")),
    (wording("ng/mL"), ()),
    (wording("mmol/L"), ()),
    (wording("µmol/L"), ("μmol/L", "umol/L")),
    (wording("U/L"), ("IU/L",)),
    (wording("10⁹/L"), ("×10⁹/L", "x10⁹/L", "× 10⁹/L", "x 10⁹/L", "10^9/L", "x10^9/L", "×10^9/L", "10*9/L")),
    (wording("%"), ("per cent",)),
    (wording("°C"), ("degC", "℃")),
    (wording("/min"), ("bpm", "beats/min", "breaths/min", "per min", "a minute")),
    (wording("mL"), ("mls",)),
    (wording("mL/h"), ("mL/hr",)),
    (wording("mL/kg/h"), ("mL/kg/hr",)),
    (wording("kg"), ("kgs",)),
    (wording("µm"), ("μm", "um", "microns")),
    (wording("mm"), ()),
    (wording("cm"), ()),
    (wording("D"), ("dioptres",)),
    (wording("/mm²"), ("/mm2", "cells/mm²", "cells/mm2")),
)
"""Units as they are shown, and other ways to write them."""

_UNITS = {
    spelling.casefold(): unit
    for unit, others in _WRITTEN
    for spelling in (unit.reveal(), *others)
}  # fmt: skip
_KNOWN = re.compile(
    rf"({'|'.join(sorted(map(re.escape, _UNITS), key=len, reverse=True))})(?=$|[\s,;(])", re.IGNORECASE
)
_SCORE = re.compile(r"(?:of|out of) (\d{1,3})")
_OF_TEN = re.compile(r"\s*(?:/|\b(?:out )?of)\s*10$")
_POINTS = ("", "points")
_TEN = fill("of {most}", most=10)
_WORD = re.compile(r"[^\W\d_]+")


def _figure(words: str, written: SafeText) -> Value:
    side = Side.EXACT
    if limit := _LIMIT.match(words):
        side, words = _LIMITS[limit[1].casefold()], limit[2]
    try:
        found = amount("value", words, "14 mmHg")
    except InputFault:
        return Worded()
    unit = _unit(found.unit, written)
    return Worded() if unit is None else Measured(found.low, found.high, unit, side)


def _rated(words: str, written: SafeText) -> Value:
    """A score of pain, which is of ten whether that is said or not."""
    found = _figure(_OF_TEN.sub("", words), written)
    if not isinstance(found, Measured) or found.unit.reveal() not in _POINTS:
        return found
    return replace(found, unit=_TEN) if found.high <= RATED.high else Worded()


def _unit(text: str, written: SafeText) -> SafeText | None:
    """Return the unit behind a figure; None if what stands there is not one.

    Remarks may follow a unit of our list. Any other unit is one word, parted from its figure.
    """
    if not text:
        return EMPTY
    if known := _KNOWN.match(text):
        return _UNITS[known[1].casefold()]
    if score := _SCORE.fullmatch(text):
        return fill("of {most}", most=int(score[1]))
    last = written.split()[-1]
    return last if _WORD.fullmatch(text) and last.reveal() == text else None
