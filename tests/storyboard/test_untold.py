"""What stands on no slide is told by its sort, whatever the sort."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.safe.case import (
    Computed,
    Factor,
    Held,
    Mechanism,
    Meeting,
    Patient,
    Plan,
    Question,
    Reflection,
    ScrubbedCase,
    Series,
)
from mmbuilder.safe.terms import FactorRole, FactorRow, Headings, Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.untold import untold
from tests.storyboard.sample import EVENTS, picture, sample, say

ODD = "Kettle on the sill"


def left(case: ScrubbedCase, use: Use = Use.REVIEW) -> list[str]:
    deck = compose(case, use)
    papers = compose_papers(case, deck, use)
    return [one.told.reveal() for one in untold(case, deck.slides, (paper.board for paper in papers))]


BASE = sample()
OUTCOME, REPORT = BASE.outcome, BASE.report


# By hand; the sorts are those of the model of the case.
@pytest.mark.parametrize(
    ("changes", "told"),
    [
        (
            {"factors": (Factor(FactorRow.TEAM, FactorRole.INCIDENTAL, say(ODD)),)},
            "incidental causes",
        ),
        (
            {"factors": (*BASE.factors, Factor(FactorRow.TEAM, FactorRole.EXCLUDED, say(ODD)))},
            "causes considered and excluded (on paper)",
        ),
        ({"rescue": (say(ODD),)}, "steps of the rescue (on paper)"),
        ({"mechanism": Mechanism((say(ODD),))}, "steps of how it came about"),
        ({"patient": Patient(say("71"), negatives=(say(ODD),))}, "things that were not present (on paper)"),
        ({"questions": (Question(say("Why?"), say(ODD)),)}, "answers of the presenter (on paper)"),
        ({"computed": (Computed(say(ODD), (say("1"),)),)}, "computed figures (on paper)"),
        ({"meetings": (Meeting(decided=(say(ODD),)),)}, "decisions of a meeting (on paper)"),
        ({"reflection": Reflection(Headings.GIBBS, feelings=(say(ODD),))}, "lines of the reflection"),
        ({"report": replace(REPORT, importance=say(ODD))}, "texts for the written report"),
        (
            {"series": tuple(Series(say(f"{ODD} {n}"), say("m"), ((0.0, 1.0),)) for n in range(4))},
            "1 of 4 lines of readings (on paper)",
        ),
    ],
)
def test_what_no_slide_of_a_review_has_is_told(changes: dict[str, object], told: str) -> None:
    assert told in left(sample(**changes))


def test_what_stands_on_a_slide_is_not() -> None:
    case = sample(held=(Held(wording("The load was strapped.")),), plan=Plan(wording("Transfer")))
    assert left(case) == [
        "1 of 2 causes (on paper)",
        "answers of the presenter (on paper)",
        "references (on paper)",
    ]


def test_a_picture_is_known_by_its_own_slide() -> None:
    (frame,) = sample().frames
    case = sample(frames=(frame, replace(frame, number=2, image=picture())))
    assert "1 of 2 pictures" in left(case)


def test_events_are_on_the_chart() -> None:
    assert not [one for one in left(sample(events=EVENTS)) if "event" in one]
