"""Every word that a storyboard would show, and what must not be among them yet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import Picture, Slide, Storyboard, TimeChart


def words(part: object) -> Iterator[str]:
    """All text of a slide, its notes, alt texts and chart data, in depth."""
    from mmbuilder.analysis import cut

    match part:
        case SafeText():
            yield part.reveal()
        case TimeChart(chart=chart, alt=alt):
            # A format draws what `cut` leaves; the uncut timeline is not on the slide.
            yield from words(alt)
            timeline = cut(chart)
            yield from words(timeline.events)
            yield from words(timeline.phases)
            yield from words(timeline.decisions)
            yield from words(timeline.series)
        case SafeImage():
            return
        case tuple() | list():
            for item in part:
                yield from words(item)
        case _ if is_dataclass(part):
            for field in fields(part):
                yield from words(getattr(part, field.name))


def told(slides: tuple[Slide, ...]) -> str:
    return "\n".join(text for slide in slides for text in words((slide.headline, slide.blocks, slide.notes)))


def answers(case: ScrubbedCase, board: Storyboard, pause: int) -> list[str]:
    """What the room may not have been told when it is stopped at slide number `pause` (from 0)."""
    later = board.slides[pause + 1 :]
    secret: list[SafeText] = [case.outcome.summary, case.outcome.last_state, case.take_away, *case.learning]
    secret += [item.what for item in (*case.factors, *case.held, *case.actions)]
    for decision in case.decisions:
        if any(slide.kind == "choice" and decision.because in _texts(slide) for slide in later):
            secret.append(decision.because)
    for frame in case.frames:
        shown_later = any(_caption(frame.caption, slide) for slide in later if explains(slide))
        if shown_later:
            secret += [frame.caption, *(mark.label for mark in (*frame.arrows, *frame.circles))]
    # A phrase: one drug or one measure named early is no answer.
    return [text.reveal() for text in secret if text.words() >= 3]


def explains(slide: Slide) -> bool:
    """Whether a slide tells what a frame shows: by itself, or beside the options of a decision."""
    beside = slide.kind == "options" and any(isinstance(block, Picture) for block in slide.blocks)
    return slide.kind == "frame_marked" or beside


def _texts(slide: Slide) -> set[SafeText]:
    return {
        text
        for block in slide.blocks
        for row in getattr(block, "rows", ())
        for text in row
        if isinstance(text, SafeText)
    }


def _caption(caption: SafeText, slide: Slide) -> bool:
    below = [block.caption for block in slide.blocks if isinstance(block, Picture)]
    said = [text.reveal().rstrip(".").lower() for text in (slide.headline, *below)]
    return any(words.startswith(caption.reveal().rstrip(".").lower()) for words in said)
