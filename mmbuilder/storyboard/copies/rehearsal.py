"""To rehearse with: what each slide has, what its words need, and what to cut if the whole is too long."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.text import EMPTY, SafeText, fill, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Cell, Paragraph, Slide, Storyboard, Table
from mmbuilder.storyboard.copies.chair import at
from mmbuilder.storyboard.timing import LOOK, SILENCE, WORDS_A_MINUTE, Timed, Timing, timing


def make(deck: Storyboard, case: ScrubbedCase) -> Storyboard:
    """Return the rehearsal sheet of a deck."""
    timed = timing(deck)
    blocks: tuple[Block, ...] = (Paragraph(verdict(timed)), *_cuts(timed), _table(timed), Paragraph(_rates()))
    return replace(deck, slides=(Slide("rehearsal", wording("This is how long it takes to tell."), blocks),))


def verdict(timed: Timing) -> SafeText:
    """Return `About 12:40 of 15:00, with 2:20 for discussion.`, or by how much it is too long."""
    left = timed.budget - timed.needs
    parts = {"needs": at(timed.needs), "budget": at(timed.budget), "left": at(abs(left))}
    if left < 0:
        return fill("About {needs} of {budget}: {left} too long.", **parts)
    return fill("About {needs} of {budget}, with {left} for discussion.", **parts)


def _cuts(timed: Timing) -> tuple[Bullets, ...]:
    names = tuple(named(one) for one in timed.to_cut)
    return (Bullets(names, wording("To fit, leave out")),) if names else ()


def named(timed: Timed) -> SafeText:
    """Return a slide by number and headline, as on the slide."""
    return fill("{n}. {headline}", n=timed.number, headline=timed.slide.headline)


def _table(timed: Timing) -> Table:
    return Table(
        header=(wording("Clock"), wording("Slide"), wording("Budget"), wording("Needs"), wording("Mine")),
        rows=tuple(_row(one) for one in timed.slides),
        shares=(1, 7, 1.1, 1.1, 1.1),
        caption=wording("Each slide's budget and what its words, pictures and silence need"),
    )


def _row(one: Timed) -> tuple[Cell, ...]:
    over = wording("OVER") if one.over else EMPTY
    return (
        Cell(at(one.starts), strong=True),
        Cell(named(one)),
        Cell(at(one.slide.seconds)),
        Cell(at(one.needs), over),
        Cell(EMPTY),
    )


def _rates() -> SafeText:
    return fill(
        "Reckoned with {words} words a minute, {look} s for each picture or chart and {silence} s of silence "
        "at each pause: common practice, no source. Write your own times in the last column.",
        words=WORDS_A_MINUTE,
        look=LOOK,
        silence=SILENCE,
    )
