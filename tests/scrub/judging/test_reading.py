"""How a sentence is cut, and what the lists say of its words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.scrub.judging.features import features
from mmbuilder.scrub.judging.reading import flags, read


def shapes(text: str) -> list[tuple[str, str]]:
    return [(token.text, token.shape) for token in read(text)]


def test_words_figures_and_signs_each_have_a_shape() -> None:
    assert shapes("K. O'Neill, st4: 12 mg XRAY McCoy x Swan-Ganz's") == [
        ("K", "I"), (".", "."), ("O'Neill", "A"), (",", ","), ("st4", "9"), (":", ":"), ("12", "1"), ("mg", "a"),
        ("XRAY", "X"), ("McCoy", "M"), ("x", "i"), ("Swan-Ganz's", "A"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("word", "letter"),
    [("nurse", "r"), ("dr", "t"), ("wife", "k"), ("foley", "e"), ("swan-ganz", "e"), ("propofol", "D"), ("grace", "w"), ("asked", "v")],
)  # fmt: skip
def test_a_list_is_told_by_its_letter(word: str, letter: str) -> None:
    assert letter in flags(word)


def test_a_double_name_is_no_word_because_of_its_half() -> None:
    assert "o" not in flags("zelandrou-bells")
    assert flags("zelandrou") == ""


@given(st.text(max_size=80))
def test_tokens_lie_in_the_text_in_order_and_leave_out_only_spaces(text: str) -> None:
    tokens, last = read(text), 0
    for token in tokens:
        assert text[token.start : token.end] == token.text
        assert not text[last : token.start].strip()
        last = token.end
    assert not text[last:].strip()
    assert len(features(tokens)) == len(tokens)


def test_a_name_is_not_known_by_heart(monkeypatch: pytest.MonkeyPatch) -> None:
    # Two names on the same lists are seen alike, but for the letters they are made of.
    monkeypatch.setattr("mmbuilder.scrub.judging.features.likeness", lambda plain: 1)

    def seen(name: str) -> set[str]:
        return {
            one for one in features(read(f"asked {name} to review"))[1].all() if not one.startswith("gr ")
        }

    assert seen("quendalin") == seen("quendalan")
