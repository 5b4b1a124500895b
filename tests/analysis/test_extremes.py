"""Lowest and highest of a line, held against numpy."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.analysis.extremes import extremes
from mmbuilder.safe.case import Series
from tests.figures.samples import safe


def line(values: list[float], artefacts: frozenset[int] = frozenset()) -> Series:
    points = tuple((float(minute), value) for minute, value in enumerate(values))
    return Series(safe("pulse"), safe("/min"), points, artefacts)


@given(st.lists(st.integers(20, 250), min_size=1, max_size=60), st.sets(st.integers(0, 59)))
def test_extremes_are_those_of_the_readings_that_are_no_artefact(values: list[int], bad: set[int]) -> None:
    artefacts = frozenset(place for place in bad if place < len(values))
    good = np.array([value if n not in artefacts else np.nan for n, value in enumerate(values)], dtype=float)
    found = extremes(line(list(map(float, values)), artefacts))
    if np.isnan(good).all():
        assert found is None
        return
    assert found is not None
    assert found.lowest == (float(np.nanargmin(good)), float(np.nanmin(good)))
    assert found.highest == (float(np.nanargmax(good)), float(np.nanmax(good)))
    assert found.count == int((~np.isnan(good)).sum())
    kept = np.flatnonzero(~np.isnan(good))
    assert found.window == (float(kept[0]), float(kept[-1]))


def test_a_line_of_artefacts_has_none() -> None:
    assert extremes(line([1.0], frozenset({0}))) is None
