"""Who reviewed, by role."""

from __future__ import annotations

from mmbuilder.safe.terms import Reviewer, term
from mmbuilder.safe.text import EMPTY, SafeText, fill


def reviewers(roles: str) -> SafeText:
    """Return who reviewed, by role: `consultant and audit lead`.

    Raises:
        ValueError: a role is not of the closed list.
    """
    known = [term(Reviewer(role)) for role in roles.split(" and ") if role]
    if len(known) < 2:
        return known[0] if known else EMPTY
    return fill("{one} and {other}", one=known[0], other=known[1])
