"""Files named in a case: found only within its folder, and known for what they are by their first bytes.

Bounds: pictures of at most 80 megapixels and 200 MB; folders of at most 2,000 files. A file
name may name a patient, so problems call a file by its place (`the 3rd file by name in
images/`), never by its name.
"""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path

from mmbuilder.casefile.places import ordinal
from mmbuilder.casefile.reading.characters import strip_unseen
from mmbuilder.errors import FileRefused

MOST_FILES = 2000
"""Files looked at below one folder of a case."""

_DRIVE = re.compile(r"[A-Za-z]:|~")
_KINDS = frozenset(
    {".bmp", ".csv", ".dcm", ".docx", ".gif", ".heic", ".jpeg", ".jpg", ".mov", ".mp4", ".pdf", ".png"}
    | {".pptx", ".svg", ".tif", ".tiff", ".tsv", ".txt", ".webp", ".xlsx", ".yaml", ".yml", ".zip"}
)
_IGNORED = frozenset({"thumbs.db", "desktop.ini"})


class FileFault(FileRefused):
    """A file of the case cannot be used; told without its name.

    Attributes:
        code, text, found, expected: as in `problem.Problem`.
    """

    def __init__(self, code: str, text: str, found: str = "", expected: str = "") -> None:
        super().__init__(text)
        self.code, self.text, self.found, self.expected = code, text, found, expected

    def __reduce__(self) -> tuple[type[FileFault], tuple[str, str, str, str]]:
        return type(self), (self.code, self.text, self.found, self.expected)


def inside(root: Path, name: str) -> Path:
    """Return the file of that name within the case folder.

    Accents typed either way (NFC, NFD), another case of letters, direction marks, doubled
    spaces and backslashes are understood where they leave one file. A bare name is also
    looked for in `images/` and `readings/`.

    Raises:
        FileFault: the name leads out of the folder, or to nothing, or to what is no plain file.
    """
    return _plain_file(root, _find, name)


def _plain_file(root: Path, find: Callable[[Path, list[str]], Path], name: str) -> Path:
    try:
        found = find(root, _parts(name))
        real, home = found.resolve(), root.resolve()
        facts = real.stat()
    except (OSError, RuntimeError) as fault:  # RuntimeError: links that lead in a circle
        raise _missing() from fault
    if not real.is_relative_to(home):
        raise FileFault(
            "file-outside",
            "this file is a link that leads out of the case folder",
            found="a link",
            expected="the file itself, copied into the folder",
        )
    if not stat.S_ISREG(facts.st_mode):
        raise FileFault("file-not-plain", "this is not a file", _mode(facts.st_mode), "a plain file")
    return found


def read_bytes(root: Path, name: str, *, most: int) -> bytes:
    """Return the content of a file of the case, one byte more than `most` at the most.

    Raises:
        FileFault: it is not there, not a plain file, leads out of the folder, or cannot be read.
    """
    if not root.is_dir():
        raise FileFault(
            "folder-missing", "there is no case folder here", "nothing", "a folder with case.yaml in it"
        )
    try:
        path = _plain_file(root, _walk, name)
        with path.open("rb") as file:
            return file.read(most + 1)
    except PermissionError as fault:
        raise FileFault("file-unreadable", "this file may not be opened", "no right to read it") from fault
    except OSError as fault:
        raise FileFault("file-unreadable", "this file cannot be read", "an error of the disk") from fault


def _parts(name: str) -> list[str]:
    plain = name.strip().replace("\\", "/")
    if "\0" in plain or not plain:
        raise _missing()
    if plain.startswith("/") or _DRIVE.match(plain):
        raise _outside("a path from the top of a disk")
    parts = [part for part in plain.split("/") if part not in ("", ".")]
    if ".." in parts:
        raise _outside("two dots, which lead out of a folder")
    return parts


def _find(root: Path, parts: list[str]) -> Path:
    tries = [parts] if len(parts) > 1 else [parts, ["images", *parts], ["readings", *parts]]
    for attempt in tries:
        try:
            return _walk(root, attempt)
        except (FileFault, OSError):
            continue
    raise _missing()


def _walk(root: Path, parts: list[str]) -> Path:
    here = root
    for part in parts:
        here = next((path for path in _spellings(here, part) if os.path.lexists(path)), None) or _like(
            here, part
        )
    return here


def _spellings(folder: Path, name: str) -> Iterator[Path]:
    yield folder / name
    yield folder / unicodedata.normalize("NFC", name)
    yield folder / unicodedata.normalize("NFD", name)


def _like(folder: Path, name: str) -> Path:
    """Return the one entry whose name differs only in what the eye does not see."""
    wanted = _seen(name)
    with os.scandir(folder) as entries:
        found = [
            entry.name
            for _, entry in zip(range(MOST_FILES), entries, strict=False)
            if _seen(entry.name) == wanted
        ]
    if len(found) != 1:
        raise _missing()
    return folder / found[0]


def _seen(name: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", strip_unseen(name)).casefold().split())


def _missing() -> FileFault:
    return FileFault(
        "file-missing",
        "no file of this name is in the case folder",
        found="nothing of that name",
        expected="a file within the folder, with its path from there: images/first frame.png",
    )


def _outside(found: str) -> FileFault:
    return FileFault(
        "file-outside",
        "this path leads out of the case folder",
        found=found,
        expected="a file within the folder, with its path from there: images/first frame.png",
    )


def _mode(mode: int) -> str:
    kinds = (
        (stat.S_ISDIR, "a folder"),
        (stat.S_ISFIFO, "a pipe"),
        (stat.S_ISSOCK, "a socket"),
        (stat.S_ISCHR, "a device"),
        (stat.S_ISBLK, "a device"),
    )
    return next((words for test, words in kinds if test(mode)), "something else")


# Telling of a file without its name


def listed(root: Path, folder: str) -> tuple[Path, ...]:
    """Every visible file below a folder of the case, sorted; what systems leave behind is passed over."""
    found: list[Path] = []
    for here, folders, names in os.walk(root / folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        found += [Path(here) / name for name in sorted(names) if not _left_behind(name)]
        if len(found) >= MOST_FILES:
            break
    return tuple(sorted(found[:MOST_FILES]))


def describe(root: Path, path: Path) -> str:
    """Return `the 3rd file by name in images/ (a .jpg of 482 kB)`."""
    folder = path.relative_to(root).parts[0]
    everything = listed(root, folder)
    place = ordinal(everything.index(path) + 1) if path in everything else "one"
    suffix = path.suffix.lower() if path.suffix.lower() in _KINDS else "file of another kind"
    where = f"{folder}/" if folder in ("images", "readings") else "the case folder"
    return f"the {place} file by name in {where} (a {suffix} of {_size(path)})"


def _left_behind(name: str) -> bool:
    return name.startswith((".", "~$")) or name.casefold() in _IGNORED


def _size(path: Path) -> str:
    try:
        size = path.lstat().st_size
    except OSError:
        return "unknown size"
    if size < 1000:
        return f"{size} bytes"
    return f"{size / 1000:.0f} kB" if size < 1_000_000 else f"{size / 1_000_000:.1f} MB"
