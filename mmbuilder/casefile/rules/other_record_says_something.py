"""Another record of an event says something that the event says otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Event, OtherRecord
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "other-record-empty"
WHY = "records that conflict are shown side by side, and none is chosen; there have to be two"
GOOD = """
timeline: {events: {3: {kind: drug, dose: 0.1 mg, source: chart, also: {dose: 1 mg, source: pump log}}}}
"""
BAD = "timeline: {events: {3: {kind: drug, dose: 0.1 mg, also: {source: pump log}}}}"

_EXAMPLE = "dose: 0.1 mg\nalso:\n  dose: 1 mg\n  source: pump log"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each other record that tells nothing, or nothing to which the event has a counterpart."""
    for place, event in enumerate(ctx.case.timeline.events):
        for at, other in enumerate(event.also):
            yield from _of_record((*EVENTS, place, "also", at), event, other)


def _of_record(path: Path, event: Event, other: OtherRecord) -> Iterator[Finding]:
    if not (other.when or other.what or other.dose or other.volume):
        yield Finding(
            path,
            "this other record tells nothing of the event",
            found="none of: when, what, dose, volume",
            expected="what the other source says otherwise: `when`, `what`, `dose` or `volume`",
            example=_EXAMPLE,
        )
    for name, example in (
        ("dose", _EXAMPLE),
        ("volume", _EXAMPLE.replace("dose", "volume").replace("mg", "mL")),
    ):
        own, told = getattr(event, name), getattr(other, name)
        if told and not own:
            yield Finding(
                (*path, name),
                f"the event has no `{name}` that this one could differ from",
                found=f"a `{name}` in the other record only",
                expected=f"`{name}` on the event too, from its own source",
                example=example,
            )
        elif told and own and _same(own.value, told.value):
            yield Finding(
                (*path, name),
                f"this `{name}` is that of the event, so nothing is in dispute",
                found=f"the same `{name}` twice",
                expected=f"another `{name}`, or none here",
                example=example,
                severity=Severity.WARN,
            )


def _same(one: str, other: str) -> bool:
    from mmbuilder.clinic.conflict import alike, leading

    own, told = leading(one), leading(other)
    return one == other or (own is not None and told is not None and alike(own, told))
