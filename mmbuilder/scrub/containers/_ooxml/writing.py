"""Close a package: fixed order, fixed dates, neutral names, blank properties, no comment."""

from __future__ import annotations

import io
import posixpath
import zipfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from xml.sax.saxutils import quoteattr

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_MS = "http://schemas.microsoft.com/office/2007/relationships/"
_MS_TYPES = frozenset({"diagramDrawing"})
_CORE = "application/vnd.openxmlformats-package.core-properties+xml"
_APP = "application/vnd.openxmlformats-officedocument.extended-properties+xml"
_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest a zip can hold."""


@dataclass
class Made:
    """A part made anew: relationships are (id, type, name of the part they lead to)."""

    type: str
    data: bytes = field(repr=False)
    relations: list[tuple[str, str, str]] = field(default_factory=list)


def closed(main: str, parts: Mapping[str, Made]) -> bytes:
    """Pack the parts; the same parts give the same bytes.

    Args:
        main: name of the part the package opens with.
        parts: all parts but the properties, which are blank.
    """
    every = {
        **parts,
        "docProps/core.xml": Made(
            _CORE,
            f'{_HEAD}<cp:coreProperties xmlns:cp="{_PACKAGE}/metadata/core-properties"/>'.encode(),
        ),
        "docProps/app.xml": Made(
            _APP, f'{_HEAD}<Properties xmlns="{_OFFICE}/extended-properties"/>'.encode()
        ),
    }
    root = [
        ("rId1", f"{_OFFICE}/relationships/officeDocument", main),
        ("rId2", f"{_PACKAGE}/relationships/metadata/core-properties", "docProps/core.xml"),
        ("rId3", f"{_OFFICE}/relationships/extended-properties", "docProps/app.xml"),
    ]
    files = {"[Content_Types].xml": _types(every), "_rels/.rels": _relations("", root)}
    for name in sorted(every):
        files[name] = every[name].data
        if every[name].relations:
            folder, _, last = name.rpartition("/")
            typed = [(key, _uri(kind), target) for key, kind, target in every[name].relations]
            files[f"{folder}/_rels/{last}.rels"] = _relations(folder, typed)
    return _zipped(files)


def _uri(kind: str) -> str:
    return f"{_MS}{kind}" if kind in _MS_TYPES else f"{_OFFICE}/relationships/{kind}"


def _types(parts: Mapping[str, Made]) -> bytes:
    pictures = sorted(
        {(name.rpartition(".")[2], part.type) for name, part in parts.items() if _picture(part)}
    )
    lines = [
        f'<Default Extension="{ending}" ContentType={quoteattr(kind)}/>'
        for ending, kind in [
            ("rels", "application/vnd.openxmlformats-package.relationships+xml"),
            ("xml", "application/xml"),
            *pictures,
        ]
    ]
    lines += [
        f'<Override PartName="/{name}" ContentType={quoteattr(part.type)}/>'
        for name, part in sorted(parts.items())
        if not _picture(part)
    ]
    return f'{_HEAD}<Types xmlns="{_PACKAGE}/content-types">{"".join(lines)}</Types>'.encode()


def _picture(part: Made) -> bool:
    return part.type.startswith("image/")


def _relations(folder: str, relations: Iterable[tuple[str, str, str]]) -> bytes:
    lines = "".join(
        f'<Relationship Id="{key}" Type="{kind}" Target="{posixpath.relpath(target, folder or ".")}"/>'
        for key, kind, target in relations
    )
    return f'{_HEAD}<Relationships xmlns="{_PACKAGE}/relationships">{lines}</Relationships>'.encode()


def _zipped(files: Mapping[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in files.items():
            entry = zipfile.ZipInfo(name, _DATE)
            entry.create_system = 0
            stored = name.endswith((".png", ".jpeg"))
            entry.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
            archive.writestr(entry, data)
    return out.getvalue()
