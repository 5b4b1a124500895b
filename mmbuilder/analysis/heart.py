"""The heart of a story: the window of its marks, which gets a panel of its own where it is short."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mmbuilder.analysis.silences import Stretch
from mmbuilder.safe.case import Event
from mmbuilder.safe.terms import EventKind

_SHORT = 0.4
"""A window is enlarged if it is at most this share of the stretch it lies in."""

_ON = 0.4
"""A later mark (the cause found, a second response) belongs to it if it follows within this share."""

_AIR = 0.12
"""Left free before and after; share of the window."""

_STEPS = (1 / 12, 1 / 6, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 360, 720, 1440)
"""What its ends are rounded to; minutes."""

_MARKS = (EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE)


def heart(events: tuple[Event, ...], within: Stretch) -> Stretch | None:
    """Return the window to enlarge, with air around it; None if no window of marks is short.

    Preferred is first sign to response, or to a recognition that came later; then recognition to response;
    then sign to recognition.
    """
    for start, end in _windows(events):
        inside = within[0] <= start and end <= within[1]
        if inside and end - start <= _SHORT * (within[1] - within[0]):
            return _aired(start, end)
    return None


def _windows(events: tuple[Event, ...]) -> Iterator[Stretch]:
    signs, recognitions, responses = (_times(events, kind) for kind in _MARKS)
    late = [max(min(recognitions), min(responses))] if recognitions and responses else responses
    for starts, ends in ((signs, late), (recognitions, responses), (signs, recognitions)):
        if starts and ends and min(starts) < min(ends):
            yield _with_sequel(min(starts), min(ends), sorted((*signs, *recognitions, *responses)))


def _times(events: tuple[Event, ...], kind: EventKind) -> list[float]:
    return [event.at.centre for event in events if event.kind is kind and event.at.centre is not None]


def _with_sequel(start: float, end: float, marks: list[float]) -> Stretch:
    return start, max(mark for mark in marks if mark <= end + _ON * (end - start))


def _aired(start: float, end: float) -> Stretch:
    air = _AIR * (end - start)
    step = next((step for step in _STEPS if step >= (end - start) / 15), 1440)
    return math.floor((start - air) / step) * step, math.ceil((end + air) / step) * step
