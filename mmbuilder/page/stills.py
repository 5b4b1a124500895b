"""The stills of a case as its file has them: what is covered, what stays, and how a change is written.

Read from the text, not from the model: a half-written case has pictures to cover too. Boxes are
left, top, width and height, in pixels of the upright picture.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass, field
from math import ceil, floor
from typing import Any, Literal

from pydantic_core import PydanticCustomError

from mmbuilder.case.model import Case
from mmbuilder.case.when import parse_when
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.reader import read
from mmbuilder.casefile.reading.keys import plain_key
from mmbuilder.casefile.shape import all_keys
from mmbuilder.errors import FileRefused
from mmbuilder.page.comments import put, take_out

Box = tuple[int, int, int, int]
"""left, top, width, height."""
Kind = Literal["cover", "keep"]
KINDS: tuple[Kind, Kind] = ("cover", "keep")
MOST_BOXES = 200
"""Boxes of one kind in one picture."""
BY_ITSELF = (
    "yours to judge by itself, as each picture is: cover what names somebody, or say that nothing does"
)
"""Told beside a picture from the first, while it is still looked at for what may be proposed."""
NOT_SAID = "one thing left: cover what else names somebody, or say that there is nothing to cover"
"""Said of a picture of which everything found is decided, and nothing is covered."""
MOST_WHY = 200
"""Characters of a reason."""


@dataclass(frozen=True)
class Drawn:
    """A box that the case file holds.

    Attributes:
        kind: whether it covers or keeps.
        place: where it stands in its list, from 0.
        box: widened to whole pixels, as the build does; None where it is no box of four figures.
        why: the reason that stands with it.
    """

    kind: Kind
    place: int
    box: Box | None
    why: str = field(repr=False)

    @property
    def key(self) -> str:
        """Its name on the page."""
        return f"{self.kind}-{self.place}"


@dataclass(frozen=True)
class Still:
    """One frame of the case.

    Attributes:
        number: from 1.
        file: the name of its file, as it was written.
        shows, caption: what the room sees, and what it is told then.
        crop: the part that is shown.
        drawn: its boxes.
        said: whether anything is said on covering.
        device: the clock or kind of recording it comes from; empty if it names none.
    """

    number: int
    file: str = field(repr=False)
    shows: str = field(repr=False)
    caption: str = field(repr=False)
    crop: tuple[float, float, float, float] | None
    drawn: tuple[Drawn, ...]
    said: bool
    device: str

    def boxes(self, kind: Kind) -> tuple[Box, ...]:
        """Return the boxes of one kind."""
        return tuple(one.box for one in self.drawn if one.kind == kind and one.box is not None)

    @property
    def nothing(self) -> bool:
        """Whether somebody looked and found nothing to cover."""
        return self.said and not any(one.kind == "cover" for one in self.drawn)


def stills(text: str) -> tuple[Still, ...]:
    """Return the frames of a case file, as far as they can be read."""
    tree = read(text.encode(), CASE, all_keys(Case)).tree  # as the check reads it: once for both
    frames = tree.get("frames") if isinstance(tree, dict) else None
    listed = frames if isinstance(frames, list) else []
    return tuple(_still(number, one if isinstance(one, dict) else {}) for number, one in enumerate(listed, 1))


def unsaid(text: str, besides: Container[int] = ()) -> tuple[int, ...]:
    """Return the pictures, by number, where nothing is covered and nobody has said that nothing need be.

    Args:
        text: of the case file.
        besides: pictures where something else is open, which is told of them first.
    """
    return tuple(still.number for still in stills(text) if not still.said and still.number not in besides)


def not_said(number: int) -> str:
    """Say of a picture that one thing is left."""
    return f"picture {number}: {NOT_SAID}"


def _still(number: int, raw: dict[str, Any]) -> Still:
    return Still(
        number=number,
        file=_words(raw.get("file")),
        shows=_words(raw.get("shows")),
        caption=_words(raw.get("caption")),
        crop=_figures(raw.get("crop")),
        drawn=tuple(drawn for kind in KINDS for drawn in _drawn(kind, raw.get(kind))),
        said=bool(raw.get("cover")),
        device=_device(raw),
    )


def _words(value: Any) -> str:
    return " ".join(value.split()) if isinstance(value, str) else ""


def _drawn(kind: Kind, listed: Any) -> Iterator[Drawn]:
    for place, one in enumerate(listed if isinstance(listed, list) else []):
        entry = one if isinstance(one, dict) else {}
        figures = _figures(entry.get("box"))
        yield Drawn(kind, place, figures and _whole(figures), _words(entry.get("why")))


def _figures(value: Any) -> tuple[float, float, float, float] | None:
    parts = value.replace(",", " ").split() if isinstance(value, str) else value
    try:
        left, top, width, height = (float(part) for part in parts)
    except (TypeError, ValueError):
        return None
    return left, top, width, height


def _whole(figures: tuple[float, float, float, float]) -> Box | None:
    left, top, width, height = figures
    try:
        first, second = floor(left), floor(top)
        return first, second, ceil(left + width) - first, ceil(top + height) - second
    except (OverflowError, ValueError):  # endless, or no figure
        return None


_NUMBER = re.compile(r" ?\d+$")


def _device(raw: dict[str, Any]) -> str:
    """Return the clock of a frame, or its recording: `file 1` and `file 2` are one recorder's."""
    if clock := _words(raw.get("clock")):
        return plain_key(clock)
    try:
        named = parse_when(_words(raw.get("when"))).clock
    except PydanticCustomError:  # told where times are told
        named = None
    return _NUMBER.sub("", named or "")


