"""What the detectors of names share: the form of a name, and the keep-guard's word on it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import EPONYM_NOUNS, word_set

_PARTICLE = r"(?:(?:van|von|v\.|der|den|de|del|della|di|da|dos|du|la|le|ter|ten|bin|binti|ibn|al|el|zu)[\s-])"
_CAP = r"[^\W\d_a-zß-öø-ÿ][^\W\d_]*(?:['’`‐-](?!s\b)[^\W\d_]+)*"
_INITIALS = r"(?:(?:[A-Z]|(?:Ll|Th|Chr?|Wm|Geo|Md|Mohd)(?=\.))(?:\.[\s-]?|\s)){0,3}"
NAME = rf"{_INITIALS}{_PARTICLE}{{0,3}}{_CAP}(?:\s{_PARTICLE}{{0,3}}{_CAP}){{0,3}}"
"""Initials, particles and up to four words with a capital."""

_AROUND = 200
"""Characters on each side of a candidate that the guard reads."""


def judged(
    text: str, start: int, end: int, kind: str, confidence: float, *, small: bool = False
) -> Iterator[Span]:
    """Yield the candidate if the guard does not keep it, trimmed of words that are no part of a name."""
    from mmbuilder.scrub.keep import Guard, Verdict
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    words = [found.span() for found in re.finditer(r"[^\W\d_]+(?:['’‐-][^\W\d_]+)*\.?", text[start:end])]
    plain = [text[start + a : start + b] for a, b in words]
    while plain and _no_name(plain[0], lists.titles | lists.roles) and len(plain) > 1:
        plain.pop(0)
        words.pop(0)
    while plain and (
        _abbreviation(plain[-1], plain)
        or _known(plain[-1], lists, small=small)
        or (plain[-1] in ("Day", "Week") and _FIGURE.match(text, start + words[-1][1]))
    ):
        plain.pop()
        words.pop()
    initial = bool(plain) and len(plain[0].rstrip(".")) == 1 and plain[0][0].isupper() and len(plain) > 1
    if (
        not plain
        or (plain[0].rstrip(".").lower() in _NOT_NAMES and not initial)
        or _thing(text, start + words[-1][1])
    ):
        return
    if all(len(word.rstrip(".")) < 2 for word in plain):
        return
    first, last = start + words[0][0], start + words[-1][1]
    begin = max(0, first - _AROUND)
    judgement = Guard(text[begin : last + _AROUND]).judge(first - begin, last - begin, 1.0)
    far = len(plain) > 1 and judgement.reason.startswith(
        "stands by"
    )  # the noun is not right behind: see _thing
    if judgement.verdict is not Verdict.KEEP or far:
        yield Span(first, last, kind, "A", "[name]", confidence)


_FIGURE = re.compile(r"\s[−-]?\d")
"""`reviewed by Dr Quorrin Day 3`: what stands before the figure belongs to it."""

_NOT_NAMES = word_set(
    """
    practitioner specialist consultant manager led associate educator anaesthetist blood management unknown none yes no nil
    present absent aware consent name same not who the and that is was had has asked felt then to on in at for of a an if
    no-one nobody somebody everyone all both he she it they we i you his her their this these those there here when while
    """
)
"""Words with a capital that begin no name: `Nurse Practitioner`, `patient Blood Management`."""


def _thing(text: str, end: int) -> bool:
    """Whether the noun of an eponym follows: `Sister Mary Joseph nodule`."""
    following = re.match(r"[\s-]+([^\W\d_A-Z]+)", text[end : end + 30])
    return following is not None and following[1] in EPONYM_NOUNS


def _no_name(word: str, titles: frozenset[str]) -> bool:
    return word.lower().rstrip(".") in titles


def _abbreviation(word: str, every: list[str]) -> bool:
    """Whether a word is an abbreviation in capitals, and not a surname among capitals."""
    return word in ABBREVIATIONS or (word.isupper() and 1 < len(word) <= 4 and not every[0].isupper())


def _known(word: str, lists: object, *, small: bool) -> bool:
    from mmbuilder.scrub.keep.lists import Lists
    from mmbuilder.scrub.keep.words import fold

    assert isinstance(lists, Lists)
    plain = fold(word.rstrip("."))
    if plain in lists.word_names:
        return small
    if word.isupper() and len(word) > 1 and lists.plain_word(plain):
        return True
    return plain not in lists.eponym_words and (
        lists.called(plain) is not None or plain in lists.heads or lists.plain_abroad(plain)
    )
