from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.analysis.phases import phase_totals
from mmbuilder.safe.case import Phase
from mmbuilder.safe.moment import UNKNOWN
from tests.figures.samples import at, safe


def phase(start: float, end: float) -> Phase:
    return Phase(safe("phase"), at(start), at(end))


def test_time_in_no_phase_is_shown() -> None:
    # Source: worked example, practice.md (e)5: 42 + 18 + 35 = 95 of 110: 15 min unassigned.
    totals = phase_totals((phase(0, 42), phase(50, 68), phase(70, 105)), total=110)
    assert [minutes for _, minutes in totals.rows] == [42, 18, 35]
    assert totals.unassigned == 15


def test_a_phase_without_an_end_has_no_length_and_takes_no_time() -> None:
    totals = phase_totals((phase(0, 10), Phase(safe("open"), at(10), UNKNOWN)), total=30)
    assert [minutes for _, minutes in totals.rows] == [10, None]
    assert totals.unassigned == 20


def test_a_total_shorter_than_its_phases_is_refused() -> None:
    with pytest.raises(ValueError, match="more than the stated total"):
        phase_totals((phase(0, 42),), total=40)


@given(st.lists(st.tuples(st.integers(0, 500), st.integers(0, 200)), max_size=8))
def test_durations_less_overlap_plus_the_rest_make_the_total(spans: list[tuple[int, int]]) -> None:
    totals = phase_totals(tuple(phase(start, start + size) for start, size in spans))
    summed = sum(minutes for _, minutes in totals.rows if minutes is not None)
    assert summed - totals.overlap + totals.unassigned == pytest.approx(totals.total)
    assert min(totals.overlap, totals.unassigned) >= 0
