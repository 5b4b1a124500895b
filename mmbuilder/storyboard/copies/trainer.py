"""For the trainer: every slide with what to say, what to ask, and the answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.cautions import CAUTION
from mmbuilder.safe.text import fill, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Facts, Paragraph, Picture, Slide, Storyboard
from mmbuilder.storyboard.copies.chair import answer_or_none, at, named
from mmbuilder.storyboard.timing import Timed, timing


def make(deck: Storyboard, case: ScrubbedCase) -> Storyboard:
    """Return the trainer's copy of a deck."""
    timed = timing(deck).slides
    return replace(deck, slides=(*(_page(one) for one in timed), *_cold(case)))


def _page(one: Timed) -> Slide:
    slide = one.slide
    name = named(one)
    headline = fill("PAUSE. {name}", name=name) if slide.pause else name
    return replace(slide, headline=headline, blocks=tuple(_blocks(one)), notes=(), beside=False)


def _blocks(one: Timed) -> Iterator[Block]:
    yield Facts(((wording("Clock"), at(one.starts)),))
    for block in one.slide.blocks:
        match block:
            case Picture(alt=alt):
                yield Facts(((wording("Still"), alt),))
            case Paragraph(text=text) if text == CAUTION:
                pass  # the foot of every page says it
            case _:
                yield block
    if one.slide.notes:
        yield Bullets(one.slide.notes, wording("Prompts"))


def _cold(case: ScrubbedCase) -> tuple[Slide, ...]:
    """The questions to answer cold, with the answers."""
    rows = tuple((one.ask, answer_or_none(one.answer)) for one in case.questions)
    if not rows:
        return ()
    return (Slide("cold_questions", wording("Questions to answer cold, with the answers"), (Facts(rows),)),)
