"""Earlier states of the files of a case, on disk, so that undo survives a reload and a crash.

Each change leaves the bytes from before it under the next number. A state that equals what is on
disk (the program was killed between the two writes) is passed over.
"""

from __future__ import annotations

from pathlib import Path

from mmbuilder import atomic

MOST = 500
"""States kept each way; the oldest go first."""


class History:
    """What was, and what was undone.

    Args:
        folder: where the states lie; made when the first is kept.
    """

    def __init__(self, folder: Path) -> None:
        self._done, self._undone = folder / "before", folder / "undone"

    def keep(self, name: str, before: bytes | None) -> None:
        """Keep the state of a file before a change; what had been undone can no longer be redone."""
        _push(self._done, name, before)
        for state in _states(self._undone):
            state.unlink()

    def undo(self, root: Path) -> str | None:
        """Put the last state back; return the name of its file, or None if there is none."""
        return _swap(root, self._done, self._undone)

    def redo(self, root: Path) -> str | None:
        """Put back what was undone last; return the name of its file, or None if there is none."""
        return _swap(root, self._undone, self._done)

    def depth(self) -> tuple[int, int]:
        """Return how many steps can be undone and redone."""
        return len(_states(self._done)), len(_states(self._undone))


def _states(folder: Path) -> list[Path]:
    return sorted(path for path in folder.glob("*-*") if path.name[:8].isdecimal()) if folder.is_dir() else []


_NOTHING = b"\0"
"""Stands for a file that was not there; no text file is this."""


def _push(folder: Path, name: str, content: bytes | None) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    states = _states(folder)
    number = int(states[-1].name[:8]) + 1 if states else 1
    atomic.write(folder / f"{number:08d}-{name}", _NOTHING if content is None else content)
    for old in states[: max(0, len(states) + 1 - MOST)]:
        old.unlink()


def _swap(root: Path, source: Path, target: Path) -> str | None:
    for state in reversed(_states(source)):
        name, wanted = state.name[9:], state.read_bytes()
        path = root / name
        now = path.read_bytes() if path.is_file() else None
        if (now if now is not None else _NOTHING) == wanted:
            state.unlink()
            continue
        _push(target, name, now)
        if wanted == _NOTHING:
            path.unlink()
        else:
            atomic.write(path, wanted)
        state.unlink()
        return name
    return None
