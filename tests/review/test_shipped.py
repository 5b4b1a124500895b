"""The shipped lists say what their classes ask for: no key too many, none too few, nothing empty."""

from __future__ import annotations

import pytest

from mmbuilder.review import lint, strength
from mmbuilder.review.strength import ORDER


@pytest.mark.parametrize("name", ["blame", "hindsight", "descriptors"])
def test_every_word_says_why_and_how_else(name: str) -> None:
    loaded = lint.load(name)
    assert loaded.source
    assert loaded.words
    for entry in loaded.words:
        assert all((entry.word, entry.why, entry.neutral))
        assert all(isinstance(form, str) and form for form in (*entry.forms, *entry.unless))


def test_every_category_has_a_strength_of_the_hierarchy_and_its_basis() -> None:
    loaded = strength._load()
    assert {category.strength for category in loaded.categories} == set(ORDER)
    for category in loaded.categories:
        assert all((category.name, category.why, category.basis, category.forms))
