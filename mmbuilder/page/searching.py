"""The search for identifiers as the page has it done, in processes of its own.

Words and pictures are looked at apart: words are found in a second or two, pictures in a few
seconds each. Decisions about words are applied afterwards (`scrub.decided`), so that deciding
begins no new search.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from mmbuilder.case.decided import Decisions
from mmbuilder.casefile import load
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.plan import PixelBox, RedactionPlan


def in_words(root: Path, use: Use) -> RedactionPlan:
    """Return what is found in the words of a case for a use, before any decision about it.

    Raises:
        MMBuilderError: as for `scrub.propose`.
    """
    from mmbuilder.scrub.propose import in_words as found_in_words

    return found_in_words(replace(load(root, use), decided=Decisions()))


def in_pictures(root: Path) -> Mapping[int, tuple[PixelBox, ...]]:
    """Return what is found in the pictures of a case, with what its author drew.

    Raises:
        FileRefused: a picture cannot be read, or cannot be covered for certain.
    """
    from mmbuilder.scrub import stills

    return stills.boxes(load(root))
