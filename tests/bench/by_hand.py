"""What a colleague who programs would write for one evening: the yardstick for `build`.

    python -m tests.bench.by_hand CASE_FOLDER OUT.pptx SLIDES CHARTS

It makes as many slides and as many charts (SVG and PNG, the same size) as the deck of the
case, re-encodes the same stills with a filled box, and writes tables and notes. It scrubs
nothing, checks nothing and measures no text.
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from PIL import Image, ImageDraw
from pptx import Presentation
from pptx.util import Cm, Pt


def numbers(path: Path) -> tuple[list[str], list[list[float]]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        sample = file.read(2000)
        file.seek(0)
        rows = list(csv.reader(file, csv.Sniffer().sniff(sample, ",;\t")))
    columns: list[list[float]] = [[] for _ in rows[0][1:4]]
    for row in rows[1:]:
        for column, cell in zip(columns, row[1:4], strict=False):
            try:
                column.append(float(cell.replace(",", ".")))
            except ValueError:
                column.append(float("nan"))
    return rows[0][1:4], columns


def chart(folder: Path) -> tuple[bytes, bytes]:
    figure = Figure(figsize=(31 / 2.54, 12.5 / 2.54))
    lanes, readings = figure.subplots(2, 1, sharex=True)
    for place in range(5):
        lanes.barh(0, 10, left=place * 12, height=0.5)
    for place in range(20):
        lanes.plot(place * 3, 1 + place % 3, "D")
        lanes.annotate(
            f"event number {place}",
            (place * 3, 1 + place % 3),
            fontsize=14,
            xytext=(4, 4),
            textcoords="offset points",
        )
    for file in sorted((folder / "readings").glob("*.csv"))[:1]:
        names, columns = numbers(file)
        for name, column in zip(names, columns, strict=True):
            readings.plot(range(len(column)), column, marker=".", label=name)
        readings.legend(fontsize=14)
    svg, png = io.BytesIO(), io.BytesIO()
    FigureCanvasSVG(figure).print_svg(svg)
    figure.set_dpi(150)
    FigureCanvasAgg(figure).print_png(png)
    return svg.getvalue(), png.getvalue()


def still(path: Path) -> io.BytesIO:
    image = Image.open(path).convert("RGB")
    ImageDraw.Draw(image).rectangle((0, 0, image.width, 40), fill=(40, 40, 40))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=92)
    out.seek(0)
    return out


def main(folder: Path, out: Path, slides: int, charts: int) -> None:
    deck = Presentation()
    deck.slide_width, deck.slide_height = Cm(33.867), Cm(19.05)
    stills = sorted((folder / "images").iterdir())
    for place in range(slides):
        slide = deck.slides.add_slide(deck.slide_layouts[5])
        slide.shapes.title.text = f"Slide number {place} says one thing in one sentence"
        slide.notes_slide.notes_text_frame.text = "Say this, wait twenty seconds, go on."
        if place < charts:
            slide.shapes.add_picture(io.BytesIO(chart(folder)[1]), Cm(1), Cm(4), Cm(31))
        elif place < charts + 2 * len(stills[:2]):
            slide.shapes.add_picture(still(stills[place % len(stills[:2])]), Cm(3), Cm(4), height=Cm(13))
        else:
            table = slide.shapes.add_table(5, 4, Cm(1), Cm(4), Cm(31), Cm(12)).table
            for row in range(5):
                for column in range(4):
                    table.cell(row, column).text = "a few words in a cell of the table"
                    table.cell(row, column).text_frame.paragraphs[0].runs[0].font.size = Pt(18)
    deck.save(out)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4]))
