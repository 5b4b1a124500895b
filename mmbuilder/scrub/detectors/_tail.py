"""What is written behind a place and belongs to it: the flat, the town, the state and its code."""

from __future__ import annotations

import re

from mmbuilder.scrub.detectors._of_place import CAP
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold

_LATER = r"[^\W\d_a-zß-öø-ÿ][^\W\d_A-Z][^\W\d_]*(?:['’-][^\W\d_]+)*"
_NEXT = re.compile(
    rf",\s(?:(?:Apt|Apartment|Flat|Unit|Suite|Floor|Room)\.?\s?\w{{1,4}}(?!\w)|(?P<name>(?:the\s)?{CAP}(?:[\s-](?:(?:of|on|upon|under|le|la|del?|des|sur|in|am|the)[\s-])?{_LATER}){{0,3}})(?!['’\w]))"
)
_CODE = re.compile(
    r",?\s[A-Z]{2,3}\s\d{4,5}(?:-\d{4})?(?!\w)|,\s(?:A[LKZR]|C[AOT]|D[CE]|FL|GA|HI|I[ADLN]|K[SY]|LA|M[ADEINOST]|N[CDEHJMVY]|O[HKR]|PA|RI|S[CD]|T[NX]|UT|V[AT]|W[AIVY]|BC|AB|ON|QC|NS|NB|SK|MB|SA|NT)(?=[\s,.;)]|$)|,?\s(?:[A-Z]{1,2}\d[\dA-Z]?\s\d[A-Z]{2})(?!\w)|,?\s\d{5}(?![\w.,]\d|\w)"
)
_PLACE_FIRST = re.compile(
    r",?\s(?:near|behind|opposite|outside|by|off|via|past|close\sto|next\sto)\s(?:the\s)?(?P<name>"
    + CAP
    + r"(?:\s(?:&\s|and\s|of\s)?"
    + _LATER
    + r"){0,3})(?!['’\w])"
)


_SMALL = re.compile(
    r",\s(?P<own>[^\W\d_A-Z][^\W\d_]{3,})(?P<tail>\s(?:end|green|cross|magna|parva|heath|common|bridge|hill))?(?=[,.;)]|$)"
)


def with_small_town(text: str, end: int) -> int:
    """Where a place ends together with its town, in small letters too: `sunnyview, holt end`."""
    found = _SMALL.match(text, end)
    lists = load()
    if found and (
        unlisted(found["own"], lists) or (found["tail"] and lists.called(fold(found["own"])) is None)
    ):
        return found.end()
    return with_town(text, end)


_WITH_CODE = re.compile(
    rf",\s{CAP}(?:[\s-](?:(?:of|on|upon|under|le|in|by|the)[\s-])?{_LATER}){{0,3}},?\s(?:[A-Z]{{1,2}}\d[\dA-Z]?\s\d[A-Z]{{2}}|[A-Z]{{2}},?\s\d{{5}}(?:-\d{{4}})?)(?!\w)"
)
"""A town with its code is one, though it has given its name to a hip: `, Exeter EX1 2AB`."""


def with_town(text: str, end: int) -> int:
    """Where a place ends together with its flat, town, state and code: `, Dunmore Falls, OH 43999`.

    A word of a town is no clinical term, and no town is behind a comma in a row of ordinary words.
    """
    coded = _WITH_CODE.match(text, end)
    if coded:
        return coded.end()
    for _ in range(4):
        code = _CODE.match(text, end)
        if code:
            return code.end()
        found = _NEXT.match(text, end) or _PLACE_FIRST.match(text, end)
        if not found:
            return end
        if found["name"] and not _town(found["name"], text, found.end()):
            return end
        end = found.end()
    return end


_NOUN = re.compile(r"(?:ung|heit|keit|schaft|tion|itis|ose|osis|ämie|pathie)$")
"""Endings of nouns that no town has; German writes them with a capital."""


_BEHIND = 16
"""Characters behind a town that show whether it ends there."""


def _town(name: str, text: str, end: int) -> bool:
    lists = load()
    words = re.findall(r"[^\W\d_]{3,}", name)
    if any(
        lists.called(fold(word)) not in (None, "an ordinary word") or _NOUN.search(word) for word in words
    ):
        return False
    if any(
        fold(word) in lists.titles or fold(word) in lists.roles or fold(word) in lists.months
        for word in words[:1]
    ):
        return False
    if not any(unlisted(word, lists) for word in words) and not (len(words) > 1 or _CODE.match(text, end)):
        return False
    return (
        re.match(
            r"(?=[,.;)\n]|$|\s(?:on|and|for|by|in|with|where|who|since|until|from)\s|,?\s[A-Z]{2,3}\s\d|\s\()",
            text[end : end + _BEHIND],
        )
        is not None
    )
