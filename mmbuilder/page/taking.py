"""Take a still into the case: known for what it is by its bytes, under a name that names nobody."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from mmbuilder.case.model import Case
from mmbuilder.errors import FileRefused
from mmbuilder.page.desk import Desk
from mmbuilder.page.form import keeping
from mmbuilder.page.form.choices import NAMED

MOST_BYTES = 200 * 2**20
MOST_AT_ONCE = 12


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
    if not said.get("shows") or not said.get("caption"):
        raise FileRefused("say in a sentence what the room sees first, and in another what it is told then")
    return _entered(case, [content], said, revision)


def take_several(case: Desk, contents: Sequence[bytes], revision: str) -> int:
    """Put pictures into `images/` and, in one change, an entry for each; return the number of the first.

    What they show, and at which event, is asked beside each of them then.

    Raises:
        FileRefused: there are none or too many, or one is of no kind that is read, damaged or too large.
        Moved: the case is no longer in the state that was shown; nothing was taken.
    """
    if not 1 <= len(contents) <= MOST_AT_ONCE:
        raise FileRefused(f"choose from 1 to {MOST_AT_ONCE} pictures at once")
    return _entered(case, contents, {}, revision)


def say(case: Desk, said: Mapping[int, Mapping[str, str]], revision: str) -> None:
    """Write what is said of pictures, by number, into their entries; what is empty stays as it is.

    Raises:
        Moved: the case is no longer in the state that was shown.
    """

    def told(text: str) -> str:
        for number, fields in said.items():
            for key, typed in fields.items():
                if typed:
                    text = keeping.set_value(text, Case, ("frames", number - 1, key), typed)
        return text

    case.rewrite(told, revision)


def _entered(case: Desk, contents: Sequence[bytes], said: Mapping[str, str], revision: str) -> int:
    """Write pictures and their entries; all are looked at before the first is written."""
    suffixes = [_suffix(content) for content in contents]
    case.unmoved(revision)
    files = [
        case.write_file("images", f"{_free(case)}{suffix}", content)
        for suffix, content in zip(suffixes, contents, strict=True)
    ]
    numbers: list[int] = []

    def entered(text: str) -> str:
        for within in files:
            text, did = keeping.add(text, Case, NAMED["frames"])
            assert did.at is not None  # it was added
            numbers.append(int(did.at[-1]) + 1)
            for key, typed in {"file": within, **said}.items():
                text = keeping.set_value(text, Case, (*did.at, key), typed)
        return text

    case.rewrite(entered, revision)
    return numbers[0]


def _suffix(content: bytes) -> str:
    """The ending of the name of a picture, by its bytes.

    Raises:
        FileRefused: it is of no kind that is read, damaged or too large.
    """
    from mmbuilder.scrub.images import sniff
    from mmbuilder.scrub.images.decode import decode

    decode(content)
    kind = sniff.container(content)
    assert kind is not None  # it was decoded
    return kind.SUFFIXES[0]


def _free(case: Desk) -> str:
    taken = {path.stem for path in (case.root / "images").glob("*")}
    number = 1
    while f"still-{number}" in taken:
        number += 1
    return f"still-{number}"
