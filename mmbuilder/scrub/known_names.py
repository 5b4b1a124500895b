"""Names that lists of names hold and no other list does: `Okonjo`, `dave` after `physio`, `jose ramirez`.

A capital is enough for such a word. In small letters it must stand beside a person's role, a cue or
another name, or in a note that has no capitals at all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.acting import names_a_thing, unlisted
from mmbuilder.scrub.keep import frames
from mmbuilder.scrub.keep.likeness import like_a_name
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.kin import KIN
from mmbuilder.scrub.words import word_set

_SMALL_LEAST = 4
_CAPITALS_LEAST = 5
_LIKE_LEAST = 5
_BESIDE = (" ", "-", "‐", ", ", ". ", ": ", " & ", "/")
_JOINS = frozenset({"and", "und", "y", "et", "aur"})
_CUES = KIN | word_set("by to from with per told asked called rang phoned bleeped name named")
_THING_BEFORE = re.compile(r"(?<!\w)(?:of|de|signe|maladie|per the|an?)\s$", re.IGNORECASE)


def known(text: str) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and reason of each name in one sentence."""
    lists = load()
    passage = Passage.of(text, lists)
    for index, word in enumerate(passage.words):
        if _is_name(passage, index) and not _of_a_thing(passage, index):
            yield word.start, word.end, "on a list of names, and on no other"
        elif _made_like_one(passage, index) and not _of_a_thing(passage, index):
            yield word.start, word.end, "on no list, and made like a name"
        elif index + 1 < len(passage.words) and _pair(passage, index):
            yield word.start, passage.words[index + 1].end, "a given name with a name after it"
        elif _relative(passage, index):
            yield word.start, word.end, "a given name after a word of the family"
        elif _joined(passage, index):
            yield word.start, word.end, "joined to a name"
        elif _eponym_acting(passage, index):
            yield word.start, word.end, "an eponym's name, in the place of a person"


def _is_name(passage: Passage, index: int) -> bool:
    word = passage.words[index]
    if not _listed(passage, index):
        return _after_given(passage, index)
    if passage.cased and word.capital:
        return not word.text.isupper() or len(word.text) >= _CAPITALS_LEAST
    if len(word.plain) < _SMALL_LEAST:
        return False
    if _in_small_hand(passage) and word.plain in passage.lists.given:
        return True
    return _in_company(passage, index)


def _after_given(passage: Passage, index: int) -> bool:
    """A family name that is an eponym too, after a given name that is nothing else: `jose ramirez`."""
    if not index or passage.between(index - 1) != " " or not _is_name(passage, index - 1):
        return False
    word, lists, before = passage.words[index], passage.lists, passage.words[index - 1].plain
    if word.plain in lists.family and not lists.known(word.plain) and before in lists.given:
        return True
    # Dwayne Purchase: a surname that is a word, with a capital in mid-sentence
    return (
        passage.cased
        and _titled_case(word.text)
        and word.plain in lists.word_names
        and lists.called(word.plain) in (None, "an ordinary word")
        and before in lists.given | lists.family
    )


def _made_like_one(passage: Passage, index: int) -> bool:
    """Whether a word in small letters, of a note that has no capitals, is on no list and looks like a name."""
    word = passage.words[index]
    if not word.text.islower() or len(word.plain) < _LIKE_LEAST or not _in_small_hand(passage):
        return False
    return unlisted(word.text, passage.lists) and like_a_name(word.plain)


def _in_small_hand(passage: Passage) -> bool:
    """Whether whoever wrote it does not bother with capitals."""
    return not passage.cased or passage.words[0].text.islower()


def _listed(passage: Passage, index: int) -> bool:
    word, lists = passage.words[index], passage.lists
    if word.plain not in lists.given and word.plain not in lists.family:
        return False
    return word.text.isalpha() and unlisted(word.text, lists)


def _in_company(passage: Passage, index: int) -> bool:
    """Whether a role, a cue or another name stands beside a word in small letters."""
    before = _neighbour(passage, index, -1)
    if before is not None:
        plain = passage.words[before].plain
        if plain in _CUES or plain in passage.lists.roles or _listed(passage, before):
            return True
    after = _neighbour(passage, index, 1)
    return after is not None and _listed(passage, after)


