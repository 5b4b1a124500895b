"""The raw case as its author wrote it: schema and type in one.

Every class is a frozen pydantic model: unknown keys are refused, values stay out of error
messages and out of `repr`. Keys in the file are words with spaces (`take away:`), fields
here have underscores. Free text is `FreeText`; closed words are the enums of `safe.terms`;
times are `When`, resolved against the clocks in `case.clocks`.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo, field_validator

from mmbuilder.case.freetext import FILE, FreeText
from mmbuilder.case.when import Day, Duration, When
from mmbuilder.safe.terms import (
    GRADES,
    BarrierState,
    Care,
    CauseKind,
    Consent,
    EventKind,
    FactorRole,
    FactorRow,
    Headings,
    Likelihood,
    Loss,
    Noticed,
    Recognised,
    Scale,
    Seat,
    Sector,
    Sex,
    Side,
    Strength,
    Sureness,
    Symptoms,
    Turn,
    Use,
    View,
    YesNo,
)

SCHEMA_VERSION = 1


class Part(BaseModel):
    """What every part of a case has in common."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        hide_input_in_errors=True,
        alias_generator=lambda name: name.replace("_", " "),
        arbitrary_types_allowed=True,
        allow_inf_nan=False,
        defer_build=True,  # a command that needs no case does not pay for its schema
    )

    def __repr__(self) -> str:
        return f"<{type(self).__name__}>"

    __str__ = __repr__


def _one_or_many(value: Any) -> Any:
    # A clinician with one relevant finding writes it on the line, not as a list of one.
    return value if isinstance(value, list) else [value]


def _nothing(value: Any) -> Any:
    return () if isinstance(value, str) and value.strip().casefold() in ("none", "nothing") else value


Lines: TypeAlias = Annotated[tuple[FreeText, ...], BeforeValidator(_one_or_many)]
"""One text or a list of them."""

Key: TypeAlias = Annotated[str, Field(pattern=r"^\w[\w .-]{0,39}$")]
"""A name the author gives to an event, decision, frame or action to refer to it."""

Slug: TypeAlias = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=40)]
"""Lower-case letters, figures and hyphens: used in the names of output files."""


def _figures(value: Any) -> Any:
    # `crop: 10, 20, 300, 200` says the same as the list in brackets.
    return value.replace(",", " ").split() if isinstance(value, str) else value


Box: TypeAlias = Annotated[tuple[float, float, float, float], BeforeValidator(_figures)]
"""left, top, width, height; in pixels of the original picture, as it is seen upright."""

Point: TypeAlias = Annotated[tuple[float, float], BeforeValidator(_figures)]
"""x from the left, y from the top; in pixels of the original picture, as it is seen upright."""


class Measure(Part):
    """A measurement with its unit, as it was written; also an input of a computation."""

    name: FreeText
    value: FreeText


class Computation(Part):
    """A figure of the clinic to be worked out; `mmbuilder compute` lists them."""

    what: FreeText
    given: tuple[Measure, ...] = Field(alias="from", min_length=1)
    """Its inputs, by the names the figure calls them."""


Computations: TypeAlias = Annotated[tuple[Computation, ...], BeforeValidator(_one_or_many)]


class Presenter(Part):
    """Who presents, by role."""

    role: FreeText


class Patient(Part):
    """The patient, as far as the case needs."""

    age: FreeText | None = None
    sex: Sex = Sex.NOT_STATED
    side: Side = Side.NONE
    pregnant: YesNo = YesNo.UNKNOWN
    """Reference ranges are then those of pregnancy, or none."""
    weight: FreeText | None = None
    height: FreeText | None = None
    history: Lines = ()
    negatives: Lines = ()


class Plan(Part):
    """What was intended, found, foreseen and said before the operation."""

    procedure: FreeText
    indication: FreeText | None = None
    anaesthesia: FreeText | None = None
    findings: Lines = ()
    foreseen: Lines = ()
    told: Lines = ()


class Anchor(Part):
    """The same instant on two clocks: what this clock read, and what the reference read."""

    reads: When
    reference: When


class Clock(Part):
    """A source of times. Either `offset` or `anchor`; neither means its offset is unknown (and warned of)."""

    name: Key
    kind: FreeText | None = None
    reference: bool = False
    offset: Duration | None = None
    """Added to a reading of this clock to get the reference clock."""
    anchor: Anchor | None = None
    second_anchor: Anchor | None = None
    starts: When | None = None
    """For a recording: when it starts, on the clock named in `on` (the reference clock if none is)."""
    runs: Duration | None = None
    """For a recording: how long it runs."""
    on: Key | None = None
    precision: Duration | None = None
    """The step of this source, where coarser than its readings look."""


