"""Eye, seat, hours and wound can all be so."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.terms import Side
from mmbuilder.safe.text import fill, number

CODE = "wrong-side"
WHY = "left for right and the surgeon's clock for the patient's are how the wrong place is operated on"
GOOD = """
patient: {side: right}
orientation: {seat: temporal, findings: [{what: Main wound, hour: 9, view: anatomical, wound: yes}]}
"""
BAD = """
patient: {side: right}
orientation: {seat: temporal, findings: [{what: Main wound, hour: 3, view: anatomical, wound: yes}]}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each contradiction between what was said of the eye."""
    from mmbuilder.safe.orientation import Finding as Found
    from mmbuilder.safe.orientation import orient

    side = ctx.case.patient.side
    yield from _computed(ctx, side)
    told = ctx.case.orientation
    if told is None:
        return
    if side not in _EYES:
        yield Finding(
            ("orientation",),
            "clock hours need one eye",
            found="no single eye under `patient`",
            expected="the operated eye under `patient`",
            example="patient:\n  side: right",
            at_key=True,
        )
        return
    names = {fill("finding {at}", at=number(at)): at - 1 for at in range(1, len(told.findings) + 1)}
    found = tuple(
        Found(name, one.hour, one.view, one.wound, one.sector)
        for name, one in zip(names, told.findings, strict=True)
    )
    for one in orient(side, told.seat, found).contradictions:
        yield Finding(("orientation", "findings", names.get(one.name, 0), "hour"), one.reason.reveal())


_EYES = (Side.RIGHT, Side.LEFT)


def _computed(ctx: Context, side: Side) -> Iterator[Finding]:
    """Yield each figure of clock hours that is of the other eye."""
    for path, asked in ctx.computations() if side in _EYES else ():
        for at, one in enumerate(asked.given):
            other = one.value.plain in _EYES and one.value.plain != side
            if one.name.plain == "eye" and other:
                yield Finding(
                    (*path, "from", at, "value"),
                    "this figure is of the other eye than the one that was operated on",
                    found="the other side than that under `patient`",
                    expected="the eye under `patient`, or a correction there",
                    example=f"- name: eye\n  value: {side}",
                )
