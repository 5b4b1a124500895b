"""Words that a spreadsheet would run: what OWASP's "CSV Injection" names, and back again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.safe.formula import neutral, restored

RUNS = "=+-@\t\r＝＋－＠"
"""OWASP, "CSV Injection": equals, plus, minus, at, tab, carriage return (from memory), and the wide forms."""

TEXTS = st.text(st.sampled_from(RUNS + "\n;'\" a1|,"), max_size=12) | st.text(max_size=20)


@given(TEXTS)
def test_what_is_made_neutral_comes_back_as_it_was(text: str) -> None:
    assert restored(neutral(text)) == text


@given(TEXTS)
def test_no_cell_begins_with_what_runs_however_the_line_is_cut(text: str) -> None:
    for part in neutral(text).split(";"):
        assert not part.lstrip(' "').startswith(tuple(RUNS))


@given(st.text(st.characters(categories=["L", "N"]), max_size=20))
def test_plain_words_are_left_alone(text: str) -> None:
    assert neutral(text) == restored(text) == text


@pytest.mark.parametrize(
    ("text", "made"),
    [
        ("=1+1", "'=1+1"),
        ("-2.5 D", "'-2.5 D"),
        ("19 of 20; -1 since May", "19 of 20;' -1 since May"),
        ("3-4 a week", "3-4 a week"),
        ("'tis", "'tis"),
    ],
)
def test_examples(text: str, made: str) -> None:
    assert neutral(text) == made
