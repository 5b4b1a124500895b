"""Against the tokenizer of the published model and against the forward pass in jax (reference.json says how it was made)."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from mmbuilder.scrub.judging import second
from mmbuilder.scrub.judging.chain import LABELS
from mmbuilder.scrub.judging.reading import read
from mmbuilder.scrub.judging.signs import SIGNS
from mmbuilder.scrub.names import piece_scores, pieces
from mmbuilder.scrub.names.forward import erf, logits
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING, VOCABULARY
from mmbuilder.scrub.names.weights import load

REFERENCE = json.loads((Path(__file__).parent / "reference.json").read_text("utf-8"))["passages"]
each = pytest.mark.parametrize("passage", REFERENCE, ids=range(len(REFERENCE)))


def told(passage: dict[str, Any]) -> np.ndarray[Any, np.dtype[np.float32]]:
    """The signs of its pieces, (pieces, signs)."""
    found = np.zeros((len(passage["numbers"]), SIGNS), np.float32)
    for row, its in zip(found, passage["signs"], strict=True):
        row[its] = 1
    return found


@each
def test_pieces_and_offsets_are_those_of_the_original_tokenizer(passage: dict[str, Any]) -> None:
    found = pieces(passage["text"])
    assert [piece.number for piece in found] == passage["numbers"]
    assert [[piece.start, piece.end] for piece in found] == passage["offsets"]


@each
def test_scores_are_those_of_the_model_it_was_taught_as(passage: dict[str, Any]) -> None:
    (found,) = piece_scores([pieces(passage["text"])], [told(passage)])
    assert np.abs(found - np.array(passage["logits"])).max() < 1e-3


def test_padding_changes_nothing() -> None:
    short, long = sorted(REFERENCE[:2], key=lambda passage: len(passage["numbers"]))
    together = piece_scores(
        [pieces(short["text"]), pieces(long["text"]), []], [*map(told, (short, long)), told(short)[:0]]
    )
    for found, passage in zip(together, (short, long), strict=False):
        assert np.abs(found - np.array(passage["logits"])).max() < 1e-3
    assert together[-1].shape == (0, len(LABELS))


def test_a_batch_is_padded_behind_its_closing_mark() -> None:
    numbers = np.array([[OPENING, 500, CLOSING, 0, 0]])
    found = logits(load(), numbers, np.zeros((*numbers.shape, SIGNS), np.float32))
    assert found.shape == (1, 5, len(LABELS))
    assert not found[0, 3:].any()
    assert found[0, :3].all()


def test_error_function_agrees_with_the_standard_library() -> None:
    points = np.linspace(-4, 4, 801, dtype=np.float32)
    assert np.abs(erf(points) - [math.erf(float(x)) for x in points]).max() < 5e-7


def test_a_line_separator_parts_words() -> None:
    # Unicode calls U+2028 a separator (Zl); the original tokenizer parts words there.
    assert [(p.start, p.end) for p in pieces("x\u2028q")] == [(0, 1), (2, 3)]


def test_a_word_too_long_is_one_unknown_piece() -> None:
    assert [(p.number, p.start, p.end) for p in pieces("a" * 101)] == [(1, 0, 101)]


def test_a_name_on_the_border_of_two_windows_is_seen_whole() -> None:
    for filler in range(105, 130, 3):
        text = "wound " * filler + "seen by Amara Okonjo in clinic. " + "wound " * 100
        (scores,) = second.scores([(text, read(text))])
        said = [LABELS[int(np.argmax(row))] for row in scores[filler + 2 : filler + 4]]
        assert said == ["A", "A"], filler


def test_the_weights_are_attributed() -> None:
    note = (VOCABULARY.parent / "ATTRIBUTION.md").read_text("utf-8")
    assert "National Design Studio" in note
    assert "https://creativecommons.org/licenses/by/4.0/" in note
    assert "What was changed" in note
