"""Office files with something planted, and a small scrubber, for the tests of the three readers."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Any

from mmbuilder.scrub.containers.base import CleanFile, CleanText
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import replaced
from mmbuilder.scrub.images.decode import decode
from mmbuilder.scrub.layers import Patterns
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.sweep import sweep
from tests.scrub.declared_list import DECLARED, KNOWN

NAME = "Ondréa Quillmarkton"
SURNAME = "Quillmarkton"
RECORD = "ZX-40417"
NUMBER = "999 476 5919"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
MICROSOFT = "http://schemas.microsoft.com/office/2007/relationships"


class SmallScrubber:
    """Declared names and patterns, and pictures made anew; notes how each picture was cut."""

    def __init__(self) -> None:
        self.crops: list[tuple[float, float, float, float] | None] = []
        self._index, self._patterns = Index(DECLARED), Patterns()

    def text(self, text: str) -> CleanText:
        spans = settle(text, [*self._index.find(text), *self._patterns.find([text])[0]])
        return CleanText(replaced(text, spans), tuple(spans))

    def picture(self, data: bytes, crop: tuple[float, float, float, float] | None = None) -> CleanFile:
        self.crops.append(crop)
        image = decode(data).image
        if crop:
            wide, high = image.size
            left, top, right, bottom = crop
            image = image.crop(
                (round(wide * left), round(high * top), round(wide * (1 - right)), round(high * (1 - bottom)))
            )
        out = io.BytesIO()
        image.save(out, "PNG")
        return CleanFile(out.getvalue())

    def nested(self, suffix: str, data: bytes) -> CleanFile:
        raise AssertionError("no file inside is asked for")


def few_styles(made: Any, *names: str) -> None:
    """Leave a document of python-docx some of the 160 styles of its template, which only cost time."""
    from docx.oxml.ns import qn

    styles = made.styles.element
    for style in styles.findall(qn("w:style")):
        if style.get(qn("w:styleId")) not in names:
            styles.remove(style)
    styles.remove(styles.find(qn("w:latentStyles")))


def parts(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        return {name: package.read(name) for name in package.namelist()}


def packed(files: Mapping[str, bytes], comment: bytes = b"") -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        package.comment = comment
        for name, data in files.items():
            package.writestr(name, data)
    return out.getvalue()


def changed(data: bytes, part: str, old: str, new: str) -> bytes:
    """The file with words of one part changed; fails where they are not there."""
    files = parts(data)
    text = files[part].decode()
    assert old in text, (part, old)
    files[part] = text.replace(old, new, 1).encode()
    return packed(files)


def with_part(
    data: bytes, source: str, name: str, content: bytes, kind: str, relation: str, key: str = "rId900"
) -> bytes:
    """The file with one more part, typed and related to another (to the package for no source)."""
    files = parts(data)
    files[name] = content
    types = files["[Content_Types].xml"].decode()
    files["[Content_Types].xml"] = types.replace(
        "</Types>", f'<Override PartName="/{name}" ContentType="{kind}"/></Types>'
    ).encode()
    return _related(files, source, f'<Relationship Id="{key}" Type="{relation}" Target="/{name}"/>')


def with_link(data: bytes, source: str, target: str, relation: str, key: str = "rId901") -> bytes:
    """The file with a relationship that leads out of it."""
    line = f'<Relationship Id="{key}" Type="{relation}" Target="{target}" TargetMode="External"/>'
    return _related(parts(data), source, line)


def _related(files: dict[str, bytes], source: str, line: str) -> bytes:
    folder, _, last = source.rpartition("/")
    rels = f"{folder}/_rels/{last}.rels".lstrip("/")
    empty = b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"></Relationships>'
    text = files.get(rels, empty).decode()
    if text.rstrip().endswith("/>"):
        text = empty.decode()
    files[rels] = text.replace("</Relationships>", f"{line}</Relationships>").encode()
    return packed(files)


def leaks(data: bytes) -> list[str]:
    return [f"{leak.part}: {leak.kind}" for leak in sweep("result", data, KNOWN)]


def png(colour: str = "navy", size: tuple[int, int] = (100, 60), text: str = "") -> bytes:
    from PIL import Image
    from PIL.PngImagePlugin import PngInfo

    info = PngInfo()
    if text:
        info.add_text("Comment", text)
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "PNG", pnginfo=info)
    return out.getvalue()
