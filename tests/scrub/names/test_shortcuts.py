"""What is worked out faster is what the plain way gives."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.scrub.judging.signs import SIGNS
from mmbuilder.scrub.names import tokenizer
from mmbuilder.scrub.names.forward import erf, logits
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING
from mmbuilder.scrub.names.weights import load

PRINTABLE = st.text(st.characters(min_codepoint=32, max_codepoint=126), max_size=120)


@given(PRINTABLE)
def test_plain_text_is_cut_as_any_text_is(text: str) -> None:
    assert tokenizer._of_plain(text) == tokenizer._of_any(text)


@settings(max_examples=15, deadline=None)
@given(st.lists(st.lists(st.integers(4, 5_000), min_size=1, max_size=12), min_size=1, max_size=6))
def test_windows_of_any_lengths_together_score_as_each_alone(windows: list[list[int]]) -> None:
    rows = [[OPENING, *window, CLOSING] for window in windows]
    together = np.zeros((len(rows), max(map(len, rows))), np.intp)
    for padded, row in zip(together, rows, strict=True):
        padded[: len(row)] = row
    signs = np.zeros((*together.shape, SIGNS), np.float32)
    scores = logits(load(), together, signs)
    for row, found in zip(rows, scores, strict=True):
        alone = logits(load(), np.array([row]), signs[:1, : len(row)])[0]
        assert np.abs(found[: len(row)] - alone).max() < 1e-3


def test_the_error_function_is_odd_and_one_for_all_that_is_large() -> None:
    # Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 7.1.16 and 7.1.9: the limit 1, and
    # erf(-z) = -erf(z); 1 - erf(4) is 1.5e-8, less than the last bit of a float32 near 1 (from memory).
    large = np.geomspace(4, 300, 500, dtype=np.float32)
    assert np.abs(erf(large) - 1).max() < 1e-7
    assert np.array_equal(erf(-large), -erf(large))
