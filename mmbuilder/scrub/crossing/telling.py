"""What only one use asks for: mechanism and rescue, a reflection, a written report."""

from __future__ import annotations

from datetime import date

from mmbuilder.case import model
from mmbuilder.safe import case as safe
from mmbuilder.safe.terms import Consent, Course, YesNo
from mmbuilder.safe.text import EMPTY
from mmbuilder.scrub.crossing import due
from mmbuilder.scrub.crossing.references import References
from mmbuilder.scrub.crossing.words import Words


def course(raw: model.Outcome) -> Course:
    """Return what kind of story it is, by the facts that the author states; harm where none are stated."""
    if raw.harm is None:
        return Course.HARM
    if raw.harm.died is YesNo.YES:
        return Course.DEATH
    spared = YesNo.NO in (raw.harm.occurred, raw.harm.reached)
    return Course.NEAR_MISS if spared else Course.HARM


def meetings(raw: tuple[model.Meeting, ...], words: Words) -> tuple[safe.Meeting, ...]:
    """Carry across what meetings decided; their days stay behind."""
    return tuple(
        safe.Meeting(
            attendance=tuple((words.safe(one.role), one.number) for one in meeting.attendance),
            decided=words.every(meeting.decided),
        )
        for meeting in raw
    )


def mechanism(case: model.Case, words: Words) -> safe.Mechanism | None:
    """Carry across how it came about."""
    raw = case.mechanism
    if raw is None:
        return None
    ids = [frame.id for frame in case.frames]
    return safe.Mechanism(words.every(raw.steps), None if raw.frame is None else ids.index(raw.frame) + 1)


def reflection(
    raw: model.Reflection | None, words: Words, known: References, meeting: date | None
) -> safe.Reflection | None:
    """Carry a reflection across, with the month in which something changes, where it is known."""
    if raw is None:
        return None
    day = due.change_of(raw, words.dated)
    return safe.Reflection(
        headings=raw.headings,
        feelings=words.every(raw.feelings),
        thoughts=tuple(safe.Thought(known.event(one.at), words.safe(one.thought)) for one in raw.thoughts),
        control=words.every(raw.control),
        escalate=words.every(raw.escalate),
        change=words.safe(raw.change),
        change_by=due.told(day, meeting) if day else words.safe(raw.change_by),
    )


def report(raw: model.Report | None, governance: model.Governance, words: Words) -> safe.Report:
    """Carry a report across; the patient's own words stay behind unless the patient consents to them."""
    if raw is None:
        return safe.Report()
    consented = governance.patient_words_consent is Consent.GIVEN
    return safe.Report(
        keywords=words.every(raw.keywords),
        importance=words.safe(raw.importance),
        introduction=words.every(raw.introduction),
        discussion=words.every(raw.discussion),
        strengths=words.safe(raw.strengths),
        patient_words=words.safe(raw.patient_words) if consented else EMPTY,
        conflicts=words.safe(raw.conflicts),
        funding=words.safe(raw.funding),
        ethics=words.safe(raw.ethics),
        not_applicable=tuple((words.safe(one.item), words.safe(one.reason)) for one in raw.not_applicable),
    )
