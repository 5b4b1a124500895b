"""Eye, seat, hours and wound can all be so."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
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
    names = [fill("finding {at}", at=number(at)) for at in range(1, len(told.findings) + 1)]
    stated = tuple(
        Found(name, one.hour, one.view, one.wound, one.sector)
        for name, one in zip(names, told.findings, strict=True)
    )
    named = tuple(
        replace(found, wound=found.wound or bool(_WOUND.search(one.what.value)))
        for found, one in zip(stated, told.findings, strict=True)
    )
    certain = orient(side, told.seat, stated).contradictions
    for one in orient(side, told.seat, named).contradictions:
        yield Finding(
            ("orientation", "findings", names.index(one.name), "hour"),
            one.reason.reveal(),
            expected=""
            if one in certain
            else "another hour, view, seat or eye; or other words for what it is",
            severity=Severity.STOP if one in certain else Severity.WARN,
        )


_EYES = (Side.RIGHT, Side.LEFT)
_WOUND = re.compile(
    r"\bmain (?:wound|incision|port)\b|\b(?:corneal|scleral) tunnel\b|\bhaupt(?:schnitt|tunnel|inzision)\b",
    re.IGNORECASE,
)
"""How the main wound is spoken of where it is not marked as that; ours, of common practice."""


def _eye(written: str) -> str | None:
    """The eye that is meant, such as by `OD`; None where none is."""
    from mmbuilder.clinic import InputFault
    from mmbuilder.clinic.measures.clock_hours import EYE

    try:
        return EYE.read("eye", written)[0]
    except InputFault:
        return None  # told by the rule on figures


def _computed(ctx: Context, side: Side) -> Iterator[Finding]:
    """Yield each figure of clock hours that is of the other eye."""
    for path, asked in ctx.computations() if side in _EYES else ():
        for at, one in enumerate(asked.given):
            if one.name.plain == "eye" and _eye(one.value.value) not in (None, side):
                yield Finding(
                    (*path, "from", at, "value"),
                    "this figure is of the other eye than the one that was operated on",
                    found="the other side than that under `patient`",
                    expected="the eye under `patient`, or a correction there",
                    example=f"- name: eye\n  value: {side}",
                )
