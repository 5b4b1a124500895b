from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from mmbuilder import packs
from mmbuilder.casefile.readings.cells import SENTINELS
from mmbuilder.errors import PackInvalid
from mmbuilder.packs.schema import Whom, available, load, parse
from mmbuilder.safe.terms import EventKind, FactorRow, Sex

GOOD = (files(packs) / "anaesthesia.yaml").read_text("utf-8")


def test_every_file_of_the_folder_is_a_pack_of_its_own_name() -> None:
    stems = sorted(path.stem for path in Path(str(files(packs))).glob("*.yaml"))
    assert available() == tuple(stem.replace("-", " ") for stem in stems)
    assert {"ophthalmology", "general surgery", "anaesthesia"} <= set(available())
    assert [load(name).name for name in available()] == list(available())


@pytest.mark.parametrize("name", available())
def test_the_seven_rows_of_vincent_1998_all_have_a_question(name: str) -> None:
    # Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157.
    rows = load(name).factors
    assert set(rows) == set(FactorRow)
    assert len(FactorRow) == 7
    assert all(question.endswith("?") for questions in rows.values() for question in questions)


@pytest.mark.parametrize("name", available())
def test_limits_say_where_they_come_from_and_leave_sentinels_out(name: str) -> None:
    for measure in load(name).measures:
        assert measure.source
        assert not any(measure.low <= abs(value) <= measure.high for value in SENTINELS)


@pytest.mark.parametrize("name", available())
def test_the_three_marks_have_words(name: str) -> None:
    events = load(name).events
    assert {EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE, EventKind.RESOLUTION} <= set(
        events
    )


def test_the_title_may_stand_on_a_slide() -> None:
    assert load("general surgery").title.reveal() == "general surgery"


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ("low: 20, high: 250", "low: 300, high: 250", "- {name: pulse", "low is not below high"),
        ("  institution:", "  institutoin:", "institutoin:", "factors.institutoin"),
        ("phases:", "phasen:", "phasen:", "phasen"),
        ("  call for help:", "  calls:", "calls:", "calls"),
    ],
)
def test_a_fault_names_file_and_line(old: str, new: str, line: str, told: str) -> None:
    text = GOOD.replace(old, new)
    number = next(n for n, row in enumerate(text.splitlines(), 1) if row.strip().startswith(line))
    with pytest.raises(PackInvalid) as caught:
        parse(text, "own.yaml")
    rows = [row for row in str(caught.value).splitlines() if told in row]
    assert any(row.startswith(f"own.yaml:{number}:") for row in rows)


def test_every_fault_is_told_at_once() -> None:
    text = GOOD.replace("low: 20, high: 250", "low: 300, high: 250").replace("  call for help:", "  calls:")
    with pytest.raises(PackInvalid) as caught:
        parse(text, "own.yaml")
    assert len(str(caught.value).splitlines()) == 2


def test_broken_yaml_is_told_by_line() -> None:
    with pytest.raises(PackInvalid, match=r"own\.yaml:3: "):
        parse("name: x\nphases: [a\n", "own.yaml")


def test_a_missing_row_is_named() -> None:
    text = GOOD.replace(
        "  institution:\n    - Which outside rule, supply or shortage shaped what was in the tray?\n", ""
    )
    with pytest.raises(PackInvalid, match="no question for: institution"):
        parse(text, "own.yaml")


def _range(pack: str, name: str, sex: Sex | None = None) -> tuple[float | None, float | None, str]:
    found = [
        one
        for one in load(pack).references
        if name in one.names and one.sex is sex and one.whom is Whom.ADULT
    ]
    assert len(found) == 1
    return found[0].low, found[0].high, found[0].unit


def test_reference_ranges_are_those_of_their_sources() -> None:
    # Eye pressure: check-values, 10-21 mmHg (Hollows & Graham 1966; MEM there).
    assert _range("ophthalmology", "IOP") == (10, 21, "mmHg")
    # Anaemia below 120 g/L in women and 130 g/L in men: World Health Organization 2011, from memory.
    assert _range("general surgery", "Hb", Sex.FEMALE) == (120, None, "g/L")
    assert _range("general surgery", "Hb", Sex.MALE) == (130, None, "g/L")
    # NEWS2 scores nothing for 51-90 /min, 12-20 /min, 96 % and more, 36.1-38.0 °C; from memory.
    assert _range("anaesthesia", "pulse") == (51, 90, "/min")
    assert _range("anaesthesia", "SpO2") == (96, 100, "%")


@pytest.mark.parametrize("name", available())
def test_a_range_says_its_source_and_lies_within_what_is_drawn(name: str) -> None:
    pack = load(name)
    drawn = {measure.name: measure for measure in pack.measures}
    assert pack.references
    for found in pack.references:
        assert any(word in found.source for word in ("from memory", "no source"))
        limits = drawn.get(found.names[0])
        if limits is not None:
            assert found.unit == limits.unit
            ends = [end for end in (found.low, found.high) if end is not None]
            assert all(limits.low <= end <= limits.high for end in ends)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("low: 51, high: 90", "low: 90, high: 51", "low is not below high"),
        ("unit: mmol/L, high: 2.0", "unit: mmol/L", "neither low nor high"),
        ("names: [temperature]", "names: [Lactate]", "two ranges for lactate"),
        ("low: 130, sex: male", "low: 130", "two ranges for haemoglobin"),
    ],
)
def test_a_range_that_cannot_be_is_refused(old: str, new: str, told: str) -> None:
    assert old in GOOD
    with pytest.raises(PackInvalid, match=told):
        parse(GOOD.replace(old, new, 1), "own.yaml")
