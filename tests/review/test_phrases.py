"""What the word lists' notation means, and that every line of the lists is written in it."""

from __future__ import annotations

import re

import pytest

from mmbuilder.review import lint, strength
from mmbuilder.review.phrases import pattern

GROUPS = {"device": "pump|ventilator"}


def _found(phrase: str, text: str) -> str | None:
    match = re.search(pattern([phrase], GROUPS), text, re.IGNORECASE)
    return match and match[0]


@pytest.mark.parametrize(
    ("phrase", "text", "found"),
    [
        ("missed beat|beats", "two missed  beats", "missed  beats"),
        ("missed beat|beats", "unmissed beat", None),
        ("missed beat|beats", "missed beating", None),
        ("red flag", "a Red-flag sign", "Red-flag"),
        ("double-check", "doublecheck", "doublecheck"),
        ("double-check", "double\ncheck", "double\ncheck"),
        ("careless*", "carelessness", "carelessness"),
        ("_ fault", "whose fault", "whose fault"),
        ("_ fault", "fault", None),
        ("_'s fault", "the registrar’s fault", "registrar’s fault"),
        ("human ... error", "human error", "human error"),
        ("human ... error", "human and other small error", "human and other small error"),
        ("human ... error", "human one two three four error", None),
        ("human ... error", "human. An error", None),
        ("<device> fault", "ventilator fault", "ventilator fault"),
        ("<device>'s fault", "the pump's fault", "pump's fault"),
        ("c. diff", "c. diff", "c. diff"),
        ("c. diff", "cx diff", None),
    ],
)
def test_notation(phrase, text, found):
    assert _found(phrase, text) == found


def test_a_phrase_cannot_end_in_anything():
    with pytest.raises(ValueError, match="cannot end"):
        pattern(["human ..."])


def test_a_group_that_is_not_named_stops_at_once():
    with pytest.raises(KeyError):
        pattern(["<gadget> fault"])


@pytest.mark.parametrize("name", ["blame", "hindsight", "descriptors"])
def test_every_line_of_a_word_list_can_be_read(name):
    words = lint.load(name)
    assert words.source
    for entry in words.words:
        for phrase in (*entry.forms, *entry.unless):
            assert re.compile(pattern([phrase], words.groups))
            assert phrase == " ".join(phrase.split())
    assert len({entry.word for entry in words.words}) == len(words.words)


def test_every_line_of_the_hierarchy_can_be_read():
    for place, category in enumerate(strength._load().categories):
        assert strength._patterns(place)
        assert category.basis
        assert category.why
    names = [category.name for category in strength._load().categories]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("name", ["blame", "hindsight"])
def test_every_exception_of_a_list_touches_a_word_of_its_own(name):
    """An exception that does not hold one of its word's forms could never spare anything."""
    words = lint.load(name)
    for entry in words.words:
        stems = {
            token.rstrip("*")[:4].lstrip("_'’")
            for form in (entry.forms or (entry.word,))
            for part in form.split()
            for token in part.split("|")
        } - {""}
        for phrase in entry.unless:
            assert any(stem in phrase for stem in stems), (entry.word, phrase)
