"""What a note tells of the patient, the plan, the clocks and the day: proposed in the fields of the case.

Only what stands in the note is proposed, and only for what the case does not say yet. Nothing of it is a
judgement, and each stands in a field that the author sees before it is put into the case.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.form import keeping
from mmbuilder.page.form.keeping import New
from mmbuilder.page.form.layout import called
from mmbuilder.page.form.opened import opened
from mmbuilder.page.parts._compared import compared
from mmbuilder.page.parts._kinds import MARK
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._linked import events_at
from mmbuilder.page.parts._typed import clocks_of

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
_ZERO, _ZERO_AT = "zero", ("timeline", "index event")
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
    if (zero := said.get(_ZERO, "")) and not _has(known.tree, _ZERO_AT):
        made.append(Asked(_ZERO, called(Case, _ZERO_AT), zero, (zero,)))
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


def put_zero(text: str, values: Mapping[str, str]) -> str:
    """Return the text of a case, its events put in, with the event from which all times are counted.

    By whichever clock it was read: it may have been read by another than most.
    """
    said, now = values.get(_ZERO, ""), opened(text, Case)
    tree = dict(now.values) if now is not None else {}
    by = ["", *clocks_of(tree).others]
    found = {one for clock in by for one in events_at(tree, [(said, clock)])} if said else set()
    return keeping.set_value(text, Case, _ZERO_AT, found.pop()) if len(found) == 1 else text


def _has(tree: Any, path: Path) -> bool:
    for step in path:
        tree = tree.get(step) if isinstance(tree, Mapping) else None
    return bool(tree)


# What stands in the note


def _said(known: Known) -> Iterator[tuple[str, str]]:
    yield from _person(known.text)
    yield from _plan(known.text)
    clocks = compared(known.text)
    yield from ((_CLOCK, clocks.reference), (_OTHER, clocks.other), (_OFFSET, clocks.offset))
    if known.told_zero is not None:
        yield "day-zero", known.told_zero.isoformat()
    cuts = dict.fromkeys(" ".join(one[0].split()) for one in _CUT.finditer(known.text))
    if len({one["before"] or one["behind"] for one in _CUT.finditer(known.text)}) == 1:
        yield _ZERO, next(iter(cuts))
    elif not cuts and len(signs := {one["time"] for one in _SIGN.finditer(known.text)}) == 1:
        yield _ZERO, signs.pop()


_TIME = r"(?:[01]?\d|2[0-3])[:.]?[0-5]\d"
_KNIFE = r"(?:KTS|knife to skin|(?:skin )?incision(?! (?:extended|closed|enlarged)))\b"
_BEHIND = rf"[ ,:@–-]{{1,3}}(?:at )?{_TIME}(?![\w/%])"
_CUT = re.compile(
    rf"(?<![\w.:/])(?P<before>{_TIME})(?! ?,[ ]?{_KNIFE}{_BEHIND})[ ,:–-]{{1,3}}{_KNIFE}"
    rf"|\b{_KNIFE}[ ,:@–-]{{1,3}}(?:at )?(?P<behind>{_TIME})(?![\w/%])",
    re.IGNORECASE,
)
"""`0905 KTS`: the event from which a story of theatre is counted, where the author does not say another.

In `sign in 0820, KTS 0846` the hour before the comma is of something else.
"""


_SIGN = re.compile(rf"^\W*(?P<time>{_TIME})\b[^\n]*?{MARK}", re.MULTILINE)
"""`0946 brisk blood <- looking back first sign`: else the event that the author calls so."""
_SEX = r"(?P<sex>[MF]\b|male\b|female\b|(?:wo)?man\b|lady\b|gentleman\b|girl\b|boy\b|[Mm]ale\b|[Ff]emale\b)"
_AGED = re.compile(
    rf"(?<![\d/.:-])(?P<age>\d{{1,3}})\s?(?:-?\s?(?:y/?o|yrs?|years?)\b[- ]?(?:old)?)?\s?{_SEX}"
)
_AGED_BEHIND = re.compile(
    rf"(?<![\w'’/.-]){_SEX}(?:,\s?|\s)(?P<age>\d{{1,3}})(?=\s?(?:y/?o|yrs?|years?)\b|[,;.)](?!\d)|\s*$"
    r"|\s(?:with|who|dob|d\.o\.b|born)\b)",
    re.MULTILINE,
)
"""`F, 64,`, `woman 64 with stones`: the sex, then the age; `lady, 2 drains` tells none."""
_DEVICE = (
    r"(?:fogarty|foley|catheter|sheath|balloon|drain|introducer|dilat[oe]r|cannula|stent|scope|tube"
    r"|nephrostomy|trocar)s?"
)
_SIZED = re.compile(rf"\b{_DEVICE}\W*$|\bsize\W*$", re.IGNORECASE)
"""Before `2F`, which is then its size in French, and nobody's age."""
_SIZE_OF = re.compile(
    rf"\s(?:(?!(?:with|for|has|had|and|on|who)\b)[\w/-]+\s){{0,2}}?{_DEVICE}\b", re.IGNORECASE
)
"""Behind `16F`: `16F catheter`, `22F 3-way catheter`."""
_WIDEST = 40
"""French: no instrument is wider (common practice, no source)."""
_MALE = frozenset({"m", "male", "man", "gentleman", "boy"})
_BORN = re.compile(r"\b(?:dob|d\.o\.b|born|date of birth)\b", re.IGNORECASE)


