"""The one case folder that lies open: read, changed in place, checked, undone, forgotten.

The files of the case are the only state. Every change is written at once, beside and renamed, so
that a crash loses nothing; a change that was made on an older state than the one on disk is refused,
so that two tabs cannot overwrite each other.
"""

from __future__ import annotations

import hashlib
import shutil
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mmbuilder import atomic
from mmbuilder.casefile.checking import CASE, DEPARTMENT, IDENTIFIERS, Checked, check
from mmbuilder.casefile.editing import edited
from mmbuilder.casefile.files import FileFault, inside, read_bytes
from mmbuilder.casefile.reader import MOST_BYTES
from mmbuilder.errors import FileRefused, MMBuilderError
from mmbuilder.page.history import History
from mmbuilder.page.working import Worker

if TYPE_CHECKING:
    from mmbuilder.scrub.plan import RedactionPlan

DECISIONS = "decisions.yaml"
EDITED = (CASE, IDENTIFIERS, DECISIONS)
"""Files that the page changes as text, and that undo brings back."""
ASIDE = ".page"
"""Folder in the case folder for what the page keeps: earlier states, the pasted note."""
PLACES = ("images", "readings")
"""Folders into which a file may be taken."""


class Moved(MMBuilderError):
    """The case has changed since the page that asks for a change was shown; nothing was changed."""


class NotChanged(MMBuilderError):
    """A file cannot be changed in place because it is not readable as it stands; nothing was changed."""


@dataclass(frozen=True)
class Search:
    """How far the search for identifiers is.

    Attributes:
        plan: what it found, once it is done.
        fault: why it stopped, in words.
    """

    plan: RedactionPlan | None = None
    fault: str = ""

    @property
    def running(self) -> bool:
        """Whether it is still looking."""
        return self.plan is None and not self.fault


