"""What a note tells of the patient, the plan, the clocks and the day: proposed in the fields of the case.

Only what stands in the note is proposed, and only for what the case does not say yet. Nothing of it is a
judgement, and each stands in a field that the author sees before it is put into the case.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from mmbuilder.case.dates import orders
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.form import keeping
from mmbuilder.page.form.days import in_full
from mmbuilder.page.form.keeping import New
from mmbuilder.page.form.layout import called
from mmbuilder.page.parts._known import Known

_CLOCK, _OTHER, _OFFSET = "clock", "other-clock", "offset"
_PLACES: Mapping[str, Path] = {
    "age": ("patient", "age"),
    "sex": ("patient", "sex"),
    "side": ("patient", "side"),
    "procedure": ("plan", "procedure"),
    "indication": ("plan", "indication"),
    "anaesthesia": ("plan", "anaesthesia"),
    "day-zero": ("timeline", "day zero"),
}
_LABELS = {
    _CLOCK: "Clock of the times, such as theatre clock",
    _OTHER: "Another clock in it",
    _OFFSET: "To be added to its readings",
}
"""Of the two clocks: the reference, and one that the note compares with it."""


@dataclass(frozen=True)
class Asked:
    """A field of the case that the note may fill.

    Attributes:
        name: of the field in the page.
        value: what the note says; empty where it does not, or says two things.
        closed: the words that it is chosen from; empty where any will do.
    """

    name: str
    label: str
    value: str
    closed: tuple[str, ...] = ()


def asked(known: Known) -> list[Asked]:
    """Return the fields that the case has nothing in yet, with what its note says of each."""
    said = dict(_said(known))
    made = []
    for name, path in _PLACES.items():
        slot = slot_at(Case, path)
        if slot is not None and not _has(known.tree, path):
            made.append(Asked(name, called(Case, path), said.get(name, ""), slot.closed))
    if not _has(known.tree, ("clocks",)):
        made += [Asked(name, label, said.get(name, "")) for name, label in _LABELS.items()]
    return made


def filled(asked_for: list[Asked], values: Mapping[str, str]) -> list[Asked]:
    """Return fields with the values that were typed into them."""
    return [replace(one, value=values.get(one.name, one.value)) for one in asked_for]


def put_asked(text: str, values: Mapping[str, str]) -> str:
    """Return the text of a case with the fields as they were filled in."""
    for name, path in _PLACES.items():
        if value := values.get(name, ""):
            text = keeping.set_value(text, Case, path, value)
    clocks: list[dict[str, str]] = []
    if clock := values.get(_CLOCK, ""):
        clocks.append({"name": clock, "reference": "yes"})
    if (other := values.get(_OTHER, "")) and other != clock:
        clocks.append({"name": other, "offset": values.get(_OFFSET, "")})
    new = [New(("clocks",), {key: word for key, word in one.items() if word}) for one in clocks]
    return keeping.put_in(text, Case, new)[0] if new else text


def _has(tree: Any, path: Path) -> bool:
    for step in path:
        tree = tree.get(step) if isinstance(tree, Mapping) else None
    return bool(tree)


# What stands in the note


def clock_told(known: Known) -> tuple[str, str]:
    """Return the clock that the times of a note are told by, and one that it compares; empty if untold."""
    said = dict(_clocks(known.text))
    return said.get(_CLOCK, ""), said.get(_OTHER, "")


def _said(known: Known) -> Iterator[tuple[str, str]]:
    yield from _person(known.text)
    yield from _plan(known.text)
    yield from _clocks(known.text)
    if day := _day(known):
        yield "day-zero", day


_SEX = r"(?P<sex>[MF]\b|male\b|female\b|(?:wo)?man\b|lady\b|gentleman\b|girl\b|boy\b|[Mm]ale\b|[Ff]emale\b)"
_AGED = re.compile(
    rf"(?<![\d/.:-])(?P<age>\d{{1,3}})\s?(?:-?\s?(?:y/?o|yrs?|years?)\b[- ]?(?:old)?)?\s?{_SEX}"
)
_SIZED = re.compile(
    r"\b(?:fogarty|foley|catheter|sheath|balloon|drain|introducer|dilator)\W*$", re.IGNORECASE
)
"""Before `2F`, which is then its size in French, and nobody's age."""
_MALE = frozenset({"m", "male", "man", "gentleman", "boy"})


def _person(text: str) -> Iterator[tuple[str, str]]:
    found = {
        (one["age"], "male" if one["sex"].lower() in _MALE else "female")
        for one in _AGED.finditer(text)
        if not _SIZED.search(text, 0, one.start())
    }
    if len(found) == 1:
        age, sex = found.pop()
        yield "age", age
        yield "sex", sex


