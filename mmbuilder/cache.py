"""Results kept between runs, by the hash of everything that went into them.

Only what may leave the building is ever put here (drawings, encoded safe pictures, pages of paper,
finished decks) and what is compiled of our own code, never raw text, raw pixels or a declared
identifier. Keys are hashes. Each entry
starts with the hash of its content, so a damaged one is a miss and not a wrong deck.
"""

from __future__ import annotations

import hashlib
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from pathlib import Path

LIMIT = 256 * 2**20
"""Bytes kept; the least recently used entries go first."""

_ENVIRONMENT = "MMBUILDER_CACHE"

_WAITING: ContextVar[dict[str, bytes] | None] = ContextVar("waiting", default=None)


def folder() -> Path | None:
    """Where entries are kept: `$MMBUILDER_CACHE`, else the user's own cache folder; None switches it off."""
    chosen = os.environ.get(_ENVIRONMENT)
    if chosen is not None:
        return Path(chosen) if chosen else None
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA")
        return Path(base) / "mmbuilder" / "cache" if base else None
    base = os.environ.get("XDG_CACHE_HOME")
    try:
        return (Path(base) if base else Path.home() / ".cache") / "mmbuilder"
    except RuntimeError:  # no home folder
        return None


def key(*parts: bytes | str) -> str:
    """Return the hash of all parts, each with its length, so that no two lists of parts share one."""
    digest = hashlib.sha256()
    for part in parts:
        raw = part.encode() if isinstance(part, str) else part
        digest.update(len(raw).to_bytes(8, "big"))
        digest.update(raw)
    return digest.hexdigest()


def get(name: str) -> bytes | None:
    """What was kept under this key, or None."""
    waiting = _WAITING.get()
    if waiting is not None and name in waiting:
        return waiting[name]
    root = folder()
    if root is None:
        return None
    path = root / name[:2] / name
    try:
        stored = path.read_bytes()
        os.utime(path)
    except OSError:
        return None
    digest, content = stored[:32], stored[32:]
    return content if hashlib.sha256(content).digest() == digest else None


@contextmanager
def held() -> Iterator[None]:
    """Hold back whatever is put until the block has ended well; then keep it.

    A drawing is made before the finished file is swept. If the sweep refuses the file, the
    drawing may be what leaked: nothing of that build is kept.
    """
    with gathered() as waiting:
        yield
    for name, content in waiting.items():
        put(name, content)


@contextmanager
def gathered() -> Iterator[dict[str, bytes]]:
    """Hold back whatever is put within the block, for the caller to keep or to drop."""
    waiting: dict[str, bytes] = {}
    token = _WAITING.set(waiting)
    try:
        yield waiting
    finally:
        _WAITING.reset(token)


def put(name: str, content: bytes) -> None:
    """Keep `content`; a cache that cannot be written is no fault of the build."""
    waiting = _WAITING.get()
    if waiting is not None:
        waiting[name] = content
        return
    root = folder()
    if root is None:
        return
    with suppress(OSError):
        path = root / name[:2] / name
        root.mkdir(parents=True, exist_ok=True, mode=0o700)
        path.parent.mkdir(exist_ok=True, mode=0o700)
        handle, beside = tempfile.mkstemp(dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(hashlib.sha256(content).digest() + content)
        Path(beside).replace(path)


def kept(name: str, make: Callable[[], bytes]) -> bytes:
    """Return what was kept under this key; where there is nothing, make it and keep it."""
    content = get(name)
    if content is None:
        content = make()
        put(name, content)
    return content


def trim(limit: int = LIMIT) -> None:
    """Drop the least recently used entries until the rest fits `limit` bytes."""
    root = folder()
    if root is None or not root.is_dir():
        return
    entries = []
    for path in root.glob("??/*"):
        with suppress(OSError):
            facts = path.stat()
            entries.append((facts.st_mtime, facts.st_size, path))
    total = sum(size for _, size, _ in entries)
    for _, size, path in sorted(entries, key=lambda entry: entry[0]):
        if total <= limit:
            break
        with suppress(OSError):
            path.unlink()
            total -= size


def clear() -> None:
    """Drop every entry."""
    trim(-1)
