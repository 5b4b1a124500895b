"""Floors on the held-out half, a little below what was measured; nothing was tuned on that half."""

from __future__ import annotations

from itertools import chain

import pytest

from tests.scrub.sets.made import GIVEN, clean, identified
from tests.scrub.sets.passages import by_hand, half_of, hurried
from tests.scrub.sets.score import Score, scored

# Structured at the first look: 132/135 = 0.978; a second set, harder, 211/238 = 0.887 before its misses were mended
# (they bear a mark and count for development); a third set 77/77, and 0/40 clean passages touched by patterns.
FLOOR_STRUCTURED = 0.995
FLOOR_NAMES = 0.97
FLOOR_KEEP = 0.965
CEILING_TOUCHED = 0.09


@pytest.fixture(scope="module")
def held() -> Score:
    return scored(chain(by_hand(), identified(), clean()), "held")


def test_the_sets_are_broad_enough() -> None:
    assert sum(bool(p.planted) for p in chain(by_hand(), identified())) >= 1000
    assert sum(not p.planted for p in chain(by_hand(), clean())) >= 550
    letters = {planted.letter for p in chain(by_hand(), identified()) for planted in p.planted}
    assert letters == set("ABCDEFGHIJKLMNOR")
    halves = [half_of(word) for word in GIVEN]
    assert min(halves.count("dev"), halves.count("held")) > 15


def test_recall_of_structured_identifiers(held: Score) -> None:
    assert held.structured_recall >= FLOOR_STRUCTURED, held


def test_recall_of_names(held: Score) -> None:
    assert held.name_recall >= FLOOR_NAMES, held


def test_clinical_words_survive(held: Score) -> None:
    assert held.keep_survival >= FLOOR_KEEP, held


def test_clean_passages_are_left_alone(held: Score) -> None:
    assert held.clean_touched <= CEILING_TOUCHED, held


def test_hurried_notes_of_the_fourth_set() -> None:
    # First look at the half that nobody had seen, 26 November 2026: names 93 of 112, the rest with places 65 of 96,
    # clean touched 36 of 80; after mending what the other half showed: 102 of 112, 69 of 96, keep 149 of 157, 38 of 80.
    score = scored(hurried(), "held")
    assert score.name_recall >= 0.89, score
    assert score.structured_recall >= 0.70, score
    assert score.keep_survival >= 0.93, score
    assert score.clean_touched <= 0.50, score
