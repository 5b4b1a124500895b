"""A sheet of the figures as SVG that stands in a page: no style in it, and a link on every mark.

Places, words and looks are those of the sheet, which a deck is painted from as well; only the pen
is another, because the page forbids style within elements.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from markupsafe import Markup

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.entries import Key
from mmbuilder.figures.lanes import mark_x
from mmbuilder.figures.plan import make_plan
from mmbuilder.figures.sheet import (
    CORNERS,
    DASHES,
    PARTED_MOST,
    Dots,
    Fill,
    Item,
    Point,
    Shape,
    Sheet,
    Stroke,
    Words,
)
from mmbuilder.figures.style import FAMILIES, Ink


@dataclass(frozen=True)
class Target:
    """Where the mark of an event or a decision stands on the sheet, in points."""

    key: Key
    x: float
    y: float


def targets(timeline: Timeline, wide: float, high: float) -> tuple[Target, ...]:
    """Return the place of every mark on a chart of the whole timeline, from left to right."""
    plan = make_plan(timeline, wide, high)
    if not plan.axis.scales:
        return ()
    found = []
    for entry in (entry for entry in plan.entries if entry.at.placed):
        lane = plan.mode.lane(entry.lane)
        y = plan.lanes[lane].marks(plan.bands[lane.value].bottom)
        found.append(Target(entry.key, mark_x(entry, plan.axis), y))
    return tuple(sorted(found, key=lambda target: (target.x, target.y)))


def drawn(sheet: Sheet) -> Markup:
    """Return the shapes and words of a sheet, to stand in an `svg` element of its size."""
    ground = f'<rect width="{_n(sheet.width)}" height="{_n(sheet.height)}" fill="{Ink.WHITE.value}"/>'
    return Markup("\n").join([Markup(ground), *chain.from_iterable(map(_item, sheet.items))])


def _item(item: Item) -> Iterator[Markup]:
    match item:
        case Words():
            yield _words(item)
        case Stroke() if item.lines:
            yield _stroke(item)
        case Fill():
            edge = f' stroke="{item.edge.value}" stroke-width="{_n(item.width)}"' if item.edge else ""
            yield Markup(f'<path d="{_closed(item.points)}" fill="{item.ink.value}"{edge}/>')
        case Dots() if item.points:
            yield _dots(item)


def _words(item: Words) -> Markup:
    """Write one line of text; it takes the width that was planned for it in whatever face there is."""
    weight = Markup(' font-weight="bold"') if item.bold else ""
    families = ", ".join(f"'{name}'" for name in FAMILIES)
    wide = _n(item.box.right - item.box.left)
    return Markup(
        '<text x="{}" y="{}" font-size="{}" font-family="{}" fill="{}" textLength="{}"'
        ' lengthAdjust="spacingAndGlyphs"{}>{}</text>'
    ).format(
        _n(item.x), _n(item.y), _n(item.size), families, item.ink.value, wide, weight, item.text.reveal()
    )


def _stroke(item: Stroke) -> Markup:
    lines = "".join(_open(line) for line in item.lines)
    dash = " ".join(_n(step * item.width) for step in DASHES[item.dash])
    more = f' stroke-dasharray="{dash}"' if dash else ""
    look = f'fill="none" stroke="{item.ink.value}" stroke-width="{_n(item.width)}"'
    return Markup(f'<path d="{lines}" {look} stroke-linejoin="miter"{more}/>')


def _dots(item: Dots) -> Markup:
    cross, many = item.shape is Shape.CROSS, len(item.points) > PARTED_MOST
    if many and not cross and not item.hollow:
        # So many readings are drawn as round ends of lines without length: a tenth of the page.
        places = "".join(f"M{_n(x)} {_n(y)}h0" for x, y in item.points)
        look = f'stroke="{item.ink.value}" stroke-width="{_n(item.size)}" stroke-linecap="round"'
        return Markup(f'<path d="{places}" fill="none" {look}/>')
    shapes = "".join(_shape(item.shape, point, item.size) for point in item.points)
    edged = item.hollow or cross
    fill = "none" if cross else (Ink.WHITE if item.hollow else item.ink).value
    edge = (item.ink if edged else Ink.WHITE).value
    return Markup(
        f'<path d="{shapes}" fill="{fill}" stroke="{edge}" stroke-width="{1.8 if edged else 0.8}"/>'
    )


def _shape(shape: Shape, at: Point, size: float) -> str:
    x, y = at
    if shape in (Shape.DOT, Shape.RING):
        r, wide = _n(size / 2), _n(size)
        return f"M{_n(x - size / 2)} {_n(y)}a{r} {r} 0 1 0 {wide} 0a{r} {r} 0 1 0 -{wide} 0z"
    if shape is Shape.CROSS:
        low, high = -0.5 * size, 0.5 * size
        return _open(((x + low, y + low), (x + high, y + high))) + _open(
            ((x + low, y + high), (x + high, y + low))
        )
    return _closed(tuple((x + across * size, y - up * size) for across, up in CORNERS[shape]))


def _open(points: tuple[Point, ...]) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in points)


def _closed(points: tuple[Point, ...]) -> str:
    return f"{_open(points)}z"


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
