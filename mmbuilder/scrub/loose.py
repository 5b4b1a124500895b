"""Scrub files that belong to no case. What is of no kind that is read is refused, never passed on.

The result has the same name under the output folder and is put there whole or not at all;
the original is never written to. The result is swept for everything declared before it is
written. One refused file does not stop the others.
"""

from __future__ import annotations

import os
import stat
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import FileRefused, IdentifierInOutput, MissingDependency
from mmbuilder.scrub.containers.tools import (
    PRIVATE_LIST,
    FileResult,
    Scrubber,
    bounded,
    is_text,
    texts_of,
    unchecked,
)
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import Finding
from mmbuilder.scrub.images.decode import read
from mmbuilder.scrub.sweep import Known, guard


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
        dropped: parts that were left out because of their kind, in words.
        refused: why nothing was written; empty where something was.
    """

    file: Path
    written: Path | None = None
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    dropped: tuple[str, ...] = ()
    refused: str = ""

    def as_dict(self) -> dict[str, object]:
        """Plain values for JSON, without the text that was found."""
        return {
            "file": str(self.file),
            "findings": [finding.as_dict() for finding in self.findings],
            "written": str(self.written) if self.written else None,
            "notes": list(self.notes),
            "dropped": list(self.dropped),
            "refused": self.refused,
        }


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
    scrubber = Scrubber(Index(declared))
    try:
        data = _source(job.path)
        made = _scrubbed(job.path.suffix, data, scrubber)
        relative = _renamed(job, scrubber) if rename else job.relative
        target = _target(job.path, out, relative.with_suffix(made.suffix) if made.suffix else relative)
        guard("result", made.data, Known.from_declared(declared))
        _write(target, made.data)
    except (FileRefused, IdentifierInOutput, MissingDependency) as refused:
        return Outcome(job.path, refused=str(refused))
    except OSError as fault:
        return Outcome(job.path, refused=f"the result cannot be written ({fault.strerror})")
    return Outcome(job.path, target, made.findings, made.notes, made.dropped)


def _scrubbed(suffix: str, data: bytes, scrubber: Scrubber) -> FileResult:
    """Go through the file twice: every text first, so that all are known when it is made anew."""
    bounded(data)
    words = texts_of(suffix, data)
    scrubber.learn(words)
    made = scrubber.file(suffix, data)
    if words or is_text(suffix, data):
        return replace(made, notes=(*unchecked(), *made.notes))
    return made


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


def _renamed(job: Job, scrubber: Scrubber) -> Path:
    parts = [_name(part, scrubber) for part in job.relative.parts[:-1]]
    stem = _name(job.relative.stem, scrubber)
    if stem != job.relative.stem:
        # Two files of one patient would meet under one name.
        stem = f"{stem} {job.number}"
    return Path(*parts, stem + job.relative.suffix)


def _name(part: str, scrubber: Scrubber) -> str:
    # Underscores tie words together for a pattern; in a name they part them.
    made = scrubber.text(part.replace("_", " "))
    return made.text.replace("/", "-") if made.spans else part


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
