"""Scrub files that belong to no case. What is of no kind that is read is refused, never passed on.

The result has the same name under the output folder and is put there whole or not at all;
the original is never written to. The result is swept for everything declared before it is
written. One refused file does not stop the others (`many` scrubs them on several processes).

One person has one stand-in within a file and everything packed in it. Files do not know of each
other: the same stand-in in two of them may stand for two people.
"""

from __future__ import annotations

import os
import stat
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path

from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import FileRefused, IdentifierInOutput, MissingDependency
from mmbuilder.scrub.containers.tools import (
    PRIVATE_LIST,
    FileResult,
    Scrubber,
    bounded,
    in_name,
    is_text,
    texts_of,
    unchecked,
)
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import Finding, parted
from mmbuilder.scrub.images.decode import read
from mmbuilder.scrub.keys import table
from mmbuilder.scrub.sweep import Known, guard


@dataclass(frozen=True)
class Job:
    """A file to scrub.

    Attributes:
        path: where it is.
        relative: its name under the output folder.
        number: its place among all, from 1.
        twin: whether another file has this name but for the ending, so that a new ending is added to
            the old one and does not take its place.
    """

    path: Path
    relative: Path
    number: int = 1
    twin: bool = False


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
        kept: what was found and left in, with its reason.
        stand_ins: what each stand-in stands for, where that was asked for. It identifies.
    """

    file: Path
    written: Path | None = None
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    dropped: tuple[str, ...] = ()
    refused: str = ""
    kept: tuple[Finding, ...] = ()
    stand_ins: Mapping[str, Sequence[str]] = field(default_factory=dict, repr=False)

    def as_dict(self) -> dict[str, object]:
        """Plain values for JSON, without the text that was found."""
        return {
            "file": str(self.file),
            "findings": [finding.as_dict() for finding in self.findings],
            "kept": [finding.as_dict() for finding in self.kept],
            "written": str(self.written) if self.written else None,
            "notes": list(self.notes),
            "dropped": list(self.dropped),
            "refused": self.refused,
        }


NAMED = "the name of a file, which may identify somebody and was kept; --rename scrubs it"


def read_declared(path: Path) -> Declared:
    """Read a private list that lies anywhere.

    Raises:
        CaseInvalid: it has faults; all of them are told.
    """
    from mmbuilder.casefile import load_declared

    return load_declared(path)


def plan_files(paths: Sequence[Path], out: Path | None = None) -> tuple[Job, ...]:
    """Every file named, and every file under every folder named, sorted; no two results share a name.

    A file of a folder keeps its name from that folder down; where two would meet, the folder's
    own name goes before, and a number where that is not enough.

    Args:
        paths: files and folders.
        out: the folder of the results: what lies in it already is no source.
    """
    found = [(path, relative, root) for root in paths for path, relative in _under(root, out)]
    met = Counter(relative for _, relative, _ in found)
    stems = Counter(_stem(relative) for _, relative, _ in found)
    taken, jobs = set[Path](), []
    for number, (path, relative, root) in enumerate(found, 1):
        folder = root.resolve() if path != root else root.resolve().parent
        name = relative if met[relative] == 1 else Path(folder.name) / relative
        if name in taken:
            name = name.with_name(f"{name.stem} {number}{name.suffix}")
        taken.add(name)
        jobs.append(Job(path, name, number, twin=stems[_stem(relative)] > 1))
    return tuple(jobs)


def _stem(relative: Path) -> Path:
    return relative.with_suffix("")


def _under(root: Path, out: Path | None) -> Iterator[tuple[Path, Path]]:
    if root.is_symlink() or not root.is_dir():
        yield root, Path(root.name)
        return
    results = out.resolve() if out is not None else None
    for folder, folders, files in os.walk(root):
        folders[:] = sorted(name for name in folders if (Path(folder) / name).resolve() != results)
        for name in sorted(files):
            path = Path(folder) / name
            yield path, path.relative_to(root)


def scrub_file(
    job: Job | Path,
    out: Path,
    declared: Declared | None = None,
    *,
    rename: bool = False,
    keep_stand_ins: bool = False,
) -> Outcome:
    """Scrub one file into the folder `out`.

    Args:
        job: what to scrub; a path alone keeps its file name.
        out: the folder for the results; made where it is not there.
        declared: the private list; without it only patterns are found.
        rename: whether the name, and those of its folders, are scrubbed as well.
        keep_stand_ins: whether the outcome says what each stand-in stands for.
    """
    job = job if isinstance(job, Job) else Job(job, Path(job.name))
    declared = declared or Declared()
    try:
        scrubber = Scrubber(Index(declared))
        data = _source(job.path)
        made = _scrubbed(job.path.suffix, data, scrubber)
        relative = _renamed(job, scrubber) if rename else job.relative
        guard("result", made.data, Known.from_declared(declared))
        target = _target(job.path, out, _ending(job, relative, made.suffix))
        _write(target, made.data)
    except (FileRefused, IdentifierInOutput, MissingDependency) as refused:
        return Outcome(job.path, refused=str(refused))
    except OSError as fault:
        return Outcome(job.path, refused=f"the result cannot be written ({fault.strerror})")
    except Exception as bug:
        # One file that shows a fault of ours does not stop the rest. The message could quote the file.
        return Outcome(job.path, refused=f"a fault of the program itself ({place_of_fault(bug)})")
    gone, kept = parted((*made.findings, *scrubber.kept()))
    stand_ins = table(scrubber.pairs()) if keep_stand_ins else {}
    # Asked last: what is in a name is no part of what was found in the file.
    told = not rename and any(in_name(Path(part).stem, scrubber) for part in job.relative.parts)
    named = (NAMED,) if told else ()
    notes = (*made.notes, *named)
    return Outcome(job.path, target, gone, notes, made.dropped, kept=kept, stand_ins=stand_ins)


def place_of_fault(bug: Exception) -> str:
    """The kind of a fault and its place in our code; its message could hold what was read."""
    place, last = bug.__traceback__, "unknown place"
    while place is not None:
        module = str(place.tb_frame.f_globals.get("__name__", ""))
        last = f"{module}:{place.tb_lineno}" if module.startswith("mmbuilder") else last
        place = place.tb_next
    return f"{type(bug).__name__} at {last}"


def _ending(job: Job, relative: Path, suffix: str) -> Path:
    """The name of a result whose kind had to change."""
    if not suffix:
        return relative
    return relative.with_name(relative.name + suffix) if job.twin else relative.with_suffix(suffix)


def _scrubbed(suffix: str, data: bytes, scrubber: Scrubber) -> FileResult:
    """Go through the file twice: every text first, so that all are known when it is made anew."""
    if not data:
        raise FileRefused("the file is empty")
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
