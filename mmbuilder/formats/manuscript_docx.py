"""A paper as a Word document: real headings, lists and tables, figures with captions and alt text."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, assert_never

from mmbuilder.figures import Drawing, diagram, draw
from mmbuilder.formats import _package
from mmbuilder.formats._docx import marked
from mmbuilder.formats._paper.drawings import HIGH, WIDE, diagram_size
from mmbuilder.formats._sink import plain, read
from mmbuilder.safe.cautions import CAUTION
from mmbuilder.safe.direction import apart, runs_left
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, wording
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Sheet,
    Storyboard,
    Table,
    TimeChart,
    Tone,
)

if TYPE_CHECKING:
    from docx.document import Document
    from docx.text.paragraph import Paragraph as DocxParagraph

FORMAT = "docx"
"""What a use calls it."""

SUFFIX = ".docx"

_SHEET = Sheet()
_WIDTH_CM = 16.0
_TALL_CM = 18.0
"""Bounds of a figure."""

_SHORT = 12
"""A table of so many rows stays on one page."""


def write(board: Storyboard, sheet: Sheet = _SHEET) -> bytes:
    """Write the document.

    Args:
        board: a storyboard made for paper (`storyboard.compose_papers`).
        sheet: what it is printed on; as many pages are taken as it needs.
    """
    document = marked.document(sheet)
    _written(document.add_heading("", 0), board.title)
    line = document.add_paragraph()
    line.add_run(plain(_status(board))).bold = True
    writer = _Writer(document)
    for slide in board.slides:
        _written(document.add_heading("", 1), slide.headline)
        for block in slide.blocks:
            writer.block(block)
    marked.footer(document, f"{plain(board.banner)} {plain(CAUTION)}")
    file = io.BytesIO()
    document.save(file)
    return _package.close(file.getvalue(), "word/document.xml")


def _status(board: Storyboard) -> SafeText:
    name = capital(board.paper)
    return fill("{name}. {draft}", name=name, draft=wording("DRAFT")) if board.draft else name


class _Writer:
    """Writes blocks one after the other, and counts the figures and the tables."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._figures = 0
        self._tables = 0

    def block(self, block: Block) -> None:
        """Write one block."""
        match block:
            case Paragraph(text=text, tone=tone):
                self._paragraph(text, strong=tone is Tone.STRONG, quiet=tone is Tone.QUIET)
            case Callout(text=text):
                self._paragraph(text, strong=True)
            case Bullets():
                self._bullets(block)
            case Facts(rows=rows):
                for label, text in rows:
                    line = self._document.add_paragraph()
                    # A full stop: what follows a colon often has one of its own ("ClassIntra. II: bleed").
                    line.add_run(f"{plain(label)}. ").bold = True
                    line.add_run(_apart(text))
            case Table():
                self._table(block)
            case Picture(image=image, alt=alt, caption=caption):
                width = min(_WIDTH_CM, _TALL_CM * image.width / image.height)
                marked.still(self._document, block, plain(alt), width)
                self._captioned(caption)
            case TimeChart(chart=chart, alt=alt):
                self._drawn(draw(chart, WIDE, HIGH), alt, wording("Timeline of the case"))
            case Diagram(data=data, caption=caption, notes=notes):
                self._diagram(data, caption, notes)
            case _:
                assert_never(block)

    def _paragraph(self, text: SafeText, *, strong: bool = False, quiet: bool = False) -> None:
        _written(self._document.add_paragraph(), text, strong=strong, quiet=quiet)

    def _bullets(self, block: Bullets) -> None:
        if block.heading:
            _written(self._document.add_heading("", 2), block.heading)
        numbers = marked.numbered(self._document) if block.numbered else None
        for item in block.items:
            line = self._document.add_paragraph("", "List Number" if block.numbered else "List Bullet")
            _written(line, item)
            if numbers is not None:
                marked.count(line, numbers)

    def _table(self, block: Table) -> None:
        self._tables += 1
        above = _numbered(wording("Table"), self._tables, block.caption)
        # It stands above its table, so on its page.
        self._document.add_paragraph(above, "Caption").paragraph_format.keep_with_next = True
        table = self._document.add_table(1, len(block.header), "Table Grid")
        for cell, name in zip(table.rows[0].cells, block.header, strict=True):
            cell.paragraphs[0].add_run(plain(name)).bold = True
        marked.heads(table.rows[0])
        for row in block.rows:
            for cell, told in zip(table.add_row().cells, row, strict=True):
                _written(cell.paragraphs[0], told.text, strong=told.strong)
                if told.stamp:
                    cell.paragraphs[0].add_run(f" {plain(told.stamp)}").bold = True
        marked.shared(table, block.shares, _WIDTH_CM)
        if len(block.rows) <= _SHORT:
            marked.whole(table)
        self._document.add_paragraph()

    def _diagram(self, data: Any, caption: SafeText, notes: tuple[SafeText, ...]) -> None:
        made = diagram.draw(data, diagram_size(data))
        for drawing in made.pictures:
            self._drawn(drawing, made.alt, caption)
        for note in notes:
            self._paragraph(note, quiet=True)

    def _drawn(self, drawing: Drawing, alt: SafeText, caption: SafeText) -> None:
        place = marked.picture(self._document, drawing.png, plain(alt), _WIDTH_CM)
        marked.beside(self._document, place, drawing.svg)
        self._captioned(caption)

    def _captioned(self, caption: SafeText) -> None:
        self._figures += 1
        self._document.add_paragraph(_numbered(wording("Figure"), self._figures, caption), "Caption")


def _numbered(name: SafeText, count: int, caption: SafeText) -> str:
    number = fill("{name} {n}.", name=name, n=count)
    return _apart(fill("{number} {caption}", number=number, caption=caption or EMPTY))


def _written(line: DocxParagraph, text: SafeText, *, strong: bool = False, quiet: bool = False) -> None:
    """Write a text that has a paragraph to itself, which runs the way its first letter does."""
    words = read(text)
    if runs_left(words):
        marked.from_the_right(line, words, bold=strong, italic=quiet)
        return
    run = line.add_run(_apart(text))
    run.bold, run.italic = strong or None, quiet or None


def _apart(text: SafeText) -> str:
    """Return the words in their own order, for a paragraph that runs from the left."""
    return apart(read(text), leftwards=False)
