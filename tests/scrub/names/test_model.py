"""Against the original model, run by onnxruntime (reference.json says how it was made)."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from mmbuilder.scrub.names import piece_states, pieces
from mmbuilder.scrub.names.forward import erf, logits
from mmbuilder.scrub.names.labels import LABELS
from mmbuilder.scrub.names.states import STATE
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING, VOCABULARY
from mmbuilder.scrub.names.weights import load

REFERENCE = json.loads((Path(__file__).parent / "reference.json").read_text("utf-8"))["passages"]
each = pytest.mark.parametrize("passage", REFERENCE, ids=range(len(REFERENCE)))


@each
def test_pieces_and_offsets_are_those_of_the_original_tokenizer(passage: dict[str, Any]) -> None:
    found = pieces(passage["text"])
    assert [piece.number for piece in found] == passage["numbers"]
    assert [[piece.start, piece.end] for piece in found] == passage["offsets"]


@each
def test_logits_and_labels_are_those_of_the_original_model(passage: dict[str, Any]) -> None:
    numbers = np.array([[OPENING, *passage["numbers"], CLOSING]])
    found = logits(load(), numbers)[0]
    assert found.argmax(-1).tolist() == passage["labels"]
    assert np.abs(found - np.array(passage["logits"])).max() < 1e-3


def test_padding_changes_nothing() -> None:
    numbers = [OPENING, *REFERENCE[0]["numbers"], CLOSING]
    alone = logits(load(), np.array([numbers]))[0]
    padded = logits(load(), np.array([[*numbers, 0, 0, 0], [OPENING, 500, CLOSING, *[0] * len(numbers)]]))[0]
    assert np.abs(padded[: len(numbers)] - alone).max() < 1e-3


def test_error_function_agrees_with_the_standard_library() -> None:
    points = np.linspace(-4, 4, 801, dtype=np.float32)
    assert np.abs(erf(points) - [math.erf(float(x)) for x in points]).max() < 5e-7


def test_a_line_separator_parts_words() -> None:
    # Unicode calls U+2028 a separator (Zl); the original tokenizer parts words there.
    assert [(p.start, p.end) for p in pieces("x\u2028q")] == [(0, 1), (2, 3)]


def test_a_word_too_long_is_one_unknown_piece() -> None:
    assert [(p.number, p.start, p.end) for p in pieces("a" * 101)] == [(1, 0, 101)]


def test_a_piece_knows_the_chance_of_each_of_its_labels() -> None:
    cut = pieces(REFERENCE[0]["text"])
    known, none = piece_states([cut, []])
    chances = known[:, -len(LABELS) :]
    assert len(LABELS) == 35
    assert known.shape == (len(cut), STATE)
    assert none.shape == (0, STATE)
    assert chances.argmax(-1).tolist() == REFERENCE[0]["labels"][1:-1]
    assert np.allclose(chances.sum(-1), 1)


def test_a_name_on_the_border_of_two_windows_is_seen_whole() -> None:
    for filler in range(105, 130, 3):
        cut = pieces("wound " * filler + "Seen by Amara Okonjo in clinic. " + "wound " * 100)
        labels = piece_states([cut])[0][:, -len(LABELS) :].argmax(-1)
        said = {LABELS[label][2:] for label in labels[filler + 2 : filler + 7]}
        assert {"GIVEN_NAME", "SURNAME"} <= said, filler


def test_the_weights_are_attributed() -> None:
    note = (VOCABULARY.parent / "ATTRIBUTION.md").read_text("utf-8")
    assert "National Design Studio" in note
    assert "https://creativecommons.org/licenses/by/4.0/" in note
    assert "What was changed" in note