class Desk:
    """An open case folder. Every method may be called from several threads.

    Args:
        root: the case folder.
    """

    def __init__(self, root: Path) -> None:
        self.root = root.absolute()
        self.aside = self.root / ASIDE
        if self.aside.is_symlink():
            raise FileRefused(f"{ASIDE} in the case folder is a link; the page keeps nothing behind a link")
        self.worker = Worker()
        self._lock = threading.RLock()
        self._checked: tuple[str, Checked] | None = None
        self._search: tuple[str, Future[RedactionPlan]] | None = None

    # Reading

    def text(self, name: str = CASE) -> str:
        """Return a file of the case as it is on disk, or nothing if it is not there.

        Raises:
            NotChanged: it is no text.
            FileRefused: it is a link out of the folder, or cannot be read.
        """
        try:
            return (self._bytes(name) or b"").decode("utf-8-sig")
        except UnicodeDecodeError:
            raise NotChanged(f"{name} is not written in UTF-8; save it as UTF-8 text first") from None

    def _bytes(self, name: str) -> bytes | None:
        try:
            return read_bytes(self.root, name, most=MOST_BYTES)
        except FileFault as fault:
            if fault.code == "file-missing":
                return None
            raise

    def tree(self, name: str = CASE) -> Any:
        """Return a file as mappings, lists and text; values are as they were typed.

        Raises:
            NotChanged: it is not readable as it stands.
        """
        trees: list[Any] = []
        _edited(name, self.text(name), trees.append)
        return trees[0] if trees[0] is not None else {}

    def revision(self) -> str:
        """Return a hash of the files that the page changes, as they are on disk."""
        total = hashlib.sha256()
        for name in EDITED:
            content = self._bytes(name)
            total.update(b"-" if content is None else hashlib.sha256(content).digest())
        return total.hexdigest()[:16]

    def checked(self) -> Checked:
        """Return every fault of the case, and the case if nothing stops it, as its files are now."""
        with self._lock:
            state = self.state()
            if self._checked is None or self._checked[0] != state:
                self._checked = (state, check(self.root))
            return self._checked[1]

    def state(self) -> str:
        """Return a hash that changes with any file of the case; pictures and readings by size and time."""
        total = hashlib.sha256(self.revision().encode())
        for path in self._files():
            told = path.stat()
            total.update(f"{path.name} {told.st_size} {told.st_mtime_ns};".encode("utf-8", "surrogateescape"))
        return total.hexdigest()

    def _files(self) -> Iterator[Path]:
        folders = [(self.root, "*.csv"), (self.root, DEPARTMENT), (self.root.parent, DEPARTMENT)]
        folders += [(self.root / place, "*") for place in PLACES]
        for folder, kind in folders:
            yield from sorted(path for path in folder.glob(kind) if path.is_file())

    # Changing

    def change(self, change: Callable[[Any], None], revision: str, name: str = CASE) -> str:
        """Change a file in place; comments, order and what is not changed survive.

        Args:
            change: told the tree of the file, changes it.
            revision: of the state that the change was made on.
            name: one of `EDITED`; made if it is not there.

        Returns:
            The new revision.

        Raises:
            Moved: the case is no longer in that state.
            NotChanged: the file is not readable as it stands.
        """
        return self.rewrite(lambda text: _edited(name, text or "{}\n", change), revision, name)

    def rewrite(self, change: Callable[[str], str], revision: str, name: str = CASE) -> str:
        """Change a file as text. Arguments and errors as for `change`."""
        if name not in EDITED:
            raise ValueError("only the files of a case are changed")
        with self._lock:
            if revision != self.revision():
                raise Moved(
                    "the case was changed in another tab or by another program since this page was shown; "
                    "nothing was overwritten. Load the page again, then repeat the change"
                )
            before = self._bytes(name)
            after = _like(before, change(self.text(name)))
            if after != before:
                self.history.keep(name, before)
                atomic.write(self.root / name, after)
            return self.revision()

    def write_file(self, place: str, name: str, content: bytes) -> str:
        """Take a file into `images/` or `readings/`; return its name there, from the case folder.

        Raises:
            FileRefused: the name leads elsewhere, or another file has it already.
        """
        if place not in PLACES:
            raise ValueError("a file goes into images or readings")
        within = f"{place}/{_plain(name)}"
        with self._lock:
            (self.root / place).mkdir(exist_ok=True)
            if not (self.root / place).resolve().is_relative_to(self.root.resolve()):
                raise FileRefused(f"the folder {place} of this case is a link that leads out of it")
            try:
                path = inside(self.root, within)
            except FileFault as fault:
                if fault.code != "file-missing":
                    raise FileRefused(f"this file cannot be taken: {fault.text}") from None
                path = self.root / within
            if path.is_file() and path.read_bytes() != content:
                raise FileRefused("another file of that name is in the case; give this one another name")
            atomic.write(path, content)
        return within

    @property
    def history(self) -> History:
        """Earlier states of the files."""
        return History(self.aside)

    def undo(self) -> str | None:
        """Put the state before the last change back; return the name of the file, or None."""
        with self._lock:
            return self.history.undo(self.root)

    def redo(self) -> str | None:
        """Put back what was undone last; return the name of the file, or None."""
        with self._lock:
            return self.history.redo(self.root)

    # Looking for identifiers

    def search(self) -> Search:
        """Return how far the search for identifiers is, and begin it if nobody has; never waits."""
        from mmbuilder.page.searching import search

        if self.checked().folder is None:
            return Search(fault="the case has faults that stop it; mend them first")
        with self._lock:
            state = self.state()
            if self._search is None or self._search[0] != state:
                self._search = (state, self.worker.do(search, self.root))
            found = self._search[1]
        if not found.done():
            return Search()
        fault = found.exception()
        if fault is None:
            return Search(found.result())
        return Search(fault=str(fault) if isinstance(fault, MMBuilderError) else _told(fault))

    def forget(self) -> None:
        """Forget everything the page keeps: earlier states, the pasted note, kept results, what was searched.

        The case folder itself stays as it is.
        """
        from mmbuilder import cache

        with self._lock:
            self.worker.forget()
            self._checked = self._search = None
            if self.aside.is_dir():
                shutil.rmtree(self.aside)
            cache.clear()


def _told(fault: BaseException) -> str:
    return f"a fault of the program itself ({type(fault).__name__}); the search was not finished"


def _edited(name: str, text: str, change: Callable[[Any], None]) -> str:
    from ruamel.yaml.error import YAMLError

    try:
        return edited(text, change)
    except YAMLError:
        raise NotChanged(
            f"{name} cannot be changed here because it is not readable as it stands; "
            "mend the faults of its text first"
        ) from None


def _like(before: bytes | None, text: str) -> bytes:
    """Return a text as bytes, with the line ends and the mark at the start that the file had."""
    plain = text.replace("\r\n", "\n")
    if before is not None and b"\r\n" in before:
        plain = plain.replace("\n", "\r\n")
    return (
        b"\xef\xbb\xbf" if before is not None and before.startswith(b"\xef\xbb\xbf") else b""
    ) + plain.encode()


def _plain(name: str) -> str:
    """Return the last part of a file name, if it is one that every system takes.

    Raises:
        FileRefused: it is not.
    """
    last = name.replace("\\", "/").rpartition("/")[2].strip()
    if (
        not last
        or last.startswith(".")
        or len(last) > 120
        or any(sign in last for sign in '<>:"|?*')
        or not last.isprintable()
    ):
        raise FileRefused(
            "this file has a name that cannot be used; give it a short name of letters and figures"
        )
    return last
