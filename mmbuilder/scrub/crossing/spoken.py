"""A stand-in as the reader has it: a plan holds it in English, and a German deck says `Tag 3`.

The words around it stay the author's, so that a catalogue does best with words that need no
article and no ending of their own.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, capital, fill, join, ours, wording
from mmbuilder.scrub.surrogates import BRACKETS, MONTHS, OVER_89, PLACES, ROLES, YEARS

_POSSESSIVE = re.compile(r"['’]s$")


def spoken(stand_in: str) -> SafeText:
    """Return a stand-in (`surrogates.is_stand_in`) in the language that is written now."""
    if stand_in.startswith(" "):
        return join("", (SafeText(KEY, " "), spoken(stand_in[1:])))
    if stand_in.startswith(("'s ", "’s ")):  # the genitive of the author's word before it
        return join("", (SafeText(KEY, stand_in[:3]), spoken(stand_in[3:])))
    if stand_in.startswith("("):
        return join("", (SafeText(KEY, "("), spoken(stand_in[1:-1]), SafeText(KEY, ")")))
    if whose := _POSSESSIVE.search(stand_in):
        return fill("{whose}'s", whose=spoken(stand_in[: whose.start()]))
    for shape, tell in _SHAPES:
        if found := shape.fullmatch(stand_in):
            told = tell(found)
            return capital(told) if stand_in[0].isupper() else told
    return SafeText(KEY, stand_in)  # figures alone: T+0:12, 70 to 79, [ZIP 100xx]


def _own(words: str) -> SafeText:
    return ours(KEY, words.lower())


def _letter(found: re.Match[str]) -> SafeText:
    return SafeText(KEY, found["letter"] or "")


def _lettered(found: re.Match[str]) -> SafeText:
    return join(" ", (_own(found["what"]), _letter(found)))


def _name(found: re.Match[str]) -> SafeText:
    return fill("[name {letter}]", letter=_letter(found))


def _day(found: re.Match[str]) -> SafeText:
    return fill("Day {day}", day=SafeText(KEY, found["day"]))


def _pooled(found: re.Match[str]) -> SafeText:
    sex = (_own(found["sex"]),) if found["sex"] else ()
    return join(", ", (ours(KEY, OVER_89), *sex))


def _length(found: re.Match[str]) -> SafeText:
    count, noun = int(found["count"]), found["unit"]
    if noun.startswith("week"):
        return fill("{n} week", n=count) if count == 1 else fill("{n} weeks", n=count)
    return fill("{n} day", n=count) if count == 1 else fill("{n} days", n=count)


def _decade(found: re.Match[str]) -> SafeText:
    tens = SafeText(KEY, found["tens"])
    match found["whose"].lower():
        case "his":
            return fill("in his {tens}s", tens=tens)
        case "her":
            return fill("in her {tens}s", tens=tens)
        case _:
            return fill("in their {tens}s", tens=tens)


def _one_of(words: tuple[str, ...]) -> str:
    return "|".join(map(re.escape, words))


_LENGTH = r"(?P<count>\d+) (?P<unit>days?|weeks?)"
_SHAPES: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], SafeText]], ...] = tuple(
    (re.compile(shape, re.IGNORECASE), tell)
    for shape, tell in (
        (rf"the (?:{_one_of(ROLES)})", lambda found: _own(found[0])),
        (rf"(?P<what>{_one_of((*ROLES, *PLACES))})(?: (?P<letter>[a-z]\d*))?", _lettered),
        (rf"\[(?:{_one_of(BRACKETS)})\]", lambda found: _own(found[0])),
        (r"\[name (?P<letter>[a-z]\d*)\]", _name),
        (r"Day (?P<day>−?\d+)", _day),
        (rf"{OVER_89}(?:, (?P<sex>(?:fe)?male))?", _pooled),
        (r"(?:the )?day of this meeting|under 10", lambda found: _own(found[0])),
        (r"aged 10 to 19", lambda found: wording("aged 10 to 19")),
        (
            rf"{_LENGTH} after this meeting",
            lambda found: fill("{length} after this meeting", length=_length(found)),
        ),
        (
            rf"{_LENGTH} before this meeting",
            lambda found: fill("{length} before this meeting", length=_length(found)),
        ),
        (
            rf"within {_LENGTH} of this meeting",
            lambda found: fill("within {length} of this meeting", length=_length(found)),
        ),
        (r"in (?P<whose>his|her|their) (?P<tens>\d0)s", _decade),
        (_one_of((*YEARS, *MONTHS)), lambda found: _own(found[0])),
        (
            r"for about (?P<count>\d+) months",
            lambda found: fill("for about {n} months", n=int(found["count"])),
        ),
        (
            r"for about (?P<count>\d+) years",
            lambda found: fill("for about {n} years", n=int(found["count"])),
        ),
        (
            r"about (?P<count>\d+) years before",
            lambda found: fill("about {n} years before", n=int(found["count"])),
        ),
        (
            r"about (?P<count>\d+) years after",
            lambda found: fill("about {n} years after", n=int(found["count"])),
        ),
    )
)
