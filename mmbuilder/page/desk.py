"""The one case folder that lies open: read, changed in place, checked, undone, forgotten.

The files of the case are the only state. Every change is written at once, beside and renamed, so
that a crash loses nothing; a change that was made on an older state than the one on disk is refused,
so that two tabs cannot overwrite each other.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mmbuilder import atomic, uses
from mmbuilder.beside import Worker
from mmbuilder.casefile import reader
from mmbuilder.casefile.checking import CASE, DECISIONS, DEPARTMENT, IDENTIFIERS, SIGN_OFF, Checked, check
from mmbuilder.casefile.editing import edited
from mmbuilder.casefile.files import FileFault, inside, read_bytes
from mmbuilder.casefile.reader import MOST_BYTES
from mmbuilder.errors import FileRefused, OutputNotWritable
from mmbuilder.page.ahead import Ahead, Made
from mmbuilder.page.history import History
from mmbuilder.page.looking import Looker
from mmbuilder.page.stills import stills
from mmbuilder.review import lint

if TYPE_CHECKING:
    from concurrent.futures import Future

    from mmbuilder.casefile.folder import CaseFolder
    from mmbuilder.page.results import Slides
    from mmbuilder.pipeline import BuildReport
    from mmbuilder.safe.terms import Use
    from mmbuilder.scrub.plan import PixelBox, RedactionPlan

EDITED = (CASE, IDENTIFIERS, DECISIONS)
"""Files that the page changes as text, and that undo brings back."""
ASIDE = ".page"
"""Folder in the case folder for what the page keeps: earlier states, the pasted note."""
PLACES = ("images", "readings")
"""Folders into which a file may be taken."""
REST = 60.0
"""Seconds without work after which a process beside ends: its memory is given back, and loading what it
knows takes a second when there is work again."""
PICTURES = 8
"""Looked at by one process: a library that looks for faces loses a few bytes for each pixel it has seen."""


class Moved(OutputNotWritable):
    """The case has changed since the page that asks for a change was shown; nothing was changed."""


class NotChanged(OutputNotWritable):
    """A file cannot be changed in place because it is not readable as it stands; nothing was changed."""


STOPPED = "the case has faults that stop it; mend them first"


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
        self.worker = Worker(gives_way=True, rest=REST)  # for words
        # For pictures and builds: one process holds what reads pictures.
        self.looker = Worker(gives_way=True, rest=REST, most=PICTURES)
        self.ahead, self.looks = Ahead(), Looker(self.root, self.looker)
        self.forgets: list[Callable[[], None]] = []
        """What else is to be done when everything is forgotten."""
        self._lock = threading.RLock()
        self._checked: tuple[str, dict[Use | None, Checked]] = ("", {})
        self.reading: Future[Checked] | None = None
        """The first reading of the case, where it was begun before a page asked for it."""

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

    @property
    def being_read(self) -> bool:
        """Whether the case is still being read for the first time, which takes longest."""
        return self.reading is not None and not self.reading.done()

    def checked(self, use: Use | None = None) -> Checked:
        """Return every fault of the case, and the case if nothing stops it, as its files are now.

        Args:
            use: what it is to be built for; its own if not given.
        """
        with self._lock:
            state = self.state()
            if self._checked[0] != state:
                self._checked = (state, {})
            known = self._checked[1]
            if use not in known:
                known[use] = check(self.root, use)
            return known[use]

    def folder(self, use: Use | None = None) -> CaseFolder | None:
        """Return the case for a use, its own if none is given; None while faults stop it."""
        own = self.checked().folder
        if own is None or use in (None, own.case.use):
            return own
        return self.checked(use).folder

    def state(self) -> str:
        """Return a hash that changes with any file of the case; pictures and readings by size and time."""
        total = hashlib.sha256(self.revision().encode())
        for path in self._files():
            try:
                told = path.stat()
            except FileNotFoundError:  # it went since it was listed
                continue
            total.update(f"{path.name} {told.st_size} {told.st_mtime_ns};".encode("utf-8", "surrogateescape"))
        return total.hexdigest()

    def _files(self) -> Iterator[Path]:
        folders = [
            (self.root, "*.csv"),
            (self.root, SIGN_OFF),
            (self.root, DEPARTMENT),
            (self.root.parent, DEPARTMENT),
        ]
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
            self.unmoved(revision)
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

    def sign_off(self, content: bytes, revision: str) -> None:
        """Write the sign-off of the case as it is.

        Raises:
            Moved: the case is no longer in the state that was signed.
        """
        with self._lock:
            self.unmoved(revision)
            atomic.write(self.root / SIGN_OFF, content)

    def unmoved(self, revision: str) -> None:
        """Pass where the case is still in the state that a page showed.

        Raises:
            Moved: it is not.
        """
        if revision != self.revision():
            raise Moved(
                "the case was changed in another tab or by another program since this page was shown; "
                "nothing was overwritten. Load the page again, then repeat the change"
            )

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

    def words(self, use: Use | None = None) -> Made[RedactionPlan]:
        """Return what is found in words, with what was decided since; begin the search if nobody has.

        It never waits. The plan has no pictures.

        Args:
            use: what the case is searched for; its own if not given.
        """
        from mmbuilder.page.searching import in_words

        folder = self.folder(use)
        if folder is None:
            return Made(fault=STOPPED)
        asked = folder.case.use
        found = self.ahead.begun(
            f"words for {asked.value}",
            self._words_state(),
            lambda: self.worker.do(in_words, self.root, asked),
        )
        if found.value is None:
            return found
        from mmbuilder.scrub.decided import ruled
        from mmbuilder.scrub.walk import Texts

        return Made(ruled(found.value, folder, Texts(folder.case, folder.previous)))

    def search(self, use: Use | None = None) -> Made[RedactionPlan]:
        """Return what is found in words and pictures; begin the search if nobody has. It never waits."""
        words, folder = self.words(use), self.folder(use)
        if folder is None or words.fault:
            return words
        pictures = self._pictures(outside=uses.load(folder.case.use).outside)
        if words.value is None or pictures.value is None:
            return Made(fault=pictures.fault)
        from mmbuilder.scrub.whole import whole

        return Made(whole(words.value, folder, pictures.value))

    def _pictures(self, *, outside: bool) -> Made[dict[int, tuple[PixelBox, ...]]]:
        """Return what is found in the pictures, by number; have those looked at that nobody has asked for."""
        listed = stills(self.text())
        looks = {one: self.looks.seen(one) for one in listed}
        if unseen := [one for one, look in looks.items() if look is None]:
            self.looks.ask(unseen)
        known = {one.number: look for one, look in looks.items() if look is not None}
        for number, look in known.items():
            if look.fault:
                return Made(fault=f"still {number}: {look.fault}")
        if unseen or any(look.running for look in known.values()):
            return Made()
        return Made({number: look.planned(outside=outside) for number, look in known.items() if look.found})

    def begun(self, use: Use, *, final: bool) -> Made[BuildReport] | None:
        """Return how far the results for a use are, as the case is now; None if nobody asked for them."""
        return self.ahead.kept(_build(use, final), self.state())

    def built(self, use: Use, *, final: bool) -> Made[BuildReport]:
        """Return the results for a use; begin to build them if nobody has. It never waits."""
        from mmbuilder.page.results import make

        name = _build(use, final)
        into = self.aside / "built" / name.replace(" ", "-")
        return self.ahead.begun(name, self.state(), lambda: self.looker.do(make, self.root, use, final, into))

    def pictured(self, use: Use, *, final: bool) -> Made[Slides]:
        """Return the slides of the results as pictures, begun once the results are there. It never waits."""
        from mmbuilder.page.results import picture

        built = self.built(use, final=final)
        if built.value is None:
            return Made(fault=built.fault)
        deck = built.value.deck
        return self.ahead.begun(
            f"slides of {_build(use, final)}",
            self.state(),
            lambda: self.looker.do(picture, self.root, use, final, deck),
        )

    def build_anew(self, use: Use, *, final: bool) -> None:
        """Have the results for a use built again when they are asked for next."""
        self.ahead.anew(_build(use, final))

    def _words_state(self) -> str:
        logs = [f"{path.name} {path.stat().st_mtime_ns}" for path in sorted(self.root.glob("*.csv"))]
        contents = [self._bytes(name) or b"" for name in (CASE, IDENTIFIERS)]
        return hashlib.sha256(b"\0".join([*contents, *map(os.fsencode, logs)])).hexdigest()

    def forget(self) -> None:
        """Forget everything the page keeps: earlier states, the pasted note, kept results, what was searched.

        The case folder itself stays as it is.
        """
        from mmbuilder import cache

        with self._lock:
            self.close()
            self._checked = ("", {})
            reader.forget()
            lint.forget()
            self.ahead.forget()
            self.looks.forget()
            for forget in self.forgets:
                forget()
            if self.aside.is_dir():
                shutil.rmtree(self.aside)
            cache.clear()

    def close(self) -> None:
        """End the processes beside the page."""
        self.worker.forget()
        self.looker.forget()


def _build(use: Use, final: bool) -> str:
    return f"{'final' if final else 'draft'} for {use.value}"


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
