"""Zip archives: every member scrubbed by its kind, at any depth within bounds; names as well.

Source: APPNOTE.TXT 6.3.10 (PKWARE), sections 4.3 to 4.5; from memory. The archive is written
anew: no comment, no extra fields, no times (all 1980, the format's first day), no owners,
and nothing between or behind the members.
"""

from __future__ import annotations

import io
import stat
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import replace
from pathlib import PurePosixPath

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers.base import CleanFile, Result, Tools
from mmbuilder.scrub.findings import Finding

NAME = "zip archive"
SUFFIXES = (".zip",)
PARTS_NOT_READ = (
    "what a picture shows and no finder looks for; members of a kind that is not read (they are left out)"
)

_PACKAGES = ("[Content_Types].xml", "mimetype", "META-INF/MANIFEST.MF", "AndroidManifest.xml")
_ARCHIVE = "the archive"
_ROOM = b"\x20\xa2"
"""What leaves room in the file and says nothing: header 0xA220, of Office programs."""
_EPOCH = (1980, 1, 1, 0, 0, 0)
_FAULTS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError)


def sniff(head: bytes, data: bytes) -> bool:
    """Whether it is a plain archive: a zip that is no document of some program."""
    if not head.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return False
    try:
        names = zipfile.ZipFile(io.BytesIO(data)).namelist()
    except _FAULTS:
        return True  # for this leaf to refuse in words
    return not any(name in _PACKAGES for name in names)


def texts(data: bytes) -> Iterator[str]:
    """Names of the members, and every text in them.

    Raises:
        FileRefused: the archive is damaged or locked.
    """
    from mmbuilder.scrub.containers.tools import texts_of

    with _opened(data) as archive:
        for member in _files(archive):
            yield from map(_loose, _parts(member.filename))
            if not _left_out(member):
                try:
                    yield from texts_of(_suffix(member), _content(archive, member))
                except FileRefused:
                    continue  # the second pass leaves the member out, and says why


def scrub(data: bytes, tools: Tools) -> Result:
    """Write the archive anew.

    Raises:
        FileRefused: the archive is damaged or locked, or no member could be kept.
    """
    out = _Out()
    with _opened(data) as archive:
        for number, member in enumerate(_files(archive), 1):
            out.take(number, member, _content(archive, member), tools)
        out.findings += carried(archive)
    if not out.kept:
        raise FileRefused(f"no member of the archive is of a kind that is read ({len(out.dropped)} left out)")
    return out.result()


def carried(archive: zipfile.ZipFile) -> Iterator[Finding]:
    """Tell what the format itself carries, besides names."""
    if archive.comment:
        yield Finding("comment of the archive", _ARCHIVE)
    if any(member.comment for member in archive.infolist()):
        yield Finding("comments on members", _ARCHIVE)
    if any(member.extra and not member.extra.startswith(_ROOM) for member in archive.infolist()):
        yield Finding("owners and times of members", _ARCHIVE)


class _Out:
    """The archive being written."""

    def __init__(self) -> None:
        self._bytes = io.BytesIO()
        self._archive = zipfile.ZipFile(self._bytes, "w", zipfile.ZIP_DEFLATED)
        self._names = set[str]()
        self.kept = 0
        self.findings: list[Finding] = []
        self.notes: list[str] = []
        self.dropped: list[str] = []

    def take(self, number: int, member: zipfile.ZipInfo, content: bytes, tools: Tools) -> None:
        place = f"file {number}"
        if reason := _left_out(member):
            self.dropped.append(f"{place}: {reason}")
            return
        try:
            made = tools.nested(_suffix(member), content)
        except FileRefused as refused:
            self.dropped.append(f"{place}: {refused}")
            return
        self._write(self._named(place, member, made, tools), made.data)
        self.findings += [replace(finding, where=f"{place}, {finding.where}") for finding in made.findings]
        self.notes += [f"{place}: {note}" for note in made.notes]

    def result(self) -> Result:
        self._archive.close()
        # A note that many members share is told once.
        shared = dict.fromkeys(note.partition(": ")[2] for note in self.notes)
        return Result(self._bytes.getvalue(), tuple(self.findings), tuple(shared), tuple(self.dropped))

    def _named(self, place: str, member: zipfile.ZipInfo, made: CleanFile, tools: Tools) -> str:
        *folders, last = _parts(member.filename)
        stem = PurePosixPath(last).stem
        clean = [_clean(part, tools) for part in (*folders, stem)]
        if clean != [*folders, stem]:
            self.findings.append(Finding("name of a member", f"{place}, its name"))
        path = PurePosixPath(*clean)
        suffix = made.suffix or _suffix(member)
        name = f"{path}{suffix}"
        return name if name.lower() not in self._names else f"{path} {place.split()[1]}{suffix}"

    def _write(self, name: str, data: bytes) -> None:
        self._names.add(name.lower())
        info = zipfile.ZipInfo(name, _EPOCH)
        info.compress_type, info.create_system = zipfile.ZIP_DEFLATED, 3
        info.external_attr = 0o644 << 16
        self._archive.writestr(info, data)
        self.kept += 1


def _opened(data: bytes) -> zipfile.ZipFile:
    try:
        return zipfile.ZipFile(io.BytesIO(data))
    except _FAULTS:
        raise FileRefused("the archive is damaged and cannot be opened; pack it again") from None


def _files(archive: zipfile.ZipFile) -> list[zipfile.ZipInfo]:
    return [member for member in archive.infolist() if not member.is_dir()]


def _content(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> bytes:
    if member.flag_bits & 1:
        raise FileRefused("the archive is locked with a password; unlock it, or scrub its files one by one")
    try:
        return archive.read(member)
    except _FAULTS:
        raise FileRefused(
            "a member of the archive is damaged and cannot be unpacked; pack it again"
        ) from None


def _left_out(member: zipfile.ZipInfo) -> str:
    from mmbuilder.scrub.containers.tools import is_private_list

    if is_private_list(member.filename):
        return "a private list of identifiers, which is never copied anywhere"
    if stat.S_ISLNK(member.external_attr >> 16):
        return "a link to another file"
    if not _parts(member.filename):
        return "it has no name"
    return ""


def _parts(name: str) -> list[str]:
    """The steps of a name, none of which leads out of the archive."""
    parts = name.replace("\\", "/").split("/")
    return [part.replace(":", "") for part in parts if part.strip(" .:") and part not in (".", "..")]


def _suffix(member: zipfile.ZipInfo) -> str:
    """The ending, where it is a short word as endings are: anything else could be a name."""
    suffix = PurePosixPath(member.filename.replace("\\", "/")).suffix
    return suffix if suffix[1:].isalnum() and len(suffix) <= 6 else ""


def _loose(part: str) -> str:
    # Underscores tie words together for a pattern; in a name they part them.
    return PurePosixPath(part).stem.replace("_", " ")


def _clean(part: str, tools: Tools) -> str:
    made = tools.text(part.replace("_", " "))
    return made.text.replace("/", "-").replace("\\", "-") if made.spans else part
