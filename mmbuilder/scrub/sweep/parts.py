"""Take a finished file apart: every part, and every file inside a part, within bounds."""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images.chunk import inflate
from mmbuilder.scrub.sweep.pdf import Written, written

MAX_DEPTH = 5
MAX_PARTS = 20_000
MAX_PART = 128 * 2**20
MAX_TOTAL = 512 * 2**20
MAX_RATIO = 400
"""Unpacked over packed, from a megabyte up: deflate reaches about 1000, the XML of a deck about 20."""

_ZIP = (b"PK\x03\x04", b"PK\x05\x06")
_PDF_STREAM = re.compile(rb"stream\r?\n(.*?)\r?\n?endstream", re.DOTALL)
_DICTIONARY = 2000
"""Bytes before a stream in which its dictionary begins."""
_FONT = (b"\x00\x01\x00\x00", b"OTTO", b"true", b"\x01\x00\x04")
"""How an embedded font starts (OpenType specification, "Organization of an OpenType font"; Adobe TN 5176)."""


@dataclass(frozen=True)
class Piece:
    """A part of a file.

    `name` is its place, said with the parts it lies in; `label` what it is called; `whole` tells that its
    own parts follow, so that in it only exact bytes are worth looking for; `syntax` that it is to be taken
    `apart` first: `file` the syntax round the parts of a PDF, `page` what may be a part of it.
    """

    name: str
    data: bytes = field(repr=False)
    label: str = field(repr=False, default="")
    structure: bool = False
    whole: bool = False
    syntax: Literal["", "file", "page"] = ""


@dataclass
class Budget:
    """What may still be unpacked, over all levels."""

    bytes: int = MAX_TOTAL
    parts: int = MAX_PARTS

    def spend(self, size: int, place: str) -> None:
        """Take off one part.

        Raises:
            FileRefused: nothing is left.
        """
        self.bytes -= size
        self.parts -= 1
        if self.bytes < 0 or self.parts < 0:
            raise FileRefused(
                f"{place}: the file unpacks to over {MAX_TOTAL // 2**20} MB or {MAX_PARTS} parts; not read"
            )


def pieces(name: str, data: bytes, budget: Budget | None = None, depth: int = 0) -> Iterator[Piece]:
    """The file itself if it is no package, else all its parts and what lies between them.

    Raises:
        FileRefused: a damaged or locked package, or one that unpacks beyond the bounds.
    """
    budget = budget or Budget()
    if depth > MAX_DEPTH:
        raise FileRefused(f"{name}: packages inside packages, more than {MAX_DEPTH} deep; not read")
    if is_zip(data):
        yield from _package(name, data, budget, depth)
    elif data.startswith(b"\x1f\x8b"):
        yield from _gzip(name, data, budget, depth)
    else:
        pdf = data[:1024].lstrip().startswith(b"%PDF")
        yield Piece(name, data, whole=pdf)
        if pdf:
            yield from _pdf(name, data, budget, depth)


def is_zip(data: bytes) -> bool:
    """Whether a file starts as a zip does."""
    return data.startswith(_ZIP)


def _package(name: str, data: bytes, budget: Budget, depth: int) -> Iterator[Piece]:
    try:
        package = zipfile.ZipFile(io.BytesIO(data))
        entries = package.infolist()
    except (zipfile.BadZipFile, ValueError, struct.error, OSError, NotImplementedError):
        raise FileRefused(f"{name}: the package is damaged and cannot be opened") from None
    yield Piece(f"{name}: headers", _between(data, entries), structure=True)
    for number, entry in enumerate(entries, 1):
        place = f"{name}: part {number}"
        _check(entry, place)
        budget.spend(entry.file_size, place)
        yield Piece(place, b"", entry.filename)
        for piece in pieces(place, _unpack(package, entry, place), budget, depth + 1):
            label = f"{entry.filename} > {piece.label}" if piece.label else entry.filename
            yield replace(piece, label=label)


def _check(entry: zipfile.ZipInfo, place: str) -> None:
    if entry.flag_bits & 1:
        raise FileRefused(f"{place} is locked with a password and cannot be looked into")
    if entry.file_size > MAX_PART:
        raise FileRefused(
            f"{place} unpacks to {entry.file_size / 2**20:.0f} MB; at most {MAX_PART // 2**20} are read"
        )
    if entry.file_size > 2**20 and entry.file_size > MAX_RATIO * max(1, entry.compress_size):
        raise FileRefused(f"{place} unpacks to over {MAX_RATIO} times its size, as a zip bomb does; not read")


def _unpack(package: zipfile.ZipFile, entry: zipfile.ZipInfo, place: str) -> bytes:
    try:
        with package.open(entry) as stream:
            # One byte more than promised: a header that lies is found out.
            data = stream.read(entry.file_size + 1)
    except (
        zipfile.BadZipFile,
        zlib.error,
        EOFError,
        OSError,
        ValueError,
        NotImplementedError,
        RuntimeError,
        struct.error,
    ):
        raise FileRefused(f"{place} is damaged and cannot be unpacked") from None
    if len(data) > entry.file_size:
        raise FileRefused(f"{place} unpacks to more than its header says; not read")
    return data


