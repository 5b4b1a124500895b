"""Where a role is asked for, a role stands and no name."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "role-names-somebody"
WHY = "an action of one person ends when that person leaves, and a name on a slide points at somebody"
GOOD = """
actions: [{what: Keep a second retrieval bag in theatre, owner: Sister in Charge, due: 30 June 2026,
  strength: intermediate, strength reason: It lies where it is needed, measure: lists with a bag,
  out of: lists checked,
  target: 19 of 20, period: 3 months, baseline: 4 of 20, review: at the meeting in 4 months}]
"""
BAD = """
presenter: {role: the surgeon Orrastal}
actions: [{what: Keep a second retrieval bag in theatre, owner: Sister Orrastal, due: 30 June 2026}]
"""

_TITLED = re.compile(
    r"(?<!\w)(?:(?:Dr|Mr|Mrs|Ms|Mx|Miss|Prof|Professor|Doctor)\b\.?\s+[^\W\d_]"
    r"|(?:Sister|Nurse|Matron|Midwife)\s+(?P<after>[A-Z][\w'’-]+))"
)
_OF_A_ROLE = frozenset(
    {"manager", "practitioner", "lead", "leader", "consultant", "specialist", "educator", "anaesthetist"}
    | {"in", "on", "of", "for", "charge", "theatre", "ward", "recovery", "scrub", "unit", "team", "director"}
    | {"coordinator"}
)
"""What may follow Sister or Nurse in the name of a role written with capitals."""
_SHORTEST = 3


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each role that holds a name with a title, or a word of a declared person's name."""
    names = _declared(ctx)
    for path, role in _roles(ctx):
        words = set(re.findall(r"[^\W\d_]+", role.value.casefold()))
        titled = any(
            (found["after"] or "").casefold() not in _OF_A_ROLE for found in _TITLED.finditer(role.value)
        )
        if words & names or titled:
            yield Finding(
                path,
                f"`{path[-1]}` seems to name somebody",
                found="a word of a declared name" if words & names else "a title with a name behind it",
                expected="the role alone",
                example=f"{path[-1]}: Theatre lead",
                severity=Severity.WARN,
            )


def _roles(ctx: Context) -> Iterator[tuple[Path, FreeText]]:
    case = ctx.case
    yield ("presenter", "role"), case.presenter.role
    asked: list[tuple[Path, FreeText | None]] = [
        *((("actions", at, "owner"), one.owner) for at, one in enumerate(case.actions)),
        *((("outcome", "grades", at, "by"), one.by) for at, one in enumerate(case.outcome.grades)),
        *((("outcome", "monitoring", at, "by"), one.by) for at, one in enumerate(case.outcome.monitoring)),
        *(
            (("meetings", at, "attendance", place, "role"), one.role)
            for at, meeting in enumerate(case.meetings)
            for place, one in enumerate(meeting.attendance)
        ),
    ]
    yield from ((path, role) for path, role in asked if role is not None)


def _declared(ctx: Context) -> frozenset[str]:
    """The words of declared names, without those that stand in a role and those the author keeps."""
    people = ctx.declared.people
    told = [form.value for person in people for form in (person.name, *person.also)]
    words = {word for form in told for word in re.findall(r"[^\W\d_]+", form.casefold())}
    roles = {word for person in people for word in person.role.value.split()}
    kept = {word for one in ctx.declared.keep for word in one.value.casefold().split()}
    titles = {"mrs", "miss", "prof", "professor", "doctor", "sister", "nurse", "matron", "midwife"}
    return frozenset(word for word in words - roles - kept - titles if len(word) >= _SHORTEST)
