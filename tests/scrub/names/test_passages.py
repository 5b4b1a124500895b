"""The invented passages: enough of them, and split by a hash."""

from __future__ import annotations

from tests.scrub.names.corpus import CLEAN, NAMED, half_of, parsed, read


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
