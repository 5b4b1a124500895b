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

    told = ctx.case.orientation
    if told is None:
        return
    side = ctx.case.patient.side
    if side not in (Side.RIGHT, Side.LEFT):
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
