"""Against the original model, run by onnxruntime (reference.json says how it was made)."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from mmbuilder.scrub.names import NameModel
from mmbuilder.scrub.names.forward import erf, logits
from mmbuilder.scrub.names.labels import COLUMNS, LABELS
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING, VOCABULARY, pieces
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


def test_every_kind_has_its_begin_and_inside_labels() -> None:
    assert len(LABELS) == 35
    assert all({LABELS[i][0] for i in columns} == {"B", "I"} for columns in COLUMNS.values())


def test_names_are_found_with_their_offsets() -> None:
    text = "Seen by Amara Okonjo in clinic. Okonjo's brother lives in Huddersfield."
    hits = NameModel(0.5).find([text, ""])
    assert [(text[h.start : h.end], h.kind) for h in hits[0]] == [
        ("Amara Okonjo", "person"),
        ("Okonjo", "person"),
        ("Huddersfield", "place"),
    ]
    assert hits[1] == []


def test_a_name_on_the_border_of_two_windows_is_found_whole() -> None:
    for filler in range(105, 130, 3):
        text = "wound " * filler + "Seen by Amara Okonjo in clinic. " + "wound " * 100
        start = text.index("Amara")
        assert any(h.start <= start and h.end >= start + 12 for h in NameModel().find([text])[0]), filler


def test_the_weights_are_attributed() -> None:
    note = (VOCABULARY.parent / "ATTRIBUTION.md").read_text("utf-8")
    assert "National Design Studio" in note
    assert "https://creativecommons.org/licenses/by/4.0/" in note
    assert "What was changed" in note