def _between(data: bytes, entries: list[zipfile.ZipInfo]) -> bytes:
    """All bytes but the packed parts: headers, names, extra fields, comments, what stands before or after.

    A part that the directory does not list stays in, unpacked where that can be done.
    """
    out, place = bytearray(), 0
    for entry in sorted(entries, key=lambda entry: entry.header_offset):
        head = entry.header_offset
        if head < place or data[head : head + 4] != _ZIP[0] or head + 30 > len(data):
            continue
        names, extras = struct.unpack_from("<HH", data, head + 26)
        start = head + 30 + names + extras
        out += data[place:start] + b"\n"
        place = start + entry.compress_size
    rest = bytes(out + data[place:])
    return rest + b"\n" + b"\n".join(_unlisted(data, entries))


def _unlisted(data: bytes, entries: list[zipfile.ZipInfo]) -> Iterator[bytes]:
    listed = {entry.header_offset for entry in entries}
    spans = [(entry.header_offset, entry.header_offset + entry.compress_size) for entry in entries]
    for found in re.finditer(re.escape(_ZIP[0]), data):
        head = found.start()
        if head in listed or head + 30 > len(data) or any(low < head < high for low, high in spans):
            continue  # what is listed is asked first: many parts would else be compared with all others
        names, extras = struct.unpack_from("<HH", data, head + 26)
        unpacker = zlib.decompressobj(-15)
        try:
            yield unpacker.decompress(data[head + 30 + names + extras :], MAX_PART)
        except zlib.error:
            continue


def _gzip(name: str, data: bytes, budget: Budget, depth: int) -> Iterator[Piece]:
    unpacker = zlib.decompressobj(31)
    try:
        content = unpacker.decompress(data, MAX_PART)
    except zlib.error:
        raise FileRefused(f"{name}: the gzip file is damaged and cannot be unpacked") from None
    if unpacker.unconsumed_tail:
        raise FileRefused(f"{name} unpacks to more than {MAX_PART // 2**20} MB; not read")
    budget.spend(len(content), name)
    yield Piece(f"{name}: headers", data[:512] + unpacker.unused_data, structure=True)
    yield from pieces(f"{name}: unpacked", content, budget, depth + 1)


def _pdf(name: str, data: bytes, budget: Budget, depth: int) -> Iterator[Piece]:
    """The strings and names of a PDF, and each of its streams, unpacked, by what it holds."""
    yield Piece(f"{name}: strings", _PDF_STREAM.sub(b"", data), syntax="file")
    for number, found in enumerate(_PDF_STREAM.finditer(data), 1):
        content = inflate(found[1], MAX_PART) or found[1]
        place = f"{name}: stream {number}"
        budget.spend(len(content), place)
        dictionary = data[max(0, found.start() - _DICTIONARY) : found.start()].rpartition(b"obj")[2]
        if b"/EmbeddedFile" in dictionary:
            yield from pieces(place, content, budget, depth + 1)
        elif content.startswith(_FONT) or b"/Image" in dictionary:
            yield Piece(place, content, structure=True)
        else:
            yield Piece(place, content, syntax="page")


def apart(piece: Piece) -> Iterator[Piece]:
    """What a piece of PDF syntax holds; as it stands if it is none."""
    program = piece.syntax == "file" or _maps_letters(piece.data)
    seen = written(piece.data, program=program)
    if seen.unknown and not program:
        yield Piece(piece.name, piece.data)
    else:
        yield from _syntax(piece.name, seen)


def _maps_letters(content: bytes) -> bool:
    """Whether a stream says which letter each shape is (ISO 32000-1, 9.10.3): PostScript, with its own commands."""
    return b"begincmap" in content and b"endcmap" in content


def _syntax(place: str, seen: Written) -> Iterator[Piece]:
    yield Piece(place, "\n".join(dict.fromkeys(seen.words)).encode("utf-8", "replace"))
    # Letters that are each shown by themselves are a word for an eye: put together, they count as markup does.
    markup = "\n".join(dict.fromkeys((*seen.markup, "".join(seen.words)))).encode("utf-8", "replace")
    yield Piece(place, b"\0\n".join((markup, *seen.codes)), structure=True)


def pages(name: str, data: bytes) -> Iterator[Piece]:
    """The text of a PDF as a reader copies it: in the streams its letters may stand as numbers of shapes.

    Raises:
        FileRefused: the file cannot be opened.
    """
    import pypdfium2

    if not data[:1024].lstrip().startswith(b"%PDF"):
        return
    try:
        document = pypdfium2.PdfDocument(data)
        texts = [page.get_textpage().get_text_bounded() for page in document]
    except pypdfium2.PdfiumError:
        raise FileRefused(f"{name}: the PDF is damaged or locked and cannot be looked into") from None
    for number, text in enumerate(texts, 1):
        yield Piece(f"{name}: text of page {number}", text.encode("utf-8", "replace"))
