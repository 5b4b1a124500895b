"""A decision told in sentences: what it was about, what was done and why, and behind a word its alternatives.

`go on or stop. We went on: list full. Alternatives: stent; drain`. The words are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from mmbuilder.page.parts._ways import BECAUSE, OUTSIDE, Ways

_OPENS = re.compile(r"\W*decisions?(?:\s#?\d{1,2})?\s*(?::|[-–—]|\s)", re.IGNORECASE)
_OTHERS = re.compile(
    r"(?:the |our )?(?:alternatives?|other (?:options?|ways|choices?))(?:\s(?:was|were))?\s*(?::|\s[-–—])\s*",
    re.IGNORECASE,
)
_SENTENCE = re.compile(r"(?<=[.?!])\s+")
_SEMICOLON = re.compile(rf"\s*;\s*{OUTSIDE}")
_COMMA = re.compile(rf"\s*,\s*(?:or\s+)?{OUTSIDE}|\s+or\s+{OUTSIDE}")
_WHY = rf"(?:\s*:\s*|,\s+|,?\s+(?:{BECAUSE}|as|since)\s+)(?P<why>.+)"
_DONE = re.compile(
    r"(?:(?:so|then|but) )?"
    r"(?:(?:we|i|they|boss|cons) (?P<way>[^:,;]+?)|(?P<took>(?:chose|decided|opted)\b[^:,;]+?))"
    rf"(?:{_WHY})?",
    re.IGNORECASE,
)
"""`We went on: list full`, `Chose to go on because …`."""
_CHOSEN = re.compile(
    rf"(?P<about>[^,;:]+)[,;:]\s+(?P<way>[^,;:]+?)\s+(?:was )?(?:chosen|taken|picked)(?:{_WHY})?",
    re.IGNORECASE,
)
"""`size of sheath, 12/14 chosen as quicker`."""
_BECAUSE = re.compile(
    rf"(?P<lead>[^,;:]{{0,40}}?)\s*\b(?:{BECAUSE}|reason:|why:)\s+(?P<why>.+)", re.IGNORECASE
)
_TOOK = re.compile(
    r"(?:chose|decided|opted)(?: (?:to|on|for))?\s+|(?:did|took|went (?:for|with))\s+", re.IGNORECASE
)


def opens_decision(sentence: str) -> bool:
    """Whether a sentence tells a decision with its alternatives, no part of what stands before it."""
    return _OPENS.match(sentence) is not None and any(map(_OTHERS.match, _SENTENCE.split(sentence)))


def joined(sentences: Iterable[str]) -> Iterator[str]:
    """Yield the sentences of a line, those of a decision whose alternatives stand behind it together."""
    held = [*sentences]
    for place, one in enumerate(held):
        if _OPENS.match(one) and any(map(_OTHERS.match, held[place + 1 :])):
            yield from held[:place]
            yield " ".join(held[place:])
            return
    yield from held


def stated(words: str) -> tuple[str, Ways] | None:
    """Return what a decision is about and its ways forward; None where no alternatives are told behind it."""
    sentences = _SENTENCE.split(words)
    place = next((place for place, one in enumerate(sentences) if _OTHERS.match(one)), 0)
    if not place:
        return None
    about, *done = (one.strip(" .;") for one in sentences[:place])
    listed = _OTHERS.sub("", sentences[place], count=1).strip(" .;")
    parts = (_SEMICOLON if _SEMICOLON.search(listed) else _COMMA).split(listed)
    others = [one.strip() for one in parts if one.strip()]
    chosen, reasons, rest = "", list[str](), list[str]()
    if found := _CHOSEN.fullmatch(about):
        about, chosen = found["about"], found["way"]
        reasons += filter(None, [found["why"]])
    for one in done:
        said = _DONE.fullmatch(one)
        if chosen:
            rest.append(one)
        elif said:
            chosen = _way(said["way"] or said["took"], about)
            reasons += filter(None, [said["why"]])
        else:
            chosen = one
    for one in (one.strip(" .;") for one in sentences[place + 1 :]):
        why = _BECAUSE.fullmatch(one)
        leads = why is not None and (not why["lead"] or why["lead"].casefold() in chosen.casefold())
        (reasons if why else rest).append(why["why"] if why and leads else one)
    asked = about.rstrip(" ?")
    question = " ".join([f"{asked[:1].upper()}{asked[1:]}?", *rest])
    return question, Ways(tuple(filter(None, [chosen, *others])), chosen, tuple(reasons))


def _way(done: str, about: str) -> str:
    """What was done as the question has it: `went on` is its `go on`; else in its own words."""
    way = _TOOK.sub("", done, count=1).strip()
    plain = re.sub(r"^went\b", "go", way, flags=re.IGNORECASE)
    return plain if plain.casefold() in about.casefold() else way
