"""One name, one thing."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding

CODE = "repeated-id"
WHY = "what refers to it could mean either"
GOOD = "timeline: {events: {1: {id: other}}}"
BAD = "timeline: {events: {3: {id: sign}}}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each id or name that was given before among its like."""
    case = ctx.case
    yield from _repeated(ctx, EVENTS, "id", [event.id for event in case.timeline.events])
    yield from _repeated(ctx, ("frames",), "id", [frame.id for frame in case.frames])
    yield from _repeated(ctx, ("decisions",), "id", [decision.id for decision in case.decisions])
    yield from _repeated(ctx, ("actions",), "id", [action.id for action in case.actions])
    yield from _repeated(ctx, ("clocks",), "name", [clock.name for clock in case.clocks])


def _repeated(ctx: Context, where: Path, key: str, ids: list[str | None]) -> Iterator[Finding]:
    first: dict[str, int] = {}
    for place, name in enumerate(ids):
        if name is None:
            continue
        if first.setdefault(name.casefold(), place) != place:
            line = ctx.line((*where, first[name.casefold()], key))
            yield Finding(
                (*where, place, key),
                f"this {key} is already taken on line {line}",
                found="the same one twice",
                expected=f"an {key} of its own" if key == "id" else f"a {key} of its own",
            )
