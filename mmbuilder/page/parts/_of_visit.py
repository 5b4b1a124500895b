"""The parts of a visit in a line of the note: its day, what it was, and what was found.

One that is still to come is none: it is watched, until its day.
"""

from __future__ import annotations

import re
from datetime import timedelta

from mmbuilder.page.parts._bare import day_of
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._of_action import DAY, WEEKDAY, day_meant
from mmbuilder.page.parts._parted import Parted

NAME = "outcome/visits/note"
WATCHED = "outcome/monitoring/what"

_DAY = re.compile(r"\b(?:pod|post-?op day|day|d)\s?(?P<count>\d{1,3})\b", re.IGNORECASE)
_SPAN = re.compile(
    r"\b(?P<count>\d{1,3})[\s-]?(?:(?P<days>d|days?|/7)|(?P<weeks>wks?|weeks?|/52)|(?P<months>months?|/12)|(?P<years>y|years?))\b",
    re.IGNORECASE,
)
_LABEL = re.compile(
    r"\b(?P<Clinic>clinic|opd|outpatients?)\b|\b(?P<Home>home|discharged?)\b|\b(?P<Ward>ward|hdu|icu|itu)\b"
    r"|\b(?P<Telephone>phone|telephone|call)\b|\b(?P<Review>review|follow[- ]?up|f/?u)\b",
    re.IGNORECASE,
)


def parted(words: str, known: Known) -> Parted:
    """Take a visit apart. A week is seven days; months and years are about as many as they have."""
    if numbered := _NUMBERED.fullmatch(words):
        said = {"when": day_meant(numbered["day"], known)}
        of_what = _LABEL.search(numbered["of"])
        return Parted(numbered["rest"], said | {"label": (of_what.lastgroup or "") if of_what else "Review"})
    found, label = _DAY.search(words) or _SPAN.search(words), _label(words)
    dated = _DATED.match(words)
    if dated and (found is None or found.start() > dated.start("rest") or _WHOLE.fullmatch(dated["day"])):
        told = {"when": day_meant(dated["day"], known)}
        return Parted(_unlabelled(dated["rest"]), told | ({"label": label} if label else {}))
    if found is None and (last := _LAST.fullmatch(words)):
        return Parted(words, {"when": day_meant(last["day"], known), **({"label": label} if label else {})})
    if seen := _SEEN_ON.search(words):  # a day is surer than the weeks beside it
        return Parted(words, {"when": day_meant(seen["day"], known), **({"label": label} if label else {})})
    if day := _told_day(words, found.start() if found else len(words)):
        return Parted(words, {"when": day_meant(day, known), **({"label": label} if label else {})})
    fields = {"when": _when(found), "label": label}
    about = found is not None and bool(
        {"months", "years"} & {key for key, one in found.groupdict().items() if one}
    )
    why = {"when": "about: months and years are no number of days"} if about else {}
    rest = words
    if found is not None and not words[: found.start()].strip():
        rest = _unlabelled(words[found.end() :].lstrip(_BETWEEN))
    fields = {key: value for key, value in fields.items() if value}
    return Parted(rest.strip(_BETWEEN) or words, fields, why)


def _told_day(words: str, end: int) -> str:
    """The first day on which something was, before the span or count at `end`: `seen 27/11 well`."""
    days = (one for one in _ON_DAY.finditer(words, 0, end) if not _NOT_THEN.search(words, 0, one.start()))
    return next((one["day"] for one in days if not _MONTH_ALONE.fullmatch(one["day"])), "")


def _label(words: str) -> str:
    """What the visit was, as its beginning says; `F/U: 26/10 clinic` was a clinic."""
    said = [one.lastgroup or "" for one in _LABEL.finditer(words, 0, _NEAR)]
    return next((one for one in said if one != _ANY), said[0] if said else "")


def _unlabelled(words: str) -> str:
    """Words without the label that leads them, where more stands behind it."""
    behind = _LABEL.match(words)
    rest = words[behind.end() :].lstrip(_BETWEEN) if behind else ""
    return rest or words


