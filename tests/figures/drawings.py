"""What must hold of every drawing, and random words to draw."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

from mmbuilder.figures.drawn import Size
from mmbuilder.figures.sheet import Box, Dots, Fill, Point, Sheet, Stroke
from mmbuilder.figures.style import TEXT, TEXT_INKS, Ink
from mmbuilder.safe.text import SafeText
from tests.figures.samples import safe
from tests.figures.test_sheet_properties import overlapping

DOZENS = settings(
    max_examples=60,  # each is composed anew and searched from every word to every line
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=list(HealthCheck),
)

_WORD = st.text(st.characters(codec="latin-1", categories=("L", "N", "P")), min_size=1, max_size=14)
_LONG = st.text(st.characters(codec="ascii", categories=("L",)), min_size=15, max_size=160)


def texts(most: int = 14) -> st.SearchStrategy[SafeText]:
    """Random words, now and then one that is longer than any line."""
    words = st.lists(st.one_of(_WORD, _WORD, _WORD, _WORD, _WORD, _LONG), min_size=1, max_size=most)
    return words.map(lambda found: safe(" ".join(found)))


def sizes(least: Size) -> st.SearchStrategy[Size]:
    return st.builds(Size, st.floats(least.width, 40), st.floats(least.height, 22))


def faults(sheets: tuple[Sheet, ...]) -> list[object]:
    """Words that overlap, leave the frame, are small or faint, or have a line through them."""
    found: list[object] = []
    for sheet in sheets:
        frame = Box(-0.5, -0.5, sheet.width + 0.5, sheet.height + 0.5)
        found += overlapping(sheet)
        found += [
            w.text for w in sheet.words if not w.box.inside(frame) or w.size < TEXT or w.ink not in TEXT_INKS
        ]
        found += [w.text for w in sheet.words if any(_crosses(w.box, a, b) for a, b in segments(sheet))]
        found += [w.text for w in sheet.words if any(w.box.overlaps(mark) for mark in _dots(sheet))]
        found += [w.text for w in sheet.words if any(_on(w.box, shape) for shape in _dark(sheet))]
    return found


def _dots(sheet: Sheet) -> list[Box]:
    dots = [
        (point, item.size / 2 - 1) for item in sheet.items if isinstance(item, Dots) for point in item.points
    ]
    return [Box(x - half, y - half, x + half, y + half) for (x, y), half in dots]


def _dark(sheet: Sheet) -> list[tuple[Point, ...]]:
    """Polygons that words on them could not be read on."""
    return [i.points for i in sheet.items if isinstance(i, Fill) and i.ink in (Ink.BLACK, Ink.BLUE)]


def _on(box: Box, shape: tuple[Point, ...]) -> bool:
    """Whether an edge of the polygon runs through the box, or the box lies within it."""
    edges = [*pairwise(shape), (shape[-1], shape[0])]
    return any(_crosses(box, start, end) for start, end in edges) or _within(box.left, box.bottom, edges)


def _within(x: float, y: float, edges: list[tuple[Point, Point]]) -> bool:
    """Even-odd rule: how many edges a ray to the right meets."""
    met = [
        a
        for a, b in edges
        if (a[1] > y) != (b[1] > y) and x < a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
    ]
    return len(met) % 2 == 1


def bounds(points: tuple[Point, ...]) -> Box:
    across, down = zip(*points, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def segments(sheet: Sheet) -> list[tuple[Point, Point]]:
    strokes = [item for item in sheet.items if isinstance(item, Stroke)]
    return [pair for item in strokes for line in item.lines for pair in pairwise(line)]


def _crosses(box: Box, start: Point, end: Point) -> bool:
    for step in range(61):
        x, y = (start[axis] + (end[axis] - start[axis]) * step / 60 for axis in (0, 1))
        if box.left + 0.5 < x < box.right - 0.5 and box.top + 1.5 < y < box.bottom - 1.5:
            return True
    return False


def told(sheets: tuple[Sheet, ...]) -> str:
    """All words of all sheets, in painting order, as one line."""
    return " ".join(words.text.reveal() for sheet in sheets for words in sheet.words)
