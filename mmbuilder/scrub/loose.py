"""Scrub files that belong to no case: text and pictures. Anything else is refused, never passed on.

The result has the same name under the output folder and is put there whole or not at all;
the original is never written to. The result is swept for everything declared before it is
written. One refused file does not stop the others.
"""

from __future__ import annotations

import os
import stat
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import FileRefused, IdentifierInOutput
from mmbuilder.scrub import textfile
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import Finding, replaced, spans_of
from mmbuilder.scrub.images import metadata, regions, sniff
from mmbuilder.scrub.images.cover import cover
from mmbuilder.scrub.images.decode import decode, read
from mmbuilder.scrub.images.encode import encode
from mmbuilder.scrub.images.scrub import mint
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.sweep import Known, guard

PRIVATE_LIST = "identifiers.yaml"

_TEXTS: dict[str, Callable[[str, Index | None], tuple[str, list[Span]]]] = {
    ".txt": textfile.plain,
    ".md": textfile.plain,
    ".csv": textfile.csv,
    ".yaml": textfile.yaml,
    ".yml": textfile.yaml,
}


@dataclass(frozen=True)
class Job:
    """A file to scrub, and its name under the output folder."""

    path: Path
    relative: Path
    number: int = 1


@dataclass(frozen=True)
class Outcome:
    """What became of one file.

    Attributes:
        file: its name as given.
        written: the result; None where there is none.
        findings: what was replaced or covered, or dropped as metadata; offsets into the original.
        notes: what was not looked at.
        refused: why nothing was written; empty where something was.
    """

    file: Path
    written: Path | None = None
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    refused: str = ""

    def as_dict(self) -> dict[str, object]:
        """Plain values for JSON, without the text that was found."""
        return {
            "file": str(self.file),
            "findings": [finding.as_dict() for finding in self.findings],
            "written": str(self.written) if self.written else None,
            "notes": list(self.notes),
            "refused": self.refused,
        }


@dataclass(frozen=True)
class _Done:
    data: bytes = field(repr=False)
    findings: tuple[Finding, ...]
    notes: tuple[str, ...] = ()


def read_declared(path: Path) -> Declared:
    """Read a private list that lies anywhere.

    Raises:
        CaseInvalid: it has faults; all of them are told.
    """
    from mmbuilder.casefile import load_declared

    return load_declared(path)


def plan_files(paths: Sequence[Path]) -> tuple[Job, ...]:
    """Every file named, and every file under every folder named, sorted.

    A file of a folder keeps its name from that folder down; where two would meet, the folder's
    own name goes before.
    """
    found = [(path, relative, root) for root in paths for path, relative in _under(root)]
    met = Counter(relative for _, relative, _ in found)
    jobs = []
    for number, (path, relative, root) in enumerate(found, 1):
        folder = root.resolve() if path != root else root.resolve().parent
        jobs.append(Job(path, relative if met[relative] == 1 else Path(folder.name) / relative, number))
    return tuple(jobs)


def _under(root: Path) -> Iterator[tuple[Path, Path]]:
    if root.is_symlink() or not root.is_dir():
        yield root, Path(root.name)
        return
    for folder, folders, files in os.walk(root):
        folders.sort()
        for name in sorted(files):
            path = Path(folder) / name
            yield path, path.relative_to(root)


def scrub_file(
    job: Job | Path, out: Path, declared: Declared | None = None, *, rename: bool = False
) -> Outcome:
    """Scrub one file into the folder `out`.

    Args:
        job: what to scrub; a path alone keeps its file name.
        out: the folder for the results; made where it is not there.
        declared: the private list; without it only patterns are found.
        rename: whether the name, and those of its folders, are scrubbed as well.
    """
    job = job if isinstance(job, Job) else Job(job, Path(job.name))
    declared = declared or Declared()
    index = Index(declared)
    try:
        data = _source(job.path)
        relative = _renamed(job, index) if rename else job.relative
        target = _target(job.path, out, relative)
        done = _scrubbed(job.path, data, index)
        guard("result", done.data, Known.from_declared(declared))
        _write(target, done.data)
    except (FileRefused, IdentifierInOutput) as refused:
        return Outcome(job.path, refused=str(refused))
    except OSError as fault:
        return Outcome(job.path, refused=f"the result cannot be written ({fault.strerror})")
    return Outcome(job.path, target, done.findings, done.notes)


