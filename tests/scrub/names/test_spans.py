from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.scrub.names import windows
from mmbuilder.scrub.names.spans import spans
from mmbuilder.scrub.names.tokenizer import pieces


def found(text: str, *named: str) -> list[str]:
    """Spans when each piece that starts inside one of `named` is surely a person."""
    cut = pieces(text)
    inside = [(text.index(name), text.index(name) + len(name)) for name in named]
    chance = [float(any(a <= p.start < b for a, b in inside)) for p in cut]
    hits = spans(text, cut, {"person": chance, "place": [0.0] * len(cut)}, 0.5)
    return [text[hit.start : hit.end] for hit in hits]


@pytest.mark.parametrize(
    ("text", "named", "expected"),
    [
        ("saw O'Quillan today", ["Quillan"], ["O'Quillan"]),
        ("by Zelandri-Voss today", ["Voss"], ["Zelandri-Voss"]),
        ("Zelandri's wound", ["Zelandri"], ["Zelandri"]),
        ("A. B. Zelandri, Voss", ["A", "B", "Zelandri", "Voss"], ["A. B. Zelandri", "Voss"]),
        ("Zelandri  Voss", ["Zelandri", "Voss"], ["Zelandri  Voss"]),
        ("no one", [], []),
    ],
)
def test_whole_words_and_neighbours_become_one_name(text: str, named: list[str], expected: list[str]) -> None:
    assert found(text, *named) == expected


@given(st.text(max_size=200))
def test_offsets_stay_inside_and_in_order(text: str) -> None:
    cut = pieces(text)
    assert all(0 <= p.start < p.end <= len(text) for p in cut)
    hits = spans(text, cut, {"person": [1.0] * len(cut)}, 0.5)
    assert all(0 <= hit.start < hit.end <= len(text) for hit in hits)
    assert all(a.end <= b.start for a, b in pairwise(hits))


@given(st.integers(0, 1500))
def test_windows_judge_every_piece_once(count: int) -> None:
    cut = list(windows.cut(0, count))
    assert [i for w in cut for i in range(w.first, w.last)] == list(range(count))
    assert all(w.start <= w.first < w.last <= w.end <= w.start + windows.LENGTH for w in cut)


def test_batches_hold_every_window_and_stay_small() -> None:
    every = [w for text in range(60) for w in windows.cut(text, text * 7)]
    groups = list(windows.batches(every))
    assert sorted(w.text for g in groups for w in g) == sorted(w.text for w in every)
    assert all(len(g) * (max(w.end - w.start for w in g) + 2) <= windows.BATCH for g in groups)
