"""Put new files where the user asked, all of them or none."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from mmbuilder import atomic
from mmbuilder.errors import OutputNotWritable


def write_new(folder: Path, files: Mapping[str, bytes], *, replace: bool = False) -> None:
    """Write `files` (relative name to content; a name that ends in `/` is an empty folder).

    Raises:
        OutputNotWritable: one of them exists and `replace` is false, or the place cannot be
            written to. Nothing is half written.
    """
    taken = [name for name in files if (folder / name).exists() and not name.endswith("/")]
    if taken and not replace:
        raise OutputNotWritable(
            f"{folder} already holds {taken[0]}; nothing was changed. Choose a new folder name"
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder, prefix=".writing-") as beside:
            for name, content in files.items():
                _prepare(Path(beside), name, content)
            for name in files:
                _move(Path(beside) / name, folder / name)
    except OSError as fault:
        raise OutputNotWritable(f"{folder} cannot be written to ({fault.strerror})") from fault


def put_in_place(path: Path, content: bytes) -> Path:
    """Write a file anew, and keep what it was before beside it under a name of its own.

    Returns:
        the file as it was before.

    Raises:
        OutputNotWritable: the place cannot be written to; the file is as it was.
    """
    before = atomic.aside(path, "before")
    try:
        shutil.copyfile(path, before)
        atomic.write(path, content)
    except OSError as fault:
        raise OutputNotWritable(f"{path.name} cannot be written to ({fault.strerror})") from fault
    return before


def _prepare(beside: Path, name: str, content: bytes) -> None:
    path = beside / name
    if name.endswith("/"):
        path.mkdir(parents=True, exist_ok=True)
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


def _move(made: Path, place: Path) -> None:
    if made.is_dir():
        place.mkdir(parents=True, exist_ok=True)
        return
    place.parent.mkdir(parents=True, exist_ok=True)
    shutil.move(made, place)
