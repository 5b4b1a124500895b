"""Warnings of what may single somebody out; the sentences hold no word of the case."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.reidentify import across, circumstances, warn


def sentences(text: str) -> str:
    return " ".join(warning.sentence for warning in warn([("background", text)]))


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("An 84-year-old concert pianist with Wegener granulomatosis.", "occupation"),
        ("A 30-year-old with situs inversus.", "rare"),
        ("She is famous for her garden on television.", "fame"),
        ("The first robotic case in the region.", "first, only"),
        ("Husband of a theatre nurse here, aged 44.", "tie to staff"),
        ("A 62-year-old, one of twins, from a small island.", "small place"),
        ("Hurt in the stadium explosion.", "public knows"),
        ("The only ST3 on nights missed it.", "member of staff"),
        ("Opened on Saturday at 03:10.", "weekday"),
        ("Opened on a [day of the week] at 03:10.", "weekday"),
    ],
)
def test_what_points_at_one_person_is_warned_of(text: str, word: str) -> None:
    assert word in sentences(text)


@pytest.mark.parametrize(
    "text",
    [
        "A 62-year-old woman with gallstones had a laparoscopic cholecystectomy.",
        "The registrar called the consultant at 03:10.",
        "Only one clip was placed on the artery.",
        "Pressure 18, acuity 6/9, graft clear at week 6.",
        "The first suture was placed in the wound.",
    ],
)
def test_an_ordinary_case_is_not(text: str) -> None:
    assert warn([("background", text)]) == ()


def test_circumstances_meet_over_several_places() -> None:
    found = warn([("background", "A 71-year-old."), ("caption 2", "It is a rare tumour.")])
    assert [warning.places for warning in found] == [("background", "caption 2")]


def test_no_word_of_the_case_is_quoted() -> None:
    text = "The only ST3 on nights, Quorrin, saw the mayor of Velkonar, aged 62, on Sunday at 02:20."
    told = sentences(text).casefold()
    assert told
    assert not any(word in told for word in ("quorrin", "velkonar", "mayor", "st3", "sunday", "02:20", "62"))


def test_cases_of_one_build_are_looked_at_together() -> None:
    one = circumstances([("background", "A 40-year-old twin with appendicitis.")])
    two = circumstances([("background", "A twin, aged 41.")])
    three = circumstances([("background", "A 41-year-old with a hernia.")])
    assert [warning.places for warning in across({"A": one, "B": two, "C": three})] == [("A", "B")]
    assert across({"A": one, "C": three}) == ()