# Changing: each is told the tree of the file, as `Desk.change` has it


def add(tree: Any, number: int, kind: Kind, box: Box, why: str) -> int:
    """Add a box to a frame; return its place in the list."""
    boxes = _list(_frame(tree, number), kind)
    if len(boxes) >= MOST_BOXES:
        raise FileRefused(
            f"a picture holds at most {MOST_BOXES} boxes of a kind; cut the part away with `crop`"
        )
    boxes.append(_entry(kind, box, why))
    return len(boxes) - 1


def change(tree: Any, number: int, kind: Kind, place: int, box: Box | None, why: str | None) -> None:
    """Give a box another place, another reason, or both."""
    entry = _at(_list(_frame(tree, number), kind), place)
    if box is not None:
        entry[_key(entry, "box")] = _flow(box)
    if why:
        entry[_key(entry, "why")] = why
    elif why is not None and kind == "keep":
        raise FileRefused("what stays in view needs a reason, such as: scale bar")
    elif why is not None:
        entry.pop(_key(entry, "why"), None)


def remove(tree: Any, number: int, kind: Kind, place: int) -> None:
    """Take a box out; with the last one goes the word on covering, for somebody has to look again."""
    frame = _frame(tree, number)
    boxes = _list(frame, kind)
    _at(boxes, place)
    take_out(boxes, place)
    if not boxes:
        take_out(frame, _key(frame, kind))


def say_nothing(tree: Any, number: int) -> None:
    """Say that somebody looked and there is nothing to cover."""
    frame = _frame(tree, number)
    key = _key(frame, "cover")
    if isinstance(frame.get(key), list) and frame[key]:
        raise FileRefused("this picture has covers; delete them first if there is nothing to cover")
    put(frame, key, "none")


def copy(tree: Any, boxes: Iterable[tuple[Kind, Box, str]], numbers: Iterable[int]) -> int:
    """Put boxes into other frames too, where they are not yet; return how many were put."""
    done, listed = 0, list(boxes)
    for number in numbers:
        frame = _frame(tree, number)
        for kind, box, why in listed:
            there = frame.get(_key(frame, kind))
            known = {one.box for one in _drawn(kind, there if isinstance(there, list) else [])}
            if box not in known:
                add(tree, number, kind, box, why)
                done += 1
    return done


def _frame(tree: Any, number: int) -> Any:
    frames = tree.get(_key(tree, "frames")) if isinstance(tree, dict) else None
    if (
        not isinstance(frames, list)
        or not 1 <= number <= len(frames)
        or not isinstance(frames[number - 1], dict)
    ):
        raise FileRefused(f"there is no picture {number} in the case")
    return frames[number - 1]


def _key(mapping: Any, plain: str) -> str:
    """Return a key as the author spells it."""
    return next((key for key in mapping if isinstance(key, str) and plain_key(key) == plain), plain)


def _list(frame: Any, kind: Kind) -> Any:
    from ruamel.yaml.comments import CommentedSeq

    key = _key(frame, kind)
    if not isinstance(frame.get(key), list):
        put(frame, key, CommentedSeq())
    return frame[key]


def _at(boxes: Any, place: int) -> Any:
    if not 0 <= place < len(boxes) or not isinstance(boxes[place], dict):
        raise FileRefused("there is no such box in the case any more; load the page again")
    return boxes[place]


def _entry(kind: Kind, box: Box, why: str) -> Any:
    from ruamel.yaml.comments import CommentedMap

    if kind == "keep" and not why:
        raise FileRefused("what stays in view needs a reason, such as: scale bar")
    entry = CommentedMap(box=_flow(box))
    if why:
        entry["why"] = why
    entry.fa.set_flow_style()
    return entry


def _flow(box: Box) -> Any:
    from ruamel.yaml.comments import CommentedSeq

    # As text: the tree knows no numbers, and would write `!!int` before one.
    figures = CommentedSeq(map(str, box))
    figures.fa.set_flow_style()
    return figures
