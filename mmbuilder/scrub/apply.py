"""The line. A raw case and its plan go in, a scrubbed case comes out; there is no other crossing.

Every field is carried by name: one that nobody carries does not cross. What crosses is
scrubbed words, closed words, minutes from the index event, numbers, and pixels.
"""

from __future__ import annotations

from mmbuilder.case.clocks import Reckoner
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, ours
from mmbuilder.scrub.crossing import decisions, frames, patient, readings, review, telling, timeline
from mmbuilder.scrub.crossing.computing import computed
from mmbuilder.scrub.crossing.department import support
from mmbuilder.scrub.crossing.references import References
from mmbuilder.scrub.crossing.reviewers import reviewers
from mmbuilder.scrub.crossing.words import PlanDoesNotFit, Words
from mmbuilder.scrub.plan import RedactionPlan
from mmbuilder.scrub.walk import Texts, digest


def apply(folder: CaseFolder, plan: RedactionPlan) -> ScrubbedCase:
    """Carry a case across the line.

    Args:
        folder: the raw case.
        plan: made for exactly this case by `propose`, with or without a review.

    Raises:
        PlanDoesNotFit: the plan was made for another case or state of it.
        FileRefused: a picture cannot be read.
        CaseInvalid: a readings file has changed since the case was checked.
    """
    case, texts = folder.case, Texts(folder.case, folder.previous)
    if plan.case != digest(folder, texts):
        raise PlanDoesNotFit("this plan was made for another case, or for an earlier state of this one")
    words, reckoner = Words(texts, plan), Reckoner(folder.case)
    times = timeline.moments(case.timeline, reckoner)
    known = References(case, words, times)
    meeting = case.meeting.date if case.meeting else None
    met = None if meeting is None else reckoner.days_from_zero(meeting)
    events = tuple(timeline.events(case.timeline, words, reckoner, times))
    return ScrubbedCase(
        code=SafeText(KEY, case.code),
        use=case.use,
        title=words.safe(case.title),
        specialty=ours(KEY, case.specialty),
        presenter=words.safe(case.presenter.role),
        situation=words.safe(case.situation),
        background=words.safe(case.background),
        asked=words.safe(case.asked),
        patient=patient.patient(case.patient, words),
        plan=patient.plan(case.plan, words),
        zero=events[known.event(case.timeline.index_event) - 1].what,
        clocks=tuple(timeline.clocks(case, words, reckoner)),
        phases=tuple(timeline.phases(case.timeline, words, reckoner)),
        events=events,
        frames=tuple(frames.frames(folder, plan, words, reckoner, known, times)),
        decisions=tuple(decisions.decisions(case.decisions, words, known, times)),
        series=tuple(readings.series(folder, words, reckoner)),
        recordings=tuple(timeline.recordings(case, words, reckoner)),
        outcome=review.outcome(case.outcome, words, reckoner, met),
        factors=tuple(review.factors(case.factors, words, known)),
        held=tuple(review.held(case.held, words, known)),
        actions=tuple(review.actions(case.actions, words, meeting)),
        questions=tuple(decisions.questions(case.questions, words)),
        learning=words.every(case.learning),
        take_away=words.safe(case.take_away),
        references=words.every(case.references),
        governance=review.governance(case.governance),
        hold_back=words.every(case.hold_back),
        orientation=review.orientation(case.orientation, case.patient.side, words),
        computed=tuple(computed(case.compute)),
        course=telling.course(case.outcome),
        meetings=telling.meetings(case.meetings, words),
        mechanism=telling.mechanism(case, words),
        rescue=words.every(case.rescue),
        reflection=telling.reflection(case.reflection, words, known, meeting),
        support=support(folder),
        report=telling.report(case.report, case.governance, words),
        unread=tuple(ours(KEY, line) for line in plan.unchecked),
        previous=review.previous(folder, words),
        day_and_night=timeline.day_and_night(case.timeline, reckoner),
        reviewed=reviewers(plan.reviewed_by),
    )
