from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.clinic.measures import clock_hours
from mmbuilder.safe.orientation import (
    Finding,
    Orientation,
    Seat,
    Sector,
    View,
    anatomical,
    orient,
    seat_hour,
    sector,
    surgeons,
)
from mmbuilder.safe.terms import Side
from tests.figures.samples import safe

EYES = (Side.RIGHT, Side.LEFT)
HOURS = range(1, 13)
ALL = [(eye, seat, hour) for eye in EYES for seat in Seat for hour in HOURS]


def degrees(hour: int) -> int:
    # Source: check-values.md, "axis (TABO) = (3 - hour) x 30 mod 360: 3->0, 12->90, 9->180, 6->270" (CALC).
    return (3 - hour) * 30 % 360


# Source: check-values.md, "temporal side seen from the front: right eye 180, left eye 0" (MEM).
TEMPORAL = {Side.RIGHT: 180, Side.LEFT: 0}


def seat_degrees(eye: Side, seat: Seat) -> int:
    across = {Seat.TEMPORAL: TEMPORAL[eye], Seat.NASAL: 180 - TEMPORAL[eye]}
    return {Seat.SUPERIOR: 90, Seat.INFERIOR: 270, **across}[seat]


@pytest.mark.parametrize(("eye", "seat", "hour"), ALL)
def test_the_view_is_the_face_turned_until_the_seat_is_at_the_bottom(
    eye: Side, seat: Seat, hour: int
) -> None:
    turn = 270 - seat_degrees(eye, seat)
    assert (degrees(hour) + turn) % 360 == degrees(surgeons(eye, seat, hour))
    assert degrees(seat_hour(eye, seat)) == seat_degrees(eye, seat)
    assert surgeons(eye, seat, seat_hour(eye, seat)) == 6


@pytest.mark.parametrize(("eye", "seat", "hour"), ALL)
def test_each_way_undoes_the_other(eye: Side, seat: Seat, hour: int) -> None:
    assert anatomical(eye, seat, surgeons(eye, seat, hour)) == hour
    assert surgeons(eye, seat, anatomical(eye, seat, hour)) == hour


@pytest.mark.parametrize("hour", HOURS)
@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize(("seat", "word"), [(Seat.SUPERIOR, "above"), (Seat.TEMPORAL, "temporal")])
def test_it_says_what_the_figure_of_the_clinic_says(eye: Side, seat: Seat, word: str, hour: int) -> None:
    found = anatomical(eye, seat, hour)
    answers = clock_hours.work(eye.value, word, hour).answers
    assert f"{found} o'clock ({sector(eye, found).value})" in [answer.words for answer in answers]


@pytest.mark.parametrize("hour", HOURS)
@pytest.mark.parametrize("eye", EYES)
def test_a_direction_is_on_its_side_of_the_face(eye: Side, hour: int) -> None:
    angle = math.radians(degrees(hour))
    right, up = round(math.cos(angle), 6), round(math.sin(angle), 6)
    temporal = right * math.cos(math.radians(TEMPORAL[eye]))
    word = sector(eye, hour).value
    assert (up > 0) == word.startswith("super")
    assert (up < 0) == word.startswith("infer")
    assert (temporal > 0) == word.endswith("temporal")
    assert (temporal < 0) == word.endswith("nasal")


def test_the_worked_example_of_practice() -> None:
    # Source: practice.md (e) 21: right eye, temporal, screen 11 -> 2 o'clock (superonasal).
    made = orient(Side.RIGHT, Seat.TEMPORAL, (Finding(safe("tear"), 11, View.SURGEON),))
    assert (made.places[0].anatomical, made.places[0].sector) == (2, Sector.SUPERONASAL)
    assert made.places[0].told.reveal() == "tear: 2 o'clock anatomical, 11 o'clock surgeon's view"
    assert not made.contradictions


def wound(hour: int, view: View = View.ANATOMICAL, direction: Sector | None = None) -> Finding:
    return Finding(safe("wound"), hour, view, wound=True, sector=direction)


