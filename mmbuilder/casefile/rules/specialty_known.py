"""The specialty is one there is a pack for."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest
from mmbuilder.packs import meant, specialties

CODE = "unknown-specialty"
WHY = "the pack gives the deck its phases, prompts and the order of its slides"
GOOD = "specialty: General-Surgery"
BAD = "specialty: general surgry"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a specialty without a pack, with the nearest there is."""
    if meant(ctx.case.specialty) is None:
        known = specialties()
        near = nearest(ctx.case.specialty, known)
        yield Finding(
            ("specialty",),
            "there is no pack for this specialty",
            found="a name that is not on the list",
            expected=(f'did you mean "{near}"? ' if near else "") + f"One of: {', '.join(known)}",
            example=f"specialty: {near or next(iter(known), 'general surgery')}",
        )
