"""Is a word that could be a name used as one here? Judged by its capital and its neighbours."""

from __future__ import annotations

import re

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.words import EPONYM_NOUNS, EPONYMS, MONTHS, ORDINARY, PERSON_VERBS, TITLES

_TITLED = re.compile(rf"(?<!\w){TITLES}\s+(?:[A-Z]\.?\s*){{0,3}}$")
_LABELLED = re.compile(
    r"(?<!\w)(?:consultant|surgeon|an[a]?esthetist|nurse|assistant|registrar|trainee|patient|operator|name|by|team)"
    r"\s?:\s*$",
    re.IGNORECASE,
)
_GRADE = re.compile(r"(?:I{1,3}|IV|V)[A-Da-d]?")
_NEXT = re.compile(r"(?:['’]s?)?[\s-]+([^\W\d_]+)")
_FRAME = re.compile(r"(?:['’]s?)?((?:[\s-]+[^\W_]+){1,3})")
_MORE_NOUNS = frozenset(
    ("spot", "spots", "axis", "matter", "movement", "movements", "dots", "nodules", "line")
)
"""What follows a word that is also a surname, besides the nouns of eponyms: `Long axis`, `Gray matter`."""
_POSSESSIVE = re.compile(r"['’](?:s\b|(?!\w))")
_ARTICLE = re.compile(r"(?<!\w)(?:a|an|[Aa] size \d+|\d+ ?(?:Fr|G|mm))\s+$")
_SENTENCE = re.compile(r"(?:^|[.!?:;•]|\s[-–—])[\s\"'“‘(\[]*$")
_SHORT = 3


def titled(raw: str, start: int) -> bool:
    """Whether a title stands right before."""
    return _TITLED.search(raw, max(0, start - 40), start) is not None


def used_as_name(raw: str, start: int, end: int, word: str, keep: frozenset[str]) -> bool:
    """Whether `word` (folded), at `start` to `end` of `raw`, is meant as somebody's name."""
    if titled(raw, start) or _LABELLED.search(raw, max(0, start - 40), start):
        return True
    if _idiom(raw, start, end, word):
        return False
    common = word in ORDINARY or word in MONTHS or word in keep or _is_word(word)
    if (common or word in EPONYMS or _listed_eponym(word)) and in_eponym(raw, end):
        return False
    if not common and word not in EPONYMS and len(word) > _SHORT:
        return True
    if not capital(raw[start]):
        if len(word) == _SHORT and not common and word not in EPONYMS:
            return not _is_word(word)
        return word in EPONYMS and not common and _does(raw, end)
    if word in MONTHS and (_by_figures(raw, start, end) or _IN_MONTH.search(raw, max(0, start - 20), start)):
        return False
    if not common:
        return word not in EPONYMS or _ARTICLE.search(raw, max(0, start - 12), start) is None
    proves_nothing = opens_sentence(raw, start) or _shouted(raw, start, end)
    return not proves_nothing or _evident(raw, end, strict=word in keep)


def capital(letter: str) -> bool:
    """Whether a letter is a capital, or of a script that has none."""
    return letter.isupper() or letter.lower() == letter.upper()


def _idiom(raw: str, start: int, end: int, word: str) -> bool:
    """Whether the word is in a fixed phrase or an abbreviation: `Day surgery`, `Miller 2`, `NG tube`."""
    if word == "day" and (_DAY_AFTER.match(raw, end) or _DAY_BEFORE.search(raw, max(0, start - 20), start)):
        return True
    if word in _BLADES and _SIZE.match(raw, end):
        return True
    if word in _UNITS and _AMOUNT.search(raw, max(0, start - 8), start):
        return True
    if word == "ray" and _X.search(raw, max(0, start - 4), start):
        return True
    if word.upper() in ABBREVIATIONS and len(word) <= _SHORT:
        return (
            raw[start:end].isupper() and (len(word) > 1) and not raw[max(0, start - 20) : end + 20].isupper()
        )
    return False


