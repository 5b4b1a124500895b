"""The case past the line: the same story, in safe words, pictures and moments.

It repeats the shape of `mmbuilder.case.model` on purpose. The two never meet: only
`mmbuilder.scrub.apply` knows both, so a field that nobody carries across does not cross.
Ids of the author's making stay behind; events, decisions and actions are numbered anew.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from mmbuilder.review.counted import counted, timed
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.moment import Elapsed, Moment
from mmbuilder.safe.orientation import Orientation
from mmbuilder.safe.terms import (
    BarrierState,
    Care,
    CauseKind,
    Consent,
    Course,
    EventKind,
    FactorRole,
    FactorRow,
    Headings,
    Likelihood,
    Loss,
    Noticed,
    Recognised,
    Scale,
    Sex,
    Side,
    Strength,
    Sureness,
    Symptoms,
    Turn,
    Use,
    YesNo,
)
from mmbuilder.safe.text import EMPTY, SafeText, wording


@dataclass(frozen=True)
class Patient:
    """Who was operated on, as far as may be said."""

    age: SafeText = EMPTY
    age_decade: SafeText = EMPTY
    """Empty as well where only a stage of life is told: `infant`."""
    child: bool = False
    """A girl or a boy, not a woman or a man."""
    sex: Sex = Sex.NOT_STATED
    side: Side = Side.NONE
    weight: SafeText = EMPTY
    height: SafeText = EMPTY
    history: tuple[SafeText, ...] = ()
    negatives: tuple[SafeText, ...] = ()
    pregnant: YesNo = YesNo.UNKNOWN


@dataclass(frozen=True)
class Plan:
    """What was intended, foreseen and said beforehand."""

    procedure: SafeText
    indication: SafeText = EMPTY
    anaesthesia: SafeText = EMPTY
    findings: tuple[SafeText, ...] = ()
    foreseen: tuple[SafeText, ...] = ()
    told: tuple[SafeText, ...] = ()


@dataclass(frozen=True)
class Clock:
    """A source of times, and how far it was shifted to the reference clock."""

    name: SafeText
    reference: bool
    offset: Elapsed | None = None
    """What is added to a reading of this clock, in minutes; None where it was not stated."""
    drift: Elapsed | None = None
    """Offset at the second anchor less offset at the first, in minutes."""


@dataclass(frozen=True)
class Phase:
    """A phase of the operation or of the stay."""

    name: SafeText
    start: Moment
    end: Moment


@dataclass(frozen=True)
class Recording:
    """When a recorder was running."""

    name: SafeText
    start: Moment
    end: Moment


@dataclass(frozen=True)
class Computed:
    """A figure of the clinic with everything a reader needs to do it again; the words are the tool's own.

    Attributes:
        name: of the figure.
        answers: each result as printed.
        disputed: for what sources do not agree on, each result with its convention.
        inputs: (name, value as it was understood).
        steps: the working, a line a step; shown only if asked for.
        unresolved: records conflict, and an answer holds the result by each of them.
    """

    name: SafeText
    answers: tuple[SafeText, ...]
    disputed: tuple[SafeText, ...] = ()
    inputs: tuple[tuple[SafeText, SafeText], ...] = ()
    steps: tuple[SafeText, ...] = ()
    notes: tuple[SafeText, ...] = ()
    formula: SafeText = EMPTY
    source: SafeText = EMPTY
    caution: SafeText = EMPTY
    unresolved: bool = False


@dataclass(frozen=True)
class OtherTime:
    """A time for the same event from another source that does not agree."""

    at: Moment
    source: SafeText = EMPTY


@dataclass(frozen=True)
class OtherRecord:
    """What another source has of the same event and does not agree in; empty where it says nothing else."""

    what: SafeText = EMPTY
    dose: SafeText = EMPTY
    volume: SafeText = EMPTY
    source: SafeText = EMPTY


@dataclass(frozen=True)
class Event:
    """One entry of the timeline."""

    number: int
    kind: EventKind
    what: SafeText
    at: Moment
    label: SafeText = EMPTY
    """Short form for the chart (six words at most), or empty."""
    source: SafeText = EMPTY
    sure: Sureness = Sureness.CERTAIN
    others: tuple[OtherTime, ...] = ()
    noticed: Noticed | None = None
    recognised: Recognised | None = None
    dose: SafeText = EMPTY
    computed: tuple[Computed, ...] = ()
    volume: SafeText = EMPTY
    records: tuple[OtherRecord, ...] = ()
    """What sources tell differently besides the time."""

    @property
    def disputed(self) -> bool:
        """Whether sources disagree about it in anything."""
        return bool(self.others or self.records)


@dataclass(frozen=True)
class Arrow:
    """An arrow on a frame; ends as fractions (0 to 1) of the visible picture's width and height."""

    x0: float
    y0: float
    x1: float
    y1: float
    label: SafeText = EMPTY


