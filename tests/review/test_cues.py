"""The look before an expression is compiled never misses what the expression finds."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.review import lint, strength
from mmbuilder.review.phrases import cues, pattern, possible, squeezed
from mmbuilder.review.strength import _load

FORMS = [(form, category.name) for category in _load().categories for form in category.forms]
SEPARATORS = st.sampled_from([" ", "-", "  ", " – "])


@st.composite
def said(draw: st.DrawFn) -> tuple[str, str]:
    """A form of a category as somebody may write it, among other words."""
    form, category = draw(st.sampled_from(FORMS))
    groups = _load().groups
    expanded = re.sub(r"<(\w+)>", lambda name: groups[name[1]], form)
    words = [draw(st.sampled_from(token.split("|"))) for token in expanded.split() if token != "..."]
    words = [word.replace("*", "ness").replace("_", "thing") for word in words]
    text = words[0] + "".join(draw(SEPARATORS) + word for word in words[1:])
    text = draw(st.sampled_from([text, text.upper(), text.replace("'", "’"), text.replace("-", " ")]))
    return f"We will see that {text} before long", category


@settings(deadline=None)  # the first example compiles every expression of the hierarchy
@given(said())
def test_what_an_expression_finds_is_possible(found: tuple[str, str]) -> None:
    text, _ = found
    groups = _load().groups
    for category in _load().categories:
        for phrases in (category.forms, category.unless):
            if phrases and re.search(pattern(phrases, groups), text, re.IGNORECASE):
                assert possible(cues(phrases, groups), squeezed(text))


@settings(deadline=None)
@given(said())
def test_a_form_is_found_whether_or_not_it_was_looked_for_first(found: tuple[str, str]) -> None:
    text, _ = found
    looked = strength.implied(text)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(strength, "possible", lambda wanted, plain: True)
        assert strength.implied(text) == looked


def test_most_categories_are_not_read_for_a_plain_action() -> None:
    plain = squeezed("A count of swabs is written on the board")
    wanted = [
        category for category in _load().categories if possible(cues(category.forms, _load().groups), plain)
    ]
    assert len(wanted) < len(_load().categories) / 2


def test_what_cannot_be_there_is_not_possible() -> None:
    wanted = cues(["double ... check|checks", "sloppy*", "_ fault"])
    assert possible(wanted, squeezed("a Double-checked"))  # a superset: it is read, and not found
    assert possible(wanted, squeezed("SLOPPINESS")) is False
    assert possible(wanted, squeezed("sloppyness"))
    assert possible(wanted, squeezed("by de-fault"))
    assert not possible(wanted, squeezed("a single check"))


@st.composite
def sentences(draw: st.DrawFn) -> str:
    """Words of both lists, in any order, between others."""
    forms = [
        form
        for name in ("blame", "hindsight")
        for one in lint.load(name).words
        for form in one.forms or (one.word,)
    ]
    words = st.sampled_from([word for form in forms for token in form.split() for word in token.split("|")])
    others = st.sampled_from(
        ["the", "team", "plate", "by", "default", "later", "of", "and", "it", "was", "not"]
    )
    return " ".join(draw(st.lists(st.one_of(words, others), min_size=1, max_size=25)))


@settings(deadline=None)
@given(sentences(), st.sampled_from(["blame", "hindsight"]))
def test_a_list_is_read_as_one_expression_of_all_its_words_would_be(text: str, name: str) -> None:
    words = lint.load(name)
    forms = (pattern(one.forms or (one.word,), words.groups) for one in words.words)
    whole = re.compile("|".join(f"(?P<w{n}>{form})" for n, form in enumerate(forms)), re.IGNORECASE)
    expected = [(m.start(), m.end(), int((m.lastgroup or "")[1:])) for m in whole.finditer(text)]
    assert list(lint._matches(name, text)) == expected
