"""A small scrubbed case, made by hand: a trolley wheel that jams, so that no clinical knowledge is needed."""

from __future__ import annotations

from mmbuilder.safe.case import (
    Action,
    Arrow,
    Clock,
    Decision,
    Event,
    Factor,
    Frame,
    Governance,
    Grade,
    Held,
    Measure,
    Option,
    Outcome,
    Patient,
    Phase,
    Plan,
    Question,
    ScrubbedCase,
    Visit,
)
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.moment import DAY, Known, Moment
from mmbuilder.safe.terms import (
    EventKind,
    FactorRole,
    FactorRow,
    Likelihood,
    Scale,
    Sex,
    Strength,
    Use,
)
from mmbuilder.safe.text import SafeText, wording


def at(minutes: float) -> Moment:
    return Moment(minutes, minutes, Known.EXACT)


def say(text: str) -> SafeText:
    return SafeText(KEY, text)


EVENTS = (
    Event(1, EventKind.STEP, wording("Door opened"), at(0)),
    Event(2, EventKind.FIRST_SIGN, wording("Squeak from the wheel"), at(10)),
    Event(3, EventKind.ACTION, wording("Trolley pushed harder"), at(14)),
    Event(4, EventKind.RECOGNITION, wording("Bearing found broken"), at(25)),
    Event(5, EventKind.RESPONSE, wording("Spare trolley fetched"), at(27)),
    Event(6, EventKind.RESOLUTION, wording("Journey ended safely"), at(40)),
)

DECISIONS = (
    Decision(
        1,
        3,
        at(14),
        wording("What would you do about the noise?"),
        (
            Option(wording("Go on"), wording("The list is long")),
            Option(wording("Stop and look"), wording("A minute now saves ten later")),
        ),
        0,
        wording("The noise had been there all week"),
        visible=(wording("A slow wheel"),),
        fallback=wording("Fetch another"),
        trigger=wording("it stops turning"),
        counterfactual=wording("The bearing might have been seen ten minutes earlier"),
        sure=Likelihood.PROBABLY,
    ),
    Decision(
        2,
        4,
        at(25),
        wording("Where would you go from here?"),
        (
            Option(wording("Carry the load"), wording("It is not far")),
            Option(wording("Swap the carrier"), wording("It keeps the load level")),
        ),
        1,
        wording("A second carrier stood next door"),
    ),
)


def picture() -> SafeImage:
    return SafeImage(KEY, 16, 9, bytes(range(144)) * 3)


def sample(**changes: object) -> ScrubbedCase:
    """A complete case; `changes` replace fields."""
    fields: dict[str, object] = {
        "code": wording("trolley-01"),
        "use": Use.REVIEW,
        "title": wording("A journey along the corridor"),
        "specialty": wording("Porters"),
        "presenter": wording("Lead porter"),
        "situation": wording("A routine transfer needed a change of plan"),
        "background": wording("Third transfer of the morning"),
        "asked": wording("When could it first have been seen?"),
        "patient": Patient(wording("71"), wording("70s"), Sex.FEMALE, history=(wording("None"),)),
        "plan": Plan(wording("Transfer to the ward"), foreseen=(wording("Delay at the lift"),)),
        "zero": wording("door opened"),
        "clocks": (Clock(wording("wall clock"), reference=True),),
        "phases": (Phase(wording("Corridor"), at(0), at(40)),),
        "events": EVENTS,
        "frames": (
            Frame(
                1,
                picture(),
                wording("The wheel from the side"),
                wording("The axle stands out of line"),
                event=3,
                at=at(14),
                arrows=(Arrow(0.1, 0.1, 0.5, 0.5, wording("axle")),),
                pause=True,
            ),
        ),
        "decisions": DECISIONS,
        "series": (),
        "recordings": (),
        "outcome": Outcome(
            wording("The load arrived whole"),
            last_state=wording("Nothing is left of it"),
            grades=(
                Grade(
                    Scale.CLAVIEN_DINDO, say("I"), wording("delay"), wording("audit lead"), wording("Day 30")
                ),
            ),
            visits=(
                Visit(
                    Moment(DAY * 7, DAY * 7, Known.EXACT, DAY),
                    wording("Clinic"),
                    (Measure(wording("Mood"), wording("good")),),
                ),
            ),
        ),
        "factors": (
            Factor(
                FactorRow.WORK_ENVIRONMENT,
                FactorRole.ROOT,
                wording("No spare wheels in store"),
                evidence=(wording("Store list, Day 0"),),
                contributed=wording("The old wheel stayed in use"),
                counterfactual=wording("Wheel changed a week before"),
                changed=Likelihood.PROBABLY,
                actions=(1,),
            ),
            Factor(FactorRow.TEAM, FactorRole.CONTRIBUTORY, wording("No word passed on at handover")),
        ),
        "held": (Held(wording("The load was strapped"), wording("Checklist")),),
        "actions": (
            Action(
                1,
                wording("Keep two spare wheels"),
                Strength.INTERMEDIATE,
                owner=wording("Store lead"),
                due=wording("8 weeks after this meeting"),
                measure=wording("Spare wheels in store on the first of each month: 2 of 2"),
                baseline=wording("1 of 2"),
                review=wording("at the meeting in 4 months"),
            ),
            Action(2, wording("Tell everybody"), Strength.WEAKER, owner=wording("Lead porter")),
        ),
        "questions": (
            Question(
                wording("Was the squeak a sign?"), wording("Only if one knew the wheel"), Likelihood.PROBABLY
            ),
        ),
        "learning": (wording("A noise that is new to you may be old to the wheel"),),
        "take_away": wording("Ask how long it has been making that noise"),
        "references": (wording("Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157"),),
        "governance": Governance(),
        "hold_back": (wording("bearing"),),
    }
    return ScrubbedCase(**(fields | changes))  # type: ignore[arg-type]
