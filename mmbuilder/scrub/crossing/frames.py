"""Frames: pixels through the picture scrubber, marks as fractions of what stays visible."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor

from mmbuilder.case import model
from mmbuilder.case.clocks import Reckoner
from mmbuilder.casefile.files import inside
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.safe import case as safe
from mmbuilder.safe.moment import Moment
from mmbuilder.scrub.crossing.references import References
from mmbuilder.scrub.crossing.words import Words
from mmbuilder.scrub.plan import RedactionPlan


class View:
    """The visible part of a picture, in pixels of the upright original.

    A crop that is not whole pixels loses the pixels it cuts through, as `images.cover.cut` does it.
    """

    def __init__(self, width: int, height: int, crop: model.Box | None) -> None:
        left, top, wide, high = crop or (0.0, 0.0, float(width), float(height))
        self._left, self._top = max(0, ceil(left)), max(0, ceil(top))
        self._width = min(width, floor(left + wide)) - self._left
        self._height = min(height, floor(top + high)) - self._top

    def point(self, at: model.Point) -> tuple[float, float]:
        """Return a point as fractions of width and height."""
        return (at[0] - self._left) / self._width, (at[1] - self._top) / self._height

    def length(self, pixels: float) -> float:
        """Return a length as a fraction of the width."""
        return pixels / self._width


def frames(
    folder: CaseFolder,
    plan: RedactionPlan,
    words: Words,
    reckoner: Reckoner,
    known: References,
    times: Sequence[Moment],
) -> Iterator[safe.Frame]:
    """Yield the frames, numbered from 1 in the order of the case.

    Raises:
        FileRefused: a picture cannot be read.
    """
    # Late: the picture library is slow to load, and a case may have no frames.
    from mmbuilder.scrub.images.decode import upright_size
    from mmbuilder.scrub.images.scrub import scrub_image

    for number, raw in enumerate(folder.case.frames, 1):
        path = inside(folder.root, raw.file.value)
        image = scrub_image(path, plan.images.get(number, ()), raw.crop)
        view = View(*upright_size(path), raw.crop)
        event = known.event(raw.event) if raw.event is not None else None
        yield safe.Frame(
            number=number,
            image=image,
            shows=words.safe(raw.shows),
            caption=words.safe(raw.caption),
            event=event,
            at=_moment(raw, reckoner, times[event - 1] if event else None),
            arrows=tuple(_arrow(arrow, view, words) for arrow in raw.arrows),
            circles=tuple(_circle(circle, view, words) for circle in raw.circles),
            pause=raw.pause,
        )


def _moment(raw: model.Frame, reckoner: Reckoner, event: Moment | None) -> Moment | None:
    """Return the frame's own time, else that of its event."""
    return reckoner.moment(raw.when, raw.clock) if raw.when is not None else event


def _arrow(raw: model.Arrow, view: View, words: Words) -> safe.Arrow:
    return safe.Arrow(*view.point(raw.start), *view.point(raw.end), words.safe(raw.label))


def _circle(raw: model.Circle, view: View, words: Words) -> safe.Circle:
    return safe.Circle(*view.point(raw.at), view.length(raw.radius), words.safe(raw.label))