_OPERATION = (
    r"\b(?:\w+(?:ectomy|plasty|otomy|ostomy|scopy|scopic|desis|pexy|rrhaphy)|hemi(?:arthroplasty)?|THR|TKR|ORIF"
    r"|DHS|CEA|TURP|TURBT|PCNL|CABG|AAA|EVAR|LSCS|c-?section|caesarean|section|repair|bypass|fixation|nail(?:ing)?"
    r"|replacement|resection|excision|biopsy|phaco|vitrectomy|graft|amputation|stent(?:ing)?|drainage|delivery"
    r"|lap chole|VATS|op)\b"
)
_SAID = r"(?:(?:^|(?<=[.;]\s))\W*(?:op(?:eration)?|plan(?:ned)?|procedure|listed for)\s*[:=]\s*"
"""`Plan: `: at the head of a line, or of a sentence."""
_PLANNED = re.compile(
    rf"{_SAID}|^\W*)(?:(?:planned|elective|emergency|listed for|for)\s+)?"
    rf"(?P<what>[^\n.;:,()]*?{_OPERATION}[^\n.;:,()]*?)"
    r"\s+for\s+(?P<why>[^\n.;,()]+)",
    re.IGNORECASE | re.MULTILINE,
)
"""`R hip hemi for displaced # NOF`: what was done, and why."""
_HEADED = re.compile(
    r"^\W*(?:op(?:eration)?|procedure|planned)\s*[:=]\s*(?P<what>[^\n.;()]+)", re.IGNORECASE | re.MULTILINE
)
_PLAN = re.compile(rf"{_SAID})(?P<what>[^\n.;:,()]*?{_OPERATION})", re.IGNORECASE | re.MULTILINE)
"""`Plan: L CEA under GA`: a plan that is no operation, such as a talk, is none."""
_SIDES = (
    ("right", re.compile(r"\b(?:R|[Rr]t|RIGHT|[Rr]ight)\b(?![/'-])")),
    ("left", re.compile(r"\b(?:L|[Ll]t|LEFT|[Ll]eft)\b(?![/'-])")),
)
_UNDER = re.compile(
    r"(?:^|[,.;(]\s*|\bunder\s+)(?P<how>(?:GA|LA|RA|(?i:spinal|epidural|sedation|general anaesth\w+"
    r"|regional|local anaesth\w+|(?:sub-?tenon|interscalene|axillary|femoral|peribulbar)\w* block))\b"
    r"(?:(?!\sw/ ?(?:patch|shunt|graft|mesh|drain)\b)[^,.;()\n]){0,40})",
    re.MULTILINE,
)


def _plan(text: str) -> Iterator[tuple[str, str]]:
    found = _PLANNED.search(text) or _HEADED.search(text) or _PLAN.search(text)
    if found is not None:
        what = found["what"].strip()
        yield "procedure", what
        if "why" in found.groupdict():
            yield "indication", found["why"].strip()
        sides = [side for side, shape in _SIDES if shape.search(what)]
        if len(sides) == 1:
            yield "side", sides[0]
    ways = list(dict.fromkeys(one["how"].strip() for one in _UNDER.finditer(text)))
    if ways:
        yield "anaesthesia", ways[0]


_COMPARED = re.compile(
    r"\b(?P<other>[a-z]+(?:-[a-z]+)?)(?P<noun> clock| time)?(?: (?:was|is|runs?|ran|reads?))?"
    r" (?P<count>\d{1,3})\s?"
    r"(?:min(?:ute)?s?) (?P<how>fast|ahead|slow|behind)\b"
    r"(?:\s*(?:,|vs\.?|versus|than|against|to|of|by)?\s*(?:the )?"
    r"(?:(?P<clock>[a-z]+(?: [a-z]+)?)(?: clock| time)"
    r"|(?P<device>[a-z]+ (?:monitor|chart|record|machine))|(?P<room>theatre|wall|room|ward))\b)?",
    re.IGNORECASE,
)
"""`monitor clock 4 min fast vs theatre clock`."""


_NAMED_CLOCK = re.compile(
    r"\b(?!(?:the|an?|this|that|which|its|my|our|each|both|by)\b)(?P<name>[a-z]+) clock\b", re.I
)


def _clocks(text: str) -> Iterator[tuple[str, str]]:
    found = list(_COMPARED.finditer(text))
    one = found[0] if len(found) == 1 else None
    if one is not None:
        named = {found["name"].lower() for found in _NAMED_CLOCK.finditer(text)} - {one["other"].lower()}
        if clock := one["clock"] or one["room"]:
            yield _CLOCK, f"{clock.lower()} clock"
        elif one["device"]:
            yield _CLOCK, one["device"].lower()
        elif len(named) == 1:
            yield _CLOCK, f"{named.pop()} clock"
        yield _OTHER, one["other"].lower()
        yield _OFFSET, f"{'-' if one['how'].lower() in ('fast', 'ahead') else ''}{one['count']} min"


_WHOLE = re.compile(r"(?<![\d/.-])(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d\d)(?![\d/.-]\d)")
_BORN = re.compile(r"\b(?:d\.?o\.?b|born|birth)\b[\s.:]*(?:on\s)?$", re.IGNORECASE)


def _day(known: Known) -> str:
    """Return the only date with its weekday; else the only whole one, not of birth, that reads in one way."""
    days, near = set(), known.near or datetime.now().astimezone().date()
    if known.noted is not None:
        return known.noted.isoformat()
    for one in _WHOLE.finditer(known.text):
        if not _BORN.search(known.text[: one.start()]):
            days |= {in_full(*pair, one[4], near) for pair in _orders(one, known)}
    day = days.pop() if len(days) == 1 else None
    return day.isoformat() if day is not None else ""


def _orders(one: re.Match[str], known: Known) -> frozenset[tuple[int, int]]:
    first, second = int(one[1]), int(one[3])
    return frozenset({(first, second)}) if known.day_first else orders(first, second)
