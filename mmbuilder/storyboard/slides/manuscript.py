"""A case report in the order of the CARE topics, for a journal; what is missing is said where it would stand.

Source: CARE guideline (Gagnier JJ et al., 2013), thirteen topics.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart
from mmbuilder.safe.case import Decision
from mmbuilder.safe.moment import clock
from mmbuilder.safe.terms import Consent, Side, term
from mmbuilder.safe.text import SafeText, capital, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Facts, Paragraph, Picture, Slide, TimeChart, Tone
from mmbuilder.storyboard.context import Context, facts
from mmbuilder.storyboard.slides import follow_up, outcome, references, rescued

MISSING = wording("manuscript: every case has one")


def make(context: Context) -> tuple[Slide, ...]:
    """A part for each topic after the title."""
    listed = (references.heading(context.case), _references)
    return tuple(_topic(context, headline, blocks) for headline, blocks in (*_TOPICS, listed))


def _topic(context: Context, headline: SafeText, blocks: Callable[[Context], Iterator[Block]]) -> Slide:
    told = tuple(blocks(context))
    missing = Paragraph(wording("Missing: the case has no words for this."), Tone.QUIET)
    return Slide("manuscript", headline, told or (missing,))


def _prose(*texts: SafeText) -> Iterator[Block]:
    said = join(" ", map(sentence, texts))
    if said:
        yield Paragraph(said)


def _labelled(label: SafeText, *texts: SafeText) -> Iterator[Block]:
    said = join(" ", map(sentence, texts))
    if said:
        yield Facts(((label, said),))


def _abstract(context: Context) -> Iterator[Block]:
    case = context.case
    yield from _labelled(wording("Importance"), case.report.importance)
    yield from _labelled(wording("Presentation"), case.situation)
    yield from _labelled(wording("Course and outcome"), case.outcome.summary)
    yield from _labelled(wording("Conclusion"), case.take_away)


def _keywords(context: Context) -> Iterator[Block]:
    yield from _prose(join("; ", (wording("case report"), *context.case.report.keywords)))


def _introduction(context: Context) -> Iterator[Block]:
    yield from (Paragraph(sentence(text)) for text in context.case.report.introduction)


def _patient(context: Context) -> Iterator[Block]:
    patient, plan = context.case.patient, context.case.plan
    side = wording("") if patient.side is Side.NONE else fill("Side: {side}", side=term(patient.side))
    yield from _labelled(
        wording("Patient"), join(", ", (fill("age {age}", age=context.age), term(patient.sex))), side
    )
    yield from _labelled(wording("History"), *patient.history)
    yield from _labelled(wording("Not present"), *patient.negatives)
    yield from _labelled(wording("Indication"), plan.indication)


def _findings(context: Context) -> Iterator[Block]:
    yield from (Paragraph(sentence(text)) for text in context.case.plan.findings)


def _timeline(context: Context) -> Iterator[Block]:
    chart = Chart(context.timeline)
    yield TimeChart(chart, describe(chart))


def _diagnosis(context: Context) -> Iterator[Block]:
    for frame in context.case.frames:
        yield Picture(frame.image, frame.shows, frame.caption, frame.arrows, frame.circles)
    yield from (Paragraph(_decided(decision)) for decision in context.case.decisions)


def _decided(decision: Decision) -> SafeText:
    """What was asked, chosen and why, with what else was considered."""
    others = join("; ", (one.what for place, one in enumerate(decision.options) if place != decision.chosen))
    return join(
        " ",
        (
            fill(
                "{when}: {question}", when=capital(clock(decision.at)), question=sentence(decision.question)
            ),
            fill("Chosen: {chosen}.", chosen=decision.options[decision.chosen].what),
            fill("Reason at the time: {because}.", because=decision.because),
            fill("Also considered: {others}.", others=others) if others else wording(""),
        ),
    )


def _intervention(context: Context) -> Iterator[Block]:
    plan = context.case.plan
    yield from _labelled(wording("Operation"), plan.procedure)
    yield from _labelled(wording("Anaesthesia"), plan.anaesthesia)
    given = tuple(event.dose for event in context.case.events if event.dose)
    if given:
        yield Bullets(given, wording("Drugs with dose and route"))
    if rows := rescued.rows_of(context):
        yield _prosaic(Facts(rows))


def _prosaic(told: Facts) -> Facts:
    """End each line as a sentence: it stands among others."""
    return Facts(tuple((label, sentence(text)) for label, text in told.rows))


def _followed(context: Context) -> Iterator[Block]:
    yield from _prose(context.case.outcome.summary)
    yield _prosaic(facts(outcome.lines(context), ("grades in full", "harm", "scales", "last seen")))
    for slide in follow_up.make(context):
        yield Paragraph(slide.headline)
        yield from slide.blocks


def _discussion(context: Context) -> Iterator[Block]:
    yield from (Paragraph(sentence(text)) for text in context.case.report.discussion)
    yield from _labelled(wording("Strengths and limits"), context.case.report.strengths)
    if context.case.learning:
        yield Bullets(context.case.learning, wording("Lessons"))


def _perspective(context: Context) -> Iterator[Block]:
    """Only what crossed the line: words without consent to them have stayed behind."""
    yield from _prose(context.case.report.patient_words)


def _consent(context: Context) -> Iterator[Block]:
    """The state of consent as the author recorded it; never more."""
    consent = context.case.governance.consent
    if consent is Consent.GIVEN:
        yield Paragraph(wording("Consent of the patient to publication is recorded as given."))
    else:
        yield Paragraph(
            fill("Consent to publication: {state}. Not to be submitted without it.", state=term(consent)),
            Tone.STRONG,
        )


def _declared(context: Context) -> Iterator[Block]:
    report = context.case.report
    yield from _labelled(wording("Conflicts of interest"), report.conflicts)
    yield from _labelled(wording("Funding"), report.funding)
    yield from _labelled(wording("Ethics"), report.ethics)


def _references(context: Context) -> Iterator[Block]:
    if context.case.references:
        yield Bullets(context.case.references, numbered=True)


_TOPICS: tuple[tuple[SafeText, Callable[[Context], Iterator[Block]]], ...] = (
    (wording("Abstract"), _abstract),
    (wording("Key words"), _keywords),
    (wording("Introduction"), _introduction),
    (wording("Patient information"), _patient),
    (wording("Clinical findings"), _findings),
    (wording("Timeline"), _timeline),
    (wording("Diagnostic assessment"), _diagnosis),
    (wording("Therapeutic intervention"), _intervention),
    (wording("Follow-up and outcomes"), _followed),
    (wording("Discussion"), _discussion),
    (wording("Patient perspective"), _perspective),
    (wording("Informed consent"), _consent),
    (wording("Declarations"), _declared),
)
