"""Take a still into the case: known for what it is by its bytes, under a name that names nobody."""

from __future__ import annotations

from typing import Any

from mmbuilder.errors import FileRefused
from mmbuilder.page.desk import Desk

MOST_BYTES = 200 * 2**20


def take(case: Desk, content: bytes, shows: str, caption: str, revision: str) -> str:
    """Put a picture into `images/` and an entry for it behind the others; return the new revision.

    The name it came with is not kept: a device writes the patient's into it.

    Raises:
        FileRefused: it is of no kind that is read, damaged, too large, or nothing is said of it.
        Moved: the case is no longer in the state that was shown; nothing was taken.
    """
    from mmbuilder.scrub.images import sniff
    from mmbuilder.scrub.images.decode import decode

    if not shows or not caption:
        raise FileRefused("say in a sentence what the room sees first, and in another what it is told then")
    decode(content)
    kind = sniff.container(content)
    assert kind is not None  # it was decoded
    if revision != case.revision():
        case.change(lambda tree: None, revision)  # tells that it has moved
    within = case.write_file("images", f"{_free(case)}{kind.SUFFIXES[0]}", content)
    return case.change(lambda tree: _append(tree, within, shows, caption), revision)


def _free(case: Desk) -> str:
    taken = {path.stem for path in (case.root / "images").glob("*")}
    number = 1
    while f"still-{number}" in taken:
        number += 1
    return f"still-{number}"


def _append(tree: Any, within: str, shows: str, caption: str) -> None:
    frames = tree.get("frames")
    if not isinstance(frames, list):
        frames = tree["frames"] = []
    frames.append({"file": within, "shows": shows, "caption": caption})
