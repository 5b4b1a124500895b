"""The handout of a case, as the tests ask for it."""

from __future__ import annotations

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.terms import Use
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import Storyboard


def compose_handout(case: ScrubbedCase, use: Use | None = None, *, working: bool = False) -> Storyboard:
    """The paper of a use that tells the most."""
    papers = {
        paper.slug: paper.board for paper in compose_papers(case, compose(case, use), use, working=working)
    }
    return papers.get("handout") or papers["notes"]
