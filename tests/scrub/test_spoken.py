"""Stand-ins in the reader's language, and none that stays in English."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder import labels
from mmbuilder.case.identifiers import PersonRole, PlaceKind
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.crossing.spoken import spoken
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.scrub.surrogates import (
    BRACKETS,
    MEETING,
    day_words,
    from_meeting,
    is_stand_in,
    people_words,
    place_words,
)
from tests.scrub.small_case import small

EVERY = [
    *people_words([role.value for role in PersonRole]),
    *people_words([role.value for role in PersonRole] * 2),
    *(
        "the doctor",
        "The nurse",
        "doctor's",
        "Surgeon A’s",
        "[name A]",
        "(surgeon B)",
        "(the doctor)",
        "'s (surgeon B)",
    ),
    *place_words([*PlaceKind] * 2),
    *(f"[{words}]" for words in BRACKETS),
    *("90 or older", "90 or older, female"),
    *map(day_words, (3, 0, -12)),
    *map(from_meeting, (0, 1, -1, 7, -14, 30)),
    *("within 8 weeks of this meeting", "within 1 day of this meeting", MEETING[1]),
    *(" in his 70s", "in her 20s", " in their 30s", " under 10", "under 10", " aged 10 to 19"),
    *("70 to 79", "a 70- to 79", "T+1:05", "T−0:10", "[ZIP 123xx]"),
]


@pytest.mark.parametrize("stand_in", EVERY)
def test_in_english_a_stand_in_is_told_as_the_plan_has_it(stand_in: str) -> None:
    assert is_stand_in(stand_in)
    assert spoken(stand_in).reveal() == stand_in.replace("’", "'")


@pytest.mark.parametrize("stand_in", EVERY)
@pytest.mark.parametrize("language", [tag for tag in labels.languages() if tag != labels.ENGLISH])
def test_no_word_of_it_stays_in_english(language: str, stand_in: str) -> None:
    figures_alone = ("70 to 79", "a 70- to 79", "T+1:05", "T−0:10", "[ZIP 123xx]", "[name]", "[name A]")
    with labels.speaking(language):
        said = spoken(stand_in).reveal()
    if stand_in not in figures_alone:
        assert said != stand_in
    assert said[: len(said) - len(said.lstrip())] == stand_in[: len(stand_in) - len(stand_in.lstrip())]


@pytest.mark.parametrize(
    ("stand_in", "said"),
    [
        ("Day −12", "Tag −12"),
        ("The surgeon", "Chirurg/in"),
        ("nurse B", "Pflegefachperson B"),
        ("Hospital A", "Krankenhaus A"),
        ("[number]", "[Nummer]"),
        ("within 8 weeks of this meeting", "spätestens 8 Wochen nach dieser Besprechung"),
        ("90 or older, male", "90 oder älter, männlich"),
    ],
)
def test_german(stand_in: str, said: str) -> None:
    with labels.speaking("de"):
        assert spoken(stand_in).reveal() == said


def test_a_case_that_crossed_is_told_in_the_language_it_is_read_in(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    case = apply(folder, propose(folder, names=NoNameModel()))
    assert case.situation.reveal() == "The pump stopped while the surgeon was closing, on Ward A, on Day 0."
    with labels.speaking("de"):
        assert case.situation.reveal() == (
            "The pump stopped while Chirurg/in was closing, on Station A, on Tag 0."
        )
        assert case.actions[0].due.reveal() == "Juli"
