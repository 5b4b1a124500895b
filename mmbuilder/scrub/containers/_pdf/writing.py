"""Write pages of pixels as a PDF that holds nothing else: no text, no properties, no times.

Source: ISO 32000-1:2008, 7.3 (objects), 7.5 (file structure), 8.9.5 (images), DCTDecode 7.4.8;
from memory, and checked by opening the result with two libraries in the tests.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

_QUALITY = 90


@dataclass(frozen=True)
class Sheet:
    """One page: an encoded picture, its pixels, and the size of the page in points."""

    jpeg: bytes = field(repr=False)
    width: int
    height: int
    size: tuple[float, float]


def sheet(image: Image, size: tuple[float, float]) -> Sheet:
    """Encode a page; colours of letters at their edges are kept (no subsampling)."""
    out = BytesIO()
    plain = image.convert("RGB")
    plain.info = {}
    plain.save(out, "JPEG", quality=_QUALITY, subsampling=0, optimize=True)
    return Sheet(out.getvalue(), image.width, image.height, size)


def write(sheets: Iterable[Sheet]) -> bytes:
    """Return the file; the same pages give the same bytes."""
    bodies: list[bytes] = [b"<< /Type /Catalog /Pages 2 0 R >>", b""]
    kids = []
    for page in sheets:
        kids.append(len(bodies) + 1)
        bodies += _page(page, len(bodies) + 1)
    listed = b" ".join(b"%d 0 R" % kid for kid in kids)
    bodies[1] = b"<< /Type /Pages /Count %d /Kids [%b] >>" % (len(kids), listed)
    return _file(bodies)


def _page(page: Sheet, first: int) -> list[bytes]:
    width, height = (f"{side:.2f}".encode() for side in page.size)
    drawing = b"q %b 0 0 %b 0 0 cm /P Do Q" % (width, height)
    return [
        b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %b %b] /Contents %d 0 R"
        b" /Resources << /XObject << /P %d 0 R >> >> >>" % (width, height, first + 1, first + 2),
        b"<< /Length %d >>\nstream\n%b\nendstream" % (len(drawing), drawing),
        b"<< /Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceRGB"
        b" /BitsPerComponent 8 /Filter /DCTDecode /Length %d >>\nstream\n%b\nendstream"
        % (page.width, page.height, len(page.jpeg), page.jpeg),
    ]


def _file(bodies: list[bytes]) -> bytes:
    out, starts = bytearray(b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"), []
    for number, body in enumerate(bodies, 1):
        starts.append(len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    table = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(bodies) + 1)
    out += b"".join(b"%010d 00000 n \n" % start for start in starts)
    out += b"trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(bodies) + 1, table)
    return bytes(out)
