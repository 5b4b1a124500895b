"""Treatments, and for ClassIntra symptoms, are words of the scale, to be held against the grade."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import Scale

CODE = "unknown-treatment"
WHY = "the grade follows from treatment and symptoms; a word that the scale does not know proves nothing"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
outcome: {grades: [{scale: Clavien-Dindo, grade: II, treatments: [antibiotics, transfusion],
  by: audit lead, when: same day}]}
"""
BAD = "outcome: {grades: [{scale: Clavien-Dindo, grade: II, treatments: [prayer]}]}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each word that its scale does not have."""
    if not any(given.treatments or given.symptoms for given in ctx.case.outcome.grades):
        return
    from mmbuilder.clinic.severity import classintra, clavien_dindo

    known = {
        Scale.CLAVIEN_DINDO: clavien_dindo.TREATMENTS.keys(),
        Scale.CLASSINTRA: classintra.TREATMENT.keys(),
    }
    for place, given in enumerate(ctx.case.outcome.grades):
        here: Path = ("outcome", "grades", place)
        if given.scale in known:
            for at, treatment in enumerate(given.treatments):
                yield from _unknown((*here, "treatments", at), treatment, known[given.scale], given.scale)
        elif given.treatments:
            yield _unheard((*here, "treatments"), given.scale)
        if given.scale is Scale.CLASSINTRA and given.symptoms is not None:
            yield from _unknown((*here, "symptoms"), given.symptoms, classintra.SYMPTOMS.keys(), given.scale)
        elif given.symptoms is not None:
            yield _unheard((*here, "symptoms"), given.scale)


def _unheard(path: Path, scale: Scale) -> Finding:
    """What the scale does not ask for is held against nothing."""
    of_harm = scale is not Scale.CLAVIEN_DINDO
    return Finding(
        path,
        f"{scale.value} does not go by this, so the grade is not held against it",
        expected="the facts under `harm`" if of_harm else "the treatments it needed",
        example="harm:\n  symptoms: mild\n  care: monitoring" if of_harm else "treatments: antibiotics",
        severity=Severity.WARN,
        at_key=True,
    )


def _unknown(path: Path, word: FreeText, known: Collection[str], scale: Scale) -> Iterator[Finding]:
    if word.plain not in known:
        near = nearest(word.plain, tuple(known))
        yield Finding(
            path,
            f"{scale.value} does not know this by that name",
            found="a word that is not on the list",
            expected=f"did you mean `{near}`?" if near else f"one of: {', '.join(known)}",
        )
