"""Everything in a case that may identify somebody, as a plan: places and stand-ins, never the text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import chain
from math import ceil, floor

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Frame
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import CaseInvalid
from mmbuilder.problem import Problem
from mmbuilder.scrub import declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.layers import Finder, Memory, NoMemory, NoNameModel, Patterns
from mmbuilder.scrub.plan import PixelBox, RedactionPlan, Span
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.standins import Dates, lettered
from mmbuilder.scrub.walk import Texts, digest

UNCHECKED = (
    "places and employers that nobody declared",
    "times of day within sentences",
    "circumstances that single somebody out: rare diagnosis, occupation, family ties, press reports",
    "text burned into pictures, except where the author drew a box",
    "faces, tattoos, jewellery and other marks in pictures",
    "reflections in metal, glass or the eye",
    "voices and names in sound",
)
"""What no layer of this stage looks at."""


def propose(
    folder: CaseFolder, *, names: Finder | None = None, memory: Memory | None = None
) -> RedactionPlan:
    """Find what may identify somebody in every text of a case.

    Args:
        folder: the case.
        names: a model for names; none reads nothing, and the plan says so.
        memory: a memory of the whole document; likewise.

    Raises:
        CaseInvalid: the code of the case, which names the files, names somebody.
        MMBuilderError: a detector failed.
    """
    index = Index(folder.declared)
    _check_code(folder, index)
    texts = Texts(folder.case)
    model, recall, patterns = names or NoNameModel(), memory or NoMemory(), Patterns()
    listed = [item.value for item in texts.items]
    found = _layers(listed, index, patterns, model, recall)
    return RedactionPlan(
        texts=_settled(folder, texts, found),
        images=_boxes(folder.case.frames),
        detectors=(declared.NAME, *patterns.names, model.name, recall.name),
        unchecked=(*model.unchecked, *recall.unchecked, *UNCHECKED),
        case=digest(folder, texts),
    )


def spans(text: str, index: Index, patterns: Patterns | None = None) -> tuple[Span, ...]:
    """Return what is to be replaced in one text that belongs to no case (a file made elsewhere)."""
    by_pattern = (patterns or Patterns()).find([text])[0]
    settled = settle(text, [*index.find(text), *by_pattern])
    return tuple(lettered([text], [settled], _FIRST_FREE)[0])


_FIRST_FREE = 10_000
"""Groups from here on are of people found by title; declared ones are numbered below."""


def _layers(
    texts: Sequence[str], index: Index, patterns: Patterns, model: Finder, memory: Memory
) -> list[list[Span]]:
    layers = [[index.find(text) for text in texts], patterns.find(texts), model.find(texts)]
    found = [[*chain.from_iterable(of_one)] for of_one in zip(*layers, strict=True)]
    again = memory.find(texts, found)
    return [[*first, *more] for first, more in zip(found, again, strict=True)]


def _settled(folder: CaseFolder, texts: Texts, found: list[list[Span]]) -> Mapping[Path, tuple[Span, ...]]:
    dates = Dates(folder.case)
    settled = []
    for item, spans_ in zip(texts.items, found, strict=True):
        told = [dates.told(item.path, item.value, span) for span in settle(item.value, spans_)]
        settled.append(settle(item.value, told))
    named = lettered([item.value for item in texts.items], settled, _FIRST_FREE)
    pairs = zip(texts.items, named, strict=True)
    return {item.path: tuple(of_one) for item, of_one in pairs if of_one}


def _boxes(frames: Sequence[Frame]) -> Mapping[int, tuple[PixelBox, ...]]:
    """Return what the author drew to be covered, widened to whole pixels."""
    boxes = {}
    for number, frame in enumerate(frames, 1):
        drawn = [_box(*cover.box) for cover in frame.cover]
        if drawn:
            boxes[number] = tuple(sorted(drawn))
    return boxes


def _box(left: float, top: float, width: float, height: float) -> PixelBox:
    return PixelBox(floor(left), floor(top), ceil(left + width), ceil(top + height))


def _check_code(folder: CaseFolder, index: Index) -> None:
    """Refuse a code that names somebody: it names every file that is written."""
    if not index.hits(folder.case.code):
        return
    problem = Problem(
        file=str(folder.root / "case.yaml"),
        line=0,
        column=0,
        code="code-names-somebody",
        text="the code of this case holds something listed in identifiers.yaml",
        found="a declared name, place or number in `code`",
        expected="a neutral code",
        why="the code names every file that is written, and file names are read by everybody",
        example="code: eye-02",
    )
    raise CaseInvalid([problem])
