"""The author's ids stay behind: events and actions are numbered, and whatever names one gets the number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from mmbuilder.case import model
from mmbuilder.case.freetext import FreeText
from mmbuilder.safe.moment import Moment, clock
from mmbuilder.safe.text import SafeText, fill
from mmbuilder.scrub.crossing.words import Words


class References:
    """Which number each id has become."""

    def __init__(self, case: model.Case, words: Words, times: Sequence[Moment]) -> None:
        self._events = _numbers(event.id for event in case.timeline.events)
        self._actions = _numbers(action.id for action in case.actions)
        self._raw, self._words, self._times = case.timeline.events, words, times

    def event(self, key: str) -> int:
        """Return the number of an event.

        Raises:
            KeyError: no event has this id (the check of the case refuses that).
        """
        return self._events[key]

    def action(self, key: str) -> int:
        """Return the number of an action; likewise."""
        return self._actions[key]

    def evidence(self, text: FreeText | None) -> SafeText:
        """Return evidence in words: an event's own, with its time, where only its id was given."""
        number = self._events.get(text.value) if text is not None else None
        return self._words.safe(text) if number is None else self._at(number)

    def told(self, key: str) -> SafeText:
        """Return an event that is evidence, with its time; `KeyError` as for `event`."""
        return self._at(self._events[key])

    def _at(self, number: int) -> SafeText:
        what = self._words.safe(self._raw[number - 1].what)
        return fill("{what} ({when})", what=what, when=clock(self._times[number - 1]))


def _numbers(ids: Iterable[str | None]) -> dict[str, int]:
    return {key: number for number, key in enumerate(ids, 1) if key is not None}
