"""Every detector there is, found as the scrubber finds them: a new file is tested before it has a test."""

from __future__ import annotations

import re
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.scrub.crossing.words import replace_all
from mmbuilder.scrub.layers import Patterns, detectors
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.surrogates import is_stand_in

LEAVES = detectors()
each = pytest.mark.parametrize("leaf", LEAVES.values(), ids=LEAVES.keys())


PATTERNS = Patterns()


def scrubbed(text: str) -> str:
    return replace_all(text, settle(text, PATTERNS.find([text])[0])).reveal()


def test_all_were_found() -> None:
    assert {"age_over_89", "date", "email", "national_number", "phone", "postal_code"} <= set(LEAVES)
    assert {"ip_address", "record_number", "titled_name", "url"} <= set(LEAVES)
    assert {"role_name", "library_number", "gs1", "vehicle", "health_plan", "named_place", "npi"} <= set(
        LEAVES
    )


@each
def test_it_says_what_it_is(leaf: ModuleType) -> None:
    assert leaf.__doc__
    assert "Source:" in leaf.__doc__
    assert re.search(r"https://\S+", leaf.__doc__)
    assert re.fullmatch("[A-R]", leaf.LETTER)  # 45 CFR 164.514(b)(2)(i)(A) to (R): eighteen classes
    assert leaf.KIND.lower() == leaf.KIND
    assert len(leaf.SOURCE) > 5
    assert len(leaf.EXAMPLES) >= 2
    assert len(leaf.NEAR_MISSES) >= 3


@each
def test_it_finds_its_examples(leaf: ModuleType) -> None:
    missed = [text for text in leaf.EXAMPLES if not list(leaf.find(text))]
    assert missed == []


@each
def test_it_leaves_every_near_miss_alone(leaf: ModuleType) -> None:
    touched = [text for other in LEAVES.values() for text in other.NEAR_MISSES if list(leaf.find(text))]
    assert touched == []


@each
def test_its_findings_are_in_the_text_and_bear_its_name(leaf: ModuleType) -> None:
    for text in leaf.EXAMPLES:
        for span in leaf.find(text):
            assert 0 <= span.start < span.end <= len(text)
            assert (span.kind, span.letter) == (leaf.KIND, leaf.LETTER)
            assert 0 < span.confidence <= 1
            assert is_stand_in(span.stand_in)


@each
def test_what_was_scrubbed_is_not_found_again(leaf: ModuleType) -> None:
    for text in leaf.EXAMPLES:
        once = scrubbed(text)
        assert once != text
        assert scrubbed(once) == once


def stand_in_the_text(text: str) -> None:
    """Every detector looks at each text: to make one up takes longer than to look at it."""
    for name, leaf in LEAVES.items():
        for span in leaf.find(text):
            assert 0 <= span.start < span.end <= len(text), name


@settings(max_examples=700, deadline=None)
@given(text=st.text(max_size=200))
def test_junk_never_raises(text: str) -> None:
    stand_in_the_text(text)


@settings(max_examples=200, deadline=None)
@given(text=st.text(alphabet="0123456789 +-./:()@aADM[]rn°’'", max_size=200))
def test_figures_and_signs_never_raise(text: str) -> None:
    stand_in_the_text(text)


PATHOLOGICAL = (
    "a",
    "1",
    " ",
    "a.",
    "1 ",
    "1-",
    "a@",
    "Dr A",
    "Mr ",
    "0 ",
    "::",
    "1.",
    "12/",
    "A1 ",
    "MRN ",
    "no ",
    "-a",
)


@each
def test_long_runs_come_to_an_end(leaf: ModuleType) -> None:
    # A pattern that looks again from every place at every place would not be done with these within a coffee.
    for piece in PATHOLOGICAL:
        text = piece * (60_000 // len(piece))
        assert all(0 <= span.start < span.end <= len(text) for span in leaf.find(text)), piece
