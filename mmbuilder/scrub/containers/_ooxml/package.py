"""Open a package: every part, its type and its relationships, within bounds, or a refusal in words."""

from __future__ import annotations

import io
import posixpath
import re
import struct
import urllib.parse
import zipfile
import zlib
from dataclasses import dataclass, field
from functools import cached_property

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers._ooxml.xml import Element, local, parse

MAX_FILE = 200 * 2**20
MAX_PART = 128 * 2**20
MAX_TOTAL = 512 * 2**20
MAX_PARTS = 10_000
MAX_RATIO = 400
"""Unpacked over packed, from a megabyte up: the XML of a deck reaches about 20."""

COMPOUND = bytes.fromhex("d0cf11e0a1b11ae1")
"""Compound File Binary header (MS-CFB 2.2): an old Office file, or a new one locked with a password."""

_RELATIONS = (
    "http://schemas.openxmlformats.org/officeDocument/2006/relationships/",
    "http://schemas.microsoft.com/office/2007/relationships/",
)
_STRICT = "http://purl.oclc.org/ooxml/"
_FAULTS = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    ValueError,
    NotImplementedError,
    RuntimeError,
    struct.error,
)


@dataclass(frozen=True)
class Relation:
    """One relationship; `type` is the last word of its type, empty where we know none such."""

    type: str
    target: str = field(repr=False)
    external: bool = False


@dataclass
class Package:
    """An opened package."""

    parts: dict[str, bytes] = field(repr=False)
    _trees: dict[str, Element] = field(repr=False, default_factory=dict)

    @cached_property
    def _types(self) -> tuple[dict[str, str], dict[str, str]]:
        data = self.parts.get("[Content_Types].xml")
        if data is None:
            raise FileRefused("the file is a zip, but no Office file: it has no list of content types")
        defaults: dict[str, str] = {}
        overrides: dict[str, str] = {}
        for node in parse(data, "the list of content types"):
            kind = node.get("ContentType", "")
            if local(node.tag) == "Default":
                defaults[node.get("Extension", "").lower()] = kind
            else:
                overrides[node.get("PartName", "").lstrip("/").lower()] = kind
        return defaults, overrides

    def every_type(self) -> set[str]:
        """All content types that are declared."""
        return {kind for kinds in self._types for kind in kinds.values()}

    def type_of(self, name: str) -> str:
        """Content type of a part; empty where none is declared or there is no such part."""
        defaults, overrides = self._types
        if name not in self.parts:
            return ""
        return overrides.get(name.lower()) or defaults.get(name.rpartition(".")[2].lower(), "")

    def relations(self, name: str) -> dict[str, Relation]:
        """Relationships of a part by their id; of the package itself for an empty name."""
        folder, _, last = name.rpartition("/")
        data = self.parts.get(posixpath.join(folder, "_rels", f"{last}.rels"))
        if data is None:
            return {}
        found = {}
        for node in parse(data, "a list of relationships"):
            external = node.get("TargetMode", "") == "External"
            target = node.get("Target", "")
            inside = "" if external else _resolved(folder, target)
            found[node.get("Id", "")] = Relation(_type(node.get("Type", "")), inside, external)
        return found

    def tree(self, name: str) -> Element:
        """The XML of a part, parsed once and changed in place by whoever asks."""
        if name not in self._trees:
            self._trees[name] = parse(self.parts[name], "a part of the file")
        return self._trees[name]


def _type(uri: str) -> str:
    if uri.startswith(_STRICT):
        raise FileRefused(
            "the file is in the Strict form of Open XML, which is not read; "
            "open it and save it in the ordinary form"
        )
    return next((uri.removeprefix(known) for known in _RELATIONS if uri.startswith(known)), "")


def _resolved(folder: str, target: str) -> str:
    bare = urllib.parse.unquote(target.partition("#")[0])
    return posixpath.normpath(posixpath.join("/", folder, bare)).lstrip("/")


def opened(data: bytes, what: str) -> Package:
    """Unpack every part.

    Raises:
        FileRefused: locked, old, damaged, with macros, or beyond the bounds.
    """
    if data.startswith(COMPOUND):
        raise FileRefused(
            f"the {what} is locked with a password or in the old form of before 2007; "
            "save it without a password, in the form of today"
        )
    if len(data) > MAX_FILE:
        raise FileRefused(f"the {what} is larger than {MAX_FILE // 2**20} MB; not read")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            package = Package(_unpacked(archive, what))
    except _FAULTS:
        raise FileRefused(f"the {what} is damaged or cut short and cannot be opened") from None
    _no_macros(package, what)
    return package


def _unpacked(archive: zipfile.ZipFile, what: str) -> dict[str, bytes]:
    entries = [entry for entry in archive.infolist() if not entry.is_dir()]
    if len(entries) > MAX_PARTS or sum(entry.file_size for entry in entries) > MAX_TOTAL:
        raise FileRefused(
            f"the {what} unpacks to over {MAX_TOTAL // 2**20} MB or {MAX_PARTS} parts; not read"
        )
    if len({entry.filename.lower() for entry in entries}) != len(entries):
        raise FileRefused(f"the {what} holds two parts of one name, so nobody can say which counts; not read")
    return {entry.filename.replace("\\", "/").lstrip("/"): _part(archive, entry, what) for entry in entries}


def _part(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, what: str) -> bytes:
    if entry.flag_bits & 1:
        raise FileRefused(f"a part of the {what} is locked with a password; save it without one")
    bomb = entry.file_size > 2**20 and entry.file_size > MAX_RATIO * max(1, entry.compress_size)
    if bomb or entry.file_size > MAX_PART:
        raise FileRefused(
            f"a part of the {what} unpacks to far more than it is, as a zip bomb does; not read"
        )
    with archive.open(entry) as stream:
        data = stream.read(
            entry.file_size + 1
        )  # one byte more than promised: a header that lies is found out
    if len(data) > entry.file_size:
        raise FileRefused(f"a part of the {what} unpacks to more than its header says; not read")
    return data


_MACRO = re.compile(r"(?i)macroEnabled|vbaProject|/vnd\.ms-(?:office\.activeX|word\.vba)")


def _no_macros(package: Package, what: str) -> None:
    named = any(name.lower().endswith("vbaproject.bin") for name in package.parts)
    if named or any(_MACRO.search(kind) for kind in package.every_type()):
        raise FileRefused(
            f"the {what} holds macros or controls that run; save it without them, then try again"
        )
