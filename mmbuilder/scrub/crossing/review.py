"""Outcome, factors, what held, actions and governance."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date

from mmbuilder.case import model
from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.due import day_again, day_due
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.safe import case as safe
from mmbuilder.safe.log import LoggedAction, most_urgent_first
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.orientation import Finding, Orientation, orient
from mmbuilder.safe.terms import Scale, Side, YesNo, grade
from mmbuilder.safe.text import EMPTY, SafeText, ours
from mmbuilder.scrub.crossing import due
from mmbuilder.scrub.crossing.computing import computed
from mmbuilder.scrub.crossing.references import References
from mmbuilder.scrub.crossing.words import Words


def outcome(raw: model.Outcome, words: Words, reckoner: Reckoner, met: int | None) -> safe.Outcome:
    """Carry the outcome across; `met` is the Day of the meeting, if it is known."""
    return safe.Outcome(
        summary=words.safe(raw.summary),
        last_state=words.safe(raw.last_state),
        told=words.safe(raw.told),
        grades=tuple(_grade(one, words) for one in raw.grades),
        visits=tuple(_visit(one, words, reckoner, met) for one in raw.visits),
        monitoring=tuple(
            safe.Watch(*map(words.safe, (one.what, one.until, one.threshold, one.by)))
            for one in raw.monitoring
        ),
        harm=None if raw.harm is None else _harm(raw.harm),
        parted=tuple(_parted(raw)),
        highest=_highest(raw.grades),
    )


def _parted(raw: model.Outcome) -> Iterator[safe.Parted]:
    """Yield where the scales of harm part on the facts, if the author grades harm on any of them."""
    if raw.harm is None or not any(one.scale in _OF_HARM for one in raw.grades):
        return
    from mmbuilder.casefile.harm_course import course_of
    from mmbuilder.clinic.severity import agreement

    for one in agreement.disagreements(course_of(raw.harm)):
        scale, other = Scale(one.scale), Scale(one.other)
        why = ours(KEY, agreement.WHY[one.why])
        yield safe.Parted(scale, grade(scale, one.grade), other, grade(other, one.other_grade), why)


_OF_HARM = (Scale.ICPS, Scale.AHRQ, Scale.NCC_MERP)


def _highest(raw: Sequence[model.Grade]) -> SafeText:
    """Return the grade for the headline: the highest of several complications."""
    from mmbuilder.clinic.severity import clavien_dindo, implied

    given = (one.grade for one in raw if one.scale is Scale.CLAVIEN_DINDO)
    grades = [one for one in given if one != implied.NOT_APPLICABLE]
    found = clavien_dindo.headline(grades) if len(grades) > 1 else None
    return EMPTY if found is None else grade(Scale.CLAVIEN_DINDO, found)


def _harm(raw: model.HarmFacts) -> safe.Harm:
    return safe.Harm(
        occurred=raw.occurred is not YesNo.NO,
        reached=raw.reached is not YesNo.NO,
        symptoms=raw.symptoms,
        care=raw.care,
        longer_stay=raw.longer_stay is YesNo.YES,
        loss=raw.loss,
        died=raw.died is YesNo.YES,
    )


def _grade(raw: model.Grade, words: Words) -> safe.Grade:
    return safe.Grade(
        scale=raw.scale,
        grade=grade(raw.scale, raw.grade),
        complication=words.safe(raw.complication),
        by=words.safe(raw.by),
        when=words.safe(raw.when),
        treatments=words.every(raw.treatments),
        symptoms=words.safe(raw.symptoms),
    )


_TO_COME = re.compile(r"\W*(?:due|booked|planned|geplant|gebucht|vereinbart)\b")
"""How a visit opens that is told before it was held."""


def _to_come(raw: model.Visit, at: Moment, met: int | None) -> bool:
    """Whether a visit lies after the meeting: by its day, else by how it is told."""
    day = at.days[0] if at.days else None
    if met is not None and day is not None:
        return day > met
    return any(_TO_COME.match(text.plain) for text in (raw.label, raw.note) if text)


def _visit(raw: model.Visit, words: Words, reckoner: Reckoner, met: int | None) -> safe.Visit:
    at = reckoner.moment(raw.when)
    return safe.Visit(
        at=at,
        to_come=_to_come(raw, at, met),
        label=words.safe(raw.label),
        measures=tuple(safe.Measure(words.safe(one.name), words.safe(one.value)) for one in raw.measures),
        note=words.safe(raw.note),
        computed=tuple(computed(raw.compute)),
    )


def factors(raw: Sequence[model.Factor], words: Words, known: References) -> Iterator[safe.Factor]:
    """Yield the lines of the grid."""
    for factor in raw:
        barrier = factor.barrier
        yield safe.Factor(
            row=factor.row,
            role=factor.role,
            what=words.safe(factor.what),
            evidence=(
                *(known.told(key) for key in factor.events),
                *(known.evidence(text) for text in factor.evidence),
            ),
            contributed=words.safe(factor.contributed),
            cause=factor.cause,
            preceded_by=words.safe(factor.preceded_by),
            duty=words.safe(factor.duty),
            counterfactual=words.safe(factor.counterfactual),
            changed=factor.changed,
            would_move=factor.would_move,
            by_about=words.safe(factor.by_about),
            barrier=EMPTY if barrier is None else words.safe(barrier.what),
            barrier_state=None if barrier is None else barrier.state,
            actions=tuple(known.action(key) for key in factor.actions),
            reason=words.safe(factor.reason),
        )


def held(raw: Sequence[model.Held], words: Words, known: References) -> Iterator[safe.Held]:
    """Yield what went well."""
    yield from (safe.Held(words.safe(one.what), known.evidence(one.evidence)) for one in raw)


def actions(raw: Sequence[model.Action], words: Words, meeting: date | None) -> Iterator[safe.Action]:
    """Yield the actions, numbered from 1, each with the months it is due and looked at again in, where known."""
    for number, action in enumerate(raw, 1):
        day, again = day_due(action.due, meeting), day_again(action.review)
        yield safe.Action(
            number=number,
            what=words.safe(action.what),
            strength=action.strength,
            strength_reason=words.safe(action.strength_reason),
            owner=words.safe(action.owner),
            due=due.told(day, meeting) if day else words.safe(action.due),
            measure=words.safe(action.measure),
            out_of=words.safe(action.out_of),
            target=words.safe(action.target),
            period=words.safe(action.period),
            baseline=words.safe(action.baseline),
            review=due.told(again, meeting) if again else words.safe(action.review),
            due_day=day,
        )


def previous(folder: CaseFolder, words: Words) -> tuple[LoggedAction, ...]:
    """Carry the rows of the action log across, overdue first."""
    meeting = folder.case.meeting.date if folder.case.meeting else None
    made = []
    for row in folder.previous:
        day = day_due(row.due, None)  # a length in it would be counted from a meeting that is not known
        made.append(
            LoggedAction(
                id=words.safe(row.id),
                case=words.safe(row.case),
                what=words.safe(row.action),
                strength=row.strength,
                owner=words.safe(row.owner_role),
                due=due.told(day, meeting) if day else words.safe(row.due),
                due_day=day,
                passed=bool(day and meeting and day < meeting),
                measure=words.safe(row.measure),
                baseline=words.safe(row.baseline),
                result=words.safe(row.result),
                status=row.status,
                reason=words.safe(row.reason),
                evidence=words.safe(row.evidence),
            )
        )
    return most_urgent_first(made)


def orientation(raw: model.Orientation | None, side: Side, words: Words) -> Orientation | None:
    """Carry the surgeon's seat and the findings across, each at its hour in both views."""
    if raw is None:
        return None
    findings = (
        Finding(words.safe(one.what), one.hour, one.view, one.wound, one.sector) for one in raw.findings
    )
    return orient(side, raw.seat, tuple(findings))


def governance(raw: model.Governance) -> safe.Governance:
    """Carry the flags across."""
    return safe.Governance(raw.publication_consent, raw.patient_words_consent, raw.legal_hold, raw.coroner)
