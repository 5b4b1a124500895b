"""What could be known, when: facts beside the thought they led to."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.safe.moment import Moment, clock
from mmbuilder.safe.text import SafeText, join, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("what was known when: the case lists no decisions and no thoughts")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a decision or thought: what was visible beside what was thought, by time."""
    lines = sorted([*_decided(context), *_thought(context)], key=lambda line: _order(line[0]))
    if not lines:
        return ()
    table = Table(
        header=(wording("When"), wording("What could be seen"), wording("What was thought")),
        rows=tuple((Cell(clock(at), strong=True), Cell(seen), Cell(thought)) for at, seen, thought in lines),
        shares=(1.3, 4, 4),
        caption=wording("What could be seen and what was thought, by time"),
    )
    return (Slide("known_when", wording("This is what was known, and when."), (table,), (), context.seconds),)


def _decided(context: Context) -> Iterator[tuple[Moment, SafeText, SafeText]]:
    for decision in context.case.decisions:
        yield decision.at, join("; ", decision.visible), decision.because


def _thought(context: Context) -> Iterator[tuple[Moment, SafeText, SafeText]]:
    """What the author remembers having thought; the fact beside it is the event's own."""
    for one in context.case.reflection.thoughts if context.case.reflection else ():
        event = context.timeline.event(one.event)
        yield event.at, event.what, one.thought


def _order(at: Moment) -> float:
    return float("inf") if at.centre is None else at.centre
