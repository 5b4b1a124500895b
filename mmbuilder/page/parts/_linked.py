"""Events that a line of the note names by their time."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from mmbuilder.page.form.choices import NAMED, NEW_NAME
from mmbuilder.page.parts._by_clock import UNSURE
from mmbuilder.page.parts._typed import entries, reference_of, word

_STAMP = re.compile(r"(?<!\d)(\d{1,2})[:.]?(\d\d)(?!\d)")


def events_at(tree: Mapping[str, Any], times: Iterable[tuple[str, str]]) -> list[str]:
    """Return the events at times, as a field that chooses events has them.

    Args:
        tree: the case as typed.
        times: each with its clock; empty for the reference. One whose clock is not told finds none.

    Returns:
        Of each time, or of its two ends, the event that is there, if there is one alone.
    """
    known = [*_known(tree)]
    found: list[str] = []
    for time, clock in times:
        if clock == UNSURE:
            continue
        stamps = _stamps(time)
        whole = _alone(known, stamps, clock)
        found += [whole] if whole else [_alone(known, frozenset({one}), clock) for one in sorted(stamps)]
    return [*dict.fromkeys(filter(None, found))]


def event_at(tree: Mapping[str, Any], time: str, clock: str) -> str:
    """Return the event at one time, the last of several that are there; empty where none is.

    A time without a clock is that of the only event that has it, where that is by another than the reference.
    """
    known, stamps = [*_known(tree)], _stamps(time)
    found = _there(known, stamps, clock) if clock != UNSURE else []
    if not found and not clock:
        others = [name for name, _, hours in known if stamps and hours == stamps]
        found = others if len(others) == 1 else []
    return found[-1] if found else ""


def _known(tree: Mapping[str, Any]) -> Iterator[tuple[str, str, frozenset[str]]]:
    """How each event is chosen, its clock and its hours."""
    reference = reference_of(dict(tree))
    for place, event in enumerate(entries(tree, *map(str, NAMED["events"]))):
        clock = word(event, "clock")
        yield f"{NEW_NAME}{place}", "" if clock == reference else clock, _stamps(word(event, "when"))


def _alone(known: list[tuple[str, str, frozenset[str]]], stamps: frozenset[str], clock: str) -> str:
    told = _there(known, stamps, clock)
    return told[0] if len(told) == 1 else ""


def _there(known: list[tuple[str, str, frozenset[str]]], stamps: frozenset[str], clock: str) -> list[str]:
    """The events at some hours by a clock, else by the reference; what only holds them comes last."""
    for named in dict.fromkeys((clock, "")):  # a clock may be named in the line for something else
        own = [(name, hours) for name, by, hours in known if by == named and stamps and stamps <= hours]
        told = [name for name, hours in own if hours == stamps] or [name for name, _ in own]
        if told:
            return told
    return []


def _stamps(time: str) -> frozenset[str]:
    return frozenset(f"{int(hour):02}{minute}" for hour, minute in _STAMP.findall(time))
