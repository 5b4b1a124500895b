"""Figures that stay whatever the judge takes them for, and figures that go with it. Common practice, no source."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.detectors._quantity import sized
from mmbuilder.scrub.figures import of_the_clinic, up_to_a_day_of_the_case


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


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Bauchtuch-Zählung 12/12 korrekt", "12/12"),
        ("swab count correct 12/12", "12/12"),
        ("recuento de gasas 12/12", "12/12"),
        ("POPF B, oct 100 tds", "oct"),
        ("dec 4 mg bd", "dec"),
        ("tube in on the 3rd go by her", "3rd"),
        ("NICE NG180 and others", "NG180"),
        ("per KEYNOTE-564, adjuvant", "KEYNOTE-564"),
        ("seen 3/7 ago by the GP", "3/7"),
        ("ill 5/7, worse", "5/7"),
    ],
)
def test_what_is_counted_a_while_and_the_short_name_of_a_drug_stay(text: str, said: str) -> None:
    start = text.index(said)
    assert of_the_clinic(text, start, start + len(said), sure=True)


@pytest.mark.parametrize(
    ("text", "said"),
    [("seen 12/12, home", "12/12"), ("seen on 3/7 by her GP", "3/7"), ("seen in oct again", "oct")],
)
def test_a_day_or_a_month_goes(text: str, said: str) -> None:
    start = text.index(said)
    assert not of_the_clinic(text, start, start + len(said), sure=True)


@pytest.mark.parametrize(
    ("text", "date"),
    [
        ("am Samstag 4. postop. Tag Leck", "Samstag"),
        ("el lunes 3º día postop fiebre", "lunes"),
        ("le mardi 5 mars", "mardi 5"),
    ],
)
def test_a_day_after_the_operation_is_no_part_of_a_date(text: str, date: str) -> None:
    start = text.index(date)
    end = up_to_a_day_of_the_case(text, start, start + len(date.split()[0]) + 2)
    assert text[start:end] == date


def test_a_size_is_no_ward() -> None:
    assert all(map(sized, ("9mm", "2.5mg", "12Fr")))
    assert not any(map(sized, ("4W", "9", "B4")))
