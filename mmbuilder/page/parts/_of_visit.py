"""The parts of a visit in a line of the note: its day, what it was, and what was found."""

from __future__ import annotations

import re

from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._of_action import DAY, day_meant
from mmbuilder.page.parts._parted import Parted

NAME = "outcome/visits/note"

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
    """Take a visit apart. A week is seven days; months and years are no number of them."""
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
    when = _when(found)
    fields = {"when": when, "label": label}
    why = {"when": "months and years are no number of days"} if found and not when else {}
    rest = words
    if found is not None and not words[: found.start()].strip():
        rest = _unlabelled(words[found.end() :].lstrip(_BETWEEN))
    fields = {key: value for key, value in fields.items() if value}
    return Parted(rest.strip(_BETWEEN) or words, fields, why)


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


def _when(found: re.Match[str] | None) -> str:
    told = found.groupdict() if found else {}
    if found is None or told.get("months") or told.get("years"):
        return ""
    return f"Day {int(found['count']) * (7 if told.get('weeks') else 1)}"
