"""Know a picture by its first bytes and its size in pixels, without decoding it.

PNG and JPEG are read here, in microseconds and without a library; the rest by Pillow's
headers, loaded only then. Source: PNG, W3C Recommendation 2003, 5.2-5.3 and 11.2.2; JPEG,
ITU-T T.81 (1992), B.1-B.2.2; both from memory. Tests compare every size with Pillow's.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from mmbuilder.casefile.files import FileFault

MOST_PIXELS = 80_000_000
"""A larger picture is a decompression bomb, or of no use on a slide."""
MOST_BYTES = 200 * 2**20
"""A larger file is not a still."""

_EXPORT = "a PNG or JPEG picture: open it in the program it came from and export it"
_MAGIC: tuple[tuple[int, bytes, str], ...] = (
    (0, b"\x89PNG\r\n\x1a\n", "PNG"),
    (0, b"\xff\xd8\xff", "JPEG"),
    (0, b"GIF8", "GIF"),
    (0, b"BM", "BMP"),
    (0, b"II*\0", "TIFF"),
    (0, b"MM\0*", "TIFF"),
    (8, b"WEBP", "WebP"),
    (4, b"ftypheic", "HEIC"),
    (4, b"ftypheix", "HEIC"),
    (4, b"ftypmif1", "HEIC"),
    (4, b"ftyp", "a video"),
    (128, b"DICM", "DICOM"),
    (0, b"%PDF", "PDF"),
    (0, b"PK\x03\x04", "a zip archive or an office file"),
    (0, b"\x1aE\xdf\xa3", "a video"),
    (0, b"<svg", "SVG"),
    (0, b"<?xml", "SVG or XML"),
)
_READ = {
    "PNG": (".png",),
    "JPEG": (".jpg", ".jpeg", ".jpe", ".jfif"),
    "GIF": (".gif",),
    "BMP": (".bmp", ".dib"),
    "TIFF": (".tif", ".tiff"),
    "WebP": (".webp",),
}
# JPEG frame headers: SOF0-SOF15 without DHT (C4), JPG (C8) and DAC (CC).
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


@dataclass(frozen=True)
class Probe:
    """What a picture says of itself.

    Attributes:
        kind: PNG, JPEG ...
        width, height: in pixels, as it is seen upright.
        mislabelled: its name ends as if it were of another kind.
    """

    kind: str
    width: int
    height: int
    mislabelled: bool


def images_probe(path: Path) -> Probe:
    """Return kind and size of a picture.

    Raises:
        FileFault: it is no picture we read, is damaged or cut short, or is too large.
    """
    try:
        with path.open("rb") as file:
            return _probe(file, path)
    except (OSError, struct.error, ValueError, SyntaxError, IndexError) as fault:
        raise _damaged() from fault


def _probe(file: BinaryIO, path: Path) -> Probe:
    head = file.read(512)
    kind = _kind(head)
    if kind not in _READ:
        raise FileFault(
            "picture-kind", "this is not a picture that can be shown", kind or "no kind of picture", _EXPORT
        )
    size = file.seek(0, 2)
    if size > MOST_BYTES:
        raise FileFault("picture-too-large", "this file is too large", f"{size / 2**20:.0f} MB", _bound())
    width, height = _SIZES.get(kind, _by_pillow)(file)
    if width * height > MOST_PIXELS:
        raise FileFault(
            "picture-too-large", "this picture is too large", f"{width:,} x {height:,} pixels", _bound()
        )
    if not width or not height:
        raise _damaged()
    return Probe(kind, width, height, path.suffix.lower() not in _READ[kind])


def _kind(head: bytes) -> str:
    if head.startswith(b"RIFF") and head[8:12] != b"WEBP":
        return "a video or sound"
    return next((kind for at, magic, kind in _MAGIC if head[at : at + len(magic)] == magic), "")


def _bound() -> str:
    return f"at most {MOST_PIXELS // 10**6} million pixels and {MOST_BYTES // 2**20} MB"


def _damaged() -> FileFault:
    return FileFault(
        "picture-damaged",
        "this picture is damaged or cut short",
        "a picture that ends too early",
        "the whole picture: copy or export it again",
    )


def _png(file: BinaryIO) -> tuple[int, int]:
    """Walk the chunks to the last one; only their headers are read."""
    file.seek(8)
    size = (0, 0)
    turned = False
    while True:
        length, name = struct.unpack(">I4s", file.read(8))
        if name == b"IHDR":
            size = struct.unpack(">II", file.read(8))
            file.seek(length - 8 + 4, 1)
        elif name == b"IEND":
            return _upright_by_pillow(file) if turned else size
        else:
            turned = turned or name == b"eXIf"
            file.seek(length + 4, 1)


def _jpeg(file: BinaryIO) -> tuple[int, int]:
    """Walk the segments to the frame header, and see that the picture ends."""
    file.seek(-min(file.seek(0, 2), 2**16), 2)
    if b"\xff\xd9" not in file.read():
        raise _damaged()
    file.seek(2)
    turned = False
    while True:
        marker = file.read(1)
        while marker and marker != b"\xff":
            marker = file.read(1)
        while marker == b"\xff":
            marker = file.read(1)
        (length,) = struct.unpack(">H", file.read(2))
        if marker[0] in _FRAMES:
            height, width = struct.unpack(">xHH", file.read(5))
            return _upright_by_pillow(file) if turned else (width, height)
        turned = turned or (marker == b"\xe1" and file.peek(6)[:4] == b"Exif")  # type: ignore[attr-defined]
        file.seek(length - 2, 1)


def _by_pillow(file: BinaryIO) -> tuple[int, int]:
    import warnings

    from PIL import Image

    file.seek(0)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(file) as image:
                # Of a TIFF, Pillow already gives the upright size.
                sideways = image.format != "TIFF" and image.getexif().get(0x0112, 1) in (5, 6, 7, 8)
                return (image.height, image.width) if sideways else image.size
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as fault:
        raise FileFault(
            "picture-too-large", "this picture is too large", "too many pixels", _bound()
        ) from fault


_upright_by_pillow = _by_pillow
_SIZES = {"PNG": _png, "JPEG": _jpeg}
