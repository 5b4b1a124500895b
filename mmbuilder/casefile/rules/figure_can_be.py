"""A measurement of the patient is one that can be: a known unit, a figure that a patient can have."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._bare import FIGURE, NUMBER
from mmbuilder.clinic.acuity import names_acuity, read_acuity
from mmbuilder.clinic.faults import InputFault
from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.limits import ABOUT, ABOVE, BELOW
from mmbuilder.clinic.possible import RATED, possible
from mmbuilder.clinic.undone import undone
from mmbuilder.clinic.units import number, same_kind
from mmbuilder.problem import Severity

CODE = "figure-cannot-be"
WHY = "a slip of the pen or another unit is shown, and drawn, as if it were so"
GOOD = """
patient: {weight: 71 kg}
outcome: {visits: [{when: Day 3, measures: [{name: Hb, value: 9.1 g/dL}, {name: acuity, value: 6/9}]}]}
"""
BAD = """
patient: {weight: 71}
outcome: {visits: [{when: Day 3, measures: [{name: Hb, value: 910 g/L}, {name: acuity, value: 6/0}]}]}
"""

_PATIENT = {"weight": "weight: 71 kg", "height": "height: 165 cm"}
_FIGURE = re.compile(
    rf"(?:{'|'.join(map(re.escape, (*BELOW, *ABOVE, *ABOUT)))})?\s*(?P<figure>[-−+]?{FIGURE})\s*"
    r"(?P<unit>(?:mm Hg|cm H2O|\S+))?",
    re.IGNORECASE,
)
"""A figure, or a range, with the word behind it."""
_OF_TEN = re.compile(r"(?:/|(?:out )?of)\s*10\b")
"""What may stand behind a score from 0 to 10."""
_SCORE = re.compile(rf"(?P<points>{NUMBER})\s+(?:out )?of\s+(?P<most>\d{{1,3}})\b")
_PAIN = ("a number from 0 to 10, or a mark on a line of 100 mm with its unit", "value: 7/10")
_ACUITY = "a line such as 6/19 or 20/50, letters, logMAR or decimal with that word, or CF, HM, PL, NPL"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each measurement that cannot be so, or cannot be read."""
    for name in _PATIENT:
        told: FreeText | None = getattr(ctx.case.patient, name)
        if told is not None:
            yield from _of_figure(("patient", name), name, told.value, name)
    for at, visit in enumerate(ctx.case.outcome.visits):
        for place, one in enumerate(visit.measures):
            path = ("outcome", "visits", at, "measures", place, "value")
            words = " ".join(one.value.value.split())
            if undone(words):
                continue
            if names_acuity(one.name.value):
                yield from _of_acuity(path, words)
            else:
                yield from _of_figure(path, one.name.value, words, "value")


def _of_acuity(path: Path, words: str) -> Iterator[Finding]:
    if not any(sign.isdigit() for sign in words):
        return  # said in words, and shown so
    try:
        bare = read_acuity(words).how == "bare"
    except ValueError:
        yield _told(path, "this acuity cannot be read", "a figure that is no acuity", _ACUITY, "value: 6/19")
        return
    if bare:
        found = "a figure that may be a decimal or a logMAR"
        yield _told(path, "this acuity can be read in two ways", found, _ACUITY, "value: decimal 0.63")


def _of_figure(path: Path, name: str, words: str, key: str) -> Iterator[Finding]:
    found = _FIGURE.match(_OF_TEN.sub("", words) if possible(name) is RATED else words)
    kind = found and possible(name, found["unit"] or "")
    if kind is None and (score := _SCORE.match(words)) and number(score["points"]) > number(score["most"]):
        most = score["most"]
        told = ("more points than the scale has", f"at most {most}", f"{key}: {most} of {most}")
        yield _told(path, "this figure cannot be so", *told)
    if found is None or kind is None:
        return  # it is said in words, and shown so, or nothing is known of it
    unit = _unit(found["unit"] or "", kind)
    if not unit and not kind.bare and path[0] != "patient":
        return  # of a visit another rule asks for the unit
    try:
        kind.read(key, f"{found['figure']} {unit}")
    except InputFault as told:
        for fault in told.faults:
            expected, example = _PAIN if kind is RATED else (fault.expected, _PATIENT.get(key, fault.example))
            yield _told(path, "this figure cannot be so", fault.found, expected, example)


def _unit(written: str, kind: Measured) -> str:
    """The unit behind a figure; where there is but one, a remark may stand in its place."""
    unit = written.rstrip(".,;:)")
    if unit.replace(" ", "").casefold() == kind.unit.casefold():
        return kind.unit
    return "" if unit and kind.bare and not same_kind(unit, unit) else unit


def _told(path: Path, text: str, found: str, expected: str, example: str) -> Finding:
    return Finding(path, text, found, expected, example, severity=Severity.WARN)
