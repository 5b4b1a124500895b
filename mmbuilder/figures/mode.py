"""How far a chart is condensed: what is given up, in which order, if the height does not do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from mmbuilder.analysis.timeline import MOST_LINES
from mmbuilder.figures.entries import Lane


@dataclass(frozen=True)
class Mode:
    """One way to draw a chart.

    Attributes:
        merged: drugs and people stand among the events.
        rows: most rows of labels above the events.
        notes: most lines of notes.
        units: whether the steps of the ticks have a row of their own; else they stand at the left.
        recorder: whether the recorder has a lane; else the notes tell when it was off.
        names: whether names may stand above short bars.
        lines: most lines of readings.
        light: whether the resolution flies a flag.
        numbers: whether marks without words have a number.
    """

    merged: bool = True
    rows: int = 4
    notes: int = 4
    units: bool = True
    recorder: bool = True
    names: bool = True
    lines: int = MOST_LINES
    light: bool = True
    numbers: bool = True

    @property
    def of_lanes(self) -> Mode:
        """What of it the lanes depend on; all else as in the fullest."""
        return Mode(merged=self.merged, rows=self.rows)

    def lane(self, lane: Lane) -> Lane:
        """Return the lane that takes up entries of `lane`."""
        return Lane.EVENTS if self.merged and lane is not Lane.DECISIONS else lane

    def room(self) -> dict[Lane, int]:
        """Most rows of labels in each lane."""
        return {Lane.EVENTS: self.rows, Lane.DRUGS: 2, Lane.PEOPLE: 1, Lane.DECISIONS: 0}


def modes() -> Iterator[Mode]:
    """From the fullest to the barest; a height is tried with each in turn."""
    yield Mode(merged=False)
    mode = Mode()
    yield mode
    for give_up in _GIVEN_UP:
        mode = give_up(mode)
        yield mode


_GIVEN_UP: tuple[Callable[[Mode], Mode], ...] = (
    lambda mode: replace(mode, rows=3),
    lambda mode: replace(mode, names=False),
    lambda mode: replace(mode, recorder=False),
    lambda mode: replace(mode, notes=3),
    lambda mode: replace(mode, rows=2),
    lambda mode: replace(mode, units=False),
    lambda mode: replace(mode, notes=2),
    lambda mode: replace(mode, rows=1),
    lambda mode: replace(mode, lines=2),
    lambda mode: replace(mode, lines=1),
    lambda mode: replace(mode, light=False),
    lambda mode: replace(mode, rows=0, notes=1),
    lambda mode: replace(mode, numbers=False),
    lambda mode: replace(mode, lines=0),
)
