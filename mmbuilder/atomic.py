"""Write beside, then rename: a reader sees the old file or the new one, never half of either."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write(path: Path, content: bytes) -> None:
    """Put a file in its place, or leave what was there.

    Raises:
        OSError: the place cannot be written to.
    """
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".writing-", suffix=path.suffix)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


def aside(path: Path, word: str) -> Path:
    """Return a name that is free beside a file: `deck-changed-1.pptx` for the word `changed`."""
    number = 1
    while (free := path.with_name(f"{path.stem}-{word}-{number}{path.suffix}")).exists():
        number += 1
    return free
