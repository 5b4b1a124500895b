"""Draw the list of the events that have a number: those that the cut shows, each in its place."""

from __future__ import annotations

from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Words
from mmbuilder.figures.style import LINE, TEXT, Ink
from mmbuilder.safe.text import number


def draw_listing(pen: Pen) -> None:
    """Write every entry of the list that the cut has."""
    made = pen.plan.listing
    shown = {entry.key for entry in pen.entries}
    for cell in made.cells:
        if cell.line.key in shown:
            left, baseline = _place(pen, cell.column, cell.row)
            pen.words.append(Words(left, baseline, number(cell.line.number), TEXT, True, Ink.BLUE))
            pen.write(left + made.numbers, baseline, made.words(cell.line), plate=None)


def _place(pen: Pen, column: int, row: int) -> tuple[float, float]:
    made, top = pen.plan.listing, pen.band("listed").top
    return column * made.step, top + row * LINE + TEXT * 0.9
