"""What is referred to is there."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest

CODE = "unknown-id"
WHY = "it would stand nowhere in the story"
GOOD = """
frames: {0: {event: sign}}
actions: [{id: bag, what: Keep a second retrieval bag in theatre, owner: Theatre lead, due: 30 June 2026,
  measure: 20 lists of 20 each month, baseline: 4 of 20, review: in 4 months, strength: intermediate,
  strength reason: It is a change of stock}]
factors: [{row: team, what: No second bag, actions: bag}]
"""
BAD = "frames: {0: {event: sing}}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each reference to an event or action that is not listed. Clocks are told by the reckoner."""
    case = ctx.case
    for place, frame in enumerate(case.frames):
        if frame.event is not None:
            yield from _event(ctx, ("frames", place, "event"), frame.event)
    for place, decision in enumerate(case.decisions):
        yield from _event(ctx, ("decisions", place, "at"), decision.at)
    for place, thought in enumerate(case.reflection.thoughts if case.reflection else ()):
        yield from _event(ctx, ("reflection", "thoughts", place, "at"), thought.at)
    for place, grade in enumerate(case.outcome.grades):
        for entry, name in enumerate(grade.events):
            yield from _event(ctx, ("outcome", "grades", place, "events", entry), name)
    yield from _frame(ctx)
    ids = [action.id for action in case.actions]
    for place, factor in enumerate(case.factors):
        for entry, name in enumerate(factor.events):
            yield from _event(ctx, ("factors", place, "events", entry), name)
        for entry, name in enumerate(factor.actions):
            if name not in ids:
                lines = {
                    action: ctx.line(("actions", spot, "id")) for spot, action in enumerate(ids) if action
                }
                yield _finding(("factors", place, "actions", entry), "action", name, list(lines), lines)


def _frame(ctx: Context) -> Iterator[Finding]:
    named = ctx.case.mechanism.frame if ctx.case.mechanism else None
    lines = {
        frame.id: ctx.line(("frames", place, "id")) for place, frame in enumerate(ctx.case.frames) if frame.id
    }
    if named is not None and named not in lines:
        yield _finding(("mechanism", "frame"), "frame", named, list(lines), lines)


def _event(ctx: Context, path: Path, name: str) -> Iterator[Finding]:
    if name not in ctx.event_ids:
        lines = {known: ctx.line((*EVENTS, place, "id")) for known, place in ctx.event_ids.items()}
        yield _finding(path, "event", name, list(lines), lines)


def _finding(path: Path, kind: str, name: str, known: Sequence[str], lines: dict[str, int]) -> Finding:
    near = nearest(name, known)
    return Finding(
        path,
        f"no {kind} has this id",
        found="an id that is not listed",
        expected=_expected(kind, lines, near, known),
    )


def _expected(kind: str, lines: dict[str, int], near: str | None, known: Collection[str]) -> str:
    if near is not None:
        return f"did you mean the id on line {lines[near]}?"
    return f"the id of one of the {len(known)} {kind}s that have one" if known else f"an {kind} with an id"
