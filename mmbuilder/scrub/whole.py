"""The plan of a whole case, from what was found in its words and in its pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.scrub import outside_pictures, stills
from mmbuilder.scrub.plan import PixelBox, RedactionPlan


def whole(
    words: RedactionPlan, folder: CaseFolder, boxes: Mapping[int, tuple[PixelBox, ...]]
) -> RedactionPlan:
    """Return the plan of a whole case.

    Args:
        words: what was found in its words.
        folder: the case.
        boxes: what was found in each picture that has anything, for readers elsewhere with its clocks.
    """
    return replace(
        words,
        images=boxes,
        detectors=(*words.detectors, *stills.finders(folder)),
        unchecked=(*words.unchecked, *stills.unchecked(folder), *outside_pictures.unchecked(folder)),
    )
