"""Close the file: fixed order, fixed dates, nothing about who, when or on what machine."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"

_BLANK = {
    "docProps/core.xml": f'{_HEAD}<cp:coreProperties xmlns:cp="{_PACKAGE}/metadata/core-properties"/>',
    "docProps/app.xml": f'{_HEAD}<Properties xmlns="{_OFFICE}/extended-properties"/>',
}
_TYPES = {
    "docProps/core.xml": "application/vnd.openxmlformats-package.core-properties+xml",
    "docProps/app.xml": "application/vnd.openxmlformats-officedocument.extended-properties+xml",
}
_RELATIONS = (
    f'{_HEAD}<Relationships xmlns="{_PACKAGE}/relationships">'
    f'<Relationship Id="rId1" Type="{_OFFICE}/relationships/officeDocument" Target="{{main}}"/>'
    f'<Relationship Id="rId2" Type="{_PACKAGE}/relationships/metadata/core-properties" '
    'Target="docProps/core.xml"/>'
    f'<Relationship Id="rId3" Type="{_OFFICE}/relationships/extended-properties" Target="docProps/app.xml"/>'
    "</Relationships>"
)
_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest a zip can hold."""

_STORED = (".jpg", ".jpeg", ".png")
_LISTED = re.compile(rb'<Override\b[^>]*PartName="/(?:docProps|customXml)/[^>]*/>')


def close(saved: bytes, main: str = "ppt/presentation.xml") -> bytes:
    """Rewrite a saved package: properties blank, entries sorted, dates fixed.

    Args:
        saved: the package.
        main: the part it opens with; what lies beside that part's folder is not carried over.

    What hangs from the package itself (thumbnail, custom properties, labels) is not carried
    over: the root relationships are written anew and name the main part and two blank ones.
    """
    with zipfile.ZipFile(io.BytesIO(saved)) as archive:
        return closed({name: archive.read(name) for name in archive.namelist()}, main)


def closed(parts: Mapping[str, bytes], main: str) -> bytes:
    """Write parts as a package; arguments as for `close`, with what the package holds by name."""
    folder = main.split("/")[0] + "/"
    written = {
        "[Content_Types].xml": _content_types(parts["[Content_Types].xml"]),
        "_rels/.rels": _RELATIONS.format(main=main).encode(),
        **{name: text.encode() for name, text in _BLANK.items()},
        **{name: parts[name] for name in sorted(parts) if name.startswith(folder)},
    }
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in written.items():
            _add(archive, name, data)
    return file.getvalue()


def _content_types(types: bytes) -> bytes:
    """Take out what is said of the old properties and name the blank ones."""
    added = "".join(
        f'<Override PartName="/{name}" ContentType="{kind}"/>' for name, kind in sorted(_TYPES.items())
    )
    return _LISTED.sub(b"", types).replace(b"</Types>", added.encode() + b"</Types>")


def _add(archive: zipfile.ZipFile, name: str, data: bytes) -> None:
    entry = zipfile.ZipInfo(name, _DATE)
    entry.compress_type = zipfile.ZIP_STORED if name.endswith(_STORED) else zipfile.ZIP_DEFLATED
    entry.create_system, entry.external_attr = 3, 0o600 << 16
    archive.writestr(entry, data)
