"""Times of day within a sentence: where they stand. What is told in their place says `counted_time`.

Hours of a clock face ("9.30 to 12 o'clock") tell a place on the body, times into a recording
("file 2 0:03:35") tell no time of day, nor do ratios ("diluted to 1:20"), lengths of time ("took 01:45 h")
and values with a unit ("from 1000 to 1500 mL"): all of them stay.

The phrasings are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.case.apart import apart


@dataclass(frozen=True)
class ToldTime:
    """A time of day in a text, by its place."""

    start: int
    end: int


_H, _M = r"(?:[01]\d|2[0-3])", r"[0-5]\d"
_DOTTED = r"(?:at|by|until|till|since|before|after|around|about|um|log|notes?|record|chart|~)"
_CUE = r"(?:at|by|until|till|from|since|before|after|around|about|to|and|between|um|bis|~)"
_BARE_CUE = r"(?:at|by|until|till|from|before|after|between)"
_UNITS = (
    r"(?:%|[kmcµn]?(?:g|l|m|mol|Pa|J|W|Hz)\b|mm|cm|ml|mmHg|units?|iu|/(?=\S)|minutes?|min|seconds?|s\b|hours?\b|days?"
    r"|grams?|k?cal\b|joules?|ohms?|rpm|feet|volts?|per\b|times\b|[x×]\s?\d|°|degrees?|copies|cells)"
)
UNIT = rf"(?!\s?{_UNITS})"
"""No unit comes next."""
_LENGTH = r"(?!\s?(?:min(?:ute)?s?|sec(?:ond)?s?|s)\b)"
_ENDS = r"(?![\d:]|[.,]\d|\s\d{3}|\w)"
_COLON, _DOT, _BARE = rf"{_H}:{_M}(?::{_M})?", rf"{_H}\.{_M}", rf"(?!19\d\d|20\d\d){_H}{_M}"
_ALONE = r"(?<![\w:.,+−–/-])"
_PATTERNS = tuple(
    re.compile(shape, re.IGNORECASE)
    for shape in (
        # 16:10, 16:10:05, 9:05 am; no ratio (1:10 000), no count from the index event (T+1:10)
        rf"{_ALONE}(?P<all>{_COLON}(?:\s?(?:[ap]\.?m\.?|h(?:rs?)?|Uhr))?){_ENDS}{_LENGTH}",
        rf"\b{_CUE}\s(?P<all>\d:{_M}){_ENDS}{_LENGTH}",
        # 4 pm, 9.30 am, 16 Uhr
        rf"{_ALONE}(?P<all>\d{{1,2}}(?:[:.]{_M})?\s?(?:[ap]m|[ap]\.m\.|Uhr))(?!\w)",
        # at 14.30, nursing notes 02.00
        rf"\b{_DOTTED}\s(?P<all>{_DOT})(?![\d:]|\.\d|\s?o['’]clock|\w){UNIT}",
        rf"{_ALONE}(?P<all>0\d\.{_M})(?![\d:]|\.\d|\w){UNIT}",
        # 0930 h, at 0930; not since 2019
        rf"{_ALONE}(?P<all>{_H}{_M}\s?h(?:rs?|ours)?)(?!\w)",
        rf"\b{_BARE_CUE}\s(?P<all>{_BARE}){_ENDS}{UNIT}",
        # half past three, ten o'clock at night
        r"\b(?P<all>(?:half|(?:a\s)?quarter)\s(?:past|to)\s(?:\d{1,2}|[a-z]+))\b",
        r"\b(?P<all>(?:\d{1,2}|[a-z]+)\so['’]clock\s(?:in\sthe\s(?:morning|afternoon|evening)|at\snight))\b",
    )
)
_JOIN = r"(?:\s?[-–/]\s?|,\s|,?\s(?:to|and|or|until|till|then|bis|und)\s)"
_ROWS = tuple(
    (re.compile(shape), re.compile(rf"{_JOIN}(?P<all>{shape}){_ENDS}{unit}", re.IGNORECASE))
    for shape, unit in ((_COLON, _LENGTH), (_DOT, UNIT), (_BARE, UNIT))
)
"""How a time is written, and how the next one in a row of them is: `12:40-13:10`, `between 0930 and 1010`."""

_HOUR_OF_A_DIAL = re.compile(r"1[0-2]\.\d\d")
_RECORDING = re.compile(
    r"(?:video|recording|tape|(?:file|video|clip|film|part)\s\d{1,2}),?\s(?:at\s|from\s)?"
    r"(?:[\d:.]+\s(?:to|and|-)\s)?$",
    re.IGNORECASE,
)
_OF_A_RATIO = re.compile(
    r"\b(?:ratio|dilut\w+|tit(?:re|er)s?|odds|I:E)(?:\s(?:was|is|of|at|to|by|with|from|about))*[\s:=(]*$",
    re.IGNORECASE,
)
_OF_A_LENGTH = re.compile(
    r"(?:\b(?:minut[eo]s?|last(?:ed|ing)|took|taking|duration|total(?:led)?|elapsed"
    r"|(?:isch(?:a)?emi[ac]\w*|clamp|bypass|pump|tourniquet|operat\w+|console|procedure|screening|run)\stime)"
    r"(?:\s(?:was|is|of|about|around|nearly|almost))*[\s:=(]*|\+\s)$",
    re.IGNORECASE,
)
"""Before a length of time; and before what is counted from an event: `T + 01:10`."""
_OF_VALUES = re.compile(rf"\s?(?:[-–]|to|and)\s?\d[\d.,]*\s?{_UNITS}", re.IGNORECASE)
"""After the first of two values with one unit: `from 1000 to 1500 mL`."""
_NAMED_BEHIND = re.compile(
    r"\s(?:ratio|dilution|solution|odds|(?:into|of|in|on)\s(?:the\s)?(?:video|recording|film|file|clip))\b",
    re.IGNORECASE,
)


def find(text: str, *, dial: bool = False) -> Iterator[ToldTime]:
    """Yield every time of day, in order of place; none overlaps another.

    Args:
        text: the sentence.
        dial: whether hours with a dot ("at 11.30") tell places on a clock face, as those of an eye do.
    """
    told = {match.span("all") for pattern in _PATTERNS for match in pattern.finditer(text)}
    times = {span for span in told if not no_time(text, *span, dial=dial)}
    rows = {span for time in times for span in _in_a_row(text, *time)}
    yield from apart(ToldTime(*span) for span in times | rows)


def no_time(text: str, start: int, end: int, *, dial: bool = False) -> bool:
    """Whether the words round figures say that they are none: a ratio, a length, a place in a recording."""
    before, bare = text[max(0, start - 40) : start], ":" not in text[start:end]
    return bool(
        (dial and _HOUR_OF_A_DIAL.fullmatch(text, start, end))
        or any(shape.search(before) for shape in (_RECORDING, _OF_A_RATIO, _OF_A_LENGTH))
        or _NAMED_BEHIND.match(text, end)
        or (bare and _OF_VALUES.match(text, end))
    )


def _in_a_row(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """Yield the times that follow one and are written as it is."""
    following = next((more for shape, more in _ROWS if shape.fullmatch(text, start, end)), None)
    while following is not None and (found := following.match(text, end)):
        yield found.span("all")
        end = found.end("all")
