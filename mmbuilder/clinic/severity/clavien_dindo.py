"""Clavien-Dindo: a complication is as severe as the heaviest treatment it needed.

Dindo D, Demartines N, Clavien PA. Ann Surg 2004;240:205-213. Rules READ in later printings of its table,
check-values.md D1 [S73]; treatments marked otherwise come from the tables of examples [S76, S77].
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mmbuilder.clinic.measures.complication_index import WEIGHTS
from mmbuilder.clinic.severity import implied as common
from mmbuilder.clinic.severity.implied import NOT_APPLICABLE, Implied, closed

SCALE = "Clavien-Dindo"
ORDER = (*WEIGHTS, "V")
"""Grades from the lightest; the index of complications weighs the same ones."""

RULES = {
    "I": (
        "off the normal course, but no treatment beyond antiemetics, antipyretics, painkillers, diuretics, "
        "electrolytes and physiotherapy, or a wound opened at the bedside"
    ),
    "II": "other drugs, or blood, or feeding into a vein",
    "IIIa": "an operation, endoscopy or radiological intervention without general anaesthesia",
    "IIIb": "an operation, endoscopy or radiological intervention under general anaesthesia",
    "IVa": "life in danger, in intermediate or intensive care, with one organ failing",
    "IVb": "life in danger, in intermediate or intensive care, with more than one organ failing",
    "V": "death",
}
_RULE = "Clavien-Dindo 2004, definitions"
_S76 = "a published table of examples, Crit Care"
_S77 = "a published table of examples, BMJ Open"


@dataclass(frozen=True)
class Treatment:
    """A treatment as the scale sees it.

    Attributes:
        grade: the one it gives alone.
        organ: which organ it stands in for, if any: two of them are more than one organ failing.
        source: where its place was seen.
    """

    grade: str
    organ: str = ""
    source: str = _RULE


def _all(grade: str, *words: str, source: str = _RULE) -> dict[str, Treatment]:
    return {word: Treatment(grade, source=source) for word in words}


TREATMENTS: dict[str, Treatment] = {
    **_all("I", "none", "observation", "antiemetic", "antipyretic", "painkiller", "diuretic", "electrolytes"),
    **_all("I", "physiotherapy", "wound opened at the bedside"),
    **_all("I", "intravenous fluid", source=_S77),
    **_all("II", "transfusion", "parenteral nutrition", "other drug"),
    **_all("II", "antibiotics", "anticoagulant", source=_S77),
    **_all("II", "antiarrhythmic", "stomach tube", source=_S76),
    **_all("IIIa", "operation without general anaesthesia", "endoscopy without general anaesthesia"),
    **_all("IIIa", "radiological intervention without general anaesthesia"),
    **_all("IIIa", "chest drain", "flatus tube", "pacing wire", source=_S76),
    **_all("IIIb", "operation under general anaesthesia", "endoscopy under general anaesthesia"),
    **_all("IIIb", "radiological intervention under general anaesthesia"),
    **_all("IIIb", "electrical cardioversion", source=_S76),
    "dialysis or filtration": Treatment("IVa", "kidney"),
    "ventilation": Treatment("IVa", "lung", _S76),
    "inotrope or vasopressor in intensive care": Treatment("IVa", "circulation", _S76),
    "intensive care for stroke or brain haemorrhage": Treatment("IVa", "brain"),
    "intensive care for one organ failing": Treatment("IVa"),
    "intensive care for several organs failing": Treatment("IVb"),
    **_all("V", "death"),
}
"""Every word a treatment may be given by. A look that changes nothing (a scan, a diagnostic endoscopy) is
observation: only what treats counts [S77]."""


def implied(treatments: Iterable[str], *, at_discharge: bool | None = None) -> Implied | None:
    """Return the grade of ONE complication from all treatments it needed, or None if none is given.

    Args:
        treatments: words of `TREATMENTS`; all for the same complication. Two treatments of one
            complication make one grade, that of the heavier.
        at_discharge: whether it was still there when the patient left; None if that is not known.

    Raises:
        ValueError: a word that is not in `TREATMENTS`.
    """
    given = {word: closed(word, TREATMENTS) for word in treatments}
    if not given:
        return None
    heaviest = max(given, key=lambda word: ORDER.index(given[word].grade))
    grade, because = given[heaviest].grade, heaviest
    source = given[heaviest].source
    organs = sorted({treatment.organ for treatment in given.values()} - {""})
    if grade == "IVa" and len(organs) > 1:
        grade, because, source = "IVb", f"support of {' and '.join(organs)}", _S76
    rule = RULES[grade]
    if at_discharge and grade != "V":
        grade, rule = f"{grade}d", f"{rule}; d, as it was still there at discharge"
    note = "Whether it was still there at discharge (suffix d) is not known." if at_discharge is None else ""
    return Implied(SCALE, grade, because, rule, source, note if grade != "V" else "")


def challenge(stated: str, given: Implied | None) -> str | None:
    """Return what to say where the stated grade is not the one implied; a suffix d not known is let stand."""
    if given is not None and given.note and stated == f"{given.grade}d":
        return None
    return common.challenge(stated, given)


def headline(grades: Iterable[str]) -> str | None:
    """Return the highest grade of several complications; of equals the one with d."""
    counted = [grade for grade in grades if grade != NOT_APPLICABLE]
    return max(
        counted, key=lambda grade: (ORDER.index(grade.removesuffix("d")), grade.endswith("d")), default=None
    )


def challenge_headline(stated: str, grades: Iterable[str]) -> str | None:
    """Return what to say where the grade in the headline is not the highest of the complications."""
    highest = headline(grades)
    if highest is None or stated == highest:
        return None
    return (
        f"the headline says {SCALE} {stated}, and the heaviest complication is {highest}; the headline is "
        "the highest grade, each complication keeps its own"
    )
