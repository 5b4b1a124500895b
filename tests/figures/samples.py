"""Invented stories to draw: a short eye operation, a recognition after days, an anaesthetic crisis."""

from __future__ import annotations

import math
from itertools import count

from mmbuilder.safe.case import (
    Clock,
    Decision,
    Event,
    Gap,
    Governance,
    Option,
    OtherTime,
    Outcome,
    Patient,
    Phase,
    Plan,
    Recording,
    ScrubbedCase,
    Series,
)
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.moment import DAY, Elapsed, Known, Moment
from mmbuilder.safe.terms import EventKind, Noticed, Recognised, Sureness, Use
from mmbuilder.safe.text import EMPTY, SafeText

K = EventKind


def safe(words: str) -> SafeText:
    return SafeText(KEY, words)


def at(minutes: float, sequence: int = 0) -> Moment:
    return Moment(minutes, minutes, Known.EXACT, 1.0, sequence=sequence)


def about(minutes: float, half: float) -> Moment:
    return Moment(minutes - half, minutes + half, Known.ABOUT)


def between(lo: float, hi: float) -> Moment:
    return Moment(lo, hi, Known.BETWEEN)


UNKNOWN = Moment(None, None, Known.ORDER_ONLY)


class Story:
    """Collects events; each gets the next number and place in the telling."""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self.decisions: list[Decision] = []
        self._numbers = count(1)

    def add(self, kind: EventKind, words: str, when: float | Moment, **more: object) -> int:
        number = next(self._numbers)
        moment = at(when) if isinstance(when, int | float) else when
        moment = Moment(moment.lo, moment.hi, moment.known, moment.precision, moment.loose, number)
        self.events.append(Event(number, kind, safe(words), moment, **more))  # type: ignore[arg-type]
        return number

    def decide(self, event: int, question: str) -> None:
        options = (Option(safe("go on"), safe("nearly done")), Option(safe("stop"), safe("look first")))
        moment = self.events[event - 1].at
        number = len(self.decisions) + 1
        self.decisions.append(Decision(number, event, moment, safe(question), options, 0, safe("stable")))

    def case(self, zero: str, **parts: object) -> ScrubbedCase:
        blank: dict[str, object] = {
            "code": safe("sample"), "use": Use.REVIEW, "title": safe("A sample"),
            "specialty": safe("surgery"),
            "presenter": safe("a registrar"), "situation": EMPTY, "background": EMPTY, "asked": EMPTY,
            "patient": Patient(), "plan": Plan(safe("an operation")), "zero": safe(zero), "clocks": (),
            "phases": (), "events": tuple(self.events), "frames": (), "decisions": tuple(self.decisions),
            "series": (), "recordings": (), "outcome": Outcome(EMPTY), "factors": (), "held": (),
            "actions": (), "questions": (), "learning": (), "take_away": EMPTY, "references": (),
            "governance": Governance(),
        }  # fmt: skip
        return ScrubbedCase(**(blank | parts))  # type: ignore[arg-type]


def clocks() -> tuple[Clock, ...]:
    return (
        Clock(safe("theatre wall clock"), True),
        Clock(safe("recorder"), False, Elapsed(-2.25, -2.25, 1 / 60)),
    )


def eye() -> ScrubbedCase:
    story = Story()
    story.add(K.STEP, "Incision at 11 o'clock", 0)
    story.add(K.STEP, "Flap lifted", 9)
    story.add(
        K.FIRST_SIGN, "Red reflex turns dull", 18, noticed=Noticed.IN_HINDSIGHT,
        others=(OtherTime(at(20.5), safe("recorder")),), source=safe("operation note"),
    )  # fmt: skip
    story.add(K.NOTE, "Patient asks about the pressure", UNKNOWN)
    sign = story.add(K.FIRST_SIGN, "Eye feels hard", about(24, 2), noticed=Noticed.AT_THE_TIME)
    story.decide(sign, "Go on, or close at once?")
    story.add(K.RECOGNITION, "Bleed behind the retina named", 29, recognised=Recognised.COMPLICATION)
    story.add(K.CALL, "Consultant called", 30)
    story.add(K.RESPONSE, "Wound closed", 32)
    story.add(K.DRUG, "Mannitol", 35, dose=safe("100 mL of 20 % i.v."))
    story.add(K.ARRIVAL, "Consultant in theatre", between(36, 41))
    story.add(K.RESOLUTION, "Eye soft again", 55)
    return story.case(
        "incision",
        clocks=clocks(),
        phases=(
            Phase(safe("Access"), at(0), at(9)),
            Phase(safe("Flap and lens"), at(9), at(29)),
            Phase(safe("Closure"), at(29), at(58)),
        ),
        recordings=(
            Recording(safe("File 1"), at(2), at(22)),
            Recording(safe("File 2"), at(27), at(50)),
        ),
    )


