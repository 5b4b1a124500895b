"""What the room will see up to where it is stopped: the storyboard's own slides, and nothing later."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, assert_never

from markupsafe import Markup

from mmbuilder import labels, uses
from mmbuilder.analysis import build_timeline
from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Timeline
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.figures import diagram
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.timeline import compose as compose_timeline
from mmbuilder.formats._pptx import convert
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.picture import labelled
from mmbuilder.formats._pptx.style import HOUSE_FACE
from mmbuilder.page.parts._drawn import drawn
from mmbuilder.page.parts._story import HIGH, WIDE
from mmbuilder.page.shown import course
from mmbuilder.pipeline import signing
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.moment import SECOND, Moment, clock
from mmbuilder.safe.text import SafeText
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.plan import RedactionPlan
from mmbuilder.scrub.walk import Texts, digest
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Slide,
    Table,
    TimeChart,
)

_DIAGRAM = Size(31.0, 12.5)
"""Room for a diagram on a slide; centimetres."""

_PICTURE = Box(0, 0, 880, 396)
"""Room for a picture on a slide; points."""


@dataclass(frozen=True)
class Chartlet:
    """A drawing of the figures, with its size in points."""

    shapes: Markup
    wide: float
    high: float
    alt: str


@dataclass(frozen=True)
class Shown:
    """One slide.

    Attributes:
        number: from 1.
        blocks: what stands on it, as plain values by the name of their kind.
        pause: whether the room is stopped here.
        choice: what it is called among the places to look at; empty if it is none of them.
        until: the timeline up to this place, where the slide itself does not show it.
        when: that place, as the room is told it.
    """

    number: int
    headline: str
    blocks: tuple[dict[str, Any], ...]
    pause: bool
    choice: str = ""
    until: Chartlet | None = None
    when: str = ""


@dataclass(frozen=True)
class Room:
    """All slides, and the pictures on them as they were covered."""

    banner: str
    slides: tuple[Shown, ...]
    pictures: tuple[bytes, ...]

    @property
    def choices(self) -> tuple[Shown, ...]:
        """The places at which the room is stopped, or shown the timeline cut."""
        return tuple(slide for slide in self.slides if slide.choice)


def room(folder: CaseFolder, plan: RedactionPlan) -> Room:
    """Make the slides of a case for its own use, without writing a deck.

    Raises:
        FileRefused: a picture cannot be read.
    """
    with labels.speaking(folder.case.language):
        plan = plan if any(signing.pending(folder, plan)) else signing.reviewed(folder, plan)
        case = _crossed(folder, plan)
        board, timeline, pictures = compose(case, draft=plan.draft), build_timeline(case), _Pictures()
        slides = tuple(
            _shown(number, slide, case, timeline, pictures) for number, slide in enumerate(board.slides, 1)
        )
        return Room(board.banner.reveal(), slides, tuple(pictures.made))


# Only the pictures that are told


def _crossed(folder: CaseFolder, plan: RedactionPlan) -> ScrubbedCase:
    """Carry the case across the line with no more pictures than its use has time for."""
    frames, kept = folder.case.frames, _told_frames(folder)
    case = folder.case.model_copy(update={"frames": tuple(frames[place] for place in kept)})
    less = replace(folder, case=case)
    texts = Texts(case, folder.previous)
    there = {item.path for item in texts.items}
    spans = {path: spans for path, spans in plan.texts.items() if path in there}
    boxes = {
        number: plan.images[place + 1] for number, place in enumerate(kept, 1) if place + 1 in plan.images
    }
    return apply(less, replace(plan, texts=spans, images=boxes, case=digest(less, texts)))


def _told_frames(folder: CaseFolder) -> list[int]:
    """Return the places of the frames that slides may show: the mechanism's, and those of the course."""
    case = folder.case
    planned = uses.load(case.use).planned("course")
    most = planned.frames if planned is not None else 0
    how = case.mechanism.frame if case.mechanism is not None else None
    of_mechanism = next(
        (place for place, frame in enumerate(case.frames) if how is not None and frame.id == how), None
    )
    shown = [of_mechanism] if of_mechanism is not None else []
    told = course([frame.pause for frame in case.frames], of_mechanism, most)
    return sorted((*shown, *told))


class _Pictures:
    """The pictures on the slides, each once, by their places."""

    def __init__(self) -> None:
        self.made: list[bytes] = []
        self._places: dict[str, int] = {}

    def place(self, image: SafeImage) -> int:
        name = image.digest()
        if name not in self._places:
            self._places[name] = len(self.made)
            self.made.append(_written(image))
        return self._places[name]


def _written(image: SafeImage) -> bytes:
    from PIL import Image

    out = io.BytesIO()
    Image.frombytes("RGB", (image.width, image.height), image.pixels).save(out, "JPEG", quality=92)
    return out.getvalue()


# Slides as plain values


