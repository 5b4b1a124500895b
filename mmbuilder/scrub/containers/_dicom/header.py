"""The header of a DICOM object, made anew from what may stay."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from math import isfinite
from typing import Any

from mmbuilder.scrub.containers._dicom import kept, uids
from mmbuilder.scrub.containers._dicom.profile import Action, action

MAX_DEPTH = 8

UNNEEDED = "attribute that is not needed to show the picture"
REMOVED = "REMOVED"
"""What stands where an attribute must say something."""

_DUMMIES = {"DA": "19000101", "TM": "000000", "DT": "19000101000000", "AS": "000Y", "DS": "0", "IS": "0"}
_TEXT = frozenset({"PN", "LO", "SH", "ST", "LT", "UT", "UC", "CS", "AE"})
_PIXELS = frozenset({0x7FE00010, 0x7FE00008, 0x7FE00009})


@dataclass
class Clean:
    """A new header, and how many attributes of each kind went."""

    dataset: Any = field(repr=False)
    gone: Counter[str] = field(default_factory=Counter)


def clean(dataset: Any) -> Clean:
    """Make a header of only what is kept, emptied or replaced. Pixels are put in later."""
    from pydicom.dataset import Dataset

    made = Clean(Dataset())
    _copy(dataset, made.dataset, made.gone, 0)
    return made


def _copy(source: Any, target: Any, gone: Counter[str], depth: int) -> None:
    for element in source:
        if int(element.tag) in _PIXELS:
            continue
        new = _value(element, gone, depth)
        if new is None:
            gone[_kind(int(element.tag))] += 1
        else:
            target.add_new(element.tag, element.VR, new)
            gone.update(_changed(element, new))


def _changed(element: Any, new: Any) -> tuple[str, ...]:
    """What has gone from an attribute that stays."""
    asked, old = action(int(element.tag)), str(element.value)
    if asked is Action.NEW_UID:
        return () if old.startswith(uids.ROOT) else ("unique identifier (UID)",)
    return ("identifying attribute",) if asked is not None and old not in ("", str(new)) else ()


def _kind(tag: int) -> str:
    group = tag >> 16
    if group & 1:
        return "private attribute"
    if group & 0xFF00 == 0x6000:
        return "overlay"
    if group & 0xFF00 == 0x5000:
        return "curve"
    return "identifying attribute" if action(tag) else UNNEEDED


def _value(element: Any, gone: Counter[str], depth: int) -> Any:
    """Return the new value of an attribute; None drops it."""
    asked = action(int(element.tag))
    if asked is not None:
        return _by_profile(element, asked)
    name = element.keyword
    if element.VR == "SQ":
        return _items(element, gone, depth) if name in kept.SEQUENCES and depth < MAX_DEPTH else None
    if name in kept.AS_THEY_ARE:
        return element.value if _of_the_standard(str(element.value)) else None
    if name in kept.WORDS:
        return _words(element.value, kept.WORDS[name])
    return _numbers(element.value) if name in kept.NUMBERS else None


def _of_the_standard(uid: str) -> bool:
    """Whether a UID is one that the standard lists: under its root anybody can write a number."""
    from pydicom.uid import UID

    return UID(uid).type == "SOP Class"


def _by_profile(element: Any, asked: Action) -> Any:
    if asked is Action.REMOVE or element.VR == "SQ":
        return None  # a sequence with a dummy in it says nothing: it is removed, which is stricter
    if asked is Action.EMPTY:
        return ""
    if asked is Action.NEW_UID:
        return uids.new(str(element.value))
    return _DUMMIES.get(element.VR, REMOVED if element.VR in _TEXT else None)


def _items(element: Any, gone: Counter[str], depth: int) -> Any:
    from pydicom.dataset import Dataset

    made = []
    for item in element.value:
        made.append(Dataset())
        _copy(item, made[-1], gone, depth + 1)
    return made


def _several(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list | tuple) or type(value).__name__ == "MultiValue" else [value]


def _words(value: Any, allowed: frozenset[str]) -> Any:
    words = [str(word) for word in _several(value) if str(word) in allowed]
    return words if words else None


def _numbers(value: Any) -> Any:
    """Numbers of a size that settings and places in a series have: a longer one may be a record's."""
    try:
        if all(isfinite(float(part)) and abs(float(part)) < kept.LEAST_RECORD for part in _several(value)):
            return value
    except (TypeError, ValueError):
        return None
    return None


def texts(dataset: Any) -> list[str]:
    """Every value of the header that is words, nested ones too, each once; names with their parts apart."""
    found: dict[str, None] = {}
    for element in dataset.iterall():
        if element.VR in _TEXT - {"CS"}:
            found |= dict.fromkeys(str(part).replace("^", " ").strip() for part in _several(element.value))
    return [text for text in found if text]
