"""Ways forward of a decision as a note writes them: which of them was taken, and the reason beside it.

The words are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

OUTSIDE = r"(?![^()\[\]]*(?<!\s\w)[)\]])"
"""Behind what parts ways forward: it stands in no brackets. That of `b) pack` opens none."""
BETWEEN = re.compile(rf"(?:(?<!\d)\s+/\s+|\s+/\s+(?!\d)){OUTSIDE}")
"""Between two ways forward: a stroke with spaces, that is no blood pressure and stands in no brackets."""
_AGAINST = re.compile(rf"{BETWEEN.pattern}|\s(?:vs?\.?|versus|rather than|instead of)\s", re.IGNORECASE)
"""Stands in a line that holds several ways forward by itself."""

BECAUSE = r"because(?: of)?|coz|cos|b/c"
"""Before a reason, as notes write it."""
_TOOK = r"did|chose|took|picked|went (?:for|with)|decided on|opted for"
_DONE = (
    r"(?:(?:this is |that is |that's )?(?:what|which|as|the one)? ?)(?:(?:we|i|they|boss|cons) )?"
    rf"(?:{_TOOK}|done|chosen|taken|went ahead)(?: (?:this|that|it|so))?(?: (?:one|way))?"
    r"|(?:this|that)(?: one| way)?|(?:our|my|the) choice"
)
_WHY_TAKEN = (
    rf"(?:\s*[,;:–—-]?\s*\b(?:{BECAUSE}|as|since)\s+(?P<why>[^()\[\]]+?)|[,;:]\s+(?P<since>[^()\[\]]+?))?"
)
_TAKEN_BEHIND = re.compile(
    rf"\s*(?:[(\[]\s*(?:{_DONE}){_WHY_TAKEN}\s*[!.]?\s*[)\]]|(?:<[-=–]*|←|⇐)\s*(?:{_DONE})\b|[✓✔☑]"
    rf"|(?:\s[-–—=]+>?|[,:=])\s*(?:{_DONE})(?=[\s.!]*$))[!.]*",
    re.IGNORECASE,
)
"""`(did)`, `- did this`, `<- chosen`, `(what we did)`, `(done as quick)`: behind the way that was taken."""
_TAKEN_BEFORE = re.compile(
    r"(?:\[x\]|[✓✔☑]|(?:we |i )?(?:did|done|chose|chosen|took|taken)\s*[:=–—-]+)\s*", re.IGNORECASE
)
"""`did: pack`, `[x] pack`."""
_EMPTY_BOX = re.compile(r"\[\s?\]\s*")
_OF_THOSE = re.compile(
    rf"(?:->\s*)?(?:(?:so |then )?(?:we |i |they )?(?:{_TOOK})|chosen|choice|taken)"
    r"\s*[:=]?\s+(?:the )?(?:no\.? ?|number |option |way )?(?P<which>\S.*?)[\s.]*",
    re.IGNORECASE,
)
"""`chose 2`, `went for the second`, `did: pack`: a line of its own that names one of those above it."""
_THEN_TAKEN = re.compile(rf"\s*[,;:–—]\s+(?=(?:so |then )?(?:we |i |they )?(?:{_TOOK})\b)", re.IGNORECASE)
"""`stent v open, went for stent`."""
_NTH = {word: place for place, word in enumerate(("first", "second", "third", "fourth", "fifth"), 1)}

REASON = re.compile(
    rf"\W{{0,3}}(?:the )?(?:(?:reasons?(?: (?:was|were|being))?|rationale|{BECAUSE})\b\s*[:=–—-]*\s*"
    r"|why\s*[:=–—-]+\s*|(?:as|since)\s+(?!(?:above|below|planned)\b))(?=\S)",
    re.IGNORECASE,
)
"""What begins a reason; `Why not convert?` asks something."""
_THOUGHT = re.compile(r"(?:(?:i|we|boss|cons) )?(?:thought|felt|judged|reckoned)\b", re.IGNORECASE)
"""The same, and its words are kept."""
_REASON_BEHIND = re.compile(
    rf"\s*(?P<by>[,.;(–—-]*)\s*(?<![\w-])"
    rf"(?:(?:{BECAUSE})\b\s*:?|(?:reasons?(?: was)?|rationale|why)\s*[:=]"
    r"|(?<=[,.;(–—-] )reason\b(?! (?:to|for|why))|(?<=\()(?:as|since|reason)\b)\s*(?P<why>\S.*?)\s*$",
    re.IGNORECASE | re.DOTALL,
)


@dataclass(frozen=True)
class Ways:
    """What a list of ways forward tells.

    Attributes:
        chosen: the one that was taken, in its words; empty where none or several are said to be.
        reasons: why, in the order of the list.
    """

    options: tuple[str, ...]
    chosen: str = ""
    reasons: tuple[str, ...] = ()


def read(entries: Iterable[str]) -> Ways:
    """Return the ways forward of a list, with what stands beside them for the choice and its reason."""
    options, taken, reasons = list[str](), list[str](), list[str]()
    for entry in (one for each in entries for one in _THEN_TAKEN.split(each)):
        way, why = _reason_apart(_plain(entry).strip(" ,;"))
        if why and not way:
            reasons.append(why)
            continue
        if (named := _named(way, options)) is not None:
            taken.append(named[0])
            why = why or named[1]
        else:
            of_those = _OF_THOSE.fullmatch(way) if options else None
            if of_those and (like := _like(of_those["which"], options)):
                taken.append(like)
                reasons += [why] if why else []
                continue
            marked = is_taken(way) or of_those is not None
            way, since = _bare(of_those["which"] if of_those else way)
            taken += [way] if marked else []
            reasons += [since] if since else []
            options.append(way)
        reasons += [why] if why else []
    chosen = taken[0] if len({*taken}) == 1 else ""
    return Ways(tuple(filter(None, options)), chosen, tuple(reasons))


def _like(words: str, options: Iterable[str]) -> str:
    """Return the one way forward that shares a telling word: `Did reversed vein interposition`."""
    own = _telling(words)
    fits = [one for one in options if own & _telling(one)]
    return fits[0] if len(fits) == 1 else ""


def _telling(words: str) -> set[str]:
    return {word for word in re.findall(r"[^\W\d_]+", words.casefold()) if len(word) >= _LONG}


_LONG = 5
"""Letters of a word that tells two ways forward apart (common practice, no source)."""
_ALIKE = 4
"""Letters that a verb has in common with its past: `carry on`, `carried on` (common practice, no source)."""


def told_by(sentence: str, options: Iterable[str]) -> str:
    """Return the way forward that a sentence behind them tells to have been gone: `packed, as alone`."""
    first = [] if _NOT_TAKEN.match(sentence) else sentence.split()[:1]
    fits = [
        one for one in options if first and one.split()[0][:_ALIKE].casefold() == first[0][:_ALIKE].casefold()
    ]
    return fits[0] if len(fits) == 1 and len(first[0]) > _ALIKE else ""


_NOT_TAKEN = re.compile(r"(?:\S+\s){1,2}(?:not|never)\b", re.IGNORECASE)
"""`Shunt not used`."""
_GONE_ON = re.compile(
    r"(?!(?i:bleed|ooz|leak|drip|pain|alarm|losse))(?:(?:(?i:so|then|but|and|we|i|they|boss|cons)|[A-Z][\w'’-]*\.?)\s){0,4}"
    r"(?P<way>(?i:carried on|went ahead|pressed on|pushed on|kept going)\b[^,;.]*?)"
    r"(?:(?:[,;.]\s*|\s[-–—]+\s|\s(?=(?i:because|cos|as|since)\s(?!(?i:planned|before|above|usual)\b)))"
    r"(?:(?i:because|cos|as|since)\s)?(?P<why>[^.;]*))?[.;]?\s*"
)
_SO_NOT = re.compile(
    r"[^,;.]{3,60}?,?\sso\s(?:no|not|no longer|did not|didn't|could not|couldn't)\s\S", re.IGNORECASE
)
_LATER = re.compile(
    r"\b(?:in hindsight|in retrospect|looking back|(?:sh(?:oul)?d|could)(?: have|['’]ve)|shoulda)\b",
    re.IGNORECASE,
)


def gone_on(sentence: str) -> tuple[str, str] | None:
    """Return how it went on by a sentence behind the ways forward, and why: `went ahead, nearly done`."""
    found = _GONE_ON.fullmatch(sentence.strip())
    return (found["way"].strip(), (found["why"] or "").strip()) if found else None


def settles(line: str) -> bool:
    """Whether a sentence behind a decision tells what was chosen, or why: `Cold so no primary repair`."""
    first = re.split(r"(?<=[.;])\s", line.strip(), maxsplit=1)[0]
    return gone_on(first) is not None or _SO_NOT.match(line) is not None


def without_thought(sentence: str) -> str:
    """Return a sentence without what looks back in it, which is no reason that counted at the time."""
    if (thought := _LATER.search(sentence)) is None:
        return sentence.strip()
    cuts = [*re.finditer(r"[,;]\s|\s[-–—]\s", sentence[: thought.start()])]
    return sentence[: cuts[-1].start()].strip() if cuts else ""


def is_taken(way: str) -> bool:
    """Whether a way forward is marked as the one that was taken."""
    return bool(_TAKEN_BEFORE.match(way) or _TAKEN_BEHIND.search(_plain(way)))


def holds_several(line: str) -> bool:
    """Whether a line holds several ways forward by itself."""
    return _AGAINST.search(_plain(line)) is not None


def _plain(words: str) -> str:
    return " ".join(words.split())


def is_reason(line: str) -> bool:
    """Whether a line is nothing but a reason."""
    return REASON.match(line) is not None


def stands_alone(line: str) -> bool:
    """Whether a line is no way forward by its own words: a reason, or one that names what was taken."""
    return (
        is_reason(line) or _THOUGHT.match(line) is not None or _OF_THOSE.fullmatch(_plain(line)) is not None
    )


def _bare(way: str) -> tuple[str, str]:
    """A way forward without its mark, and the reason that the mark gives."""
    found = _TAKEN_BEHIND.search(way)
    before = _TAKEN_BEFORE.match(way) or _EMPTY_BOX.match(way)
    since = (found["why"] or found["since"] or "") if found else ""
    text = f"{way[: found.start()]}{way[found.end() :]}" if found else way
    return text[before.end() if before else 0 :].strip(" ,.;:–—-"), since.strip(" .")


def _reason_apart(entry: str) -> tuple[str, str]:
    """An entry without the reason at its end, and the reason."""
    if (led := REASON.match(entry)) is not None:
        return "", entry[led.end() :].strip(" .)")
    if _THOUGHT.match(entry):
        return "", entry.strip(" .")
    if (found := _REASON_BEHIND.search(entry)) is None:
        return entry, ""
    why = found["why"].strip(" .")
    closed = why.removesuffix(")") if "(" in found["by"] else why
    return entry[: found.start()].rstrip(" ,;"), closed.strip(" .")


_SINCE = re.compile(r"[\s,]+(?:as|since)\s+", re.IGNORECASE)


def _named(line: str, options: list[str]) -> tuple[str, str] | None:
    """The way above that a line says was taken, by its number or by words that begin it alone, and why."""
    found = _OF_THOSE.fullmatch(line) if options else None
    if found is None:
        return None
    which, *why = _SINCE.split(found["which"], 1)
    which = which.casefold()
    letter = ord(which) - ord("a") + 1 if len(which) == 1 and which.isalpha() else 0
    place = int(which) if which.isdecimal() else letter or _NTH.get(which.split()[0], 0)
    fits = (
        options[place - 1 : place] if place else [one for one in options if one.casefold().startswith(which)]
    )
    return (fits[0], " ".join(why)) if len(fits) == 1 else None
