"""The search for identifiers as the page has it done in a process of its own."""

from __future__ import annotations

from pathlib import Path

from mmbuilder.casefile import load
from mmbuilder.scrub.plan import RedactionPlan


def search(root: Path) -> RedactionPlan:
    """Return the plan of a case folder, found as a build finds it.

    Raises:
        MMBuilderError: as for `scrub.propose`.
    """
    from mmbuilder.scrub import propose

    return propose(load(root))