def _shouted(raw: str, start: int, end: int) -> bool:
    """Whether the words around are in capitals too: `HAND MOVEMENTS ONLY`."""
    if not raw[start:end].isupper():
        return False
    around = re.findall(r"[^\W\d_]{2,}", raw[max(0, start - 20) : start])[-1:]
    around += re.findall(r"[^\W\d_]{2,}", raw[end : end + 20])[:1]
    return any(word.isupper() for word in around)


def _listed_eponym(word: str) -> bool:
    from mmbuilder.scrub.keep.lists import load

    return word in load().eponym_words


def _is_word(word: str) -> bool:
    from mmbuilder.scrub.keep.lists import load

    return word.upper() in ABBREVIATIONS or load().called(word) is not None


_DAY_AFTER = re.compile(
    r"[\s-]+(?:[−-]?\d|(?:surgery|case|cases|unit|ward|hospital|care|centre|center|zero|one|two|three|room|list"
    r"|time|shift|staff|of|after|before|patient|patients|procedure)\b)",
    re.IGNORECASE,
)
_DAY_BEFORE = re.compile(
    r"(?<!\w)(?:christmas|boxing|new year['’]?s|easter|independence|labou?r|memorial|father['’]?s"
    r"|mother['’]?s|bank|post-?op|operative|same|per|each|every|next|first)[\s-]+$",
    re.IGNORECASE,
)
_IN_MONTH = re.compile(
    r"(?<!\w)(?:in|late|early|mid|since|until|till|last|next|this|during|throughout|every|each)[\s-]+$",
    re.IGNORECASE,
)
_UNITS = frozenset({"gray", "gauge", "stone", "foot", "pound", "yard"})
_AMOUNT = re.compile(r"\d\s?$")
_X = re.compile(r"(?<!\w)[xX][\s-]?$")
_ADJECTIVE = re.compile(r"[a-z]{3,}(?:al|ic|ar|ous|ary|oid)")
_DISEASE = re.compile(r"[a-z]{2,}(?:itis|osis|oma|pathy|plasty|tomy|ectomy|phakia|cystitis|aemia|emia)")
_BLADES = frozenset({"miller", "macintosh", "mccoy", "wisconsin", "robertshaw"})
_SIZE = re.compile(r"\s(?:size\s)?[0-5](?![\d/.:])")


def opens_sentence(raw: str, start: int) -> bool:
    """Whether a capital here proves nothing. Blanks before it count for nothing: the tags of a file may have stood there."""
    first = start
    while first and raw[first - 1].isspace():
        first -= 1
    return _SENTENCE.search(raw, max(0, first - 40), start) is not None


def in_eponym(raw: str, end: int) -> bool:
    """Whether the next words make it an eponym: `catheter`, `B fracture`, `'s procedure`, `III`."""
    found = _FRAME.match(raw, end)
    if not found:
        return False
    for word in re.findall(r"[^\W_]+", found[1]):
        low = word.lower()
        if low in EPONYM_NOUNS or low.removesuffix("s") in EPONYM_NOUNS or _GRADE.fullmatch(word):
            return True
        if low in _MORE_NOUNS or _DISEASE.fullmatch(low):
            return True
        leads_on = word[0].isupper() or word.isdigit() or word in ("grade", "type", "stage")
        if not (leads_on or _ADJECTIVE.fullmatch(word)):
            return False
    return False


def _does(raw: str, end: int) -> bool:
    following = _NEXT.match(raw, end)
    return following is not None and following[1].lower() in PERSON_VERBS


def _evident(raw: str, end: int, *, strict: bool) -> bool:
    following = _NEXT.match(raw, end)
    if _POSSESSIVE.match(raw, end) or (following and following[1][0].isupper()):
        return True
    return not strict and _does(raw, end)


def _by_figures(raw: str, start: int, end: int) -> bool:
    before, after = raw[max(0, start - 6) : start], raw[end : end + 6]
    return bool(re.search(r"\d(?:st|nd|rd|th)?[\s./-]*$", before) or re.match(r"[\s.,/'-]*\d", after))
