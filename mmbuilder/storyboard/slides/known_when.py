"""What could be known, when: facts beside the thought they led to."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.safe.case import Thought
from mmbuilder.safe.moment import Moment, clock
from mmbuilder.safe.text import SafeText, join, sentence, unbroken, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("what was known when: the case lists no decisions and no thoughts")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a decision or a thought elsewhere, by time: what was seen, what was thought."""
    lines = sorted([*_decided(context), *_thought(context)], key=lambda line: _order(line[0]))
    if not lines:
        return ()
    table = Table(
        header=(wording("When"), wording("What could be seen"), wording("What was thought")),
        rows=tuple(
            (Cell(unbroken(clock(at)), strong=True), Cell(seen), Cell(thought)) for at, seen, thought in lines
        ),
        shares=(1.3, 4, 4),
        caption=wording("What could be seen and what was thought, by time"),
    )
    return (Slide("known_when", wording("This is what was known, and when."), (table,), (), context.seconds),)


def _decided(context: Context) -> Iterator[tuple[Moment, SafeText, SafeText]]:
    """Each decision, with what the author remembers having thought at its event.

    Where the author lists nothing that could be seen, its event was.
    """
    for decision in context.weighed:
        thoughts = (sentence(one.thought) for one in _thoughts(context) if one.event == decision.event)
        thought = join(" ", (sentence(decision.because), *thoughts))
        seen = decision.visible or (context.timeline.event(decision.event).what,)
        yield decision.at, join(" ", map(sentence, seen)), thought


def _thought(context: Context) -> Iterator[tuple[Moment, SafeText, SafeText]]:
    """What the author remembers having thought elsewhere; the fact beside it is the event's own."""
    decided = {decision.event for decision in context.weighed}
    for one in _thoughts(context):
        if one.event not in decided:
            event = context.timeline.event(one.event)
            yield event.at, sentence(event.what), sentence(one.thought)


def _thoughts(context: Context) -> tuple[Thought, ...]:
    return context.case.reflection.thoughts if context.case.reflection else ()


def _order(at: Moment) -> float:
    return float("inf") if at.centre is None else at.centre
