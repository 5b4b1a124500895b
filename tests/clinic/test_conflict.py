"""Figures by each of the records that do not agree."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault
from mmbuilder.clinic.conflict import alike, by_records, leading
from mmbuilder.clinic.units import Amount

LOSS = {"swabs": "210 g", "number": "4", "dry": "18 g", "bottle": "900 mL", "wash": "300 mL"}


def mg(figure: float) -> Amount:
    return Amount(figure, figure, "mg")


def ml(figure: float) -> Amount:
    return Amount(figure, figure, "mL")


@pytest.mark.parametrize(
    ("entries", "printed"),
    [
        # Source: worked example, practice.md (e)9: 3 x 0.1 mg or (one as 1 mg) 1.2 mg.
        ("3 x 0.1 mg", "0.3 or 1.2 mg, unresolved"),
        (["0.1 mg", "0.1 mg", "0.1 mg"], "0.3 or 1.2 mg, unresolved"),
        ("100 µg, 0.2 mg", "300 or 1,200 µg, unresolved"),
        ("2 x 0.1 mg", "0.2 or 1.1 mg, unresolved"),  # the same example with one dose less, by hand
    ],
)
def test_a_dose_in_dispute_gives_both_totals(entries: str | list[str], printed: str) -> None:
    worked = by_records("cumulative dose", {"entries": entries}, mg(0.1), [mg(1)])
    assert worked is not None
    assert [str(answer) for answer in worked.answers] == [printed]
    assert worked.notes[-1].startswith("Records conflict")


def test_every_record_of_a_dose_gives_its_total() -> None:
    # 0.1, 1 or 2 mg of one dose, beside two of 0.1 mg: by hand.
    worked = by_records("cumulative dose", {"entries": "3 x 0.1 mg"}, mg(0.1), [mg(1), mg(2)])
    assert worked is not None
    assert [str(answer) for answer in worked.answers] == ["0.3 or 1.2 or 2.2 mg, unresolved"]


def test_a_volume_in_dispute_gives_both_losses_and_leaves_the_rest_alone() -> None:
    # Source: practice.md (e)10: 738 mL with a bottle of 900; with one of 1,100 by hand 138 + 800 = 938.
    worked = by_records("blood loss", LOSS, ml(900), [ml(1100)])
    assert worked is not None
    assert [str(answer) for answer in worked.answers] == [
        "738 or 938 mL, unresolved",
        "in swabs: 138 mL",
        "in the bottle: 600 or 800 mL, unresolved",
    ]
    assert dict(worked.inputs)["bottle"] == "900 mL or 1,100 mL"
    assert dict(worked.inputs)["wash"] == "300 mL"
    assert worked.steps == (
        "210 − 4 × 18 = 138 mL in swabs",
        "900 − 300 = 600 mL in the bottle",
        "1,100 − 300 = 800 mL in the bottle",
    )


def test_what_a_convention_leaves_open_is_told_by_every_record_too() -> None:
    # 40 or 80 mg/mL at 1:4, in total and plus parts: check-values.md I, CALC, and twice as much.
    given = {"strength": "40 mg/mL", "dilution": "1:4"}
    worked = by_records("bare dilution", given, Amount(40, 40, "mg/mL"), [Amount(80, 80, "mg/mL")])
    assert worked is not None
    assert [one.figure() for one in worked.disputed] == [
        "10.00 mg/mL",
        "8.00 mg/mL",
        "20.00 mg/mL",
        "16.00 mg/mL",
    ]
    assert worked.answers == ()


def test_a_range_of_one_record_is_a_range_of_the_result() -> None:
    # 1,000 to 1,100 mL in the bottle: by hand 138 + 700 to 138 + 800.
    worked = by_records("blood loss", LOSS, ml(900), [Amount(1000, 1100, "mL")])
    assert worked is not None
    assert str(worked.answers[0]) == "738 or 838 to 938 mL, unresolved"
    assert dict(worked.inputs)["bottle"] == "900 mL or 1,000 to 1,100 mL"


def test_an_amount_that_is_no_input_or_is_two_is_not_guessed() -> None:
    assert by_records("blood loss", LOSS, ml(850), [ml(1100)]) is None
    assert by_records("blood loss", LOSS | {"wash": "900 mL"}, ml(900), [ml(1100)]) is None
    assert by_records("no such figure", LOSS, ml(900), [ml(1100)]) is None


def test_a_total_that_has_both_already_is_left_alone() -> None:
    given = {"entries": ["2 x 0.1 mg", "0.1 mg or 1 mg"]}
    assert by_records("cumulative dose", given, Amount(0.7, 0.7, "mg"), [mg(1)]) is None


def test_a_record_that_cannot_be_is_refused() -> None:
    # A bottle with less in it than was washed in.
    with pytest.raises(InputFault, match="more wash than the bottle held"):
        by_records("blood loss", LOSS, ml(900), [ml(200)])


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("10 mg IV", mg(10)),
        ("10 mg, slowly", mg(10)),
        ("0.1 mg", mg(0.1)),
        ("50 mL of 1 %", ml(50)),
        ("14-16 mg", Amount(14, 16, "mg")),
        ("adrenaline 0.1 mg IV", mg(0.1)),
        ("5 mg per kg", Amount(5, 5, "mg per kg")),  # a dose for the weight is no dose
        ("mannitol 20% 355 mL (71 g)", None),  # which of the two is not guessed
        ("adrenaline 14-16 mg", None),
        ("two tablets", None),
        ("10", None),
    ],
)
def test_the_amount_that_stands_first_is_read(text: str, found: Amount | None) -> None:
    assert leading(text) == found


def test_one_amount_in_two_units_is_no_conflict() -> None:
    assert alike(mg(0.1), Amount(100, 100, "µg"))
    assert not alike(mg(0.1), mg(1))
    assert not alike(mg(1), ml(1))