@dataclass(frozen=True)
class Circle:
    """A ring on a frame; centre as fractions of width and height, radius as a fraction of width."""

    x: float
    y: float
    radius: float
    label: SafeText = EMPTY


@dataclass(frozen=True)
class Frame:
    """A still, with what to say before its arrow is shown and after."""

    number: int
    image: SafeImage
    shows: SafeText
    caption: SafeText
    event: int | None = None
    at: Moment | None = None
    arrows: tuple[Arrow, ...] = ()
    circles: tuple[Circle, ...] = ()
    pause: bool = False
    """The room is stopped at this frame."""


@dataclass(frozen=True)
class Option:
    """One way forward, with the fair reason somebody would have had for it."""

    what: SafeText
    reason: SafeText


@dataclass(frozen=True)
class Decision:
    """A choice made under what was known then."""

    number: int
    event: int
    at: Moment
    question: SafeText
    options: tuple[Option, ...]
    chosen: int
    because: SafeText
    visible: tuple[SafeText, ...] = ()
    fallback: SafeText = EMPTY
    trigger: SafeText = EMPTY
    counterfactual: SafeText = EMPTY
    sure: Likelihood | None = None


@dataclass(frozen=True)
class Gap:
    """A stretch without readings, and why. Minutes from the index event."""

    start: float
    end: float
    reason: SafeText = EMPTY


@dataclass(frozen=True)
class Series:
    """One line of readings.

    Attributes:
        points: (minutes from the index event, value in `unit`), in order, without sentinels.
        artefacts: indices into `points` that the author marked as artefact.
        gaps: stretches that no line may cross.
        dropped: how many device sentinels were left out.
        alarm_low, alarm_high: the limits at which the alarm was set that day; None where nobody said.
    """

    name: SafeText
    unit: SafeText
    points: tuple[tuple[float, float], ...]
    artefacts: frozenset[int] = frozenset()
    gaps: tuple[Gap, ...] = ()
    dropped: int = 0
    alarm_low: float | None = None
    alarm_high: float | None = None


@dataclass(frozen=True)
class DayAndNight:
    """Where days begin in the story, and what counts as night. Times of day only: no date.

    Attributes:
        midnight: minutes from the index event to the midnight after it.
        dusk, dawn: minutes past midnight between which it is night; None where night is not shown.
        usual: the hours of night are ours; the author said only that it matters.
    """

    midnight: float
    dusk: float | None = None
    dawn: float | None = None
    usual: bool = False


@dataclass(frozen=True)
class Grade:
    """A severity grade, who gave it (role) and when."""

    scale: Scale
    grade: SafeText
    complication: SafeText = EMPTY
    by: SafeText = EMPTY
    when: SafeText = EMPTY
    treatments: tuple[SafeText, ...] = ()
    symptoms: SafeText = EMPTY
    """What the patient had of it, where the scale asks for that."""


@dataclass(frozen=True)
class Measure:
    """A measurement at a visit, as it was written."""

    name: SafeText
    value: SafeText


@dataclass(frozen=True)
class Visit:
    """A follow-up visit; `to_come` if it lies after the meeting that the case is told to."""

    at: Moment
    label: SafeText
    measures: tuple[Measure, ...] = ()
    note: SafeText = EMPTY
    computed: tuple[Computed, ...] = ()
    to_come: bool = False


@dataclass(frozen=True)
class Watch:
    """One line of what is still watched after the case, as it was written; `role` watches."""

    what: SafeText
    until: SafeText = EMPTY
    threshold: SafeText = EMPTY
    role: SafeText = EMPTY