def _shown(number: int, slide: Slide, case: ScrubbedCase, timeline: Timeline, pictures: _Pictures) -> Shown:
    blocks = tuple(_block(block, pictures) for block in slide.blocks)
    shown = Shown(number, slide.headline.reveal(), blocks, slide.pause)
    cut = [block for block in slide.blocks if isinstance(block, TimeChart) and block.chart.until is not None]
    if cut:
        return replace(shown, choice=shown.headline)
    if not slide.pause:
        return shown
    at = _moment(slide, case, timeline)
    until = None if at is None else _until(at, found=slide.kind == "options")
    if at is None or until is None:
        return replace(shown, choice=shown.headline)
    return replace(
        shown,
        choice=shown.headline,
        until=_chart(Chart(timeline, until=until)),
        when=clock(at).reveal(),
    )


def _until(at: Moment, *, found: bool) -> float | None:
    """Return where the timeline stops: with a decision; before a picture, which the room is to read."""
    if found:
        last = at.hi if at.hi is not None else at.lo
        return None if last is None else last + SECOND / 2
    first = at.lo if at.lo is not None else at.hi
    return None if first is None else first - SECOND


def _moment(slide: Slide, case: ScrubbedCase, timeline: Timeline) -> Moment | None:
    """Return when in the story a pause of the course falls: at its decision, or at its picture."""
    for decision in case.decisions:
        if slide.kind == "options" and decision.question is slide.headline:
            return _at(decision.at, decision.event, timeline)
    images = [block.image for block in slide.blocks if isinstance(block, Picture)]
    for frame in case.frames:
        if any(frame.image is image for image in images):
            return _at(frame.at, frame.event, timeline)
    return None


def _at(moment: Moment | None, event: int | None, timeline: Timeline) -> Moment | None:
    if moment is not None and moment.placed:
        return moment
    return None if event is None else timeline.event(event).at


def _block(block: Block, pictures: _Pictures) -> dict[str, Any]:
    match block:
        case Paragraph():
            return {"is": "paragraph", "text": block.text.reveal(), "tone": block.tone.value}
        case Bullets():
            items = _words(block.items)
            return {
                "is": "bullets",
                "heading": block.heading.reveal(),
                "items": items,
                "numbered": block.numbered,
            }
        case Facts():
            return {"is": "facts", "rows": [_words(row) for row in block.rows]}
        case Table():
            return _table(block)
        case Callout():
            return {"is": "callout", "text": block.text.reveal(), "cue": block.cue.reveal()}
        case Picture():
            return _picture(block, pictures)
        case TimeChart():
            return {"is": "drawing", "sheets": [_chart(block.chart)], "caption": ""}
        case Diagram():
            return _diagram(block)
        case _:
            assert_never(block)


def _words(texts: tuple[SafeText, ...]) -> list[str]:
    return [text.reveal() for text in texts]


def _table(block: Table) -> dict[str, Any]:
    rows = [[(cell.text.reveal(), cell.stamp.reveal(), cell.strong) for cell in row] for row in block.rows]
    return {"is": "table", "header": _words(block.header), "rows": rows, "caption": block.caption.reveal()}


def _picture(block: Picture, pictures: _Pictures) -> dict[str, Any]:
    wide, high = block.image.width, block.image.height
    arrows = [(one.x0 * wide, one.y0 * high, one.x1 * wide, one.y1 * high) for one in block.arrows]
    circles = [(one.x * wide, one.y * high, one.radius * wide) for one in block.circles]
    told = [one.label.reveal() for one in block.arrows] + [one.label.reveal() for one in block.circles]
    beside = convert.labels(block)
    return {
        "is": "picture",
        "place": pictures.place(block.image),
        "wide": wide,
        "high": high,
        "alt": block.alt.reveal(),
        "caption": block.caption.reveal(),
        "arrows": arrows,
        "circles": circles,
        "labels": [*_labels(block, beside)],
        "marked": [f"{name} = {words}" for name, words in zip(beside, told, strict=True) if name != words],
    }


def _labels(block: Picture, beside: tuple[str, ...]) -> Iterator[dict[str, Any]]:
    """Yield the words on a picture where the deck puts them, in the pixels of the picture."""
    shown = replace(_PICTURE.contain(block.image.width, block.image.height), x=0, y=0)
    scale = block.image.width / shown.w
    for one in labelled(block, shown, beside, HOUSE_FACE):
        box = one.box
        place = {"x": box.x, "y": box.y, "wide": box.w, "high": box.h, "line": box.h / len(one.lines)}
        yield {"lines": one.lines, **{side: round(value * scale, 1) for side, value in place.items()}}


def _chart(chart: Chart) -> Chartlet:
    return Chartlet(drawn(compose_timeline(chart, WIDE, HIGH)), WIDE, HIGH, describe(chart).reveal())


def _diagram(block: Diagram) -> dict[str, Any]:
    return {"is": "drawing", "sheets": [*_sheets(block)], "caption": block.caption.reveal()}


def _sheets(block: Diagram) -> Iterator[Chartlet]:
    made = diagram.draft(block.data)
    for sheet in made.sheets(_DIAGRAM):
        yield Chartlet(drawn(sheet), sheet.width, sheet.height, made.alt.reveal())
