"""A table without the columns in which nothing stands: an empty column tells the room nothing."""

from __future__ import annotations

from itertools import compress

from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import Cell, Table


def filled_table(
    header: tuple[SafeText, ...],
    rows: tuple[tuple[Cell, ...], ...],
    shares: tuple[float, ...],
    caption: SafeText,
) -> Table:
    """Return a table of the columns that hold something in some row."""
    filled = [any(cell.text or cell.stamp for cell in column) for column in zip(*rows, strict=True)]
    return Table(
        header=tuple(compress(header, filled)),
        rows=tuple(tuple(compress(row, filled)) for row in rows),
        shares=tuple(compress(shares, filled)),
        caption=caption,
    )
