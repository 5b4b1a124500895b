"""The search for identifiers in words, as the page has it done in a process of its own.

Words are found in a second or two, pictures in a few seconds each (`looking`). Decisions about words
are applied afterwards (`scrub.decided`), so that deciding begins no new search.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from mmbuilder.case.decided import Decisions
from mmbuilder.casefile import load
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.plan import RedactionPlan


def in_words(root: Path, use: Use) -> RedactionPlan:
    """Return what is found in the words of a case for a use, before any decision about it.

    Raises:
        MMBuilderError: as for `scrub.propose`.
    """
    from mmbuilder.scrub.propose import in_words as found_in_words

    return found_in_words(replace(load(root, use), decided=Decisions()))
