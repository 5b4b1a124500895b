"""Floors on sets that were looked at: the fifth, sixth, eleventh, twelfth and thirteenth, the sentences by kind, short lines of numbers, dates and places."""

from __future__ import annotations

from itertools import chain

from tests.scrub.sets.kinds import kinds, more
from tests.scrub.sets.passages import eleventh, fifth, sixth, structured, thirteenth, twelfth
from tests.scrub.sets.score import Score, scored


def holds(score: Score, *, structured: float, names: float, keep: float, touched: float) -> None:
    """Assert the floors of a set, and how many of its clean passages may be touched."""
    assert score.structured_recall >= structured, score
    assert score.name_recall >= names, score
    assert score.keep_survival >= keep, score
    assert score.clean_touched <= touched, score


def test_the_fifth_set() -> None:
    # At the first look, by nobody who had read it: structured 212 of 319, names 234 of 280, keep 494 of 503, clean 15 of 180.
    score = scored(fifth(), "held")
    holds(score, structured=0.99, names=0.97, keep=0.99, touched=0.02)


def test_both_halves_of_the_sentences_by_kind() -> None:
    # The second batch at the first look: structured 57 of 68, names 79 of 82, clean touched 8 of 50 (one by mistake of ours).
    for half in ("dev", "held"):
        score: Score = scored(chain(kinds(), more()), half)
        holds(score, structured=0.97, names=0.95, keep=0.98, touched=0.03)


def test_the_sixth_set_but_for_names() -> None:
    # At the first look, by a hand that had not seen the scrubber: structured 262 of 312.
    score = scored(sixth(), "held")
    assert score.structured_recall >= 0.985, score


def test_the_eleventh_set() -> None:
    # At the first look, by nobody who had read it: structured 259 of 271, names 206 of 210, keep 323 of 329, clean 13 of 260.
    score = scored(eleventh(), "held")
    holds(score, structured=0.965, names=0.98, keep=0.98, touched=0.05)


def test_the_twelfth_set() -> None:
    # At the first look, by nobody who had read it: structured 166 of 172, names 142 of 158, keep 159 of 159, clean 11 of 240.
    score = scored(twelfth(), "held")
    holds(score, structured=0.98, names=0.98, keep=0.99, touched=0.02)


def test_the_thirteenth_set() -> None:
    # At the first look, by nobody who had read it: structured 135 of 148, names 210 of 220, keep 210 of 213, clean 11 of 240.
    score = scored(thirteenth(), "held")
    holds(score, structured=0.93, names=0.96, keep=0.99, touched=0.04)


def test_short_lines_of_numbers_dates_and_places() -> None:
    score = scored(structured(), "dev")
    assert score.structured_recall >= 0.985, score
    assert score.keep_survival >= 0.95, score
    assert score.clean_touched <= 0.05, score
