"""The words of an action against the action hierarchy.

READ: category in AHRQ's printing of the VA hierarchy (check-values.md C2 [S147]).
RCA2: an example or category of RCA2 (National Patient Safety Foundation 2015), from memory, in our words.
OURS: follows from a category that was READ; the sentence and the judgement are ours.
"""

from __future__ import annotations

from itertools import product

import pytest

from mmbuilder.review import strength

READ, RCA2, OURS = "AHRQ list, READ S147", "RCA2 2015, from memory", "ours"
READ_ALERT = (
    "an alert is a warning unless it is a hard stop: AHRQ, READ S147 (check-values.md C2, edge cases)"
)

SAID = (
    # stronger
    ("stronger", READ, "Architectural change: a wall between the drug room and the corridor"),
    ("stronger", READ, "New device with usability testing before purchasing"),
    ("stronger", READ, "Interlock on the gas outlet"),
    ("stronger", READ, "Forcing function in the ordering system"),
    ("stronger", READ, "Simplify the process of booking"),
    ("stronger", READ, "Remove unnecessary steps from the transfer"),
    ("stronger", READ, "Standardise equipment trolleys"),
    ("stronger", READ, "Standardize the care map for colectomy"),
    ("stronger", READ, "Tangible leadership: the executive funds and attends the redesign"),
    ("stronger", RCA2, "Same make and model of infusion pump throughout the hospital"),
    ("stronger", RCA2, "Bar-code scanning before each drug is given"),
    ("stronger", RCA2, "Tubing and fittings that cannot be connected the wrong way"),
    ("stronger", RCA2, "Usability tests of the glucose meter with ward staff"),
    ("stronger", OURS, "Usability-tested device chosen for the phaco machine"),
    ("stronger", OURS, "Hard stop when biometry is absent"),
    ("stronger", OURS, "Hard-stop alert: the case cannot be booked without an axis"),
    ("stronger", OURS, "Connector that cannot mate with the wrong line"),
    ("stronger", OURS, "Drop the duplicate transcription step"),
    ("stronger", OURS, "Concentrated potassium removed from ward stock"),
    ("stronger", OURS, "Urethral gel without chlorhexidine as the only gel in theatre stores"),
    ("stronger", OURS, "Infusion cannula on every drainage-device tray"),
    ("stronger", OURS, "Heparin concentrations standardised"),
    # intermediate
    ("intermediate", READ, "Increase in staffing at night"),
    ("intermediate", READ, "Decrease in workload: lighter list when a trainee operates"),
    ("intermediate", READ, "Software enhancement of the booking form"),
    ("intermediate", READ, "Reduce distractions at capsulorhexis"),
    ("intermediate", READ, "Checklist before turning prone"),
    ("intermediate", READ, "Cognitive aid for high airway pressure"),
    ("intermediate", READ, "Eliminate look-alike ampoules from the block tray"),
    ("intermediate", READ, "Read-back of lens power"),
    ("intermediate", READ, "Enhanced documentation of drain output"),
    ("intermediate", READ, "Redundancy: a second vitrector ready"),
    ("intermediate", RCA2, "Quiet room for programming pumps"),
    ("intermediate", RCA2, "Standardised handover format"),
    ("intermediate", RCA2, "Float nurse available when workload peaks; an additional nurse at weekends"),
    ("intermediate", RCA2, "Two nurses independently calculate high-risk doses"),
    ("intermediate", RCA2, "Simulation training with refreshers every six months"),
    ("intermediate", RCA2, "Look-alikes stored separately in the drug room"),
    ("intermediate", RCA2, "Highlight the dose on the infusion bag"),
    ("weaker", READ_ALERT, "Computer alert for drug interactions"),
    ("weaker", READ_ALERT, "Pop-up in the prescribing system for penicillin"),
    ("intermediate", OURS, "Training in simulation twice a year, with debrief"),
    ("intermediate", OURS, "Crisis card for the microscope"),
    ("intermediate", OURS, "Spare clamp on the trolley"),
    ("weaker", READ_ALERT, "Electronic reminder at 24 h"),
    ("intermediate", OURS, "Relabel look-alike dyes"),
    ("intermediate", OURS, "Ceiling for mean arterial pressure spoken at time out"),
    ("intermediate", OURS, "Reactions in scanned letters moved to the alert list at pre-assessment"),
    # weaker
    ("weaker", READ, "Double check of the infusion rate"),
    ("weaker", READ, "Warning label on the tap"),
    ("weaker", READ, "New policy on escalation"),
    ("weaker", READ, "Memorandum to all theatres"),
    ("weaker", READ, "Training for new staff"),
    ("weaker", READ, "Additional study of the problem"),
    ("weaker", RCA2, "Audible alarm added to the door"),
    ("weaker", RCA2, "In-service session on the defibrillator"),
    ("weaker", RCA2, "One person calculates the dose, another person checks it"),
    ("weaker", OURS, "E-mail to all registrars"),
    ("weaker", OURS, "Poster in the coffee room"),
    ("weaker", OURS, "Remind staff to use the checklist"),
    ("weaker", OURS, "E-mail about the new checklist and the read-back"),
    ("weaker", OURS, "Training on the new checklist"),
    ("weaker", OURS, "Lecture on forcing functions"),
    ("weaker", OURS, "Policy that counts are done with read-back"),
    ("weaker", OURS, "Standard operating procedure for counts"),
    ("weaker", OURS, "Two people read the label"),
    ("weaker", OURS, "Second nurse checks the lens"),
    ("weaker", OURS, "Raise awareness of look-alike syringes"),
    ("weaker", OURS, "One-off simulation day"),
    ("weaker", OURS, "Be more vigilant at the end of the list"),
    ("weaker", OURS, "Audit again in a year"),
    ("weaker", OURS, "Teach trainees the anatomy"),
    ("weaker", OURS, "Alert all staff to the new stapler"),
    ("weaker", OURS, "Standardised training for the pump"),
)

