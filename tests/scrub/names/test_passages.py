"""The invented passages: enough of them, split by a hash, and the figures of the held-out half kept."""

from __future__ import annotations

from mmbuilder.scrub.keep import Verdict
from mmbuilder.scrub.names import NameModel
from tests.scrub.names.corpus import CLEAN, NAMED, half_of, parsed, read
from tests.scrub.names.score import Score, guarded


def test_there_are_enough_passages_in_both_halves() -> None:
    for path in (NAMED, CLEAN):
        halves = [p.half for p in read(path)]
        assert len(halves) >= 300
        assert min(halves.count("held out"), halves.count("development")) >= 120


def test_marks_are_read_with_their_offsets() -> None:
    passage = parsed("Dr [Zelandri] of <Voss> used a {Sinskey hook}.")
    assert passage.text == "Dr Zelandri of Voss used a Sinskey hook."
    assert [passage.text[slice(*s)] for s in (*passage.people, *passage.places, *passage.keep)] == [
        "Zelandri",
        "Voss",
        "Sinskey hook",
    ]
    assert passage.half == half_of("Dr [Zelandri] of <Voss> used a {Sinskey hook}.")


def test_the_held_out_half_keeps_its_figures() -> None:
    # Floors a little under what tests/bench/names.py prints for it; names alone, without titles' pattern,
    # declared names or memory, which other layers add.
    named = [p for p in read(NAMED) if p.half == "held out"]
    clean = [p for p in read(CLEAN) if p.half == "held out"]
    hits = NameModel().find([p.text for p in (*named, *clean)])
    score = Score()
    for passage, its in zip((*named, *clean), hits, strict=True):
        found = guarded(passage.text, its, Verdict.REMOVE, Verdict.ASK)
        if passage.people or passage.places:
            score.named(passage, found)
        else:
            score.clean(passage, found)
    assert score.names_found / score.names >= 0.9
    assert score.keep_harmed / score.keep <= 0.04
    assert score.touched / score.passages <= 0.06
