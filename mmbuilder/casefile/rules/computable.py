"""Every figure of the clinic that is asked for can be worked out."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Computation
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest

CODE = "not-computable"
WHY = "a figure on a slide is believed; one from a guessed unit would be wrong by a factor"
GOOD = """
compute:
  - what: mean arterial pressure
    from: [{name: systolic, value: 96 mmHg}, {name: diastolic, value: 51 mmHg}]
"""
BAD = """
compute:
  - what: mean arterial pressure
    from: [{name: systolic, value: 96}, {name: diastolic, value: 51 mmHg}]
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield every input that cannot be used, of every figure."""
    listed = tuple(ctx.computations())
    if not listed:
        return
    from mmbuilder.clinic import InputFault, catalogue, find, gather, work

    for path, asked in listed:
        if find(asked.what.value) is None:
            near = nearest(asked.what.value, tuple(catalogue()))
            expected = f"did you mean `{near}`?" if near else "a name that `mmbuilder compute` lists"
            yield Finding((*path, "what"), "there is no such figure", "an unknown name", expected)
            continue
        try:
            work(asked.what.value, gather((one.name.value, one.value.value) for one in asked.given))
        except InputFault as told:
            for fault in told.faults:
                where = f"`{fault.name}`: " if fault.name else ""
                yield Finding(
                    _place(path, asked, fault.name),
                    f"{where}this input cannot be used",
                    fault.found,
                    "; ".join(filter(None, (fault.expected, fault.why))),
                    fault.example and _as_entry(fault.example),
                )


def _place(path: Path, asked: Computation, name: str) -> Path:
    """The value of the input, or the figure where the input is not there."""
    for at, one in enumerate(asked.given):
        if one.name.plain == name:
            return (*path, "from", at, "value")
    return (*path, "what")


def _as_entry(example: str) -> str:
    """`systolic: 96 mmHg` as a line of the list."""
    name, _, value = example.partition(": ")
    return f"- name: {name}\n  value: {value}"
