"""An age as people write it, read into years; what cannot be read is not an age."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
         "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")  # fmt: skip
_NUMBERS = (
    {word: value for value, word in enumerate(_ONES, 1)}
    | {word: value for value, word in zip(range(20, 100, 10), _TENS, strict=True)}
    | {f"{word[:-1]}ies": value for value, word in zip(range(20, 100, 10), _TENS, strict=True)}
)
_TENS_AND_ONES = re.compile(rf"\b({'|'.join(_TENS)})[\s-]+({'|'.join(_ONES[:9])})\b")
_WORD = re.compile(rf"\b(?:{'|'.join(sorted(_NUMBERS, key=len, reverse=True))})\b")
_OVER_WORDS = re.compile(
    r"\b(?:hundred|(?:nona|cente|supercente)(?:ge)?narian)|(?:\b89\s*\+|(?:>|\bover|\babove)\s*89\b)"
)

_YEARS = r"y(?:o|/o|rs?|\.o\.?|ears?|ear-olds?)?\.?"
_SHORT = {"h": 24 * 365, "d": 365, "w": 52, "m": 12}
_UNIT = rf"(?:{_YEARS}|hours?|hrs?|days?|d|weeks?|wks?|w|months?|mths?|mo|m)"
_NUMBER = r"\d{1,4}(?:[.,]\d{1,2}|\s?½)?(?:\s*['’]?s)?"
_EACH = re.compile(rf"(\d+)(?:[.,]\d+)?\s*-?\s*({_UNIT}(?![a-z]))?")
_BEFORE = (
    r"(?:(?:about|approx\.?|approximately|around|circa|ca?\.?|roughly|nearly|almost|over|under|early|mid|late|aged?"
    r"|in|his|her|their|the|[~≈<>≤≥])[\s:-]*)*"
)
_AFTER = (
    r"(?:\s*(?:\+|old|of age|gestation|corrected|[mf]|male|female|\(?(?:approx\.?|approximately|estimated|about)\)?"  # noqa: E501
    r"|at (?:the time of )?(?:operation|surgery|the event|event|admission|presentation)))*\.?"
)
_ONE = rf"{_NUMBER}[\s-]*(?:{_UNIT}(?![a-z]))?[\s-]*(?:old)?"
_FORM = re.compile(rf"{_BEFORE}{_ONE}(?:\s*(?:-|to|and|or)\s*{_ONE}|(?<=[a-z])[\s,]*{_ONE})?{_AFTER}")
_STAGE = re.compile(
    r"(?:(?:an?|the|young|older|premature|preterm|term|frail)\s)*(?:adult|infant|child|neonate|newborn|baby|toddler"
    r"|teenager|adolescent|elderly|middle[\s-]aged|octogenarian|septuagenarian|sexagenarian|unknown|not known"
    r"|not recorded|not stated|withheld|\[age\])"
)
_YOUNG = re.compile(r"infant|child|neonate|newborn|baby|toddler")
_POOLED, _GROWN = 90, 16
"""Years from which an age is pooled, and from which somebody is a woman or a man.

The second is common practice, no source.
"""
_FIRST_YEAR, _LONG_AGO = 1800, 1940


@dataclass(frozen=True)
class Age:
    """An age that could be read.

    Attributes:
        years: whole years; None where only a stage of life was written ("infant").
        exact: whether nothing but the years was written, so that the bare figure says all.
        child: whether it is that of a girl or a boy, not of a woman or a man.
    """

    years: int | None
    exact: bool = False
    child: bool = False

    @property
    def pooled(self) -> bool:
        """Whether it is told as "90 or older" (45 CFR 164.514(b)(2)(i)(C))."""
        return self.years is not None and self.years >= _POOLED


def read_age(written: str) -> Age | None:
    """Return the age that is written; None where it cannot be read.

    Any number of 90 or more that is not in months, weeks, days or hours is an age over 89,
    whatever stands around it, and so is a year of birth before 1940. A later year of birth
    is no age.
    """
    text = _figures(written)
    years = [_in_years(found) for found in _EACH.finditer(text)]
    if _OVER_WORDS.search(text) or any(
        _POOLED <= value < _FIRST_YEAR or _FIRST_YEAR <= value < _LONG_AGO for value in years
    ):
        return Age(_POOLED)
    if _STAGE.fullmatch(text):
        return Age(None, child=_YOUNG.search(text) is not None)
    if not years or max(years) >= _POOLED or not _FORM.fullmatch(text):
        return None
    exact = re.fullmatch(rf"\d{{1,2}}[\s-]*(?:{_YEARS})?[\s-]*(?:old)?\.?", text) is not None
    return Age(years[0], exact, child=years[0] < _GROWN)


def _in_years(found: re.Match[str]) -> int:
    """Whole years of a number with its unit; years where there is none."""
    return int(found[1][:6]) // _SHORT.get((found[2] or "y")[0], 1)


def _figures(written: str) -> str:
    """The text in small letters, with number words and figures of other scripts as figures."""
    text = unicodedata.normalize("NFKC", written.replace("½", ".5")).lower().strip()
    text = re.sub("[‐‑‒–—―−]", "-", text)
    text = "".join(str(unicodedata.decimal(sign, sign)) for sign in text)
    text = _TENS_AND_ONES.sub(lambda found: str(_NUMBERS[found[1]] + _NUMBERS[found[2]]), text)
    return " ".join(_WORD.sub(lambda found: str(_NUMBERS[found[0]]), text).split())