_ANY = "Review"
_NOT_THEN = re.compile(
    r"\b(?:due|booked|pending|awaited|requested|arranged|planned|for|until|till|by|before|since|from|next)"
    r"\s(?:on\s)?$",
    re.IGNORECASE,
)
_ON_DAY = re.compile(rf"(?<![\w/.])(?P<day>{DAY})(?!:\d|\s?(?:Fr?\b|sheath|scope))", re.IGNORECASE)
"""`extubated 18th Nov`; `booked 6 Jan` is no day on which anything was, nor is `12/14 sheath`."""
_MONTH_ALONE = re.compile(r"\D*|\D+\d{4}")
_SEEN_ON = re.compile(rf"\bseen (?:on )?{WEEKDAY}(?P<day>{DAY})(?!:\d)", re.IGNORECASE)
"""`clinic 2/52 seen Thurs 26/11`."""
_BETWEEN = " ,:.-–—"
_LAST = re.compile(rf"[^\W\d_]+(?:/[^\W\d_]+)?\s(?:on\s)?(?P<day>{DAY})\W*", re.IGNORECASE)
"""`Home 13/11`, and nothing behind it."""
_WHOLE = re.compile(r"\d{1,2}([/.])\d{1,2}\1\d{2,4}")
"""`14/12/26`, which is not fourteen months."""
_DATED = re.compile(
    rf"(?:(?:f/u|[^\W\d_]+)(?:\s\d)?[\s:,–—-]+)?(?P<day>{DAY})[\s:,–—-]+(?P<rest>\S.*)",
    re.IGNORECASE | re.DOTALL,
)
"""`Clinic 1: 8/4/26 - well`: a day right at the head of the line, or behind a word and its number."""
_NUMBERED = re.compile(
    rf"f/?u\s?\d{{1,2}}\b(?![/.]\d)(?P<of>[^\d]{{0,24}}?)(?P<day>{DAY})[\s:,–—-]+(?P<rest>\S.*)",
    re.IGNORECASE | re.DOTALL,
)
"""`FU 2 duplex 27/11 patent`: a follow-up by its number, what it was, and its day."""
_NEAR = 40
"""Characters in which a line says what the visit was; later it tells what came of it."""


_DAYS_OF = {"weeks": 7, "months": 365.25 / 12, "years": 365.25}


def _when(found: re.Match[str] | None) -> str:
    if found is None:
        return ""
    told = found.groupdict()
    each = next((days for name, days in _DAYS_OF.items() if told.get(name)), 1)
    return f"Day {round(int(found['count']) * each)}"


# What is still to come

_TO_COME = re.compile(
    r"\b(?:due|booked|pending|awaited|awaiting|requested|arranged|to follow|tb[ac])\b", re.IGNORECASE
)
_DUE = re.compile(rf"\b(?:due(?: on)?|booked(?: for| on)?):? (?P<day>{DAY})", re.IGNORECASE)
_DUE_FIRST = re.compile(rf"[^,;.]{{0,24}}\bdue\b(?! to\b)|[^,;.]{{0,40}}?{_DUE.pattern}", re.IGNORECASE)


def to_come(words: str, *, refused: bool) -> bool:
    """Whether a visit is still to come: `6/52 due 29/12/26`, or refused for `review - pending`."""
    return _DUE_FIRST.match(words) is not None or (refused and _TO_COME.search(words) is not None)


def watched(words: str, known: Known) -> Parted:
    """Take what is still to come apart: what it is to be, and until when."""
    due = _DUE.search(words)
    span = _SPAN.match(words)
    day = day_meant(due["day"], known) if due else ""
    parts = (words[: due.start()], words[due.end() :]) if due else (words,)
    stop = ", " if parts[-1].lstrip()[:1] in (",", ";") else " "
    rest = stop.join(filter(None, (part.strip(_BETWEEN) for part in parts)))
    rest = (rest[span.end() :] if span else rest).strip(_BETWEEN)
    until = _counted(day, known) or (_when(span) if span else "")
    return Parted(rest or words, {"until": until} if until else {})


def is_later(when: str, known: Known) -> bool:
    """Whether the day of a visit is after the meeting."""
    meeting = day_of(str(known.tree.get("meeting") or ""))
    counted = re.fullmatch(r"Day (\d+)", when)
    day = day_of(when) if counted is None else None
    at = known.zero + timedelta(int(counted[1])) if counted and known.zero else day.date if day else None
    return bool(meeting and at and at > meeting.date)


def later(visit: Parted) -> Parted:
    """Return a visit whose day is after the meeting as what is watched until then: the author says which."""
    what = ": ".join(filter(None, (visit.fields.get("label"), visit.what)))
    return Parted(what, {"until": visit.fields["when"]}, {"until": "it is after the meeting"}, sure=False)


def _counted(when: str, known: Known) -> str:
    """A day as counted from Day 0, where that is known; else as it was meant."""
    day = day_of(when)
    return f"Day {(day.date - known.zero).days}" if day and known.zero else when
