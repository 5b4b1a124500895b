"""The handout of a case, as the tests ask for it."""

from __future__ import annotations

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.terms import Use
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import Storyboard


def compose_handout(case: ScrubbedCase, use: Use | None = None, *, working: bool = False) -> Storyboard:
    """The first paper of a use."""
    return compose_papers(case, compose(case, use), use, working=working)[0].board
