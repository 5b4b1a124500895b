"""What the sentence around a word is about: a row of clinical things, and nobody.

"Osborn, Cabrera, Wellens B, Brugada 1"; "McCoy up, Sellick off"; "Mohler back cut".
"""

from __future__ import annotations

import re

from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.kin import KIN
from mmbuilder.scrub.words import word_set

PRODUCTS = frozenset({"a device or material", "a drug or product", "an organism"})
_PERSONS = word_set(
    "he she his her him who they their we i me my us our family clinic team rota aware informed"
)
"""What a sentence about people holds, besides titles and roles."""


def in_a_clinical_row(passage: Passage, first: int, last: int) -> bool:
    """Whether the sentence holds another eponym or product, and nobody's title or role: `McCoy up, Sellick off`."""
    lists, own = passage.lists, passage.words[first].plain
    others = [word for at, word in enumerate(passage.words) if not first <= at < last]
    if any(
        word.plain in lists.roles or word.plain in lists.titles or word.plain in _PERSONS for word in others
    ):
        return False
    return any(
        word.plain != own
        and (word.capital or not passage.cased)
        and word.plain not in lists.word_names
        and (word.plain in lists.eponyms or lists.terms.get(word.plain) in PRODUCTS)
        for word in others
    )


_TERMS_AROUND = 3
_BEFORE_PEOPLE = word_set(
    "by from to with for of and & under per via cc attn dear hi thanks regards signed re"
)
_LISTING = word_set("list theatre bed bay handover team present round clinic mdt rota attended chair")


def among_terms_alone(passage: Passage, first: int, last: int) -> bool:
    """Whether a word stands before a thing in a sentence full of clinical terms that speaks of nobody: `Mohler back cut`."""
    lists = passage.lists
    if last - first != 1 or not passage.cased or passage.opens(first) or passage.words[first].bears_s:
        return False
    before = passage.words[first - 1]
    beside = passage.between(first - 1) == " "
    if before.plain in _BEFORE_PEOPLE or (
        beside and before.capital and not lists.known(before.plain) and before.plain not in lists.eponym_words
    ):
        return False
    if passage.ends(first) or not passage.between(first).startswith(" "):
        return False
    after = passage.words[last]
    person = (
        after.plain in lists.verbs_after or after.plain in lists.auxiliaries or after.plain in _BEFORE_PEOPLE
    )
    if person or not (after.text.isdigit() or (after.text.islower() and lists.known(after.plain))):
        return False
    return speaks_of_nobody(passage, first)


def speaks_of_nobody(passage: Passage, but: int) -> bool:
    """Whether a sentence is full of clinical terms and holds no title, role or word for a person, one word left out."""
    lists, terms = passage.lists, 0
    for at, word in enumerate(passage.words):
        if at == but:
            continue
        if (
            word.plain in lists.roles
            or word.plain in lists.titles
            or word.plain in _PERSONS
            or word.plain in _LISTING
        ):
            return False
        clinical = lists.called(word.plain) not in (None, "an ordinary word", "a unit")
        terms += clinical or (
            word.capital and word.plain in lists.eponym_words and word.plain not in lists.word_names
        )
    return terms >= _TERMS_AROUND


_AGED = re.compile(r"(?<!\w)\d{1,3}\s?(?:yo|y/o|yrs?|M)(?!\w)|(?<!\w)[4-9]\d\s?F(?!\w)")
_BY_SOMEBODY = re.compile(r"(?<!\w)(?:by|d/w|s/b|u/c|c/o|under|per|attn|[Dd]ear)\s[^\W\d_a-z]")
_PARTS = re.compile(r"[,;:/+()\n]|\s[–−-]\s")
_JOINING = word_set("and or vs v then with plus not no after before also")
_SIDE_BY_SIDE = (" ", "-", "‐")
_LETTER = re.compile(r"\d{1,3}[a-zA-Z]?|[IVX]{1,4}[a-dA-D]?|[A-D]\d?")
_BESIDE_SHARED = 2
_BESIDE_UNKNOWN = 4