def _person(text: str) -> Iterator[tuple[str, str]]:
    """The age and sex of the only person that has one; who stands beside a date of birth comes first."""
    born = "\n".join(line for line in text.splitlines() if _BORN.search(line))
    people = next((found for one in (born, text) if len(found := _people(one)) == 1), set())
    for age, sex in people:
        yield "age", age
        yield "sex", sex


def _people(text: str) -> set[tuple[str, str]]:
    return {
        (one["age"], "male" if one["sex"].lower() in _MALE else "female")
        for shape in (_AGED, _AGED_BEHIND)
        for one in shape.finditer(text)
        if not (_SIZED.search(text, 0, one.start()) or _is_size(text, one))
    }


def _is_size(text: str, told: re.Match[str]) -> bool:
    """Whether `16F` is the gauge of what stands behind it."""
    french = told["sex"] == "F" and int(told["age"]) <= _WIDEST
    return french and _SIZE_OF.match(text, told.end()) is not None


_OPERATION = (
    r"\b(?:\w+(?:ectomy|plasty|otomy|ostomy|scopy|scopic|desis|pexy|rrhaphy)|hemi(?:arthroplasty)?|THR|TKR|ORIF"
    r"|DHS|CEA|TURP|TURBT|PCNL|CABG|AAA|EVAR|LSCS|c-?section|caesarean|section|repair|bypass|fixation|nail(?:ing)?"
    r"|replacement|resection|excision|biopsy|phaco|vitrectomy|graft|amputation|stent(?:ing)?|drainage|delivery"
    r"|lap chole|VATS|F?URS|RIRS|ESWL|lithotripsy|HoLEP|RARP|ERCP"
    r"|op(?!\W*(?:notes?|record|report|sheet|letter)\b))\b"
)
_SAID = r"(?:(?:^|(?<=[.;]\s))\W*(?:op(?:eration)?|plan(?:ned)?|procedure|listed for)\s*[:=]\s*"
"""`Plan: `: at the head of a line, or of a sentence."""
_FOR = (
    r"(?:(?:planned|elective|emergency|listed for|for)\s+)?"
    rf"(?P<what>[^\n.;:,()]*?{_OPERATION}[^\n.;:,()]*?)"
    r"\s+for\s+(?!(?:[\w&+]+\s){0,2}(?:mtg|meeting|m\s?[&+]\s?m)\b)(?P<why>[^\n.;,()]+)"
)
_PLANNED, _TOLD = (re.compile(led + _FOR, re.IGNORECASE | re.MULTILINE) for led in (rf"{_SAID})", r"^\W*"))
"""`R hip hemi for displaced # NOF`: what was done, and why."""
_HEADED = re.compile(
    r"^\W*(?:op(?:eration)?|procedure|planned)\s*[:=]\s*(?P<what>[^\n.;()]+?)\s*(?=\d{1,2}[./-]\d|[\n.;()]|$)",
    re.IGNORECASE | re.MULTILINE,
)
_PLAN = re.compile(
    rf"{_SAID})(?P<what>[^\n.;:,()]*?{_OPERATION}(?:\s*\+(?!\s*(?:GA|LA|RA|spinal|sedation)\b)[^\n.;:,()+]+)*)",
    re.IGNORECASE | re.MULTILINE,
)
"""`Plan: L CEA under GA`, `Plan: URS + laser`: a plan that is no operation, such as a talk, is none."""
_PART = re.compile(
    r"^\W*(?P<part>(?:R|L|Rt|Lt|[Rr]ight|[Ll]eft) [a-z]{3,}(?: [a-z]{3,})?)[.:,] +"
    rf"(?P<what>(?![^\n.;]*\b\d{{4}}\b)[^\n.;]*?(?i:{_OPERATION}|\brecon(?:struction)?\b)[^\n.;]*)",
    re.MULTILINE,
)
"""`R knee. Arthroscopic ligament recon with graft`: the part, then what was done."""
_ELSEWHERE = re.compile(
    r",\s*(?:(?:in|at|on)\s)?(?:(?:theatres?|thtr|th|ward|OT|DSU|day surgery|main theatres?)\b|St\s[A-Z]"
    r"|[^,]*\b(?:hospital|infirmary)\b|(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\b\s*\d?|\d{1,2}(?:st|nd|rd|th)?[\s/.-]\w+[\s/.-]\d).*$",
    re.IGNORECASE | re.DOTALL,
)
"""Behind the operation: where it was to be, and when."""
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
    shapes = (_PLANNED, _HEADED, _PLAN, _TOLD, _PART)
    found = next(filter(None, (one.search(text) for one in shapes)), None)
    if found is not None:
        what = _ELSEWHERE.sub("", found["what"]).strip()
        yield "procedure", what
        if "why" in found.groupdict():
            yield "indication", found["why"].strip()
        sides = [side for side, shape in _SIDES if shape.search(found.groupdict().get("part") or what)]
        if len(sides) == 1:
            yield "side", sides[0]
    ways = list(dict.fromkeys(one["how"].strip() for one in _UNDER.finditer(text)))
    if ways:
        yield "anaesthesia", ways[0]