class Phase(Part):
    """A phase of the operation or of the stay."""

    name: FreeText
    starts: When
    ends: When | None = None
    clock: Key | None = None


class OtherRecord(Part):
    """What another source has of the same event and does not agree in; at least one of the first four."""

    when: When | None = None
    what: FreeText | None = None
    dose: FreeText | None = None
    volume: FreeText | None = None
    clock: Key | None = None
    source: FreeText | None = None


class Event(Part):
    """One entry of the timeline."""

    id: Key | None = None
    kind: EventKind
    what: FreeText
    label: FreeText | None = None
    when: When
    clock: Key | None = None
    source: FreeText | None = None
    sure: Sureness = Sureness.CERTAIN
    phase: FreeText | None = None
    also: Annotated[tuple[OtherRecord, ...], BeforeValidator(_one_or_many)] = ()
    """Another time, dose, volume or account of it, with its source; every one is shown and none is chosen."""
    noticed: Noticed | None = None
    recognised: Recognised | None = None
    dose: FreeText | None = None
    volume: FreeText | None = None
    """What was lost, given or drained, with its unit."""
    compute: Computations = ()


class Timeline(Part):
    """Phases and events, and which event the timeline counts from."""

    index_event: Key
    """T+0: the id of an event."""
    day_zero: Day | None = None
    """Calendar date of Day 0; needed only where other times carry dates."""
    closed: When | None = None
    """When the case was closed: nothing can happen after it."""
    night: YesNo = YesNo.UNKNOWN
    """Yes: the nights are shaded on the chart, because they matter."""
    night_from: When | None = None
    night_to: When | None = None
    """The hours of night as they count here; 20:00 to 08:00 where neither is given."""
    phases: tuple[Phase, ...] = ()
    events: tuple[Event, ...] = Field(min_length=1)


class Cover(Part):
    """A part of a picture to fill solid."""

    box: Box
    why: FreeText | None = None


class Keep(Part):
    """A part of a picture that must stay readable, and why."""

    box: Box
    why: FreeText


class Arrow(Part):
    """An arrow drawn on a frame when it is shown the second time."""

    start: Point = Field(alias="from")
    end: Point = Field(alias="to")
    label: FreeText | None = None


class Circle(Part):
    """A ring drawn on a frame when it is shown the second time."""

    at: Point
    radius: float = Field(gt=0)
    label: FreeText | None = None


class Frame(Part):
    """A still: what the room sees first (`shows`), and what it is told then (`caption`)."""

    id: Key | None = None
    file: Annotated[FreeText, FILE]
    event: Key | None = None
    when: When | None = None
    clock: Key | None = None
    phase: FreeText | None = None
    shows: FreeText
    caption: FreeText
    crop: Box | None = None
    arrows: tuple[Arrow, ...] = ()
    circles: tuple[Circle, ...] = ()
    cover: Annotated[
        tuple[Cover, ...],
        BeforeValidator(_nothing, json_schema_input_type=tuple[Cover, ...] | Literal["none", "nothing"]),
    ] = ()
    """Boxes to fill; `none` says that somebody looked and found nothing to cover."""
    keep: tuple[Keep, ...] = ()
    pause: bool = False


class Option(Part):
    """One way forward and the fair reason for it."""

    option: FreeText
    reason: FreeText


class Decision(Part):
    """A choice, with its alternatives and the reason at the time."""

    id: Key | None = None
    at: Key
    """The event it was made at."""
    question: FreeText
    visible: Lines = ()
    options: tuple[Option, ...] = Field(min_length=1)
    chosen: FreeText
    """The option taken: its words as written in `options`, or its place in the list (1, 2, ...)."""
    because: FreeText
    fallback: FreeText | None = None
    trigger: FreeText | None = None
    counterfactual: FreeText | None = None
    sure: Likelihood | None = None


class ReadingLine(Part):
    """A column of a readings file to draw."""

    column: FreeText
    """The column's heading in the file."""
    name: FreeText
    """What to call it on the chart."""
    unit: FreeText
    low: float | None = None
    high: float | None = None
    """Values outside [low, high] are device sentinels or nonsense, and never drawn."""
    alarm_below: float | None = None
    alarm_above: float | None = None
    """The limits at which the alarm was set that day, and no others."""


class ReadingGap(Part):
    """A stretch without readings, and why."""

    starts: When = Field(alias="from")
    ends: When = Field(alias="to")
    why: FreeText


