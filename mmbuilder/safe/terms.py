"""Closed words: they come from a list, so they carry nobody's identity.

Factor rows: Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157 (seven types).
Action strength: RCA2, National Patient Safety Foundation 2015 (stronger, intermediate, weaker).
Clavien-Dindo: Dindo D et al. Ann Surg 2004;240:205-213. ClassIntra: Dell-Kuster S et al. BMJ 2020;370:m2917.
"""

from __future__ import annotations

from enum import StrEnum

from mmbuilder.safe.mint import KEY as _KEY
from mmbuilder.safe.text import SafeText, ours


class Word(StrEnum):
    """A closed word; `First_Sign` and `first-sign` are read as `first sign`."""

    @classmethod
    def _missing_(cls, value: object) -> Word | None:
        plain = _plain(value) if isinstance(value, str) else ""
        plain = _SHORT.get(cls.__name__, {}).get(plain, plain)
        return next((word for word in cls if _plain(word.value) == plain), None)


def _plain(words: str) -> str:
    return " ".join(words.casefold().replace("-", " ").replace("_", " ").split())


_SHORT = {
    "Sex": {"f": "female", "woman": "female", "m": "male", "man": "male", "unknown": "not stated"},
    "Side": {
        **dict.fromkeys(("r", "rt", "od", "re"), "right"),
        **dict.fromkeys(("l", "lt", "os", "le"), "left"),
        **dict.fromkeys(("ou", "be", "bilateral"), "both"),
        **dict.fromkeys(("none", "n/a", "na"), "not applicable"),
    },
    "ActionStatus": {
        **dict.fromkeys(("in progress", "ongoing", "started", "not started"), "open"),
        **dict.fromkeys(("complete", "completed", "closed"), "done"),
        **dict.fromkeys(("done, not measured", "done but not measured"), "done not measured"),
    },
    "LogColumn": {
        **{"owner": "owner role", "due date": "due", "evidence link": "evidence"},
        **dict.fromkeys(("case letter", "case code"), "case"),
        **dict.fromkeys(("no", "no.", "number", "#"), "id"),
    },
    "Consent": {"yes": "given"},
    "EventKind": {"recognised": "recognition", "call": "call for help", "complication found": "complication"},
    "NumberKind": {"phone": "phone number", "mrn": "record number", "serial": "serial number"},
}
"""How the trade shortens them."""


class Use(Word):
    """Who the deck is for."""

    REVIEW = "department review"
    TEACHING = "teaching"
    REPORT = "case report"
    REFLECTION = "reflection"


class Sex(Word):
    """Recorded sex."""

    FEMALE = "female"
    MALE = "male"
    OTHER = "other"
    NOT_STATED = "not stated"


class Side(Word):
    """Laterality."""

    RIGHT = "right"
    LEFT = "left"
    BOTH = "both"
    NONE = "not applicable"


class EventKind(Word):
    """What an entry in the timeline is."""

    STEP = "step"
    FIRST_SIGN = "first sign"
    RECOGNITION = "recognition"
    RESPONSE = "response"
    RESOLUTION = "resolution"
    ACTION = "action"
    DRUG = "drug"
    READING = "reading"
    CALL = "call for help"
    ARRIVAL = "arrival"
    COMPLICATION = "complication"
    NOTE = "note"


class Noticed(Word):
    """Whether a first sign was noted at the time, or can only be seen looking back."""

    AT_THE_TIME = "at the time"
    IN_HINDSIGHT = "in hindsight"


class Recognised(Word):
    """What was recognised: that something is wrong, or what it is."""

    COMPLICATION = "complication"
    CAUSE = "cause"


class Sureness(Word):
    """How sure the author is of a fact."""

    CERTAIN = "certain"
    PROBABLE = "probable"
    POSSIBLE = "possible"
    UNKNOWN = "unknown"


class Likelihood(Word):
    """Would it have changed the course?"""

    YES = "yes"
    PROBABLY = "probably"
    UNLIKELY = "unlikely"
    UNKNOWN = "unknown"


class FactorRow(Word):
    """The seven factor types of Vincent 1998, from the patient outwards."""

    PATIENT = "patient"
    TASK = "task"
    INDIVIDUAL = "individual"
    TEAM = "team"
    WORK_ENVIRONMENT = "work environment"
    ORGANISATION = "organisation"
    INSTITUTION = "institution"


class FactorRole(Word):
    """What part a factor played."""

    ROOT = "root"
    CONTRIBUTORY = "contributory"
    INCIDENTAL = "incidental"
    EXCLUDED = "considered and excluded"


class CauseKind(Word):
    """What the cause in a causal statement is; the words of `review.causal`."""

    CONDITION = "condition"
    HUMAN_ACT = "human act"
    DEPARTURE = "departure from procedure"
    FAILURE_TO_ACT = "failure to act"


class Turn(Word):
    """Which point of the story a counterfactual would have moved."""

    FIRST_SIGN = "first sign"
    RECOGNITION = "recognition"
    RESPONSE = "response"


class Symptoms(Word):
    """What a patient had of an event; the words of `clinic.severity.course`."""

    NONE = "none"
    MILD = "mild"
    MARKED = "marked"


class Care(Word):
    """The heaviest extra care an event needed."""

    NONE = "none"
    MONITORING = "monitoring"
    MINOR = "minor treatment"
    INTERVENTION = "intervention"
    MAJOR = "major intervention"
    LIFE_SUPPORT = "life support"


