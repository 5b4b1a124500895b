"""A text within one that runs the other way keeps its order. Source: Unicode Standard Annex 9."""

from __future__ import annotations

import pytest

from mmbuilder.safe.direction import FIRST, LAST, runs_left
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, again, fill, inline, join, sentence, wording

PUMP = SafeText(KEY, "המשאבה 5")
DRUG = SafeText(KEY, "metformin 500 mg")


def apart(text: SafeText) -> str:
    return f"{FIRST}{text.reveal()}{LAST}"


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("הלחץ ירד", True),
        ("64 הלחץ", True),
        ("Given: הלחץ", False),
        (f"{FIRST}Side: right.{LAST} הלחץ", True),
        (f"{FIRST}הלחץ{LAST} (graded)", False),
        (f"{FIRST}{FIRST}a{LAST} b{LAST} ضغط", True),
        ("64", False),
    ],
)
def test_a_text_runs_as_its_first_letter_outside_every_isolate(text: str, left: bool) -> None:
    # Rules P2 and P3: characters between an isolate initiator and its PDI are skipped.
    assert runs_left(text) is left


def test_in_a_sentence_of_ours_a_part_from_the_right_keeps_its_figures_and_its_full_stop() -> None:
    said = fill("The team chose: {chosen}", chosen=sentence(PUMP))
    assert said.reveal() == f"The team chose: {FIRST}המשאבה 5.{LAST}"
    graded = fill("{what} (graded by {given})", what=PUMP, given=DRUG).reveal()
    assert graded == f"{apart(PUMP)} (graded by metformin 500 mg)"
    assert not runs_left(graded)


def test_between_signs_alone_the_first_part_says_the_way_and_the_others_are_apart() -> None:
    assert fill("{what} ({when})", what=PUMP, when=DRUG).reveal() == f"המשאבה 5 ({apart(DRUG)})"
    assert join(" · ", (DRUG, PUMP)).reveal() == f"metformin 500 mg · {apart(PUMP)}"
    assert join(" ", (sentence(PUMP), sentence(DRUG))).reveal() == f"המשאבה 5. {FIRST}Metformin 500 mg.{LAST}"
    assert join("; ", (PUMP, PUMP)).reveal() == "המשאבה 5; המשאבה 5"


def test_a_sentence_that_ends_apart_has_one_full_stop_and_loses_it_in_a_row() -> None:
    ended = fill("Trigger: {what}", what=sentence(PUMP))
    assert sentence(ended).reveal() == ended.reveal()
    assert inline(ended).reveal() == f"Trigger: {apart(PUMP)}"


def test_words_of_one_text_go_together_as_they_stood() -> None:
    text = SafeText(KEY, "אפינפרין 0.5 mg IV")
    assert again(text.split()) == text
    assert join("", (PUMP, DRUG)).reveal() == "המשאבה 5metformin 500 mg"


def test_what_runs_from_the_left_throughout_is_left_alone() -> None:
    said = fill("{a}: {b}", a=wording("Given"), b=DRUG).reveal()
    assert said == "Given: metformin 500 mg"
