"""Every text of a case and where it stands, by a walk over the model and not by a list of fields.

Names of files are none: nothing shows them, and the sweep looks for them in what is written.

A field that is added to the model is walked from then on; nobody has to remember it here.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass, field, replace

from pydantic import BaseModel

from mmbuilder.case.freetext import FILE, FreeText, Path
from mmbuilder.case.model import Case, Clock
from mmbuilder.case.previous import PreviousAction
from mmbuilder.case.when import Day, Duration, When
from mmbuilder.casefile.folder import CaseFolder


@dataclass(frozen=True)
class Located:
    """A text, and the place it is known by in a plan."""

    path: Path
    value: str = field(repr=False)


class Texts:
    """All texts of one case, and of the action log it names.

    Attributes:
        items: in the order of the model, then row by row.

    Raises:
        ValueError: two texts claim the same place, so that a plan could not tell them apart.
    """

    def __init__(self, case: Case, previous: Sequence[PreviousAction] = ()) -> None:
        self._places: dict[int, Path] = {}
        self._alive: list[FreeText] = []
        self.items: list[Located] = [
            *self._walk(case, ()),
            *self._walk(tuple(previous), ("previous actions",)),
        ]
        paths = [item.path for item in self.items]
        if len(set(paths)) != len(paths):
            raise ValueError("two texts of the case claim the same place")

    def place(self, text: FreeText) -> Path:
        """Return where a text of this case stands."""
        return self._places[id(text)]

    def _walk(self, value: object, path: Path) -> Iterator[Located]:
        if isinstance(value, FreeText):
            yield self._note(value, path)
        elif isinstance(value, BaseModel):
            if isinstance(value, Clock):
                yield Located((*path, "name"), value.name)
            for name, info in type(value).model_fields.items():
                if FILE in info.metadata:
                    continue
                yield from self._walk(getattr(value, name), (*path, info.alias or name))
        elif isinstance(value, tuple):
            for position, item in enumerate(value):
                yield from self._walk(item, (*path, position))

    def _note(self, text: FreeText, path: Path) -> Located:
        place = text.path or path
        self._places[id(text)] = place
        self._alive.append(text)  # an id is a place only as long as the text lives
        return Located(place, text.value)


def digest(folder: CaseFolder, texts: Texts) -> str:
    """Return the hash of all that a plan depends on: use, texts with their places, times, pictures, private files."""
    total = hashlib.sha256(folder.case.use.value.encode())  # what goes outside loses more
    total.update(repr([*_times(folder.case)]).encode("utf-8", "surrogatepass"))  # stand-ins count from them
    for item in texts.items:
        total.update(repr((item.path, item.value)).encode("utf-8", "surrogatepass"))
    for frame in folder.case.frames:
        drawn = ([cover.box for cover in frame.cover], [keep.box for keep in frame.keep])
        total.update(repr((frame.crop, *drawn)).encode())
        total.update(picture_hash(folder, frame.file.value))
    total.update(repr([*_declared(folder), *_decided(folder)]).encode("utf-8", "surrogatepass"))
    return total.hexdigest()


def _times(value: object) -> Iterator[str]:
    """Yield every time of a case as it was given, whatever its line, and the keys and clocks it goes by."""
    match value:
        case When():
            yield repr(astuple(replace(value, path=(), line=0, column=0)))
        case Day():
            yield value.date.isoformat()
        case Duration():
            yield f"{value.seconds} s"
        case str():
            yield value
        case tuple():
            for item in value:
                yield from _times(item)
        case BaseModel():
            for _, part in value:
                yield from _times(part)
        case _:
            return


def picture_hash(folder: CaseFolder, name: str) -> bytes:
    """Return the hash of a picture file."""
    from mmbuilder.casefile.files import inside

    with inside(folder.root, name).open("rb") as file:
        return hashlib.file_digest(file, "sha256").digest()


def _declared(folder: CaseFolder) -> Iterator[str]:
    listed = folder.declared
    for person in listed.people:
        yield from (person.role.value, person.name.value, *(text.value for text in person.also))
    for place in listed.places:
        yield from (place.kind.value, place.name.value, *(text.value for text in place.also))
    for number in listed.numbers:
        yield from (number.kind.value, number.value.value)
    yield from (text.value for text in (*listed.other, *listed.keep))


def _decided(folder: CaseFolder) -> Iterator[str]:
    for one in folder.decided.findings:
        yield from ("decided", one.words.value, one.ruling.value, one.only_in or "")