class Loss(Word):
    """Of function, what was left once all was done."""

    NONE = "none"
    MINIMAL = "minimal"
    LASTING = "lasting"
    MAJOR = "major lasting"


class Seat(Word):
    """Where the surgeon sat, as a direction of the operated eye."""

    SUPERIOR = "superior"
    TEMPORAL = "temporal"
    INFERIOR = "inferior"
    NASAL = "nasal"


class View(Word):
    """Whose clock face an hour was read from."""

    SURGEON = "surgeon's view"
    ANATOMICAL = "anatomical"


class Sector(Word):
    """The eight directions of an eye."""

    SUPERIOR = "superior"
    INFERIOR = "inferior"
    NASAL = "nasal"
    TEMPORAL = "temporal"
    SUPERONASAL = "superonasal"
    SUPEROTEMPORAL = "superotemporal"
    INFERONASAL = "inferonasal"
    INFEROTEMPORAL = "inferotemporal"


class BarrierState(Word):
    """What became of the barrier that should have caught it."""

    HELD = "held"
    FAILED = "failed"
    ABSENT = "absent"


class Strength(Word):
    """RCA2 action hierarchy."""

    STRONGER = "stronger"
    INTERMEDIATE = "intermediate"
    WEAKER = "weaker"


class ActionStatus(Word):
    """What became of an action. Late is no status: it is worked out from the due date."""

    OPEN = "open"
    DONE = "done"
    NOT_MEASURED = "done not measured"
    """Done, but nobody has counted whether it works: not closed."""
    DROPPED = "dropped"


class LogColumn(Word):
    """The columns of an action log, in their order."""

    ID = "id"
    CASE = "case"
    ACTION = "action"
    STRENGTH = "strength"
    OWNER = "owner role"
    DUE = "due"
    MEASURE = "measure"
    BASELINE = "baseline"
    RESULT = "result"
    STATUS = "status"
    REASON = "reason"
    """Why it was dropped."""
    EVIDENCE = "evidence"


class Scale(Word):
    """Named severity scales."""

    CLAVIEN_DINDO = "Clavien-Dindo"
    CLASSINTRA = "ClassIntra"
    NCC_MERP = "NCC MERP"
    ICPS = "WHO ICPS"
    AHRQ = "AHRQ harm"


class Consent(Word):
    """State of the patient's consent to publication."""

    GIVEN = "given"
    REFUSED = "refused"
    NOT_ASKED = "not asked"


class Headings(Word):
    """Headings of a written reflection.

    Source: Gibbs, Learning by Doing (1988), six stages; Rolfe, Freshwater and Jasper, Critical Reflection
    for Nursing and the Helping Professions (2001), three questions. Both from memory.
    """

    GIBBS = "gibbs"
    ROLFE = "rolfe"


class Course(Word):
    """What kind of story it is, by the facts of harm the author states."""

    HARM = "harm"
    NEAR_MISS = "near miss"
    DEATH = "death"


class PaperSize(Word):
    """Size of a printed sheet: ISO 216, or ANSI/ASME Y14.1 size A."""

    A4 = "a4"
    LETTER = "letter"


class Reviewer(Word):
    """Who reviewed the removal of identifiers: a role, never a name."""

    CONSULTANT = "consultant"
    REGISTRAR = "registrar"
    TRAINEE = "trainee"
    NURSE = "nurse"
    PRACTITIONER = "theatre practitioner"
    COLLEAGUE = "colleague"
    CHAIR = "chair of the meeting"
    GOVERNANCE = "information governance lead"
    AUDIT = "audit lead"


class Looked(Word):
    """What a program cannot judge, and a reviewer confirms to have looked at."""

    WORDS = "every finding in its sentence"
    PICTURES = "every picture as it will be shown"
    FACES = "faces and eyes"
    MARKS = "tattoos, jewellery and scars"
    REFLECTIONS = "reflections and screens"
    SOUND = "voices and names in sound"
    RARITY = "circumstances that single somebody out"
    OTHERS = "staff, relatives and places"


class YesNo(Word):
    """A flag the author has to state."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


GRADES: dict[Scale, tuple[str, ...]] = {
    Scale.CLAVIEN_DINDO: (
        *("I", "Id", "II", "IId", "IIIa", "IIIad", "IIIb", "IIIbd", "IVa", "IVad", "IVb", "IVbd", "V"),
        "not applicable",
    ),
    Scale.CLASSINTRA: ("0", "I", "II", "III", "IV", "V", "not applicable"),
    Scale.NCC_MERP: (*"ABCDEFGHI", "not applicable"),
    Scale.ICPS: ("none", "mild", "moderate", "severe", "death", "not applicable"),
    Scale.AHRQ: ("none evident", "mild", "moderate", "severe", "death", "unknown", "not applicable"),
}
"""The grades each scale has; the author states one, the tool never fills it in."""


def term(word: StrEnum) -> SafeText:
    """Return a closed word as safe text."""
    return ours(_KEY, word.value)


def grade(scale: Scale, value: str) -> SafeText:
    """Return a grade as safe text.

    Raises:
        ValueError: the scale has no such grade.
    """
    if value not in GRADES[scale]:
        raise ValueError("no such grade on this scale")
    return SafeText(_KEY, value)
