"""Files in `images/` or `readings/` that the case does not name: left by an undo, or put there by hand."""

from __future__ import annotations

from pathlib import Path

from mmbuilder.case.model import Case
from mmbuilder.casefile.files import listed
from mmbuilder.errors import FileRefused
from mmbuilder.page.desk import Desk
from mmbuilder.page.form.choices import entries, word
from mmbuilder.page.form.opened import opened

_LISTS = {"images": "frames", "readings": "readings"}


def leftover(case: Desk, place: str) -> list[str]:
    """Return the files of a folder that the case does not name; none where it is not read as it stands."""
    now = opened(case.text(), Case)
    if now is None or now.source.problems:
        return []
    named = {_path(case.root, word(entry, "file")) for entry in entries(now.values, _LISTS[place])}
    there = listed(case.root, place)
    return [path.relative_to(case.root).as_posix() for path in there if path.resolve() not in named]


def _path(root: Path, name: str) -> Path:
    return (root / name.strip().replace("\\", "/")).resolve()


def delete(case: Desk, place: str, name: str, revision: str) -> None:
    """Delete a file that the case does not name.

    Raises:
        FileRefused: there is no such file, or the case names it.
        Moved: the case is no longer in the state that was shown.
    """
    case.unmoved(revision)
    if name not in leftover(case, place):
        raise FileRefused("there is no such file that the case does without; nothing was deleted")
    (case.root / name).unlink()
