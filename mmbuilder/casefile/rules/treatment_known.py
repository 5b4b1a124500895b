"""A treatment is one that the scale knows, so that it can be held against the grade."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest
from mmbuilder.safe.terms import Scale

CODE = "unknown-treatment"
WHY = "the grade follows from the heaviest treatment; one that the scale does not know proves nothing"
GOOD = "outcome: {grades: [{scale: Clavien-Dindo, grade: II, treatments: [antibiotics, transfusion]}]}"
BAD = "outcome: {grades: [{scale: Clavien-Dindo, grade: II, treatments: [prayer]}]}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each treatment that is not on the scale's list."""
    from mmbuilder.clinic.severity.clavien_dindo import TREATMENTS

    for place, given in enumerate(ctx.case.outcome.grades):
        if given.scale is not Scale.CLAVIEN_DINDO:
            continue
        for at, treatment in enumerate(given.treatments):
            plain = " ".join(treatment.value.split()).casefold()
            if plain not in TREATMENTS:
                near = nearest(plain, tuple(TREATMENTS))
                yield Finding(
                    ("outcome", "grades", place, "treatments", at),
                    "Clavien-Dindo does not know this treatment by that name",
                    found="a word that is not on the list",
                    expected=f"did you mean `{near}`?" if near else f"one of: {', '.join(TREATMENTS)}",
                )