@dataclass(frozen=True)
class Harm:
    """What befell the patient, in the closed words that the scales of harm ask for."""

    occurred: bool
    reached: bool
    symptoms: Symptoms
    care: Care
    longer_stay: bool
    loss: Loss
    died: bool


@dataclass(frozen=True)
class Parted:
    """Two scales of harm that part on the facts, each right by its own definition."""

    scale: Scale
    grade: SafeText
    other: Scale
    other_grade: SafeText
    why: SafeText


@dataclass(frozen=True)
class Outcome:
    """How it ended, as far as it has."""

    summary: SafeText
    last_state: SafeText = EMPTY
    told: SafeText = EMPTY
    """What was said to the patient or family afterwards."""
    grades: tuple[Grade, ...] = ()
    visits: tuple[Visit, ...] = ()
    monitoring: tuple[Watch, ...] = ()
    harm: Harm | None = None
    parted: tuple[Parted, ...] = ()
    """Where the scales of harm part, if the case grades harm on one of them."""
    highest: SafeText = EMPTY
    """The highest Clavien-Dindo grade, where there are several: one for each complication."""

    @property
    def held(self) -> tuple[Visit, ...]:
        """The visits that had been held by the meeting."""
        return tuple(visit for visit in self.visits if not visit.to_come)

    @property
    def to_come(self) -> tuple[Visit, ...]:
        """The visits that are told and lie after it."""
        return tuple(visit for visit in self.visits if visit.to_come)


@dataclass(frozen=True)
class Factor:
    """One line of the root-cause grid."""

    row: FactorRow
    role: FactorRole
    what: SafeText
    evidence: tuple[SafeText, ...] = ()
    contributed: SafeText = EMPTY
    cause: CauseKind | None = None
    preceded_by: SafeText = EMPTY
    duty: SafeText = EMPTY
    counterfactual: SafeText = EMPTY
    changed: Likelihood | None = None
    would_move: Turn | None = None
    by_about: SafeText = EMPTY
    """How far the point would have moved, as a length of time."""
    barrier: SafeText = EMPTY
    barrier_state: BarrierState | None = None
    actions: tuple[int, ...] = ()
    reason: SafeText = EMPTY
    """Why it was excluded, or why it has no action."""


@dataclass(frozen=True)
class Held:
    """Something that went well, with its evidence."""

    what: SafeText
    evidence: SafeText = EMPTY


def _empty(*parts: tuple[SafeText | bool, SafeText]) -> tuple[SafeText, ...]:
    return tuple(name for value, name in parts if not value)


@dataclass(frozen=True)
class Action:
    """What is to change."""

    number: int
    what: SafeText
    strength: Strength | None = None
    strength_reason: SafeText = EMPTY
    owner: SafeText = EMPTY
    due: SafeText = EMPTY
    measure: SafeText = EMPTY
    out_of: SafeText = EMPTY
    target: SafeText = EMPTY
    period: SafeText = EMPTY
    baseline: SafeText = EMPTY
    review: SafeText = EMPTY
    due_day: date | None = field(default=None, repr=False)
    """The due date as a day: the one real date past the line, since it is the department's and not the
    patient's. Only the action log and the calendar file print it, and never beside an offset from a day
    that the story counts from; slides tell `due`."""

    @property
    def missing(self) -> tuple[SafeText, ...]:
        """What has to be filled in before anybody can do it and anybody can tell that it was done."""
        return _empty(
            (self.owner, wording("owner role")),
            (self.due, wording("due date")),
            (self.measure, wording("measure")),
        )

    @property
    def to_settle(self) -> tuple[SafeText, ...]:
        """What a chair asks of it besides, and a meeting may settle."""
        return _empty(
            (self.counted, wording("how it is counted")),
            (self.timed, wording("for how long")),
            (self.baseline, wording("baseline")),
            (self.review, wording("review")),
        )

    @property
    def counted(self) -> bool:
        """Whether its measure, if it has one, says what is counted out of what, or up to which target."""
        said = bool(self.out_of or self.target) or not self.measure
        return said or counted(self.measure.reveal())

    @property
    def timed(self) -> bool:
        """Whether its measure, if it has one, says for how long it is counted."""
        return bool(self.period) or not self.measure or timed(self.measure.reveal())


