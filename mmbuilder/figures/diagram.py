"""Any diagram a block may hold, laid out and drawn in one way; each kind of data has its own figure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import assert_never

from mmbuilder.analysis.barriers import Barriers
from mmbuilder.analysis.causes import Causes
from mmbuilder.analysis.marked_side import Marked
from mmbuilder.analysis.series import SeriesChart, describe_series
from mmbuilder.figures import barrier_diagram, body_side, cause_diagram, clock_face, series
from mmbuilder.figures.drawn import Drawn, Rows, Size, painted, room, vectors
from mmbuilder.figures.sheet import Sheet
from mmbuilder.safe.orientation import Orientation
from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import DiagramData


@dataclass(frozen=True)
class Draft:
    """A diagram before its size is known.

    Attributes:
        alt: what it shows, told.
        rows: the data behind it, its head first.
        least: smallest room at which its words can be read; centimetres.
    """

    alt: SafeText
    rows: Rows
    least: Size
    _compose: Callable[[Size], tuple[Sheet, ...]]

    def fits(self, size: Size) -> bool:
        """Whether it can be drawn in this room."""
        return size.width >= self.least.width and size.height >= self.least.height

    def sheets(self, size: Size) -> tuple[Sheet, ...]:
        """Lay it out: one sheet, or more if its words need them.

        Raises:
            ValueError: it does not fit.
        """
        return self._compose(size)


@lru_cache(maxsize=64)
def draft(data: DiagramData) -> Draft:
    """Return the figure of this data; laying out a slide asks for it many times."""
    match data:
        case Causes():
            alt, rows = cause_diagram.alt(data), cause_diagram.rows(data)
            return Draft(alt, rows, cause_diagram.LEAST, _once(partial(cause_diagram.compose, data)))
        case Barriers():
            alt, rows = barrier_diagram.alt(data), barrier_diagram.rows(data)
            return Draft(alt, rows, barrier_diagram.LEAST, _once(partial(barrier_diagram.compose, data)))
        case Orientation():
            alt, rows = clock_face.alt(data), clock_face.rows(data)
            return Draft(alt, rows, clock_face.LEAST, _once(partial(clock_face.compose, data)))
        case Marked():
            alt, rows = body_side.alt(data), body_side.rows(data)
            return Draft(alt, rows, body_side.LEAST, _once(partial(body_side.compose, data)))
        case SeriesChart():
            alt, rows, least = describe_series(data), series.rows(data), series.least(len(data.series))
            return Draft(alt, rows, least, _once(partial(_series, data)))
        case _:
            assert_never(data)


def draw(data: DiagramData, size: Size) -> Drawn:
    """Draw at the size it has on the slide.

    Raises:
        ValueError: it does not fit.
    """
    made = draft(data)
    return Drawn(painted(made.sheets(size)), made.alt, made.rows)


def draw_svg(data: DiagramData, size: Size) -> tuple[bytes, ...]:
    """Draw for a page that needs no picture beside the vectors; errors as for `draw`."""
    return vectors(draft(data).sheets(size))


def _once(compose: Callable[[Size], tuple[Sheet, ...]]) -> Callable[[Size], tuple[Sheet, ...]]:
    """Lay out each size once."""
    return lru_cache(maxsize=8)(compose)


def _series(chart: SeriesChart, size: Size) -> tuple[Sheet, ...]:
    return (series.compose(chart, *room(size, series.least(len(chart.series)))),)
