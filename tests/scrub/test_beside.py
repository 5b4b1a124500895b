"""What stands beside a name: beds, rooms, ages and others of the same row."""

from __future__ import annotations

import re

import pytest

from mmbuilder.scrub import beside
from mmbuilder.scrub.plan import Layer, Span

_NAME = re.compile(r"Quen\w+|quen\w+")


def found(text: str) -> list[str]:
    """What is found in a text in which every word in `Quen` is a name that was found before."""
    names = [Span(*one.span(), "name", "A", "[name]", 0.85, Layer.PATTERN) for one in _NAME.finditer(text)]
    return sorted(text[span.start : span.end] for span in beside.find([text], [names])[0])


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("bed 22 wale quenlal ka bp low", ["22"]),
        ("called to bay 4 re quenby", ["4"]),
        ("room 12 Quenby, 9 years", ["12"]),
        ("ch 312 pour mme Quenby", ["312"]),
        ("told Quenby in rm 2", ["2"]),
        ("11 Quenby TKR\n14 Quenham THR\n17 Quenlow hip", ["11", "14", "17"]),
        ("B12 Quenby\nB13 Quenham\nB15 empty\nB16 Quenlow", ["B12", "B13", "B15", "B16"]),
        ("list of Quenby / Rose", ["Rose"]),
        ("Pugh + Quenby bloods", ["Pugh"]),
        ("b/s 4 Quenby, hallway 3 quenlow", ["3", "4"]),
        ("beds 4, 7 and 12b for Quenby", ["12b", "4", "7"]),
        ("Bed 3 Quenby 91 fall, GCS 15", ["3", "91"]),
        ("2. Quenby 92 F #NOF", ["92 F"]),
        ("asked Quenby (94) again", ["94"]),
        ("pt quenby 97 NOF", ["97"]),
        ("Quenby | 93 | F | #NOF", ["93"]),
    ],
)
def test_it_finds_what_a_name_stands_beside(text: str, told: list[str]) -> None:
    assert found(text) == told


@pytest.mark.parametrize(
    "text",
    [
        "bed 3 was empty. The plan for today is unchanged. Quenby",
        "theatre 4 Quenby",
        "1 Quenby TKR\n2 Quenham THR\n3 Quenlow hip",
        "11 Quenby TKR\n14 sutures left",
        "Quenby / CT and bloods",
        "Quenby + Abdomen soft",
        "bed 12 mm from Quenby",
        "beds 4 and 7 were closed",
        "Anaes: Quenlow\n1. Quenby TKR\n2. Quenham THR\n3. Quenby hip",
        "4 beds and 2 nurses short, Quenby",
        "Quenby 98 on air, Quenham 95 kg",
        "Quenby 84 fall, Quenham (45)",
        "told Quenby 91 beds were full",
    ],
)
def test_it_leaves_the_rest(text: str) -> None:
    assert found(text) == []


def test_without_names_it_looks_at_nothing() -> None:
    assert beside.find(["bed 22 and bay 4"], [()]) == [()]
