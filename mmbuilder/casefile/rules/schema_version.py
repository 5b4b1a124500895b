"""The file says which version of the keys it was written for."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import SCHEMA_VERSION
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "schema-version"
WHY = "a key may mean something else in another version"
GOOD = "mmbuilder: 1"
BAD = "mmbuilder: 2"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a version this program does not know."""
    given = ctx.case.mmbuilder
    if given != SCHEMA_VERSION:
        newer = given > SCHEMA_VERSION
        yield Finding(
            ("mmbuilder",),
            "this version of the keys is not known",
            found=f"version {given}",
            expected=f"version {SCHEMA_VERSION}" + ("; a newer program may read it" if newer else ""),
            example=f"mmbuilder: {SCHEMA_VERSION}",
        )
