"""An eponym on no list, or one that is a common surname too, among things; and a person among the same things."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.keep import Guard, Verdict
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.keep.rows import in_a_row


def _row(marked: str) -> bool:
    """Whether the stretch between bars is an item of a row of things."""
    before, word, after = marked.split("|")
    passage = Passage.of(before + word + after, load())
    return in_a_row(passage, *passage.span(len(before), len(before) + len(word))) is not None


@pytest.mark.parametrize(
    "marked",
    [
        "Bishop 7, |Friedman|, Zhang, Robson 5, Bakri 450 ml, Rubin II.",
        "Mobitz II, Brugada 1, Sgarbossa 5, Osborn, |Cabrera|.",
        "Hinchey III, Kocher, |Oskavarn|, Lahey 2, Duval, Babcock and Mixter.",
    ],
)
def test_an_item_of_a_row_of_things_is_one(marked: str) -> None:
    assert _row(marked)


@pytest.mark.parametrize(
    "marked",
    [
        "Bishop 7, Bakri 450 ml, Rubin II; |Friedman| scrubbed.",
        "Osborn 2, Wellens B, Brugada 1, |Cabrera|.",
        "Osborn, |Cabrera|, Wellens B, Brugada 1, patient aware.",
        "Osborn, |Cabrera| 54F, Wellens B, Brugada 1.",
        "Osborn, Mobitz II, Wellens B by |Cabrera|, Brugada 1.",
        "Team: |Friedman|, Zhang, Kocher, Lahey.",
        "Kocher, |Oskavarn|, Zelandri, Quorrin, Lahey, Duval, Mixter.",
    ],
)
def test_a_person_among_things_is_none(marked: str) -> None:
    assert not _row(marked)


def test_a_listed_double_is_one_by_its_hyphen() -> None:
    said = "Screws were Gertzbein-Robbins A throughout. Gertzbein Robbins called."
    judged = [
        Guard(said).judge(said.index(name), said.index(name) + len(name)).verdict
        for name in ("Gertzbein-Robbins", "Gertzbein Robbins")
    ]
    assert judged == [Verdict.KEEP, Verdict.REMOVE]
