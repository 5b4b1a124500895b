"""Draw the README's pictures of slides anew: `python -m tests.bench.sheets`; LibreOffice and poppler have to be there.

The bundled eye case as LibreOffice shows its decks: `deck.png` is a few slides of the department review,
`uses.png` every slide of each use.
"""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from mmbuilder import apply, compose, propose, resources
from mmbuilder.casefile import load
from mmbuilder.formats import deck_pptx
from mmbuilder.safe.terms import Use
from mmbuilder.storyboard.blocks import Storyboard
from tests.bench.goals import EYE
from tests.office import as_pdf

INTO = Path(__file__).parents[2] / ".readme"
SHOWN = ("title", "frame", "options", "choice", "timeline_whole", "rescued")
"""Slide kinds of `deck.png`, the first of each."""
GAP, HEAD = 12, 56
COLOUR = "#cdd4d9"

Pictures = list[Image.Image]


def main() -> None:
    """Write both pictures."""
    decks = {use: _shown(use) for use in Use}
    board, pages = decks[Use.REVIEW]
    chosen = [pages[number - 1] for number in map(dict(_first(board)).__getitem__, SHOWN)]
    _grid(chosen, 3, 540).save(INTO / "deck.png", optimize=True)
    parts = [(use.value, _grid(pages, 6, 320)) for use, (_, pages) in decks.items()]
    # Fewer colours, a third of the size: at this size nobody misses them.
    _stacked(parts).quantize(256, dither=Image.Dither.NONE).save(INTO / "uses.png", optimize=True)


def _shown(use: Use) -> tuple[Storyboard, Pictures]:
    folder = load(EYE, use)
    deck = deck_pptx.lay_out(compose(apply(folder, propose(folder)), use))
    with tempfile.TemporaryDirectory() as made:
        place = Path(made)
        (place / "deck.pptx").write_bytes(deck.pptx)
        printed = as_pdf(place / "deck.pptx", place)
        subprocess.run(["pdftoppm", "-r", "60", "-png", printed, place / "page"], check=True)
        return deck.board, [Image.open(one).convert("RGB") for one in sorted(place.glob("page-*.png"))]


def _first(board: Storyboard) -> Iterator[tuple[str, int]]:
    """Yield each kind with the number of its first sheet; of a kind told again the first comes last."""
    numbers, at = [], 1
    for slide in board.slides:
        numbers.append((slide.kind, at))
        at += slide.sheets
    yield from reversed(numbers)


def _grid(pages: Sequence[Image.Image], columns: int, width: int) -> Image.Image:
    small = [
        page.resize((width, round(page.height * width / page.width)), Image.Resampling.LANCZOS)
        for page in pages
    ]
    height, rows = small[0].height, -(-len(small) // columns)
    grid = Image.new("RGB", (columns * (width + GAP) + GAP, rows * (height + GAP) + GAP), COLOUR)
    for place, page in enumerate(small):
        grid.paste(page, (GAP + place % columns * (width + GAP), GAP + place // columns * (height + GAP)))
    return grid


def _stacked(parts: Sequence[tuple[str, Image.Image]]) -> Image.Image:
    face = ImageFont.truetype(str(resources.templates() / "fonts" / "Carlito-Bold.ttf"), 32)
    whole = Image.new("RGB", (parts[0][1].width, sum(grid.height + HEAD for _, grid in parts)), "white")
    top = 0
    for name, grid in parts:
        ImageDraw.Draw(whole).text((GAP, top + 10), name, "#12344d", font=face)
        whole.paste(grid, (0, top + HEAD))
        top += grid.height + HEAD
    return whole


if __name__ == "__main__":
    main()
