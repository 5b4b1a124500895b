from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.pipeline.results import BuildReport


def report(**more: int) -> BuildReport:
    path, none = Path("deck.pptx"), ()
    told = {"slides": 11, "seconds": 480, "needs": 240, "questions": 240, "too_many": 0} | more
    empty = dict.fromkeys(
        ("detectors", "unchecked", "rules", "recognisable", "circumstances", "left_out", "untold"), none
    )
    return BuildReport(
        case=path, code="k", deck=path, report=path, page=path, to_cut=(7, 8), removed={}, too_long=(), **told, **empty
    )  # fmt: skip


# What is told of a deck of 4 minutes in 8 must not sound as if it were too long.
@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"too_many": 1}, "11 slides, where 10 are allowed"),
        ({"needs": 500}, "too long"),
        ({"needs": 500, "too_many": 1}, "too long, and 11 slides, where 10 are allowed"),
        ({}, "too little time for discussion"),
    ],
)
def test_which_limit_is_meant_is_told(more: dict[str, int], why: str) -> None:
    assert report(**more).why_cut == why
