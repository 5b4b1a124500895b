"""Which clock a time was read from."""

from __future__ import annotations

from functools import cached_property

from mmbuilder.case import clock_fault as faulty
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Clock
from mmbuilder.case.tidy import tidy
from mmbuilder.case.when import When

_ANY_RECORDING = frozenset({"video", "recording", "film", "clip", "tape", "file"})


def records(clock: Clock) -> bool:
    """Whether the clock is a recording, with readings that count from its start."""
    return clock.starts is not None or (clock.anchor is not None and clock.anchor.reads.elapsed)


class ClockList:
    """The clocks a case declares, found by name."""

    def __init__(self, clocks: tuple[Clock, ...]) -> None:
        self.clocks = clocks
        self._places = {tidy(clock.name): place for place, clock in reversed([*enumerate(clocks)])}

    @cached_property
    def reference(self) -> Clock:
        """The clock that says so, or the only one that is no recording.

        Raises:
            ClockFault: there is none, or more than one.
        """
        named = [clock for clock in self.clocks if clock.reference]
        if len(named) == 1:
            return named[0]
        clocks = [clock for clock in self.clocks if not records(clock)]
        if not named and len(clocks) == 1:
            return clocks[0]
        raise faulty.no_reference(("clocks",), len(named))

    def source(self, when: When | None, clock: str | None, path: Path) -> Clock:
        """Return the clock that a time was read from, by its own words or by its line `clock`.

        Raises:
            ClockFault: it is not listed, not clear, or the two disagree.
        """
        said = when.clock if when is not None else None
        if clock is None:
            return self.reference if said is None else self._recorder(said, path)
        listed = self._places.get(tidy(clock))
        if listed is None:
            raise faulty.not_listed(path)
        if said is not None and said not in _ANY_RECORDING and tidy(clock) != said:
            raise faulty.named_twice(path)
        return self.clocks[listed]

    def has(self, name: str) -> bool:
        """Whether a clock of this name is declared."""
        return tidy(name) in self._places

    def path(self, clock: Clock, *below: str) -> Path:
        """Where the clock, or a line of it, stands in the case."""
        return ("clocks", self._places.get(tidy(clock.name), 0), *below)

    def has_offset(self, clock: Clock) -> bool:
        """Whether readings of the clock itself (not time into a recording) can be shifted."""
        read = clock.anchor is not None and not clock.anchor.reads.elapsed
        return clock is self.reference or clock.offset is not None or read

    def _recorder(self, said: str, path: Path) -> Clock:
        if said in self._places:
            return self.clocks[self._places[said]]
        recordings = [clock for clock in self.clocks if records(clock)]
        if said in _ANY_RECORDING and len(recordings) == 1:
            return recordings[0]
        raise faulty.several_recordings(path) if said in _ANY_RECORDING else faulty.not_listed(path)
