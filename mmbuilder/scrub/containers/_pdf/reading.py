"""Open a PDF, draw its pages, and read its text with the place of every character.

The optional library pypdfium2 (BSD-3-Clause / Apache-2.0) brings the PDFium engine in a wheel.
Only what stands on the page is drawn: no annotation, no form field.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from math import ceil, floor, sqrt
from typing import TYPE_CHECKING, Any, cast

from mmbuilder.errors import FileRefused, MissingDependency

if TYPE_CHECKING:
    from PIL.Image import Image

DPI = 200
LEAST_DPI = 72
DEEPEST = 32
"""Forms within forms that are gone into."""
MAX_PAGES = 400
MAX_PAGE_PIXELS = 30_000_000
"""An A2 page at 200 dots an inch; a larger one is drawn coarser."""

_HYPHEN, _UNKNOWN = "\x02", "\ufffd"

Area = tuple[int, int, int, int]
"""left, top, right, bottom in pixels of the page as drawn; right and bottom not included."""


@dataclass(frozen=True)
class Letters:
    """The text of a page. `areas[i]` is where character i stands, or None where it is not drawn.

    `unread` are places of characters whose font does not tell which letters they are.
    """

    text: str = field(repr=False)
    areas: tuple[Area | None, ...]
    unread: tuple[Area, ...] = ()


@dataclass(frozen=True)
class Page:
    """One page as it is seen, its text, its size in points, and how many annotations were left off.

    `bare` is the same page without its text, if more than text is drawn on it.
    """

    image: Image = field(repr=False)
    letters: Letters
    size: tuple[float, float]
    annotations: int = 0
    bare: Image | None = field(default=None, repr=False)


@contextmanager
def opened(data: bytes) -> Iterator[Any]:
    """Open a document.

    Raises:
        FileRefused: locked, damaged, without pages, or with too many.
        MissingDependency: the library is not installed.
    """
    library = _library()
    try:
        document = library.PdfDocument(data)
    except library.PdfiumError as fault:
        locked = "password" in str(fault).lower()
        raise FileRefused(_LOCKED if locked else _DAMAGED) from None
    try:
        _check(document, library)
        yield document
    finally:
        document.close()


_LOCKED = "the PDF is protected with a password; open it, save it without protection, and try again"
_DAMAGED = "the PDF is damaged or cut short and cannot be opened; save or print it to PDF again"


def _library() -> Any:
    try:
        import pypdfium2
    except ImportError:
        raise MissingDependency(
            "PDF files need the library pypdfium2: pip install 'mmbuilder[pdf]' (a wheel; works offline "
            "once installed)"
        ) from None
    return pypdfium2


def _check(document: Any, library: Any) -> None:
    if library.raw.FPDF_GetSecurityHandlerRevision(document) != -1:
        raise FileRefused(_LOCKED)
    if not len(document):
        raise FileRefused(_DAMAGED)
    if len(document) > MAX_PAGES:
        raise FileRefused(f"the PDF has {len(document)} pages; at most {MAX_PAGES} are read. Split it")


def texts(data: bytes) -> Iterator[str]:
    """Read the text of every page, drawn or not, and as it reads with hyphens at line ends undone.

    Raises:
        FileRefused, MissingDependency: as for `opened`.
    """
    with opened(data) as document:
        for number in range(len(document)):
            with _page(document, number) as page:
                letters = _letters(page, _NowhereOnPage())
                yield from dict.fromkeys((letters.text, unbroken(letters)[0]))


def pages(document: Any) -> Iterator[Page]:
    """Draw every page in turn.

    Raises:
        FileRefused: a page cannot be read, or is larger than can be drawn.
    """
    for number in range(len(document)):
        with _page(document, number) as page:
            size = page.get_size()
            with _bitmap(page) as bitmap:
                image = bitmap.to_pil().convert("RGB")
                letters = _letters(page, bitmap.get_posconv(page))
            annotations = _library().raw.FPDFPage_GetAnnotCount(page)
            yield Page(image, letters, size, annotations, _bare(page))


@contextmanager
def _bitmap(page: Any) -> Iterator[Any]:
    bitmap = page.render(scale=_scale(*page.get_size()), may_draw_forms=False, draw_annots=False)
    try:
        yield bitmap
    finally:
        bitmap.close()


def _bare(page: Any) -> Image | None:
    """Draw the page without its text, which is gone from the page in memory after that.

    What lies deeper than `DEEPEST` forms stays on it, and is looked at as a picture.
    """
    raw = _library().raw
    things = list(page.get_objects(max_depth=DEEPEST))
    if all(thing.type in (raw.FPDF_PAGEOBJ_TEXT, raw.FPDF_PAGEOBJ_FORM) for thing in things):
        return None
    for thing in things:
        if thing.type == raw.FPDF_PAGEOBJ_TEXT:
            raw.FPDFPageObj_SetIsActive(thing, False)
    with _bitmap(page) as bitmap:
        return cast("Image", bitmap.to_pil().convert("RGB"))


@contextmanager
def _page(document: Any, number: int) -> Iterator[Any]:
    try:
        page = document.get_page(number)
    except _library().PdfiumError:
        raise FileRefused(f"page {number + 1} of the PDF is damaged and cannot be read") from None
    try:
        yield page
    finally:
        page.close()


def _scale(width: float, height: float) -> float:
    """Pixels a point, so that a page stays within the bound."""
    if not (width >= 1 and height >= 1):
        raise FileRefused("a page of the PDF has no size and cannot be drawn")
    dpi = min(float(DPI), 72 * sqrt(MAX_PAGE_PIXELS / (width * height)))
    if dpi < LEAST_DPI:
        raise FileRefused(
            f"a page of the PDF is {width / 28.35:.0f} x {height / 28.35:.0f} cm, too large to be "
            "drawn; print it smaller"
        )
    return dpi / 72


class _NowhereOnPage:
    """Stands for a drawing where there is none."""

    def to_bitmap(self, x: float, y: float) -> tuple[int, int]:
        """Return the corner."""
        return int(x), int(y)


def _letters(page: Any, place: Any) -> Letters:
    raw = _library().raw
    textpage = page.get_textpage()
    try:
        text, areas, unread = [], list[Area | None](), list[Area]()
        for at in range(textpage.count_chars()):
            area = None if raw.FPDFText_IsGenerated(textpage, at) == 1 else _area(textpage, at, place)
            letter = _letter(raw.FPDFText_GetUnicode(textpage, at))
            if area and (raw.FPDFText_HasUnicodeMapError(textpage, at) == 1 or letter == _UNKNOWN):
                unread.append(area)
            text.append(letter)
            areas.append(area)
        return Letters(_parted(text, areas), tuple(areas), tuple(unread))
    finally:
        textpage.close()


def _parted(text: Sequence[str], areas: Sequence[Area | None]) -> str:
    """The text with a tab for the space between two fields of a line, as wide as a letter is high: cells of a table."""
    parted, last = [*text], None
    for at, (letter, area) in enumerate(zip(text, areas, strict=True)):
        if area is None or letter.isspace():
            continue
        if last is not None and at - last > 1 and parted[at - 1] == " " and _far(areas[last], area):
            parted[at - 1] = "\t"
        last = at
    return "".join(parted)


_WIDE = 0.8
"""Heights of a letter, with what its font keeps above and below, between two fields."""


def _far(one: Area | None, other: Area) -> bool:
    if one is None:
        return False
    level = min(one[3], other[3]) - max(one[1], other[1]) > (one[3] - one[1]) / 2
    return level and other[0] - one[2] > _WIDE * (one[3] - one[1])


def _letter(code: int) -> str:
    private = 0xE000 <= code <= 0xF8FF
    if code == 0 or code > 0x10FFFF or 0xD800 <= code <= 0xDFFF or private:
        return _UNKNOWN
    return _HYPHEN if code == 2 else chr(code)


def _area(textpage: Any, at: int, place: Any) -> Area:
    """Where a character stands, by the larger of its box and its font's, one pixel wider all round."""
    boxes = [textpage.get_charbox(at, loose=loose) for loose in (False, True)]
    left, bottom = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, top = max(box[2] for box in boxes), max(box[3] for box in boxes)
    corners = [place.to_bitmap(x, y) for x in (left, right) for y in (bottom, top)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return floor(min(xs)) - 1, floor(min(ys)) - 1, ceil(max(xs)) + 2, ceil(max(ys)) + 2


def unbroken(letters: Letters) -> tuple[str, list[int]]:
    """The text with words that a line end parts put together, and where each character came from."""
    text, places, at = [], [], 0
    raw = letters.text
    while at < len(raw):
        if raw[at] in "-\u00ad\u2010" + _HYPHEN and (end := _line_end(raw, at + 1)):
            at = end
            continue
        text.append(raw[at])
        places.append(at)
        at += 1
    return "".join(text), places


def _line_end(raw: str, at: int) -> int:
    """Where the next line starts, if this one ends at `at`; else 0. A hyphen of PDFium's own ends it, too."""
    end = at
    while end < len(raw) and raw[end] in "\r\n":
        end += 1
    return end if end > at or (raw[at - 1] == _HYPHEN and end < len(raw)) else 0
