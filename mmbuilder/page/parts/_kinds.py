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


def kind_of(words: str, *, harmed: bool = False) -> str:
    """Return the kind that the words behind the time of an event seem to tell; a step where none is told.

    Args:
        words: of the event.
        harmed: whether the harm was told before: it is proposed as the complication only once.
    """
    if _FIRST.search(words):
        return EventKind.FIRST_SIGN.value
    if cue := _CUE.match(words):
        return _of_cue(cue)
    drugs = [found for found in re.finditer(r"[^\W\d_]{3,}", words) if _drug(found[0])]
    if drugs and (_DOSE.search(words) or any(_led(words, drug) for drug in drugs)):
        return EventKind.DRUG.value
    found = next((kind for kind, shapes in _holds().items() if any(one.search(words) for one in shapes)), "")
    if found in ("", EventKind.NOTE.value) and not harmed and tells_harm(words):
        return EventKind.COMPLICATION.value
    return found or "step"


_SAID = {
    EventKind.RECOGNITION: r"recogni[sz]ed|recognition|reali[sz]ed|diagnosed",
    EventKind.RESPONSE: r"rescue|response",
    EventKind.CALL: r"call(?:ed)? for help",
    EventKind.COMPLICATION: r"complication",
    EventKind.RESOLUTION: r"resolved|resolution",
}
"""The author's own word for what an event was (common practice, no source)."""
_CUES = "|".join(f"(?P<{kind.name}>{shape})" for kind, shape in _SAID.items())
_CUE = re.compile(rf"\W*(?:{_CUES})(?:\s*:\s*|\s+[-–—]+\s+)(?=\S)(?!(?:no|none|nil|not)\b)", re.IGNORECASE)
"""`recognised: tear of the vein`; `complication: none` is none."""
_CUE_BEFORE = re.compile(
    rf"\W*(?:{_CUES})[\s:–—-]+(?:at\s)?(?=~?(?:[01]?\d|2[0-3])[:.]?[0-5]\d\b(?!\s?(?:m[lL]|mg|units?|g)\b))",
    re.IGNORECASE,
)
"""`RESCUE 1006 irrigation off`: the word stands before the time."""


def _of_cue(cue: re.Match[str]) -> str:
    return EventKind[cue.lastgroup or ""].value


def cue_apart(line: str) -> tuple[str, str]:
    """Return the kind that the author's own word before the time of a line tells, and the line without it."""
    cue = _CUE_BEFORE.match(line)
    return (_of_cue(cue), line[cue.end() :]) if cue else ("", line)


def without_cue(words: str) -> str:
    """Return the words of an event without the author's word for its kind, which is told beside them."""
    cue = _CUE.match(words)
    return words[cue.end() :] if cue else words


_HARM = re.compile(
    r"(?<!cuff )(?<!meniscal )(?<!labral )(?<!air )(?<!membrane )"
    r"\b(?:tear|leak(?:s|ing|age)?|perforation|laceration|avulsion|transection|hole in (?:the )?\w+|tore)\b"
    r"(?!\s(?:tests?|rate)\b)(?!\s?\?)(?![^.;]{0,24}\b(?:repair(?:ed)?|closed|sutured|oversewn|stopped|sealed"
    r"|excluded|ruled out|negative)\b)",
    re.IGNORECASE,
)
_NO_HARM = re.compile(
    r"(?:\?|\b(?:no|not|nil|without|never|possible|suspected|risk of|look(?:ed|ing)? for|check(?:ed|ing)? for"
    r"|test(?:ed|ing)? for|query|exclude[ds]?|excluding|rul(?:e|ed|ing) out|if|in case of|known|old|previous"
    r"|repair(?:ed)?|clos(?:ed|ing)|sutur(?:ed?|ing)|oversewn?|prevents?|avoid)\b)[^.;,]{0,30}$",
    re.IGNORECASE,
)
"""What stands before a harm that is none, or none yet, or is mended."""


def tells_harm(words: str) -> bool:
    """Whether words plainly tell a tear or leak that is there: `2 cm tear`, no `?leak` and no `leak test`."""
    return any(not _NO_HARM.search(words, 0, one.start()) for one in _HARM.finditer(words))


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
