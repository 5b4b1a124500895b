from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from mmbuilder import packs
from mmbuilder.casefile.readings.cells import SENTINELS
from mmbuilder.errors import PackInvalid
from mmbuilder.packs.schema import available, load, parse
from mmbuilder.safe.terms import EventKind, FactorRow

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
