"""A written reflection under the headings of a model that the author chose.

Source: Gibbs, Learning by Doing (1988): description, feelings, evaluation, analysis, conclusion,
action plan. Rolfe, Freshwater and Jasper, Critical Reflection for Nursing and the Helping
Professions (2001): what, so what, now what. Both from memory.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart
from mmbuilder.safe.case import Reflection
from mmbuilder.safe.terms import FactorRole, Headings
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Callout, Paragraph, Slide, TimeChart, Tone
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides import fair_alternatives, in_my_hands, known_when, one_change

MISSING = wording("written reflection: the case holds none")


def make(context: Context) -> tuple[Slide, ...]:
    """A part for each heading of the model; a part with nothing to say asks its question."""
    told = context.case.reflection
    if told is None:
        return ()
    return tuple(_stage(context, told, *stage) for stage in _STAGES[told.headings])


_Part = Callable[[Context, Reflection], Iterator[Block]]


def _stage(
    context: Context, told: Reflection, headline: SafeText, question: SafeText, parts: tuple[_Part, ...]
) -> Slide:
    blocks = [block for part in parts for block in part(context, told)]
    return Slide("stages", headline, tuple(blocks or [Paragraph(question, Tone.QUIET)]))


def _happened(context: Context, told: Reflection) -> Iterator[Block]:
    yield Paragraph(context.case.situation)
    chart = Chart(context.timeline)
    yield TimeChart(chart, describe(chart))
    yield Paragraph(context.case.outcome.summary)


def _felt(context: Context, told: Reflection) -> Iterator[Block]:
    if told.feelings:
        yield Bullets(told.feelings)


def _known(context: Context, told: Reflection) -> Iterator[Block]:
    yield from (block for slide in known_when.make(context) for block in slide.blocks)


def _went(context: Context, told: Reflection) -> Iterator[Block]:
    if context.case.held:
        yield Bullets(tuple(one.what for one in context.case.held), wording("What went well"))
    acting = (FactorRole.ROOT, FactorRole.CONTRIBUTORY)
    harder = tuple(one.what for one in context.case.factors if one.role in acting)
    if harder:
        yield Bullets(harder, wording("What made it harder"))


def _weighed(context: Context, told: Reflection) -> Iterator[Block]:
    yield from (block for slide in fair_alternatives.make(context) for block in slide.blocks)


def _learned(context: Context, told: Reflection) -> Iterator[Block]:
    if context.case.learning:
        yield Bullets(context.case.learning)
    yield from (block for slide in in_my_hands.make(context) for block in slide.blocks)


def _next(context: Context, told: Reflection) -> Iterator[Block]:
    if told.change:
        yield Callout(told.change, one_change.by(told.change_by))
    if context.case.support:
        yield Paragraph(context.case.support, Tone.QUIET)


_STAGES: dict[Headings, tuple[tuple[SafeText, SafeText, tuple[_Part, ...]], ...]] = {
    Headings.GIBBS: (
        (wording("Description"), wording("What happened?"), (_happened,)),
        (wording("Feelings"), wording("What did I think and feel?"), (_felt, _known)),
        (wording("Evaluation"), wording("What was good and what was hard?"), (_went,)),
        (wording("Analysis"), wording("What sense can I make of it?"), (_weighed,)),
        (wording("Conclusion"), wording("What else could have been done?"), (_learned,)),
        (wording("Action plan"), wording("What will I do if it comes again?"), (_next,)),
    ),
    Headings.ROLFE: (
        (wording("What?"), wording("What happened, and what did I do?"), (_happened, _known)),
        (wording("So what?"), wording("What does it teach me?"), (_felt, _went, _weighed)),
        (wording("Now what?"), wording("What will I do next?"), (_learned, _next)),
    ),
}
