"""Figures that stay whatever the judge takes them for, and figures that go with it. Common practice, no source."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.figures import of_the_clinic


@pytest.mark.parametrize("said", ["100yd", "50yds", "250m", "1.5km", "2miles"])
def test_a_distance_stays(said: str) -> None:
    text = f"FU 1: clinic walking {said}, wound ok"
    start = text.index(said)
    assert of_the_clinic(text, start, start + len(said), sure=True)


@pytest.mark.parametrize("said", ["44871m", "0100yd", "Q100yd", "4471yd2"])
def test_what_only_looks_like_one_goes(said: str) -> None:
    text = f"FU 1: clinic, ref {said}, wound ok"
    start = text.index(said)
    assert not of_the_clinic(text, start, start + len(said), sure=True)
