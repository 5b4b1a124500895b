"""The five rules of causation (VA NCPS, RCA2): READ, check-values.md C2 [S57, S58]. Sentences are ours."""

from __future__ import annotations

import pytest

from mmbuilder.review import blame, hindsight
from mmbuilder.review.causal import Breach, Kind, check, seems

# The shape that was READ [S58]: cause, effect, and the event made more likely; in our words.
GOOD = (
    "Noise and traffic in the department led to a distracted prescriber, which increased the likelihood of a wrong dose",
    "Three alarms sounded at once, so the pressure alarm was not heard, which made a longer fall more likely",
    "The tray has no infusion cannula, which meant that the eye was opened without one and raised the risk of collapse",
    "Because two syringes of one size lay side by side, the other one was picked up, resulting in a tenfold dose",
    "Drapes covered all skin, so that the flush could not be seen and the cause was thought to be in the circuit",
    "Owing to a change of clocks, the second dose was given 40 min early",
    "Poor perfusion of the flap edge led to loss of 2 cm",
    "Long axial length and poor red reflex made it less likely that the tear was seen",
)
NO_LINK = (
    "The resident was fatigued",
    "Only one assistant; bleeding from the short gastric vessels",
    "The alarm limits were at default. The pressure fell.",
    "Second week in post",
    "The field was dark",
)
JUDGED = (
    ("poor", "Poor handover led to the drain being left"),
    ("poor", "The manual was poorly written, which led to a slip"),
    ("inadequate", "Inadequate staffing led to gaps in observation"),
    ("inadequate", "Insufficient light led to a tear"),
    ("wrong", "The wrong decision led to a leak"),
    ("wrong", "The clip was wrongly placed, which caused a stricture"),
    ("bad", "Bad planning led to a long list"),
    ("lack of", "Lack of supervision led to bleeding"),
    ("lack of", "Communication was lacking, so the change was not known"),
    ("careless", "Carelessness with the line led to air in it"),
    ("careless", "Complacency led to a count left out"),
)


def _rules(text: str, kind: Kind = Kind.CONDITION, *, preceding: bool = True, duty: bool = True) -> list[int]:
    return [breach.rule for breach in check(text, kind, preceding=preceding, duty=duty)]


@pytest.mark.parametrize("text", GOOD)
def test_a_full_statement_keeps_all_five(text):
    assert _rules(text) == []


@pytest.mark.parametrize("text", NO_LINK)
def test_rule_1_shows_what_led_to_what(text):
    assert _rules(text) == [1]


@pytest.mark.parametrize(("word", "text"), JUDGED)
def test_rule_2_describes_and_does_not_judge(word, text):
    (breach,) = check(text, Kind.CONDITION, preceding=True, duty=True)
    assert breach.rule == 2
    assert f"'{word}'" in breach.why


def test_rule_2_leaves_quoted_evidence_alone():
    assert _rules('"Poor view", written at 09.10, led to a conversion') == []


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("preceding", [True, False])
@pytest.mark.parametrize("duty", [True, False])
def test_rules_3_to_5_ask_for_what_came_before_and_for_the_duty(kind, preceding, duty):
    wanted = {
        Kind.CONDITION: [],
        Kind.HUMAN_ACT: [] if preceding else [3],
        Kind.DEPARTURE: [] if preceding else [4],
        Kind.FAILURE_TO_ACT: [] if duty else [5],
    }
    assert _rules(GOOD[0], kind, preceding=preceding, duty=duty) == wanted[kind]


def test_all_breaches_come_at_once_in_the_order_of_the_rules():
    assert _rules("Poor technique", Kind.HUMAN_ACT, preceding=False) == [1, 2, 3]


def test_a_breach_has_an_example_that_keeps_the_rules_and_blames_nobody():
    for kind in Kind:
        for breach in check("Sloppy.", kind, preceding=False, duty=False):
            assert isinstance(breach, Breach)
            example = breach.example.split(" but ")[-1].strip("'")
            assert not blame.find(example)
            assert not hindsight.find(example)
            assert 2 not in _rules(example)
            assert 1 not in _rules(example)


def test_nothing_of_the_author_comes_back():
    assert "Haskerdine" not in repr(
        check("Poor Miss Haskerdine", Kind.HUMAN_ACT, preceding=False, duty=False)
    )


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("The blood gas was not taken at 30 min", Kind.FAILURE_TO_ACT),
        ("Nobody called the consultant", Kind.FAILURE_TO_ACT),
        ("The second count had not been done", Kind.FAILURE_TO_ACT),
        ("The count checklist was skipped", Kind.DEPARTURE),
        ("The sepsis guideline was not followed on the ward", Kind.DEPARTURE),
        ("The wrong syringe was picked up", Kind.HUMAN_ACT),
        ("Registrar clipped the wrong duct", Kind.HUMAN_ACT),
        ("The dose was misread", Kind.HUMAN_ACT),
        ("Two ports alike", None),
        ("No agreed words for stopping", None),
        ("Registrar in the second week of the post", None),
        ("The drain was not there", None),
        ("Scan not available at night", None),
    ],
)
def test_the_kind_a_cause_reads_as_is_a_hint_to_ask_with(text, kind):
    """READ S57: rules 3, 4 and 5 are of acts, departures and things not done; the ways to say them are ours."""
    assert seems(text) is kind
