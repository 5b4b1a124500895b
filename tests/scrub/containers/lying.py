"""PDF pages whose ink says more than their text does: pictures, lying fonts, scans with a layer of text."""

from __future__ import annotations

import io
from collections.abc import Mapping

from PIL import Image, ImageDraw, ImageFont
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject, StreamObject
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

WIDE, HIGH = 340, 150
"""Points; a small page is looked at in a second."""
LEFT, FIRST, STEP = 20, 115, 30
"""Where the lines of text start, from the left and from below, and how far apart they are."""
SIZE = 12
FINE = 4
"""Pixels of a picture for each point."""

LINES = (
    "The drain was dry at noon and nurse saw no leak in it",
    "Free fluid stood next to the anastomosis on the scan",
    "C-reactive protein 212 mg/L, white cells 14, afebrile",
)


def page(canvas: Canvas, lines: tuple[str, ...] = LINES) -> None:
    """Write lines of text."""
    canvas.setFont("Helvetica", SIZE)
    for place, line in enumerate(lines):
        text = canvas.beginText(LEFT, FIRST - STEP * place)
        text.textLine(line)
        canvas.drawText(text)


def layer(canvas: Canvas, lines: tuple[str, ...]) -> None:
    """Write text that nobody sees, each word where `scanned` draws it, as a reader of scans does."""
    font = ImageFont.load_default(size=SIZE * FINE)
    for place, line in enumerate(lines):
        at = 0
        for word in line.split(" "):
            wide = font.getlength(word) / FINE
            text = canvas.beginText(LEFT + font.getlength(line[:at]) / FINE, FIRST - STEP * place)
            text.setTextRenderMode(3)
            text.setFont("Helvetica", SIZE)
            text.setHorizScale(100 * wide / canvas.stringWidth(word, "Helvetica", SIZE))
            text.textOut(word + " ")
            canvas.drawText(text)
            at += len(word) + 1


def opened(size: tuple[int, int] = (WIDE, HIGH)) -> tuple[Canvas, io.BytesIO]:
    """Start a page of one font."""
    out = io.BytesIO()
    return Canvas(out, pagesize=size, invariant=1), out


def picture(canvas: Canvas, words: str, x: float, y: float, high: float, grey: int = 0) -> None:
    """Put words on the page as a picture without ground; `high` is the height of a capital in points."""
    font = ImageFont.load_default(size=round(high * FINE / 0.72))
    left, top, right, bottom = (round(side) for side in font.getbbox(words))
    made = Image.new("RGBA", (right - left + 2, bottom - top + 2), (0, 0, 0, 0))
    ImageDraw.Draw(made).text((1 - left, 1 - top), words, font=font, fill=(grey, grey, grey, 255))
    size = (made.width / FINE, made.height / FINE)
    canvas.drawImage(ImageReader(made), x, y, *size, mask="auto")


def scanned(lines: Mapping[int, str], *, size: tuple[int, int] = (WIDE, HIGH), grey: int = 30) -> Image.Image:
    """Draw lines as a scanner gives them: letters of another font on grey paper, by height from below."""
    import numpy as np

    paper = Image.new("L", (size[0] * FINE, size[1] * FINE), 240)
    font = ImageFont.load_default(size=round(SIZE * FINE))
    for y, words in lines.items():
        ImageDraw.Draw(paper).text(
            (LEFT * FINE, (size[1] - y) * FINE), words, font=font, fill=grey, anchor="ls"
        )
    noise = np.random.default_rng(7).normal(0, 3, (paper.height, paper.width))
    return Image.fromarray(np.clip(np.asarray(paper) + noise, 0, 255).astype("uint8"))


def lying(data: bytes, claims: Mapping[str, str], font: str) -> bytes:
    """Let a font of the first page claim that some of its letters are others.

    Source: ISO 32000-1:2008, 9.10.3 (ToUnicode CMaps); from memory.
    """
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(data)))
    rows = "\n".join(f"<{ord(drawn):02x}> <{ord(said):04x}>" for drawn, said in claims.items())
    table = StreamObject()
    table.set_data(
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /Other def /CMapType 2 def\n"
        f"1 begincodespacerange <00> <ff> endcodespacerange\n{len(claims)} beginbfchar\n{rows}\nendbfchar\n"
        "endcmap end end".encode()
    )
    fonts = writer.pages[0]["/Resources"]["/Font"]
    fonts = fonts.get_object() if not isinstance(fonts, DictionaryObject) else fonts
    liar = next(each for each in fonts.values() if each.get_object()["/BaseFont"] == f"/{font}").get_object()
    liar[NameObject("/ToUnicode")] = writer._add_object(table)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
