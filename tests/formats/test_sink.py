"""Safe words as plain ones: what is held together where a line is broken. Common practice, no source."""

from __future__ import annotations

import pytest

from mmbuilder.formats import _sink
from tests.formats import boards


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("22 cm resected on Day 4, home by then", "22_cm resected on Day_4, home by then"),
        ("seen at T+36 h 48 in Town A by surgeon B there", "seen at T+36_h_48 in Town_A by surgeon_B there"),
        ("0.1 µg/kg/min from 12 o'clock, SpO2 91 % then", "0.1_µg/kg/min from 12_o'clock, SpO2 91_% then"),
        (
            "a 350 mm² plate, 34 mmHg, 2 units in 30 minutes",
            "a 350_mm² plate, 34_mmHg, 2_units in 30_minutes",
        ),
        ("Tag −3, 5 Tage davor", "Tag_−3, 5_Tage davor"),
        ("grows E. coli, as I said; 3 samples, 4 hands", "grows E. coli, as I said; 3 samples, 4 hands"),
    ],
)
def test_a_figure_and_its_unit_a_day_and_a_stand_in_and_its_letter_are_held_together(
    text: str, shown: str
) -> None:
    assert _sink.held(boards.safe(text)).replace("\u00a0", "_") == shown


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("The stitch would close it.", "The stitch would close_it."),
        ("Clot stands in the tubing.", "Clot stands in the tubing."),
        ("end", "end"),
    ],
)
def test_a_short_last_word_is_not_left_alone_on_the_lines_of_a_slide(text: str, shown: str) -> None:
    assert _sink.laid(boards.safe(text)).replace("\u00a0", "_") == shown


def test_a_note_to_be_searched_has_ordinary_spaces() -> None:
    assert _sink.plain(boards.safe("home on Day 4")) == "home on Day 4"