def _neighbour(passage: Passage, index: int, step: int) -> int | None:
    """The word beside it, past `and`; None where a sentence ends between."""
    at = index + step
    if 0 <= at < len(passage.words) and passage.words[at].plain in _JOINS:
        at += step
    if not 0 <= at < len(passage.words) or passage.between(min(at, at - step)) not in _BESIDE:
        return None
    return at


def _pair(passage: Passage, index: int) -> bool:
    """A given name, though it may be an eponym too, before a name with a capital: `Thomas Down`."""
    first, second, lists = passage.words[index], passage.words[index + 1], passage.lists
    if not passage.cased or passage.between(index) != " ":
        return False
    if not (_titled_case(first.text) and _titled_case(second.text)):
        return False
    unknown = unlisted(first.text, lists) and second.plain in lists.word_names and not passage.opens(index)
    if first.plain not in lists.given and not (
        unknown and lists.called(second.plain) in (None, "an ordinary word")
    ):
        return False
    if lists.known(first.plain) or first.plain in lists.months or first.plain in lists.titles:
        return False
    if second.plain not in lists.family and second.plain not in lists.word_names:
        return False
    said = passage.plain(index, index + 2)
    return said not in lists.eponyms and said not in lists.terms and not _of_a_thing(passage, index + 1)


def _relative(passage: Passage, index: int) -> bool:
    """A given name that is also a word or an eponym, with a capital in mid-sentence after a relative: `wife May`."""
    word, lists = passage.words[index], passage.lists
    if index == 0 or not passage.cased or not _titled_case(word.text) or word.plain not in lists.given:
        return False
    before = passage.words[index - 1].plain
    return before in KIN | {"baby"} and passage.between(index - 1) == " " and not _of_a_thing(passage, index)


def _joined(passage: Passage, index: int) -> bool:
    """A word on no list in small letters after `and` and a name: `marisol and dunstan`."""
    word = passage.words[index]
    if index < 2 or len(word.plain) < _SMALL_LEAST or not word.text.islower() or word.possessive:
        return False
    if passage.words[index - 1].text not in ("and", "&") or passage.between(index - 1) != " ":
        return False
    before = passage.words[index - 2]
    if (
        passage.between(index - 2) != " "
        or not unlisted(word.text, passage.lists)
        or not before.text.islower()
    ):
        return False
    return (_is_name(passage, index - 2) or _made_like_one(passage, index - 2)) and not _of_a_thing(
        passage, index
    )


_ONLY_SPEAKERS = word_set(
    "rang phoned said says asked asks thinks thought apologised insisted wrote texted emailed scrubbed agreed disagreed wondered replied"
)


def _eponym_acting(passage: Passage, index: int) -> bool:
    """An eponym's name, or a given name that is a word too, with a capital, that speaks: `Charcot rang`, `Kit says`."""
    word, lists = passage.words[index], passage.lists
    if not _titled_case(word.text) or word.possessive or index + 1 >= len(passage.words):
        return False
    if passage.between(index) != " " or passage.words[index + 1].plain not in _ONLY_SPEAKERS:
        return False
    if passage.words[index + 1].capital or word.plain in lists.titles or word.plain in lists.roles:
        return False
    return word.plain in lists.eponyms or word.plain in lists.given


def _titled_case(word: str) -> bool:
    return word[0].isupper() and word[1:].islower()


def _of_a_thing(passage: Passage, index: int) -> bool:
    """Whether the noun of an eponym or a measure stands beside it: `Okonjo sign`, `signs of Okonjo`, `Murray 3.2`."""
    word = passage.words[index]
    if passage.term_over(index, index + 1) or frames.by_measure(passage.text, word.start, word.end):
        return True
    if frames.graded(passage, index, index + 1):
        return True
    if _THING_BEFORE.search(passage.text[: word.start]):
        return True
    following = re.match(r"(?:[’']s)?[\s-]([a-z]+)", passage.text[word.end : word.end + 30])
    return following is not None and names_a_thing(following[1], passage.lists)
