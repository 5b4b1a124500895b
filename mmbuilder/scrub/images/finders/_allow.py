"""What may stay in a picture when it is read: scale bars, sides, which way up, settings of a device.

A line stays only if every word of it is in these lists; one strange word, a date, a clock time or
a number of more than three digits, and all of it is covered. Nobody is named by these words alone.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

UNITS = frozenset({
    "mm", "cm", "um", "µm", "μm", "mmhg", "cmh2o", "cmh20", "kpa", "mbar", "bar", "hpa", "ml", "l/min",
    "ml/min", "lmin", "/min", "bpm", "%", "db", "mhz", "khz", "hz", "kv", "ma", "mas", "mj", "j", "w",
    "mw", "ms", "s", "min", "x", "°", "d", "hu", "cc/min", "mm/s",
})  # fmt: skip
"""Of what is measured, lower case; with the ways a reader gets them wrong (0 for O)."""

SIDES = frozenset({
    "r", "l", "od", "os", "re", "le", "right", "left", "eye", "ou",
})  # fmt: skip
POSITIONS = frozenset({
    "t", "n", "s", "i", "a", "p", "h", "f", "temporal", "nasal", "superior", "inferior", "anterior",
    "posterior", "head", "foot", "feet", "cranial", "caudal", "lateral", "medial", "prone", "supine",
    "patient", "up", "down", "top", "bottom", "o'clock", "at", "axial", "coronal", "sagittal",
})  # fmt: skip
SETTINGS = frozenset({
    "iop", "pressure", "vacuum", "vac", "power", "pwr", "flow", "aspiration", "asp", "irrigation",
    "irr", "bottle", "cut", "cuts", "rate", "phaco", "gain", "depth", "scope", "zoom", "freq",
    "frequency", "dynamic", "range", "mi", "ti", "wl", "ww", "w", "l", "window", "level", "portal",
    "venous", "arterial", "native", "phase", "hr", "spo2", "sp02", "etco2", "etc02", "co2", "nibp",
    "mean", "abp", "map", "rr", "vt", "vte", "vti", "ppeak", "pplat", "peep", "paw", "fio2", "fi02",
    "i:e", "tv", "vcv", "pcv", "simv", "cpap", "set", "mode", "low", "high", "minute", "volume",
    "alarm", "temp", "insufflation",
})  # fmt: skip
"""Labels a device prints beside its numbers. 'name', 'id', 'ward' and the like are not here on purpose."""

WORDS = SIDES | POSITIONS | SETTINGS | UNITS
_NUMBERED = SETTINGS | UNITS | {"o'clock"}
"""What a number may belong to; a number beside 'patient' is not a setting."""

_NUMBER = r"[-+±]?\d{1,3}(?:[.,]\d{1,2})?"
_JOINED = re.compile(rf"({_NUMBER})?\s*(\S+)?$")
_RATIO = re.compile(r"\d{1,2}:\d{1,2}(?:\.\d)?")


@dataclass(frozen=True)
class Allowance:
    """A kind of line that may stay, with the reason told to the reviewer."""

    kind: str
    reason: str


SCALE = Allowance("scale bar", "a length with its unit, and nothing else")
SIDE = Allowance("side", "left, right or an eye, and nothing else")
POSITION = Allowance("orientation", "words and letters for which way up, and nothing else")
SETTING = Allowance("device setting", "labels, numbers and units of a device, and nothing else")
VALUE = Allowance("number of a device", "a short number beside a label or a unit of a device")


def allowed(text: str) -> Allowance | None:
    """Return what a line is, if all of it may stay; None covers it."""
    words = text.lower().replace("’", "'").split()
    if not words or (len(words) > 1 and all(len(word) == 1 for word in words)):
        return None  # several letters alone may be initials
    if re.fullmatch(rf"{_NUMBER} ?(?:mm|cm|µm|μm|um)", " ".join(words)):
        return SCALE
    if all(word in SIDES for word in words):
        return SIDE
    if _every(words, SIDES | POSITIONS):
        return POSITION
    return SETTING if _every(words, SIDES | POSITIONS | SETTINGS | UNITS) and not _mute(words) else None


def bare_number(text: str) -> bool:
    """Whether a line is a short number alone, which says nothing without its label."""
    return re.fullmatch(_NUMBER, text.strip()) is not None


def strange(word: str) -> bool:
    """Whether a word by itself covers its line: of letters alone, and in no list."""
    plain = word.lower().replace("’", "'").strip(",;()")
    return plain.isalpha() and plain not in WORDS


def _every(words: list[str], known: frozenset[str]) -> bool:
    """Every word is known, or a short number tied to a known word beside it."""
    return all(_fits(index, words, known) for index in range(len(words)))


def _fits(index: int, words: list[str], known: frozenset[str]) -> bool:
    word = words[index].strip(",;()")
    if word in known:
        return True
    neighbours = words[max(0, index - 1) : index] + words[index + 1 : index + 2]
    if bare_number(word):
        return any(beside in _NUMBERED & known for beside in neighbours)
    if _RATIO.fullmatch(word):
        return index > 0 and words[index - 1] == "i:e"
    split = _JOINED.match(word)
    return bool(split and split[1] and split[2] in UNITS & known) or _joined_setting(word, known)


def _joined_setting(word: str, known: frozenset[str] = SETTINGS) -> bool:
    """Whether a label of a device and its number were read as one word."""
    return any(
        len(label) > 1 and word.startswith(label) and bare_number(word[len(label) :])
        for label in SETTINGS & known
    )


def _mute(words: list[str]) -> bool:
    """Single letters alone may be somebody's initials: a setting needs one longer label or a unit."""
    told = (word in SETTINGS | UNITS and (len(word) > 1 or word == "%") for word in words)
    return not any(told) and not any(
        _joined_setting(word) or ((split := _JOINED.match(word)) and split[1] and split[2] in UNITS)
        for word in words
    )
