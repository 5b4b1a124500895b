"""Upright rectangles of text put in order: seen twice made one, words of a row joined, edge strips filled."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mmbuilder.scrub.images.finders._turned import END_SHARE, PAD_LEAST, PAD_SHARE, Rectangle

STRIP = 0.07
"""Share of the picture's height, or width, that a strip printed by a device takes at an edge."""
BRIDGED = 2.5
"""Heights between two rows of one line that are covered with them, once both have their margins."""
SAME = 0.5
"""Share of the smaller of two rectangles that both hold, from which they are one line."""


@dataclass(frozen=True)
class Row:
    """A rectangle, its score, and why it may stay; an empty reason covers it."""

    left: float
    top: float
    right: float
    bottom: float
    score: float
    reason: str = ""
    leaning: bool = False

    @property
    def place(self) -> Rectangle:
        """The rectangle alone."""
        return self.left, self.top, self.right, self.bottom

    @property
    def height(self) -> float:
        """Pixels from top to bottom."""
        return self.bottom - self.top

    def padded(self) -> Row:
        """Widened all round, and more at the ends; what leans is padded already."""
        if self.leaning:
            return self
        thick = min(self.height, self.right - self.left)
        across = down = max(PAD_LEAST, PAD_SHARE * thick)
        if self.height > self.right - self.left:
            down += END_SHARE * thick
        else:
            across += END_SHARE * thick
        return replace(
            self,
            left=self.left - across,
            top=self.top - down,
            right=self.right + across,
            bottom=self.bottom + down,
        )

    def with_(self, other: Row) -> Row:
        """The smallest rectangle that holds both."""
        return replace(
            self,
            left=min(self.left, other.left),
            top=min(self.top, other.top),
            right=max(self.right, other.right),
            bottom=max(self.bottom, other.bottom),
            score=max(self.score, other.score),
        )


def shared(one: Row, other: Row) -> float:
    """Return the share of the smaller rectangle that both hold."""
    wide = min(one.right, other.right) - max(one.left, other.left)
    high = min(one.bottom, other.bottom) - max(one.top, other.top)
    if wide <= 0 or high <= 0:
        return 0.0
    areas = [(row.right - row.left) * (row.bottom - row.top) for row in (one, other)]
    return wide * high / min(areas)


def held(row: Row, other: Row) -> float:
    """Return the share of a rectangle that lies in another."""
    wide = min(row.right, other.right) - max(row.left, other.left)
    high = min(row.bottom, other.bottom) - max(row.top, other.top)
    return max(0.0, wide) * max(0.0, high) / ((row.right - row.left) * row.height)


def single(rows: list[Row]) -> list[Row]:
    """Make one of those that lie on each other: the two passes see most lines twice."""
    out: list[Row] = []
    for row in sorted(rows, key=lambda row: (row.left - row.right) * row.height):
        like = next((n for n, kept in enumerate(out) if _one_line(kept, row)), None)
        if like is None:
            out.append(row)
        else:
            out[like] = out[like].with_(row)
    return out


def _one_line(one: Row, other: Row) -> bool:
    # The lines above and below overlap once padded; of one line the heights and middles agree.
    apart = abs(one.top + one.bottom - other.top - other.bottom) / 2
    return shared(one, other) > SAME and apart < 0.4 * min(one.height, other.height)


def bridges(rows: list[Row], stay: list[Row]) -> list[Row]:
    """Fill what lies between two rows of one line: a letter the network missed, or wide spaces.

    Args:
        rows: what is covered, upright.
        stay: what is to be seen; nothing is filled across it.
    """
    filled = [
        replace(one, left=one.right, right=other.left)
        for one in rows
        for other in rows
        if one.right < other.left and _next(one, other)
    ]
    return [row for row in filled if not any(shared(row, kept) for kept in stay)]


def on_line(row: Row, others: list[Row]) -> bool:
    """Whether a row stands before, after or in one of the others, on its line."""
    return any(
        _next(row, other) or _next(other, row) or _in_band(row, other)
        for other in others
        if not other.leaning
    )


def _in_band(row: Row, line: Row) -> bool:
    """Whether a row stands in a line or at its end, lower than it: small letters are, and what is seen of a faint one."""
    apart = max(row.left - line.right, line.left - row.right)
    return (
        line.top < (row.top + row.bottom) / 2 < line.bottom
        and row.height <= line.height
        and apart < BRIDGED * row.height
    )


def _next(one: Row, other: Row) -> bool:
    """Whether another row goes on with a line, at most a wide space after it."""
    low, high = sorted((one.height, other.height))
    apart = abs(one.top + one.bottom - other.top - other.bottom) / 2
    return 0 < other.left - one.right < BRIDGED * low and apart < 0.3 * low and low > 0.5 * high


def strips(rows: list[Row], width: int, height: int) -> list[Row]:
    """Fill an edge of the picture between and under what is covered there, if it is a strip of several.

    Devices print a whole band; what stands faint between two found words is more of the same.
    """
    high, wide = STRIP * height, STRIP * width
    bands = (
        ([row for row in rows if row.bottom <= high], (None, 0.0, None, None)),
        ([row for row in rows if row.top >= height - high], (None, None, None, float(height))),
        (
            [row for row in rows if row.right <= wide and row.height > row.right - row.left],
            (0.0, None, None, None),
        ),
        (
            [row for row in rows if row.left >= width - wide and row.height > row.right - row.left],
            (None, None, float(width), None),
        ),
    )
    return [_band(within, edge) for within, edge in bands if len(within) >= 2]


def _band(rows: list[Row], edge: tuple[float | None, ...]) -> Row:
    whole = rows[0]
    for row in rows[1:]:
        whole = whole.with_(row)
    sides = [given if given is not None else own for given, own in zip(edge, whole.place, strict=True)]
    return Row(sides[0], sides[1], sides[2], sides[3], whole.score)