@dataclass(frozen=True)
class Question:
    """A question for the room, with the presenter's own answer and how sure."""

    ask: SafeText
    answer: SafeText = EMPTY
    sure: Likelihood | None = None


@dataclass(frozen=True)
class Mechanism:
    """How it came about, in order, with the number of the frame that shows it."""

    steps: tuple[SafeText, ...]
    frame: int | None = None


@dataclass(frozen=True)
class Thought:
    """What was thought at an event, by its number."""

    event: int
    thought: SafeText


@dataclass(frozen=True)
class Reflection:
    """A private reflection."""

    headings: Headings
    feelings: tuple[SafeText, ...] = ()
    thoughts: tuple[Thought, ...] = ()
    control: tuple[SafeText, ...] = ()
    escalate: tuple[SafeText, ...] = ()
    change: SafeText = EMPTY
    change_by: SafeText = EMPTY


@dataclass(frozen=True)
class Report:
    """What only a written case report asks for.

    Attributes:
        not_applicable: (item of a checklist, reason), as written.
        patient_words: empty unless the patient's consent to them is given.
    """

    keywords: tuple[SafeText, ...] = ()
    importance: SafeText = EMPTY
    introduction: tuple[SafeText, ...] = ()
    discussion: tuple[SafeText, ...] = ()
    strengths: SafeText = EMPTY
    patient_words: SafeText = EMPTY
    conflicts: SafeText = EMPTY
    funding: SafeText = EMPTY
    ethics: SafeText = EMPTY
    not_applicable: tuple[tuple[SafeText, SafeText], ...] = ()


@dataclass(frozen=True)
class Meeting:
    """A meeting that has discussed the case: how many of each role, what was decided."""

    attendance: tuple[tuple[SafeText, int], ...] = ()
    decided: tuple[SafeText, ...] = ()


@dataclass(frozen=True)
class Governance:
    """What decides where the deck may go."""

    consent: Consent = Consent.NOT_ASKED
    patient_words: Consent = Consent.NOT_ASKED
    legal_hold: YesNo = YesNo.UNKNOWN
    coroner: YesNo = YesNo.UNKNOWN

    @property
    def given(self) -> bool:
        """Whether the patient has consented to publication."""
        return self.consent is Consent.GIVEN


@dataclass(frozen=True)
class ScrubbedCase:
    """Everything a deck may be made of."""

    code: SafeText
    use: Use
    title: SafeText
    specialty: SafeText
    presenter: SafeText
    situation: SafeText
    background: SafeText
    asked: SafeText
    patient: Patient
    plan: Plan
    zero: SafeText
    """What T+0 is, in words: the index event."""
    clocks: tuple[Clock, ...]
    phases: tuple[Phase, ...]
    events: tuple[Event, ...]
    frames: tuple[Frame, ...]
    decisions: tuple[Decision, ...]
    series: tuple[Series, ...]
    recordings: tuple[Recording, ...]
    outcome: Outcome
    factors: tuple[Factor, ...]
    held: tuple[Held, ...]
    actions: tuple[Action, ...]
    questions: tuple[Question, ...]
    learning: tuple[SafeText, ...]
    take_away: SafeText
    references: tuple[SafeText, ...]
    governance: Governance
    hold_back: tuple[SafeText, ...] = field(default=())
    """Words that would give the answer away before recognition."""
    orientation: Orientation | None = None
    computed: tuple[Computed, ...] = ()
    """Figures of the case as a whole; those of an event or a visit stand there."""
    course: Course = Course.HARM
    meetings: tuple[Meeting, ...] = ()
    mechanism: Mechanism | None = None
    rescue: tuple[SafeText, ...] = ()
    reflection: Reflection | None = None
    support: SafeText = EMPTY
    """Where staff find support, as the department says it."""
    report: Report = Report()
    unread: tuple[SafeText, ...] = field(default=())
    """What the scrubber did not look at, for the record."""
    previous: tuple[LoggedAction, ...] = ()
    """What earlier meetings agreed, from the department's action log."""
    day_and_night: DayAndNight | None = None
    reviewed: SafeText = EMPTY
    """Roles of those who reviewed the removal of identifiers; empty while nobody has."""
