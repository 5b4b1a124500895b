"""Which pictures of a case come onto the slides, and how another one comes there instead."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from mmbuilder.case.model import Case
from mmbuilder.case.tidy import tidy
from mmbuilder.page.form import keeping
from mmbuilder.page.parts._typed import entries, word
from mmbuilder.uses import UseSpec

FRAMES = "frames"
_YES = ("yes", "true", "on")


def course(pauses: Sequence[bool], mechanism: int | None, most: int) -> list[int]:
    """Return the places of the pictures in the course of the story: those with a pause, then the first.

    Args:
        pauses: of each picture, whether the room is stopped at it.
        mechanism: the place of the one that shows how it came about; it stands elsewhere.
        most: for how many there is time.
    """
    rest = (place for place in range(len(pauses)) if place != mechanism)
    return sorted(rest, key=lambda place: not pauses[place])[:most]


def on_slides(tree: dict[str, Any], spec: UseSpec) -> list[int]:
    """Return the places of the pictures of a case, as typed, that the slides of a use show."""
    how = _of_mechanism(tree)
    told = spec.planned("course")
    beside = [how] if how is not None and spec.planned("mechanism") else []
    return sorted((*beside, *course(_pauses(tree), how, told.frames if told else 0)))


def needs_pause(tree: dict[str, Any], place: int) -> bool:
    """Whether a picture comes first only with a pause, because another has one and it has none."""
    pauses = _pauses(tree)
    return any(pauses) and not pauses[place]


def put_first(text: str, place: int, *, pause: bool) -> str:
    """Return the text of a case with a picture before all others.

    Raises:
        NotKept: there is no such picture.
    """
    if pause:
        text = keeping.set_value(text, Case, (FRAMES, place, "pause"), "yes")
    for at in range(place, 0, -1):
        text, _ = keeping.move(text, Case, (FRAMES, at), -1)
    return text


def _pauses(tree: dict[str, Any]) -> list[bool]:
    return [tidy(word(frame, "pause")) in _YES for frame in entries(tree, FRAMES)]


def _of_mechanism(tree: dict[str, Any]) -> int | None:
    part = tree.get("mechanism")
    name = word(part, "frame") if isinstance(part, dict) else ""
    frames = enumerate(entries(tree, FRAMES))
    return next((place for place, frame in frames if name and word(frame, "id") == name), None)
