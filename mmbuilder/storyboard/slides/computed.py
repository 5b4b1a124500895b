"""Figures of the clinic that the case asked for: result, inputs as understood, formula, source, caution."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.safe.case import Computed
from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import SafeText, capital, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Cell, Paragraph, Slide, Table, Tone
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("computed figures: the case asks for none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a figure; the working below it where it was asked for."""
    figures = tuple(_placed(context))
    if not figures:
        return ()
    table = Table(
        header=(wording("Value"), wording("Result"), wording("Inputs"), wording("Formula and source")),
        rows=tuple(_row(where, figure) for where, figure in figures),
        shares=(2.6, 2.6, 2.6, 4.2),
        caption=wording("Computed figures with inputs, formula and source"),
    )
    blocks: list[Block] = [table]
    if context.working:
        blocks += [
            Bullets(figure.steps, heading=capital(figure.name)) for _, figure in figures if figure.steps
        ]
    notes = tuple(dict.fromkeys(note for _, figure in figures for note in figure.notes))
    if notes:
        blocks.append(Bullets(notes, heading=wording("To know about these results")))
    cautions = tuple(dict.fromkeys(figure.caution for _, figure in figures))
    blocks.append(Paragraph(join(" ", cautions), Tone.QUIET))
    count = counted(len(figures), wording("figure was"), wording("figures were"))
    headline = sentence(fill("{count} worked out from what was recorded", count=count))
    return (Slide("computed", headline, tuple(blocks), seconds=context.seconds),)


def _placed(context: Context) -> Iterator[tuple[SafeText, Computed]]:
    """Every figure, with the event or visit it belongs to."""
    case = context.case
    yield from ((wording("whole case"), figure) for figure in case.computed)
    for event in context.timeline.events:
        yield from ((clock(event.at), figure) for figure in event.computed)
    for visit in case.outcome.visits:
        yield from ((clock(visit.at), figure) for figure in visit.computed)


def told(figure: Computed) -> SafeText:
    """The result in a line: `mean arterial pressure 66 mmHg`; if disputed, by each convention."""
    results = join("; ", figure.answers) if figure.answers else join(" or ", figure.disputed)
    return fill("{name} {results}", name=figure.name, results=results)


def _row(where: SafeText, figure: Computed) -> tuple[Cell, ...]:
    disputed = join("; ", (wording("sources disagree"), *figure.disputed)) if figure.disputed else None
    inputs = (fill("{name} {value}", name=name, value=value) for name, value in figure.inputs)
    return (
        Cell(fill("{name} ({where})", name=capital(figure.name), where=where), strong=True),
        Cell(join("; ", (*figure.answers, *((disputed,) if disputed else ())))),
        Cell(join("; ", inputs)),
        Cell(join(". ", (figure.formula, figure.source))),
    )