class Readings(Part):
    """A CSV file of readings."""

    file: Annotated[FreeText, FILE]
    clock: Key | None = None
    time_column: FreeText | None = None
    """The column that holds the time; the first one if not said."""
    lines: tuple[ReadingLine, ...] = Field(min_length=1)
    every: Duration | None = None
    """How often a reading was due: a longer silence is a gap."""
    gaps: tuple[ReadingGap, ...] = ()
    artefacts: Annotated[tuple[When, ...], BeforeValidator(_one_or_many)] = ()


class Grade(Part):
    """A severity grade, stated by somebody (role) at some time."""

    scale: Scale
    grade: str
    complication: FreeText | None = None
    events: Annotated[tuple[Key, ...], BeforeValidator(_one_or_many)] = ()
    """The events of this complication, by their ids; for a scale that has a window of time."""
    by: FreeText | None = None
    when: FreeText | None = None
    treatments: Lines = ()
    """What it was treated with, in the scale's words; the grade is held against it and never filled in."""
    symptoms: FreeText | None = None
    """What the patient had of it, in the scale's words; for ClassIntra."""
    at_discharge: YesNo = YesNo.UNKNOWN
    """Whether it was still there when the patient went home."""

    @field_validator("grade")
    @classmethod
    def _as_printed(cls, value: str, info: ValidationInfo) -> str:
        # `grade iiib` is the scale's own IIIb; one that is not on the scale is told by a rule, with the list.
        plain = " ".join(value.split()).casefold().removeprefix("grade ")
        scale = info.data.get("scale")
        known = GRADES[scale] if isinstance(scale, Scale) else ()
        return next((grade for grade in known if grade.casefold() == plain), value)


class Visit(Part):
    """A follow-up visit."""

    when: When
    label: FreeText | None = None
    measures: tuple[Measure, ...] = ()
    note: FreeText | None = None
    compute: Computations = ()


class HarmFacts(Part):
    """What befell the patient, in the words that the harm scales ask for; grades are held against it."""

    occurred: YesNo = YesNo.YES
    """No: circumstances that could have led to an event, with none."""
    reached: YesNo = YesNo.YES
    """Whether it got to the patient."""
    symptoms: Symptoms = Symptoms.NONE
    care: Care = Care.NONE
    longer_stay: YesNo = YesNo.NO
    loss: Loss = Loss.NONE
    died: YesNo = YesNo.NO


class Watch(Part):
    """One line of what is still watched after the case."""

    what: FreeText
    until: FreeText | None = None
    threshold: FreeText | None = None
    by: FreeText | None = None
    """A role."""


class Outcome(Part):
    """How it ended, as far as it has."""

    summary: FreeText
    last_state: FreeText | None = None
    told: FreeText | None = None
    grades: tuple[Grade, ...] = ()
    visits: tuple[Visit, ...] = ()
    monitoring: tuple[Watch, ...] = ()
    harm: HarmFacts | None = None


class Barrier(Part):
    """What should have caught it."""

    what: FreeText
    state: BarrierState


class Factor(Part):
    """One line of the root-cause grid."""

    row: FactorRow
    role: FactorRole = FactorRole.CONTRIBUTORY
    what: FreeText
    evidence: Lines = ()
    contributed: FreeText | None = None
    cause: CauseKind | None = None
    """What kind of cause it is; a human act, a departure and a failure to act need more to be fair."""
    preceded_by: FreeText | None = None
    """What came before a human act, or the reason of a departure from procedure."""
    duty: FreeText | None = None
    """The rule in force then, for something not done."""
    events: Annotated[tuple[Key, ...], BeforeValidator(_one_or_many)] = ()
    """Events that are evidence for it, by their ids."""
    counterfactual: FreeText | None = None
    changed: Likelihood | None = None
    would_move: Turn | None = None
    """Which point of the story would have come earlier, or not at all."""
    by_about: FreeText | None = None
    barrier: Barrier | None = None
    actions: Annotated[tuple[Key, ...], BeforeValidator(_one_or_many)] = ()
    reason: FreeText | None = None


class Held(Part):
    """Something that went well."""

    what: FreeText
    evidence: FreeText | None = None


class Agreed(Part):
    """An action as a meeting left it: a new one, or what changes in the one with this id."""

    id: Key | None = None
    what: FreeText | None = None
    strength: Strength | None = None
    strength_reason: FreeText | None = None
    owner: FreeText | None = None
    due: FreeText | None = None
    measure: FreeText | None = None
    """What is counted (the numerator)."""
    out_of: FreeText | None = None
    """The denominator."""
    target: FreeText | None = None
    period: FreeText | None = None
    baseline: FreeText | None = None
    review: FreeText | None = None