NOTHING_SAID = (
    "Ask the regional group for a view",
    "Clamp kept warm",
    "Skin closed with clips",
    "",
    "Induction of anaesthesia in theatre",
    "Drill bit replaced",
)


def test_there_are_enough():
    assert len(SAID) >= 50
    assert {wanted for wanted, _, _ in SAID} == set(strength.ORDER)


@pytest.mark.parametrize(("wanted", "source", "text"), SAID)
def test_words_mean_what_the_hierarchy_says(wanted, source, text):
    said = strength.implied(text)
    assert said is not None, source
    assert said.strength == wanted, (source, said)
    assert said.why


@pytest.mark.parametrize("text", NOTHING_SAID)
def test_what_is_not_in_the_hierarchy_is_not_guessed(text):
    assert strength.implied(text) is None
    assert all(strength.challenge(stated, text) is None for stated in strength.ORDER)


# Each line of AHRQ's printing, READ S147, and the category of ours that stands for it.
PRINTED = {
    "stronger": (
        *("a change of the building or the room", "a device tried with its users before it is bought"),
        *("a forcing function or interlock", "a simpler process with fewer steps"),
        *("standard equipment or process", "leaders who act"),
    ),
    "intermediate": (
        *("more staff or less workload", "a change of software", "fewer distractions"),
        *("a checklist or cognitive aid", "taking look-alikes apart", "standard words or read-back"),
        *("better records or communication", "redundancy"),
    ),
    "weaker": (
        *(
            "a double check",
            "a warning or label",
            "a new policy or procedure on paper",
            "training",
            "more study",
        ),
    ),
}


@pytest.mark.parametrize("level", PRINTED)
def test_every_printed_category_has_an_entry_of_its_strength(level):
    ours = {category.name: category for category in strength._load().categories}
    for name in PRINTED[level]:
        assert ours[name].strength == level
        assert ours[name].basis.startswith("READ")
    for name, category in ours.items():
        if category.strength == level and name not in PRINTED[level]:
            assert "memory" in category.basis or "ours" in category.basis


def test_several_measures_count_as_the_strongest_and_say_so():
    said = strength.implied("Training for all, and an interlock on the outlet")
    assert said is not None
    assert (said.strength, said.several) == ("stronger", True)
    assert "strongest counts" in said.why


def test_a_lecture_on_a_measure_is_a_lecture_but_not_what_stands_beside_it():
    assert strength.implied("Training on the checklist").strength == "weaker"
    assert strength.implied("Training on the checklist, and a hard stop").strength == "stronger"
    assert strength.implied("Training and a checklist").strength == "intermediate"


@pytest.mark.parametrize(("wanted", "source", "text"), SAID)
def test_a_strength_that_fits_is_not_challenged(wanted, source, text):
    assert strength.challenge(wanted, text) is None, source


def test_the_challenge_of_practice():
    """practice.md (c) 6: "the tool objects to mismatch ('email' marked stronger)"."""
    told = strength.challenge("stronger", "Email to Miss Haskerdine-Vole's team")
    assert told is not None
    assert "marked stronger" in told
    assert "weaker" in told
    assert "Haskerdine" not in told


def test_a_strength_below_what_is_said_is_asked_about_too():
    told = strength.challenge("weaker", "Hard stop when biometry is absent")
    assert told is not None
    assert "worth more" in told


def test_no_such_strength_is_refused():
    with pytest.raises(ValueError, match="stronger, intermediate, weaker"):
        strength.challenge("strong", "Checklist")


@pytest.mark.parametrize("text", ["training on " * 500, "remind " * 500, "a" * 20_000, "new, " * 3000])
def test_junk_comes_to_an_end(text):
    for stated, junk in product(strength.ORDER, (text,)):
        strength.challenge(stated, junk)


@pytest.mark.parametrize(
    "text",
    [
        "Above the agreed number: stop and tell the team",
        "Stop, tell the team",
        "Stop the list and ask the surgeon",
    ],
)
def test_a_stop_that_is_called_out_is_no_reminder(text: str) -> None:
    assert strength.challenge("intermediate", text) is None


def test_a_reminder_beside_a_stop_is_still_one() -> None:
    said = strength.challenge("intermediate", "Remind all staff to stop and look")
    assert said is not None
    assert "reminder" in said
