"""Which kind of event a line of the note seems to tell: proposed for the author to check, never decided."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from mmbuilder.page.form.layout import read
from mmbuilder.safe.terms import EventKind
from mmbuilder.scrub.fold import folded
from mmbuilder.scrub.keep.lists import load

_A_DRUG = "a drug or product"
_DOSE = re.compile(
    r"\d\s?(?:mg|mcg|µg|microg(?:rams?)?|g|kg|iu|u|units?|mmol|ml|m?l/h|mcg/\w+|mg/\w+|%)(?![\w/]|\s?/\s?min)"
    r"|\b(?:given|gave|bolus|infusion|started|stopped|stat|i\.?v|i\.?m|s\.?c|po|top-?up|loaded|reversed|further)\b"
    r"|\bput \w+ up\b|\b\w+ (?:up|down) to\b|\b\d+ ?(?:mg|units?)?\b(?=[ .,]*(?:iv|im|po|sc)\b)",
    re.IGNORECASE,
)
"""A dose, or what is done with a drug: common practice, no source."""
_LED = re.compile(r"\s+(?:for|on|off|at|to|\d)|[,;]")
"""Behind a drug that leads a sentence: `labetalol for 182/96`, not `iodine prep`."""


def kind_of(words: str) -> str:
    """Return the kind that the words behind the time of an event seem to tell; a step where none is told."""
    if _FIRST.search(words):
        return EventKind.FIRST_SIGN.value
    drugs = [found for found in re.finditer(r"[^\W\d_]{3,}", words) if _drug(found[0])]
    if drugs and (_DOSE.search(words) or any(_led(words, drug) for drug in drugs)):
        return EventKind.DRUG.value
    return next(
        (kind for kind, shapes in _holds().items() if any(one.search(words) for one in shapes)), "step"
    )


MARK = (
    r"(?:[Ll]ooking back|[Ii]n hindsight|[Ii]n retrospect|<-+|←)\W{1,3}(?:looking back\W{1,3})?"
    r"(?:(?:this|that|it|was|the|our|my) ){0,3}first sign\b"
)
"""`<- looking back first sign`: the author's own word for it."""
_FIRST = re.compile(MARK)
_MARK_BEHIND = re.compile(rf"{MARK}\W{{0,3}}$")


def without_mark(words: str) -> str:
    """Return the words of an event without the mark behind them that it was the first sign."""
    found = _MARK_BEHIND.search(words)
    return words[: found.start()].rstrip(" ,;.(<-←") if found and found.start() else words


def meanings() -> Mapping[str, str]:
    """Return what each kind means, in a few words, in the order of the model."""
    return {kind.value: read("kinds.yaml")[kind.value]["says"] for kind in EventKind}


def _led(words: str, drug: re.Match[str]) -> bool:
    """Whether a drug leads a sentence, as what was given for something."""
    return words[: drug.start()].rstrip()[-1:] in ("", ".", ";") and _LED.match(words, drug.end()) is not None


def _drug(word: str) -> bool:
    return load().called(folded(word)) == _A_DRUG


@cache
def _holds() -> dict[str, list[re.Pattern[str]]]:
    said = read("kinds.yaml")
    return {
        kind: [re.compile(one) for one in told["holds"]] for kind, told in said.items() if "holds" in told
    }