def reasons(made: Orientation) -> str:
    return " / ".join(found.reason.reveal() for found in made.contradictions)


def test_a_temporal_wound_of_a_right_eye_at_three_is_contradicted_with_the_reason() -> None:
    # Source: check-values.md, "test that a temporal OD wound at 3 o'clock raises a warning" (MEM).
    made = orient(Side.RIGHT, Seat.TEMPORAL, (wound(3, direction=Sector.TEMPORAL),))
    told = reasons(made)
    assert len(made.contradictions) == 2
    assert made.doubted(made.places[0])
    for words in (
        "said to be at 3 o'clock anatomical",
        "seated temporal to a right eye, which is 9 o'clock anatomical",
        "6 o'clock of the surgeon's view, but this is 12 o'clock",
        "temporal, which in a right eye is 9 o'clock anatomical",
        "it would fit a left eye",
    ):
        assert words in told


@pytest.mark.parametrize(("eye", "seat", "hour"), ALL)
def test_a_wound_is_contradicted_if_it_lies_beyond_two_hours_of_the_seat(
    eye: Side, seat: Seat, hour: int
) -> None:
    # Two hours: common practice, no source.
    apart = abs((degrees(hour) - seat_degrees(eye, seat) + 180) % 360 - 180)
    made = orient(eye, seat, (wound(hour),))
    assert bool(made.contradictions) == (apart > 60)
    assert made.contradictions == () or f"{hour} o'clock anatomical" in reasons(made)
    assert not orient(eye, seat, (Finding(safe("tear"), hour, View.ANATOMICAL),)).contradictions


def test_a_change_that_is_offered_does_resolve_it() -> None:
    made = orient(Side.LEFT, Seat.SUPERIOR, (wound(6),))
    assert "fit 6 o'clock surgeon's view, or an inferior seat" in reasons(made)
    assert not orient(Side.LEFT, Seat.SUPERIOR, (wound(6, View.SURGEON),)).contradictions
    assert not orient(Side.LEFT, Seat.INFERIOR, (wound(6),)).contradictions


@pytest.mark.parametrize(
    ("said", "hour", "fits"),
    [
        (Sector.TEMPORAL, 9, True),
        (Sector.TEMPORAL, 10, True),
        (Sector.SUPEROTEMPORAL, 10, True),
        (Sector.SUPEROTEMPORAL, 9, False),
        (Sector.NASAL, 9, False),
        (Sector.SUPERIOR, 1, True),
        (Sector.INFERONASAL, 4, True),
    ],
)
def test_a_direction_is_held_against_its_hour(said: Sector, hour: int, fits: bool) -> None:
    finding = Finding(safe("mark"), hour, View.ANATOMICAL, sector=said)
    assert bool(orient(Side.RIGHT, Seat.SUPERIOR, (finding,)).contradictions) is not fits


def test_the_same_finding_said_in_both_views_has_to_agree() -> None:
    both = (Finding(safe("tear"), 2, View.ANATOMICAL), Finding(safe("tear"), 11, View.SURGEON))
    assert not orient(Side.RIGHT, Seat.TEMPORAL, both).contradictions
    told = reasons(orient(Side.LEFT, Seat.TEMPORAL, both))
    assert "surgeon's view is 8 o'clock anatomical" in told
    assert "anatomical hours is 2 o'clock anatomical" in told


@given(st.sampled_from([Side.BOTH, Side.NONE]), st.sampled_from([Seat.TEMPORAL, Seat.NASAL]))
def test_both_eyes_at_once_are_refused(side: Side, seat: Seat) -> None:
    with pytest.raises(ValueError, match="expected 'right' or 'left'"):
        orient(side, seat, (wound(3),))


@pytest.mark.parametrize("hour", [0, 13, -3])
@pytest.mark.parametrize("view", View)
def test_an_hour_that_is_on_no_clock_is_refused(hour: int, view: View) -> None:
    with pytest.raises(ValueError, match="expected 1 to 12"):
        orient(Side.RIGHT, Seat.SUPERIOR, (wound(hour, view),))
