"""To rehearse with: what each slide has, what its words need, and what to cut if the whole is too long."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.text import EMPTY, SafeText, fill, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Cell, Paragraph, Slide, Storyboard, Table
from mmbuilder.storyboard.copies.chair import at, named
from mmbuilder.storyboard.timing import LOOK, READ_A_MINUTE, SILENCE, WORDS_A_MINUTE, Timed, Timing, timing


def make(deck: Storyboard, case: ScrubbedCase) -> Storyboard:
    """Return the rehearsal sheet of a deck."""
    timed = timing(deck)
    blocks: tuple[Block, ...] = (
        Paragraph(verdict(timed)),
        *_limits(deck, timed),
        *_cuts(timed),
        _table(timed),
        Paragraph(_rates()),
    )
    return replace(deck, slides=(Slide("rehearsal", wording("This is how long it takes to tell."), blocks),))


def verdict(timed: Timing) -> SafeText:
    """Return `About 8:40 of 15:00; the room has 7:20.`, or how far it is from what was planned."""
    over = timed.needs - timed.budget
    parts = {"needs": at(timed.needs), "budget": at(timed.budget)}
    if over > 0:
        return fill("About {needs} of {budget}: {over} too long.", **parts, over=at(over))
    parts["left"] = at(timed.left)
    if timed.left < timed.discussion:
        planned = at(timed.discussion)
        return fill(
            "About {needs} of {budget}; with its pauses the room has {left}, and should have {planned}.",
            **parts,
            planned=planned,
        )
    return fill("About {needs} of {budget}; with its pauses the room has {left}.", **parts)


def _limits(deck: Storyboard, timed: Timing) -> Iterator[Paragraph]:
    if deck.questions:
        yield Paragraph(fill("Then {length} for questions.", length=at(deck.questions)))
    if timed.too_many and timed.most is not None:
        yield Paragraph(
            fill(
                "{told} slides, where {most} are allowed.",
                told=timed.sheets,
                most=timed.most,
            )
        )


def _cuts(timed: Timing) -> tuple[Bullets, ...]:
    names = tuple(named(one) for one in timed.to_cut)
    return (Bullets(names, wording("To fit, leave out")),) if names else ()


def _table(timed: Timing) -> Table:
    return Table(
        header=(wording("Clock"), wording("Slide"), wording("Budget"), wording("Needs"), wording("Mine")),
        rows=tuple(_row(one) for one in timed.slides),
        shares=(1, 6.5, 1.1, 1.6, 1.1),
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
        "Reckoned with {words} words a minute, {read} where the room reads a table, {look} s for each "
        "picture or chart and {silence} s of silence at each pause: common practice, no source. OVER "
        "says that a slide takes a tenth more than its budget, or longer. Write your own times in the last "
        "column.",
        words=WORDS_A_MINUTE,
        read=READ_A_MINUTE,
        look=LOOK,
        silence=SILENCE,
    )