class Action(Agreed):
    """What is to change: who by role, by when, measured how."""

    what: FreeText = Field(...)  # here it has to be said


class Present(Part):
    """How many of a role were there; nobody is named."""

    role: FreeText
    number: int = Field(ge=0)


class Meeting(Part):
    """A meeting that has discussed the case."""

    day: Day
    attendance: tuple[Present, ...] = ()
    decided: Lines = ()


class Question(Part):
    """A question for the room, with the presenter's own answer."""

    ask: FreeText
    answer: FreeText | None = None
    sure: Likelihood | None = None


class Oriented(Part):
    """Something found or done at a clock hour of the eye."""

    what: FreeText
    hour: int = Field(ge=1, le=12)
    view: View
    wound: bool = False
    """Whether it is the main wound, which lies in front of the surgeon."""
    sector: Sector | None = None


class Orientation(Part):
    """Where the surgeon sat at the eye, and what lay at which hour; the eye is the side of `patient`."""

    seat: Seat
    findings: tuple[Oriented, ...] = Field(min_length=1)


class Mechanism(Part):
    """How it came about, in order; `frame` is a drawing or still that shows it."""

    steps: Lines
    frame: Key | None = None


class Thought(Part):
    """What the author thought at an event, as far as it is remembered."""

    at: Key
    thought: FreeText


class Reflection(Part):
    """A private reflection: facts stand in the timeline, thoughts here."""

    headings: Headings = Headings.GIBBS
    feelings: Lines = ()
    thoughts: tuple[Thought, ...] = ()
    control: Lines = ()
    """What lies in the author's own hands."""
    escalate: Lines = ()
    """What has to be passed on, and to which role."""
    change: FreeText | None = None
    """The one thing that will be done differently."""
    change_by: FreeText | None = None


class NotApplicable(Part):
    """An item of a reporting checklist that this case has no place for, and why."""

    item: FreeText
    reason: FreeText


class Report(Part):
    """What only a written case report asks for."""

    keywords: Lines = ()
    importance: FreeText | None = None
    """Why this case matters: what it adds."""
    introduction: Lines = ()
    discussion: Lines = ()
    strengths: FreeText | None = None
    """Strengths and limits of how the case was handled and told."""
    patient_words: FreeText | None = None
    """The patient's own words; shown only where `patient words consent` is given."""
    conflicts: FreeText | None = None
    funding: FreeText | None = None
    ethics: FreeText | None = None
    not_applicable: tuple[NotApplicable, ...] = ()


class Governance(Part):
    """Consent and holds."""

    publication_consent: Consent = Consent.NOT_ASKED
    patient_words_consent: Consent = Consent.NOT_ASKED
    legal_hold: YesNo = YesNo.UNKNOWN
    coroner: YesNo = YesNo.UNKNOWN


class Case(Part):
    """A whole case."""

    mmbuilder: int
    """Schema version of the file."""
    code: Slug
    title: FreeText
    use: Use = Use.REVIEW
    specialty: str
    """The name of a pack."""
    language: str = "en"
    """Of the fixed words on slides and paper: the tag of a catalogue, such as `de`."""
    presenter: Presenter
    meeting: Day | None = None
    """Date of the meeting: due dates are told from it."""
    previous_actions: Annotated[FreeText | None, FILE] = None
    """The department's action log, a CSV or XLSX file in the case folder: what earlier meetings agreed."""
    situation: FreeText
    background: FreeText | None = None
    asked: FreeText
    patient: Patient
    plan: Plan
    clocks: tuple[Clock, ...] = Field(min_length=1)
    timeline: Timeline
    frames: tuple[Frame, ...] = ()
    decisions: tuple[Decision, ...] = ()
    readings: tuple[Readings, ...] = ()
    orientation: Orientation | None = None
    compute: Computations = ()
    mechanism: Mechanism | None = None
    rescue: Lines = ()
    """The steps of the rescue as they should be taken, in order."""
    outcome: Outcome
    factors: tuple[Factor, ...] = ()
    held: tuple[Held, ...] = ()
    actions: tuple[Action, ...] = ()
    questions: tuple[Question, ...] = ()
    meetings: tuple[Meeting, ...] = ()
    learning: Lines = ()
    take_away: FreeText
    references: Lines = ()
    reflection: Reflection | None = None
    report: Report | None = None
    governance: Governance = Field(default_factory=Governance)
    hold_back: Lines = ()
    """Words that would give the answer away before the recognition."""
