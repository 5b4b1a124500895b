"""What the attacker's tests of Office files share: unique identifiers to plant, raw parts, and a search of its own.

The search knows nothing of the scrubber or its sweep. It unpacks whatever unpacks, at any depth,
and looks for each identifier as UTF-8, UTF-16, base64, hex, percent-encoding and XML entities,
in any case, and in the words that are left when the tags are taken away.
"""

from __future__ import annotations

import base64
import html
import io
import posixpath
import re
import urllib.parse
import zipfile
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from xml.sax.saxutils import escape

import pytest
from click.testing import CliRunner
from stdnum.gb import nhs

from mmbuilder.cli.main import program
from mmbuilder.scrub import loose
from tests.scrub.images.seeing import nobody_looks

OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
EPOCH = (1980, 1, 1, 0, 0, 0)

VARIANTS = ("declared", "titled", "record", "mail", "national", "phone")
"""A name of the private list, and what only detectors can know: nobody declared it."""

_SYLLABLES = ("bra", "cle", "dov", "fen", "gri", "hul", "jor", "kel", "lum", "mor", "nix", "pos", "quo")


def surname(number: int) -> str:
    """An invented name, another for each number."""
    figures = (number // len(_SYLLABLES) ** place % len(_SYLLABLES) for place in range(3))
    first, second, third = (_SYLLABLES[figure] for figure in figures)
    return f"Wy{third}{second}qua{first}x"


def national_number(number: int) -> str:
    """A number that passes the check of python-stdnum, of the range 999 that is kept for tests."""
    fronts = (f"999{number * 7 + turn * 100_003:06d}" for turn in range(9))  # one in eleven has no digit
    whole = next(
        f"{front}{digit}" for front in fronts for digit in range(10) if nhs.is_valid(f"{front}{digit}")
    )
    return f"{whole[:3]} {whole[3:6]} {whole[6:]}"


@dataclass
class Plant:
    """One identifier a place: `plant("notes")` is the text to put there."""

    variant: str = "declared"
    cores: dict[str, tuple[str, ...]] = field(default_factory=dict)
    last: str = ""

    def __call__(self, place: str) -> str:
        assert place not in self.cores, f"two places are called {place}"
        number = len(self.cores)
        name = surname(number)
        digits = f"48{number:05d}"
        mail = f"{name.lower()}.ophth@mail.example.org"
        number_of_nation = national_number(number)
        phone = f"01632 96{number:04d}"  # the range that Ofcom keeps for drama; from memory
        text, *cores = {
            "declared": (name, name),
            "titled": (f"Dr {name}", name),
            "record": (f"MRN {digits}", digits),
            "mail": (mail, name),
            "national": (number_of_nation, number_of_nation, number_of_nation.replace(" ", "")),
            "phone": (f"+44 {phone[1:]}", phone[1:], phone[1:].replace(" ", "")),
        }[self.variant]
        self.cores[place] = tuple(cores)
        self.last = text
        return text

    def private_list(self) -> str:
        names = [core for cores in self.cores.values() for core in cores]
        return "people:\n" + "".join(f"  - {{name: {name}, role: colleague}}\n" for name in names)


@dataclass
class Package:
    """The parts of an Office file, to be changed by hand."""

    parts: dict[str, bytes]
    comment: bytes = b""
    behind: bytes = b""
    loud: str = ""
    _links: int = 0

    @classmethod
    def of(cls, data: bytes) -> Package:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return cls({name: archive.read(name) for name in archive.namelist()})

    def swap(self, part: str, old: str, new: str) -> None:
        """Change words of one part, once."""
        text = self.parts[part].decode()
        assert old in text, (part, old)
        self.parts[part] = text.replace(old, new, 1).encode()

    def before(self, part: str, anchor: str, xml: str) -> None:
        self.swap(part, anchor, xml + anchor)

    def after(self, part: str, anchor: str, xml: str) -> None:
        self.swap(part, anchor, anchor + xml)

    def add(self, name: str, data: str | bytes, kind: str, source: str = "", relation: str = "") -> str:
        """One more part, and where a relation is named, the relationship that leads to it; its id."""
        self.parts[name] = data.encode() if isinstance(data, str) else data
        override = f'<Override PartName="/{name}" ContentType="{kind}"/>'
        self.before("[Content_Types].xml", "</Types>", override)
        return self.relate(source, f"/{name}", relation) if relation else ""

    def link(self, source: str, target: str, relation: str) -> str:
        return self.relate(source, target, relation, ' TargetMode="External"')

    def relate(self, source: str, target: str, relation: str, mode: str = "") -> str:
        folder, _, last = source.rpartition("/")
        rels = f"{folder}/_rels/{last}.rels".lstrip("/")
        empty = f'<Relationships xmlns="{PACKAGE}/relationships"></Relationships>'
        if rels not in self.parts or b"</Relationships>" not in self.parts[rels]:
            self.parts[rels] = empty.encode()
        self._links += 1
        uri = relation if ":" in relation else f"{OFFICE}/{relation}"
        line = f'<Relationship Id="rId{9000 + self._links}" Type="{uri}" Target="{escape(target)}"{mode}/>'
        self.before(rels, "</Relationships>", line)
        return f"rId{9000 + self._links}"

    def packed(self) -> bytes:
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.comment = self.comment
            for name, data in self.parts.items():
                info = zipfile.ZipInfo(name, (2024, 3, 14, 9, 26, 0))
                info.compress_type = zipfile.ZIP_DEFLATED
                if self.loud and name.endswith("app.xml"):
                    words = self.loud.encode()
                    info.comment = words + b" of the comment"
                    info.extra = b"\x99\x99" + len(words).to_bytes(2, "little") + words
                archive.writestr(info, data)
        return out.getvalue() + self.behind


# The search.


def views(data: bytes, depth: int = 0) -> Iterator[bytes]:
    """A file as it lies there, unpacked, inflated, and as text without its marks."""
    yield data
    yield from _texts(data)
    if depth > 5:
        return
    seen = set[bytes]()
    for inner in (*_members(data), *_inflated(data)):
        if inner not in seen:
            seen.add(inner)
            yield from views(inner, depth + 1)


def _texts(data: bytes) -> Iterator[bytes]:
    text = data.decode("utf-8", "ignore")
    if "<" not in text and "%" not in text and "&" not in text:
        return
    for words in (text, re.sub(r"<[^>]*>", "", text)):
        plain = urllib.parse.unquote(html.unescape(words)).replace("\u00a0", " ")
        yield _UNSEEN.sub("", plain).encode("utf-8", "ignore")


_UNSEEN = re.compile("[\u00ad\u200b-\u200f\u2060\ufeff]")


def _members(data: bytes) -> Iterator[bytes]:
    """Members of a zip, and of one that lies anywhere within (an OLE stream)."""
    start = data.find(b"PK\x03\x04")
    if start < 0:
        return
    try:
        with zipfile.ZipFile(io.BytesIO(data[start:])) as archive:
            for member in archive.infolist():
                yield member.filename.encode() + member.comment + member.extra
                yield archive.read(member)
    except (zipfile.BadZipFile, zlib.error, EOFError, ValueError, NotImplementedError):
        return


def _inflated(data: bytes) -> Iterator[bytes]:
    """What a zlib stream within holds (PNG zTXt, iCCP, and pixels)."""
    for found in re.finditer(rb"\x78[\x01\x5e\x9c\xda]", data):
        try:
            yield zlib.decompressobj().decompress(data[found.start() :], 2**20)
        except zlib.error:
            continue


def forms(core: str) -> set[bytes]:
    """The ways to write an identifier, in lower case."""
    plain = core.encode()
    made = {plain, core.encode("utf-16-le"), core.encode("utf-16-be"), plain.hex().encode()}
    for cased in (core, core.upper(), core.lower()):
        for shift in range(3):
            whole = base64.b64encode(b"\0" * shift + cased.encode())
            # The first and last figures hold bits of what stands beside.
            made.add(whole[(0, 2, 3)[shift] : -4])
    return {one.lower() for one in made}


class Search:
    """Which of many identifiers a file holds."""

    def __init__(self, data: bytes) -> None:
        self._all = b"\0\0".join(dict.fromkeys(view.lower() for view in views(data)))

    def holds(self, cores: tuple[str, ...]) -> bool:
        return any(form in self._all for core in cores for form in forms(core))


# The attack.

Build = Callable[[Plant], bytes]


def places(build: Build) -> tuple[str, ...]:
    """Every place a builder plants in: the names of its tests."""
    plant = Plant()
    build(plant)
    return tuple(plant.cores)


@dataclass(frozen=True)
class Attacked:
    """A planted file before and after `mmbuilder scrub`."""

    plant: Plant
    before: Search
    after: Search
    data: bytes
    told: str


def attacked(build: Build, suffix: str, variant: str, folder: Path, *, sweep: bool = False) -> Attacked:
    """Plant, scrub with the command, and search.

    Args:
        build: makes the file.
        suffix: its ending.
        variant: what is planted (see `VARIANTS`).
        folder: to work in.
        sweep: leave the last search of the program on. Without it a leak is seen and named here,
            and not covered by a second net that knows declared names only.
    """
    plant = Plant(variant)
    data = build(plant)
    source, out = folder / f"case{suffix}", folder / "out"
    source.write_bytes(data)
    words = ["scrub", str(source), "--out", str(out)]
    if variant == "declared":
        listed = folder / "identifiers.yaml"
        listed.write_text(plant.private_list(), "utf-8")
        words += ["--identifiers", str(listed)]
    with pytest.MonkeyPatch.context() as patch:
        nobody_looks(patch)  # finders of text and faces in pixels have tests of their own
        patch.setenv("MMBUILDER_CACHE", str(folder / "cache"))
        if not sweep:
            patch.setattr(loose, "guard", lambda *_: None)
        result = CliRunner().invoke(program, words, standalone_mode=False)
    assert result.return_value == 0, result.output or result.exception
    made = (out / source.name).read_bytes()
    return Attacked(plant, Search(data), Search(made), made, result.output)


def nothing_survives(done: Attacked, place: str) -> None:
    """The test of one place."""
    cores = done.plant.cores[place]
    assert done.before.holds(cores), "the search does not find what was planted, so nothing is proved"
    assert not done.after.holds(cores), f"what was planted in {place} is still in the scrubbed file"


def tells_nothing(done: Attacked) -> None:
    """The words of the command hold none of it either."""
    said = Search(done.told.encode())
    assert [place for place, cores in done.plant.cores.items() if said.holds(cores)] == []


def no_faults(path: Path) -> None:
    """The schema validator (openxml-audit) finds nothing."""
    from openxml_audit import OpenXmlValidator

    assert [str(error) for error in OpenXmlValidator().validate(path).errors] == []


def nothing_beside(done: Attacked) -> None:
    """Times of 1980, no comments or extra fields, and relationships only to parts that are there (OPC)."""
    with zipfile.ZipFile(io.BytesIO(done.data)) as archive:
        names = set(archive.namelist())
        assert archive.comment == b""
        for entry in archive.infolist():
            assert (entry.date_time, entry.comment, entry.extra) == (EPOCH, b"", b"")
        rels = {name: archive.read(name).decode() for name in names if name.endswith(".rels")}
    reached = {"[Content_Types].xml", *rels}
    for name, text in rels.items():
        assert "External" not in text
        folder = posixpath.dirname(posixpath.dirname(name))
        for target in re.findall(r'Target="([^"]*)"', text):
            reached.add(posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/"))
    assert names == reached
