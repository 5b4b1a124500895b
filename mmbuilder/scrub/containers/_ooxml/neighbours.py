"""Text boxes that a reader reads as one line: what only both together say is replaced in both.

A name may have its first part in one box and its last in the next, a number its label. Boxes that stand side by
side, or one right under the other, are read together where both are short, as labels are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

from mmbuilder.scrub.containers._ooxml.paragraphs import scrub_together, text_of
from mmbuilder.scrub.containers._ooxml.shapes import Box, place
from mmbuilder.scrub.containers._ooxml.work import LABEL, Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, q

NEAR = 457_200
"""EMU between two boxes: half an inch, with the margin that each keeps round its words (a tenth)."""
ALONG = 0.5
"""Share of the smaller one's side that both have in common."""


@dataclass(frozen=True)
class _Words:
    """A text box of one short paragraph."""

    box: Box
    paragraph: Element


def scrub_neighbours(scene: Scene) -> None:
    """Scrub every two neighbouring boxes as one text; before each is scrubbed alone."""
    boxes = [*_boxes(scene)]
    for first, second in permutations(boxes, 2):
        if _beside(first.box, second.box) or _under(first.box, second.box):
            scrub_together(scene, first.paragraph, second.paragraph)


def _boxes(scene: Scene) -> Iterator[_Words]:
    for tree in scene.tree.iter(q("p:spTree")):
        for shape, box in place(tree):
            spoken = [paragraph for paragraph in shape.iter(q("a:p")) if text_of(paragraph).strip()]
            if shape.tag == q("p:sp") and len(spoken) == 1 and len(text_of(spoken[0])) <= LABEL:
                yield _Words(box, spoken[0])


def _beside(one: Box, other: Box) -> bool:
    """Whether another box goes on to the right."""
    return -NEAR < other[0] - one[2] < NEAR and _common(one, other, 1) and other[0] > one[0]


def _under(one: Box, other: Box) -> bool:
    """Whether another box goes on below."""
    return -NEAR < other[1] - one[3] < NEAR and _common(one, other, 0) and other[1] > one[1]


def _common(one: Box, other: Box, side: int) -> bool:
    shared = min(one[side + 2], other[side + 2]) - max(one[side], other[side])
    return shared > ALONG * min(one[side + 2] - one[side], other[side + 2] - other[side])
