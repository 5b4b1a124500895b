"""The parts of a decision in lines of the note: its time, the ways forward, and the reason at the time."""

from __future__ import annotations

import re

from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._parted import Parted
from mmbuilder.page.parts._typed import of_an_eye

NAME = "decisions/question"

_CLAUSE = re.compile(
    r"\s+/\s+|\s*;\s*|(?<=[.?!])\s+|,?\s+(?=(?:because|could have|might have|(?:i |we )?thought)\b)", re.I
)
_REASON = re.compile(r"(?:the )?(?:reason|because|as|since)\b:?\s+|(?=(?:i |we )?thought\b)", re.IGNORECASE)
_OPTION = re.compile(
    r"(?:(?:alternatives?|options?)\s*[:?]?\s+|(?:i |we )?(?:could|might|should) have\s+|(?:or|either)\s+)",
    re.IGNORECASE,
)
_TAKEN = re.compile(r"(?:i |we )?(?:decided|chose|went for|opted for)(?: (?:to|on))?\s+", re.IGNORECASE)


def parted(words: str, known: Known) -> Parted:
    """Take a decision apart. What stands behind no word for a way forward or a reason stays the question."""
    at, words = _at(words, known)
    if found := _AGAINST.fullmatch(words):
        return _weighed(at, found)
    if found := _OVER.fullmatch(words):
        return _taken(at, found)
    question, options, reasons = [], [], []
    plain_is_option = not words.rstrip(" .").endswith("?")
    for clause in filter(None, (one.strip(" .,") for one in _CLAUSE.split(words))):
        if (reason := _REASON.match(clause)) is not None:
            reasons.append(clause[reason.end() :])
        elif option := _OPTION.match(clause) or _TAKEN.match(clause):
            options.append(clause[option.end() :])
        elif clause.endswith("?") or not plain_is_option:
            question.append(clause)
        else:
            options.append(clause)
    fields = {"at": at, "options": "\n".join(filter(None, options)), "because": ". ".join(reasons)}
    return Parted(" ".join(question), {key: value for key, value in fields.items() if value})


_AGAINST = re.compile(
    r"(?P<seen>.*?)[,;.]*\s*(?:discussed (?:w/|with) [^,;.:]+[,;:]\s*)?"
    r"\b(?:options?|choices?|ways forward)\b(?:\s+(?:was|were|are))?\s*[:,–—-]*\s*"
    r"(?P<ways>[^.;]*?\s(?:vs\.?|versus|or)\s[^.;]*)[.;]?\s*(?P<then>.*)",
    re.IGNORECASE | re.DOTALL,
)
"""What could be seen, the ways forward against each other, and what was done then."""
_OR = re.compile(r",?\s+(?:vs\.?|versus|or)\s+", re.IGNORECASE)


def _weighed(at: str, found: re.Match[str]) -> Parted:
    """A decision whose ways forward stand against each other; the question is which of them."""
    ways = [one.strip(" ,.") for one in _OR.split(found["ways"])]
    asked = ", or ".join(filter(None, ways))
    fields = {
        "at": at,
        "visible": found["seen"].strip(" ,;.…"),
        "options": "\n".join(ways),
        "because": found["then"].strip(),
    }
    question = f"{asked[:1].upper()}{asked[1:]}?"
    return Parted(question, {key: value for key, value in fields.items() if value})


_OVER = re.compile(
    r"\W*(?:\d{1,2}\)\s*)?(?P<one>[^.;?]+?)"
    r"\s+(?P<by>rather than|instead of|vs?\.?|versus)\s+(?P<other>[^.;?]+?)\W*",
    re.IGNORECASE,
)
"""`push on rather than stop`, `stent v open`: ways forward; only the first form says which was taken."""
_OTHERS = re.compile(r",?\s+(?:vs?\.?|versus|or)\s+", re.IGNORECASE)


def _taken(at: str, found: re.Match[str]) -> Parted:
    ways = [found["one"], *_OTHERS.split(found["other"])]
    asked = ", or ".join(ways)
    chosen = found["one"] if found["by"].lower() in ("rather than", "instead of") else ""
    fields = {"at": at, "options": "\n".join(ways), "chosen": chosen}
    question = f"{asked[:1].upper()}{asked[1:]}?"
    return Parted(question, {key: value for key, value in fields.items() if value})


def _at(words: str, known: Known) -> tuple[str, str]:
    """Return the time it was made at, if one alone is told, and the words without it where it leads them."""
    times = kept.times(words, dial=of_an_eye(dict(known.tree)))
    if len(times) != 1:
        return "", words
    lead = re.compile(rf"(?:at\s+)?{re.escape(times[0])}[\s,:;.-]*", re.IGNORECASE).match(words)
    return times[0], words[lead.end() :] if lead else words
