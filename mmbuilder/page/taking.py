"""Take a still into the case: known for what it is by its bytes, under a name that names nobody."""

from __future__ import annotations

from collections.abc import Mapping

from mmbuilder.case.model import Case
from mmbuilder.errors import FileRefused
from mmbuilder.page.desk import Desk
from mmbuilder.page.form import keeping
from mmbuilder.page.form.choices import NAMED

MOST_BYTES = 200 * 2**20


def take(case: Desk, content: bytes, said: Mapping[str, str], revision: str) -> int:
    """Put a picture into `images/` and, in one change, an entry behind the others; return its number, from 1.

    The name it came with is not kept: a device writes the patient's into it.

    Args:
        case: the open case.
        content: of the file.
        said: the other fields of the entry, as they were typed; both sentences are needed.
        revision: of the state that was shown.

    Raises:
        FileRefused: it is of no kind that is read, damaged, too large, or nothing is said of it.
        Moved: the case is no longer in the state that was shown; nothing was taken.
    """
    from mmbuilder.scrub.images import sniff
    from mmbuilder.scrub.images.decode import decode

    if not said.get("shows") or not said.get("caption"):
        raise FileRefused("say in a sentence what the room sees first, and in another what it is told then")
    decode(content)
    kind = sniff.container(content)
    assert kind is not None  # it was decoded
    case.unmoved(revision)
    within = case.write_file("images", f"{_free(case)}{kind.SUFFIXES[0]}", content)
    number = 0

    def entered(text: str) -> str:
        nonlocal number
        text, did = keeping.add(text, Case, NAMED["frames"])
        assert did.at is not None  # it was added
        number = int(did.at[-1]) + 1
        for key, typed in {"file": within, **said}.items():
            text = keeping.set_value(text, Case, (*did.at, key), typed)
        return text

    case.rewrite(entered, revision)
    return number


def _free(case: Desk) -> str:
    taken = {path.stem for path in (case.root / "images").glob("*")}
    number = 1
    while f"still-{number}" in taken:
        number += 1
    return f"still-{number}"
