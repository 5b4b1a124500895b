"""What shows that a name is a person's: a title, a role, what people do and what is done to them."""

from __future__ import annotations

import re

from mmbuilder.scrub.keep.passage import Passage

_NAME_LENGTH = 5  # words of a name between its title and the word in question
_BY = frozenset({"by", "with", "to", "from", "per", "of", "durch", "por", "par"})

_SCORES_DO = frozenset({"fell", "went", "came", "left", "stayed"})
_BY_FIGURES = re.compile(r"\s(?:from|to|at|by|down|up)(?:\sfrom|\sto)?\s\d")


def _name_like(passage: Passage, index: int) -> bool:
    word = passage.words[index]
    initial = word.initial and (word.capital or not passage.cased)
    return initial or word.plain in passage.lists.particles or passage.named(index)


def _is_title(passage: Passage, index: int) -> bool:
    word = passage.words[index]
    if index and passage.words[index - 1].plain.isdigit() and not passage.ends(index - 1):
        return False  # "14 Fr Foley"
    if word.plain == "major" and index + 1 < len(passage.words) and _ordinary(passage, index + 1):
        return False  # "Major Haemorrhage Protocol"
    if word.text == "M":  # Monsieur
        return passage.text.startswith(". ", word.end)
    if (
        word.plain in ("major", "master", "father", "brother", "fr", "pr", "captain", "lt", "capt")
        and not word.capital
    ):
        return False
    return word.plain in passage.lists.titles


def _ordinary(passage: Passage, index: int) -> bool:
    return passage.lists.known(passage.words[index].plain)


def _list_title(passage: Passage, first: int) -> bool:
    """Whether a plural title opens the list of names before this one: "Drs Feldman, Iyer and Cho"."""
    at = first - 1
    while at >= 0 and (passage.named(at) or passage.words[at].plain in ("and", "und", "y", "et")):
        if passage.words[at].plain in passage.lists.plural_titles:
            return True
        if at and passage.between(at - 1).strip(" ") not in ("", ",", "-"):
            return False
        at -= 1
    return False


def titled(passage: Passage, first: int) -> bool:
    """Whether a title stands before the name that word `first` is part of."""
    for at in range(first - 1, max(-1, first - 1 - _NAME_LENGTH), -1):
        if _is_title(passage, at):
            return passage.between(at).strip(" .:\u00a0") in ("", "(") or passage.between(at).startswith("'")
        if passage.ends(at) or passage.between(at).strip(" .-’'") or not _name_like(passage, at):
            break
    return _list_title(passage, first)


def _before(passage: Passage, first: int) -> int:
    """Index of the word before the name, past its given names, initials and particles; -1 if none."""
    at = first - 1
    while at >= 0 and first - at <= _NAME_LENGTH:
        plain = passage.words[at].plain
        stop = plain in passage.lists.roles or plain in passage.lists.verbs_before
        if stop or passage.ends(at) or not _name_like(passage, at) or passage.between(at).strip(" .-"):
            return at
        at -= 1
    return at


def role_before(passage: Passage, first: int) -> bool:
    """Whether a role, a verb done to people, or "seen by" stands before the name."""
    at = _before(passage, first)
    if at < 0 or passage.between(at).strip(" .,:(\u00a0-/"):
        return False
    plain = passage.words[at].plain
    if plain in passage.lists.roles:
        return passage.named(first) or ":" in passage.between(at)
    if passage.ends(at):
        return False
    if plain in passage.lists.verbs_before:
        return "," not in passage.between(at)  # "Physio 32 ring, Gore neochords"
    return plain in _BY and at > 0 and passage.words[at - 1].plain in passage.lists.passives


def acts(passage: Passage, last: int) -> bool:
    """Whether what follows is what only people do; a score may fall and rise, and what bears a possessive does nothing."""
    if passage.ends(last - 1) or passage.words[last - 1].bears_s:
        return False
    verb = passage.words[last]
    if verb.plain not in passage.lists.verbs_after:
        return False
    return not (verb.plain in _SCORES_DO and _BY_FIGURES.match(passage.text, verb.end))