def in_a_row(passage: Passage, first: int, last: int) -> str | None:
    """Reason to keep a word that is an item of a row of things in a sentence that speaks of nobody, or None.

    An eponym that is also a common surname needs a few things in the row and one right beside it; a word on no
    list needs more, and one on either side. What ends the row may be who signed it: then the item before must be
    an eponym without a figure.
    """
    lists, words = passage.lists, passage.words[first:last]
    if not passage.cased or not words[0].capital or len(words) > 2:
        return None
    shared = passage.plain(first, last) in lists.shared
    if not shared and any(word.plain in lists.given or word.plain in lists.word_names for word in words):
        return None
    if not (sides := _sides(passage, first, last)):
        return None
    before, after = sides
    things, strangers = _in_clause(passage, first, last)
    left, right = _holds_a_thing(passage, before), _holds_a_thing(passage, after)
    if shared:
        ends = not len(after) and not (left and not _figured(passage, before))
        fits = things >= _BESIDE_SHARED and things > strangers and (left or right) and not ends
    else:
        fits = things >= _BESIDE_UNKNOWN and things > 2 * strangers and left and right
    return "one of a row of things, and nobody named in it" if fits else None


def is_an_item(passage: Passage, first: int, last: int) -> bool:
    """Whether a stretch is an item of a row in a sentence that speaks of nobody."""
    return _sides(passage, first, last) is not None


def _sides(passage: Passage, first: int, last: int) -> tuple[range, range] | None:
    """The items on either side of a stretch that is one itself, in a sentence that speaks of nobody."""
    before, after = _item_before(passage, first), _item_after(passage, last)
    if before is None or after is None or _speaks_of_people(passage):
        return None
    return before, after


def _speaks_of_people(passage: Passage) -> bool:
    """Whether a title, a role, a relative, an age or what only people do stands in the sentence."""
    lists = passage.lists
    if _AGED.search(passage.text) or _BY_SOMEBODY.search(passage.text):
        return True
    people = lists.roles | lists.titles | _PERSONS | _LISTING | KIN | lists.verbs_after | lists.verbs_before
    return any(word.plain in people and not word.capital for word in passage.words) or any(
        word.plain in lists.roles | lists.titles for word in passage.words
    )


def _item_before(passage: Passage, first: int) -> range | None:
    """Words of the item before, none where the clause begins; None where the word itself does not begin an item."""
    if passage.opens(first):
        return range(first, first)
    if passage.words[first - 1].plain not in _JOINING and not _PARTS.search(passage.between(first - 1)):
        return None
    at = first - 1
    while at > 0 and not passage.opens(at) and not (_PARTS.search(passage.between(at - 1)) and at < first):
        at -= 1
    return range(at, first)


def _item_after(passage: Passage, last: int) -> range | None:
    """Words of the item after, none where the clause ends; None where what follows is said of the word as of a person."""
    while not passage.ends(last - 1) and not _PARTS.search(passage.between(last - 1)):
        word = passage.words[last]
        if word.plain in _JOINING:
            break
        noun = (
            word.text.islower()
            and passage.lists.known(word.plain)
            and word.plain not in passage.lists.auxiliaries
        )
        if not noun and not _LETTER.fullmatch(word.text):
            return None
        last += 1
    if passage.ends(last - 1):
        return range(last, last)
    end = last + 1
    while not passage.ends(end - 1) and not _PARTS.search(passage.between(end - 1)):
        end += 1
    return range(last, end)


def _in_clause(passage: Passage, first: int, last: int) -> tuple[int, int]:
    """How many things, and how many words on no list with a capital, stand in the clause besides."""
    begin, end = first, last
    while not passage.opens(begin):
        begin -= 1
    while not passage.ends(end - 1):
        end += 1
    others = [at for at in range(begin, end) if not first <= at < last]
    return sum(_is_thing(passage, at) for at in others), sum(_is_stranger(passage, at) for at in others)


def _is_thing(passage: Passage, at: int) -> bool:
    word, lists = passage.words[at], passage.lists
    if not word.capital or word.plain in lists.word_names:
        return False
    return word.plain in lists.eponym_words or lists.terms.get(word.plain) in PRODUCTS


def _is_stranger(passage: Passage, at: int) -> bool:
    word, lists = passage.words[at], passage.lists
    if not word.capital or word.text.isupper() or passage.opens(at) or word.plain in lists.shared:
        return False
    return not _is_thing(passage, at) and not lists.known(word.plain)


def _holds_a_thing(passage: Passage, item: range) -> bool:
    """Whether an item is a thing, or has a figure: `Bishop 7`."""
    return any(_is_thing(passage, at) for at in item) or (len(item) > 1 and _figured(passage, item))


def _figured(passage: Passage, item: range) -> bool:
    return any(passage.words[at].text[0].isdigit() for at in item)