def _source(path: Path) -> bytes:
    if path.name == PRIVATE_LIST:
        raise FileRefused("this is a private list of identifiers; it is never copied anywhere")
    try:
        mode = path.lstat().st_mode
    except OSError as fault:
        raise FileRefused(f"the file cannot be opened ({fault.strerror})") from None
    if stat.S_ISLNK(mode):
        raise FileRefused("this is a link; give the file it leads to")
    return read(path)


def _scrubbed(path: Path, data: bytes, index: Index) -> _Done:
    leaf = sniff.container(data[: sniff.HEAD])
    if leaf is not None:
        return _picture(path, data, leaf)
    scrub = _TEXTS.get(path.suffix.lower())
    other = sniff.other(data[: sniff.HEAD])
    if scrub is None or (other and not other.startswith(("SVG", "XML", "web"))):
        kind = f" (a {other})" if other else ""
        raise FileRefused(
            f"a file of this kind{kind} is not read at this stage, and nothing was written for it; "
            "text (.txt .md .csv .yaml) and pictures (JPEG, PNG, TIFF, GIF, WebP, BMP) are"
        )
    source = textfile.decoded(data)
    scrubbed, spans = scrub(source.text, index)
    return _Done(source.encoded(scrubbed), textfile.located(source.text, spans), NoNameModel.unchecked)


def _picture(path: Path, data: bytes, leaf: sniff.Container) -> _Done:
    decoded = decode(data)
    boxes = regions.find_regions(decoded.image)
    safe = mint(cover(decoded.image, boxes))
    findings = [Finding(kind, "metadata") for kind in metadata.kinds(data)]
    findings += [
        Finding(box.kind, "picture", box=(box.left, box.top, box.right, box.bottom)) for box in boxes
    ]
    notes = [*decoded.notes, *regions.unchecked()]
    if path.suffix.lower() not in leaf.SUFFIXES:
        notes.append(f"the name does not say so, but this is a {leaf.NAME} picture; it was written as one")
    return _Done(encode(safe, leaf.PILLOW), tuple(findings), tuple(notes))


def _renamed(job: Job, index: Index) -> Path:
    parts = [_name(part, index) for part in job.relative.parts[:-1]]
    stem = _name(job.relative.stem, index)
    if stem != job.relative.stem:
        # Two files of one patient would meet under one name.
        stem = f"{stem} {job.number}"
    return Path(*parts, stem + job.relative.suffix)


def _name(part: str, index: Index) -> str:
    # Underscores tie words together for a pattern; in a name they part them.
    loose = part.replace("_", " ")
    (spans,) = spans_of([loose], index)
    return replaced(loose, spans).replace("/", "-") if spans else part


def _target(source: Path, out: Path, relative: Path) -> Path:
    if relative.is_absolute() or ".." in relative.parts:
        raise FileRefused("the name leads out of the output folder")
    target = out / relative
    target.parent.mkdir(parents=True, exist_ok=True)
    if not target.parent.resolve().is_relative_to(out.resolve()):
        raise FileRefused("a link in the output folder leads out of it")
    if target.resolve() == source.resolve() or (target.exists() and target.samefile(source)):
        raise FileRefused("the result would be written over its original; choose another output folder")
    return target


def _write(target: Path, data: bytes) -> None:
    handle, beside = tempfile.mkstemp(dir=target.parent, prefix=".scrub-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        Path(beside).replace(target)
    except OSError:
        with suppress(OSError):
            Path(beside).unlink()
        raise
