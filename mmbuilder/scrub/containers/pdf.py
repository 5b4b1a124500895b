"""PDF documents: every page becomes a picture of itself with what identifies painted over, in a new file.

A PDF has too many places where a word can stay behind (text under a cover, fonts, annotations,
attachments, earlier states, properties, scripts) for any of them to be cleaned one by one: the
new file has none of them. The price is said in the notes: its text is a picture.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from mmbuilder.scrub.containers._pdf import inside, reading, writing
from mmbuilder.scrub.containers._pdf.agreeing import Agreeing
from mmbuilder.scrub.containers._pdf.reading import Area, Letters, Page
from mmbuilder.scrub.containers.base import Result, Tools
from mmbuilder.scrub.findings import Finding, of_box
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.again import propose_boxes
from mmbuilder.scrub.images.cover import cover
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, Span

if TYPE_CHECKING:
    from PIL.Image import Image

NAME = "PDF document"
SUFFIXES = (".pdf",)
PARTS_NOT_READ = (
    "letters of a PDF that are drawn as lines or pictures, or whose font claims to be other letters: "
    "only a finder for text in pictures could see them",
    "with such a finder, still: writing fainter than 10 of 255 levels, or smaller than three letters of 10 "
    "pixels at 200 dots an inch; a word over the letters of a scan so small that they still read as the "
    "text of the file says; handwriting away from the lines that looks to no finder like text",
)

TEXT = regions.PIXEL_RISKS[0]

_UNREAD = "letters that cannot be read"
_NOTE = (
    "its pages are pictures now: the text can be read, not searched or copied, nor read aloud by a program"
)


def sniff(head: bytes, data: bytes) -> bool:
    """Whether it is a PDF, by its first bytes."""
    return head.startswith(b"%PDF")


def texts(data: bytes) -> Iterator[str]:
    """The text of every page.

    Raises:
        FileRefused: locked, damaged or too long.
        MissingDependency: pypdfium2 is not installed.
    """
    return reading.texts(data)


def scrub(data: bytes, tools: Tools) -> Result:
    """Draw every page, cover what identifies, and write the pictures as a new document.

    Raises:
        FileRefused: locked, damaged, too long, or a page too large.
        MissingDependency: pypdfium2 is not installed.
    """
    with reading.opened(data) as document:
        made = _Made()
        sheets = [made.take(number, page, tools) for number, page in enumerate(reading.pages(document), 1)]
        dropped = [*inside.carried(data, document), *made.dropped()]
    notes = (_NOTE, *regions.unchecked())
    return Result(writing.write(sheets), tuple(made.findings), notes, tuple(dropped))


def look(data: bytes, tools: Tools) -> Iterator[Finding]:
    """Find without writing: what identifies on each page, and what the file carries beside them.

    Raises:
        FileRefused, MissingDependency: as for `scrub`.
    """
    with reading.opened(data) as document:
        for number, page in enumerate(reading.pages(document), 1):
            yield from _told(number, _boxes(page, tools))
            if page.annotations:
                yield Finding("annotations", f"page {number}")
        yield from (
            Finding(kind, "beside the pages")
            for kind in inside.telling(data, document, lambda text: bool(tools.text(text).spans))
        )
        for words in inside.said(data, document):
            yield from (Finding(span.kind, "words beside the pages") for span in tools.text(words).spans)
    yield from (Finding(kind, "pictures on the pages: metadata") for kind in inside.of_pictures(data))


@dataclass
class _Made:
    """What was found on the way."""

    findings: list[Finding] = field(default_factory=list)
    annotated: int = 0

    def take(self, number: int, page: Page, tools: Tools) -> writing.Sheet:
        """Cover one page."""
        boxes = _boxes(page, tools)
        self.findings += _told(number, boxes)
        self.annotated += page.annotations > 0
        return writing.sheet(cover(page.image, boxes), page.size)

    def dropped(self) -> Iterator[str]:
        """What was not drawn."""
        if self.annotated:
            yield f"annotations and form fields on {self.annotated} page{'s' * (self.annotated > 1)}"


def _boxes(page: Page, tools: Tools) -> tuple[PixelBox, ...]:
    text = [*_texts(page.letters, tools)]
    unread = [PixelBox(*area, _UNREAD, Layer.PATTERN) for area in _lines(page.letters.unread)]
    drawn = tuple(dict.fromkeys((*text, *unread)))
    if not _can_read():
        return propose_boxes(page.image, drawn, ())
    letters, beneath = page.letters, list[PixelBox]()
    if page.bare is not None:
        seen = _seen(page.bare, Agreeing(page.bare, letters, scan=True), ())
        beneath = [box for box in seen if box.decision is Decision.REPLACE]
    return _seen(page.image, Agreeing(page.image, letters), (*drawn, *beneath))


def _can_read() -> bool:
    """Whether a finder for text is installed: what it reads words with is what they are compared by."""
    return any(TEXT in finder.LOOKS_FOR for finder in regions.finders())


def _seen(image: Image, agreeing: Agreeing, drawn: Sequence[PixelBox]) -> tuple[PixelBox, ...]:
    """What is drawn already, and what the finders for pictures see and the text does not explain.

    The lines of the text are looked at whether or not a finder sees them: one that a name is written
    across is none to it.
    """

    def look(now: Image) -> tuple[PixelBox, ...]:
        boxes = (*regions.find_regions(now), *agreeing.lines())
        return tuple(dict.fromkeys(part for box in boxes for part in agreeing.unexplained(box)))

    return propose_boxes(image, drawn, (), look=look)


def _texts(letters: Letters, tools: Tools) -> Iterator[PixelBox]:
    """Boxes of what the text scrubber finds, in the text as it stands and with its line ends undone."""
    for span in tools.text(letters.text).spans:
        yield from _cover(letters, range(span.start, span.end), span)
    joined, places = reading.unbroken(letters)
    if joined != letters.text:
        for span in tools.text(joined).spans:
            first, last = places[span.start], places[span.end - 1]
            yield from _cover(letters, range(first, last + 1), span)


def _cover(letters: Letters, places: Iterable[int], span: Span) -> Iterator[PixelBox]:
    areas = [area for place in places if (area := letters.areas[place]) is not None]
    for area in _lines(areas):
        yield PixelBox(*area, span.kind, span.layer)


def _lines(areas: Sequence[Area]) -> Iterator[Area]:
    """Neighbouring characters of one line as one box."""
    current: Area | None = None
    for area in areas:
        if current is not None and _together(current, area):
            current = (
                min(current[0], area[0]),
                min(current[1], area[1]),
                max(current[2], area[2]),
                max(current[3], area[3]),
            )
            continue
        if current is not None:
            yield current
        current = area
    if current is not None:
        yield current


def _together(one: Area, other: Area) -> bool:
    """Whether two boxes are neighbours along a line, level or upright."""
    size = min(max(one[3] - one[1], 1), max(other[3] - other[1], 1))
    level = min(one[3], other[3]) - max(one[1], other[1]) > size / 2
    upright = min(one[2], other[2]) - max(one[0], other[0]) > 0
    near_x = max(one[0], other[0]) - min(one[2], other[2]) < 2 * size
    near_y = max(one[1], other[1]) - min(one[3], other[3]) < 3
    return (level and near_x) or (upright and near_y and not level and one[2] - one[0] < 3 * size)


def _told(number: int, boxes: Sequence[PixelBox]) -> list[Finding]:
    where = f"page {number}"
    return [of_box(box, where) for box in boxes]