def ward() -> ScrubbedCase:
    story, hour = Story(), 60.0
    story.add(K.STEP, "First port in", 0)
    story.add(K.STEP, "Adhesions divided", 34)
    story.add(K.NOTE, "Bowel looked at, no leak seen", 71)
    story.add(K.STEP, "Skin closed", 95)
    story.add(
        K.FIRST_SIGN, "Pulse 104 at rest", 31 * hour, noticed=Noticed.IN_HINDSIGHT,
    )  # fmt: skip
    story.add(K.DRUG, "Morphine", 32.5 * hour, dose=safe("5 mg s.c."))
    story.add(
        K.FIRST_SIGN, "Shoulder pain, belly tense", between(34 * hour, 36 * hour), noticed=Noticed.AT_THE_TIME
    )
    call = story.add(K.CALL, "Registrar called", 37 * hour)
    story.decide(call, "Scan tonight, or review at six?")
    story.add(K.NOTE, "Handover spoke of ileus", UNKNOWN)
    story.add(K.RECOGNITION, "Free gas on the scan", 43.5 * hour, recognised=Recognised.COMPLICATION)
    story.add(K.RESPONSE, "Back to theatre", 46 * hour)
    story.add(K.RECOGNITION, "Port-site hole found", 46.75 * hour, recognised=Recognised.CAUSE)
    story.add(K.STEP, "Drain out", Moment(4 * DAY, 5 * DAY - 1, Known.BETWEEN, DAY))
    story.add(K.RESOLUTION, "Eating, afebrile", Moment(6 * DAY, 7 * DAY - 1, Known.BETWEEN, DAY))
    story.add(K.NOTE, "Home", Moment(9 * DAY, 10 * DAY - 1, Known.BETWEEN, DAY))
    pulse = tuple(
        (31 * hour + 60 * n, 100 + 3.1 * n + 4 * math.sin(n)) for n in range(14) if not 8 <= n <= 10
    )
    return story.case(
        "first port in",
        clocks=(Clock(safe("ward record"), True), Clock(safe("theatre record"), False)),
        phases=(
            Phase(safe("Laparoscopy"), at(0), at(95)),
            Phase(safe("Ward"), at(130), at(46 * hour)),
            Phase(safe("Second operation"), at(46 * hour), at(48.5 * hour)),
            Phase(safe("Ward again"), at(50 * hour), at(10 * DAY)),
        ),
        series=(
            Series(
                safe("Pulse"),
                safe("/min"),
                pulse,
                gaps=(Gap(38.5 * hour, 41.5 * hour, safe("obs not done")),),
            ),
        ),
    )


def vitals() -> ScrubbedCase:
    story = Story()
    story.add(K.DRUG, "Propofol", -4, dose=safe("160 mg i.v."))
    story.add(K.STEP, "Tube in, 23 cm", 0)
    story.add(K.STEP, "Position changed", 12)
    story.add(K.FIRST_SIGN, "Airway pressure 31", 17, noticed=Noticed.IN_HINDSIGHT)
    sign = story.add(K.FIRST_SIGN, "Saturation 91 %", 21, noticed=Noticed.AT_THE_TIME)
    story.decide(sign, "Tube, lungs, or machine first?")
    story.add(K.ACTION, "Switched to bag", 23)
    story.add(K.CALL, "Second anaesthetist called", 24)
    story.add(K.DRUG, "Salbutamol", 25, dose=safe("puffs 8 by tube"), sure=Sureness.PROBABLE)
    story.add(K.ACTION, "Suction catheter stops at 24 cm", 27)
    story.add(K.RECOGNITION, "Tube blocked", about(28, 1), recognised=Recognised.COMPLICATION)
    story.add(K.ARRIVAL, "Second anaesthetist", 29)
    plug = story.add(K.RESPONSE, "Tube changed", 31)
    story.decide(plug, "Wake up, or go on?")
    story.add(K.RECOGNITION, "Plug of dried blood", 33, recognised=Recognised.CAUSE)
    story.add(K.DRUG, "Adrenaline", 30, dose=safe("10 µg i.v."))
    story.add(K.RESOLUTION, "Saturation 97 %", 38)
    story.add(K.NOTE, "Family spoken to", Moment(55, None, Known.AFTER))
    minutes = range(-5, 60)
    dip = [98 - 34 * math.exp(-(((m - 29) / 5.0) ** 2)) for m in minutes]
    rate = [74 + 48 * math.exp(-(((m - 31) / 6.0) ** 2)) + 2 * math.sin(m) for m in minutes]
    mean = [82 - 24 * math.exp(-(((m - 33) / 5.0) ** 2)) + 2 * math.cos(m * 0.7) for m in minutes]
    return story.case(
        "tube in",
        clocks=(Clock(safe("anaesthetic record"), True), Clock(safe("wall clock"), False, Elapsed(3, 3))),
        phases=(
            Phase(safe("Induction"), at(-5), at(8)),
            Phase(safe("Operation"), at(8), at(22)),
            Phase(safe("Crisis"), at(22), at(38)),
            Phase(safe("Operation"), at(38), at(59)),
        ),
        series=(
            _line(
                "SpO₂", "%", minutes, dip, gaps=(Gap(40, 44, safe("probe off")),), artefacts=frozenset({9})
            ),
            _line("Pulse", "/min", minutes, rate),
            _line(
                "Mean pressure",
                "mmHg",
                minutes,
                mean,
                gaps=(Gap(24, 33, safe("cuff unreadable")),),
            ),
        ),
    )


def _line(
    name: str, unit: str, minutes: range, values: list[float], *,
    gaps: tuple[Gap, ...] = (), artefacts: frozenset[int] = frozenset(),
) -> Series:  # fmt: skip
    points = tuple(
        (float(m), round(v, 1))
        for m, v in zip(minutes, values, strict=True)
        if not any(gap.start < m < gap.end for gap in gaps)
    )
    return Series(safe(name), safe(unit), points, artefacts, gaps)
