"""Look for what is to be covered in single stills, beside the page, and remember what was found.

The desk's process does it, picture by picture; the one that lies open comes first. What was found is
remembered by the hash of the picture and by what is drawn on it, in memory only.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from mmbuilder.beside import Worker
from mmbuilder.casefile.files import inside
from mmbuilder.errors import FileRefused, MMBuilderError
from mmbuilder.page.stills import Box, Still
from mmbuilder.scrub.plan import PixelBox

Crop = tuple[float, float, float, float] | None
_Key = tuple[str, Crop, tuple[Box, ...], tuple[Box, ...]]


@dataclass(frozen=True)
class Look:
    """What is known of a picture.

    Attributes:
        found: every box, as the plan of a build in the department would hold it for this picture.
        clocks: more covers, in the plan for readers elsewhere: clocks in what the author keeps.
        running: whether it has still to be looked at as it is drawn on now; until then, `found` is what
            was found before the last change.
        fault: why it could not be looked at, in words.
    """

    found: tuple[PixelBox, ...] = ()
    clocks: tuple[PixelBox, ...] = ()
    running: bool = False
    fault: str = ""

    def planned(self, *, outside: bool) -> tuple[PixelBox, ...]:
        """Return the boxes of the plan, for readers elsewhere or in the department."""
        return (*self.found, *self.clocks) if outside else self.found


def look(root: Path, file: str, crop: Crop, covers: tuple[Box, ...], keeps: tuple[Box, ...]) -> Look:
    """Look at one still as a build does.

    Raises:
        FileRefused: as for `scrub.stills.look`.
    """
    from mmbuilder.scrub import outside_pictures, stills

    try:
        found = stills.look(stills.Still(1, root, file, crop, covers, keeps))
    except FileRefused as fault:
        raise FileRefused(str(fault).removeprefix("still 1: ")) from None
    return Look(found, outside_pictures.in_kept(root, file, found))


class Looker:
    """Looks at what it is asked to, the last asked first, and remembers.

    Args:
        root: the case folder.
        worker: does the looking.
    """

    def __init__(self, root: Path, worker: Worker) -> None:
        self._root, self._worker = root, worker
        self._lock = threading.Lock()
        self._wanted: list[Still] = []
        self._now: _Key | None = None
        self._known: dict[_Key, Look] = {}
        self._last: dict[str, Look] = {}
        self._hashes: dict[tuple[str, int, int], str] = {}
        self._thread: threading.Thread | None = None

    def ask(self, stills: Sequence[Still]) -> None:
        """Have pictures looked at, in this order, before whatever was asked for earlier."""
        with self._lock:
            asked = {still.number for still in stills}
            self._wanted = [*stills, *(still for still in self._wanted if still.number not in asked)]
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, daemon=True)
                self._thread.start()

    def seen(self, still: Still) -> Look | None:
        """Return what is known of a picture; None if it was never asked for. Never waits for a look."""
        try:
            state = _state(self._root, still)
        except FileRefused as fault:
            return Look(fault=str(fault))
        with self._lock:
            name = self._hashes.get(state, "")
            key = _key(name, still)
            if key in self._known:
                return self._known[key]
            waits = key == self._now or any(one.number == still.number for one in self._wanted)
            before = self._last.get(name, Look())
        return replace(before, running=True) if waits or before.found else None

    def forget(self) -> None:
        """Forget what was found, and look at nothing more."""
        with self._lock:
            self._wanted, self._known, self._last, self._hashes = [], {}, {}, {}

    def _work(self) -> None:
        while True:
            with self._lock:
                if not self._wanted:
                    self._thread = None
                    return
                still = self._wanted.pop(0)
            self._look_at(still)

    def _look_at(self, still: Still) -> None:
        try:
            key = _key(self._hash(still), still)
        except (FileRefused, OSError):
            return  # told when it is asked for
        with self._lock:
            if key in self._known:
                return
            self._now, known = key, self._known
        told = self._told(still, key)
        with self._lock:
            self._now = None
            if told is not None and known is self._known:  # else it has been forgotten meanwhile
                known[key] = told
                if not told.fault:
                    self._last[key[0]] = told

    def _told(self, still: Still, key: _Key) -> Look | None:
        from concurrent.futures import BrokenExecutor, CancelledError

        try:
            return self._worker.do(look, self._root, still.file, *key[1:]).result()
        except MMBuilderError as fault:
            return Look(fault=str(fault))
        except (BrokenExecutor, CancelledError):
            with self._lock:
                self._wanted = []  # its process was ended: nothing more until a page asks again
            return None
        except Exception as fault:
            # Its message may hold what a file said.
            kind = type(fault).__name__
            return Look(fault=f"a fault of the program itself ({kind}); this picture was not looked at")

    def _hash(self, still: Still) -> str:
        state = _state(self._root, still)
        with self._lock:
            name = self._hashes.get(state)
        if name is None:
            with inside(self._root, still.file).open("rb") as file:
                name = hashlib.file_digest(file, "sha256").hexdigest()
            with self._lock:
                self._hashes[state] = name
        return name


def _state(root: Path, still: Still) -> tuple[str, int, int]:
    path = inside(root, still.file)
    told = path.stat()
    return str(path), told.st_size, told.st_mtime_ns


def _key(name: str, still: Still) -> _Key:
    return name, still.crop, still.boxes("cover"), still.boxes("keep")
