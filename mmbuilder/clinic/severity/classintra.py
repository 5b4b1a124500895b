"""ClassIntra: events between skin incision and skin closure, rated directly after surgery.

Dell-Kuster S et al. BMJ 2020;370:m2917. Definitions, window and what is not counted READ in a later printing
of its table, check-values.md D3 [S81]. The words for treatment and symptoms are the table's own.
"""

from __future__ import annotations

import re

from mmbuilder.clinic.severity import implied as common
from mmbuilder.clinic.severity.implied import NOT_APPLICABLE, Implied, closed

SCALE = "ClassIntra"
SOURCE = "ClassIntra v1.0, BMJ 2020;370:m2917"
ORDER = ("0", "I", "II", "III", "IV", "V")

RULES = {
    "0": "the ideal course",
    "I": "off the ideal course, no extra treatment, no or mild symptoms",
    "II": "minor extra treatment; moderate symptoms, neither life-threatening nor leaving disability",
    "III": "moderate extra treatment; severe symptoms, which may threaten life or leave disability",
    "IV": "major extra treatment; life-threatening, or leaving permanent disability",
    "V": "death during the operation",
}
TREATMENT = {"none": "I", "minor": "II", "moderate": "III", "major": "IV"}
"""Extra treatment that the event needed."""

SYMPTOMS = {
    "none": "I",
    "mild": "I",
    "moderate": "II",
    "severe": "III",
    "perhaps life-threatening": "III",
    "perhaps disabling": "III",
    "life-threatening": "IV",
    "disabling for good": "IV",
    "death": "V",
}
"""What the patient had of it."""

NOT_COUNTED = {
    "sequela": "a later consequence is not an event of the operation",
    "failure to cure": "the disease that is still there is not an event",
    "underlying disease": "what the disease itself does is not an event",
    "wrong site": "operations at the wrong site are reported another way",
    "wrong patient": "operations on the wrong patient are reported another way",
    "wrong indication": "the indication must follow guidelines for the scale to be used",
}
"""What the scale leaves out, and why."""

_SPOKEN_OF = {
    "sequela": r"sequelae?|late (?:effect|consequence)s?|spätfolgen?|folgeschäden|folgeschaden",
    "failure to cure": r"failure to cure|residual (?:disease|tumou?r|stones?|cancer)|incomplete resection"
    r"|resttumor|reststeine?|inkomplette resektion",
    "underlying disease": r"underlying disease|(?:disease|tumou?r|cancer) progress(?:ion|ed)|progression of"
    r"|grunderkrankung|grundleiden|tumorprogress(?:ion)?",
    "wrong site": r"wrong[ -](?:site|side|level|eye|limb|leg|arm|hand|foot|knee|hip|finger|toe|tooth|kidney)"
    r"|falsche[mnrs]? (?:seite|stelle|höhe|etage|auge|bein|arm|hand|fuß|knie|hüfte|finger|zehe?|zahn|niere)"
    r"|seitenverwechslung|etagenfehler",
    "wrong patient": r"wrong[ -]patient|falsche[mnrs]? patient(?:in|en)?|patientenverwechslung",
    "wrong indication": r"wrong(?:ly)?[ -]indicat(?:ion|ed)|not indicated|no indication"
    r"|falsche indikation|nicht indiziert|keine indikation|fehlindikation",
}
"""How each of them is spoken of, in the languages of the decks; ours, of common practice."""


def in_window(minute: float, *, incision: float, closure: float) -> bool:
    """Whether an event lies between skin incision and skin closure, all in minutes on one clock."""
    return incision <= minute <= closure


def spoken_of(text: str) -> str | None:
    """Return which of `NOT_COUNTED` a complication is, by its words; None where it is none."""
    return next(
        (word for word, form in _SPOKEN_OF.items() if re.search(rf"\b(?:{form})\b", text, re.IGNORECASE)),
        None,
    )


def implied(
    treatment: str | None, symptoms: str | None, *, inside: bool = True, left_out: str | None = None
) -> Implied:
    """Return the grade of an event.

    Args:
        treatment: a word of `TREATMENT`; None where it is not told: the grade is then the least it can be.
        symptoms: a word of `SYMPTOMS`; None as well, but one of the two has to be told.
        inside: whether it lay between incision and closure.
        left_out: a word of `NOT_COUNTED`, if one fits.

    Raises:
        ValueError: a word that is in none of them, or neither is told.
    """
    if treatment is None and symptoms is None:
        raise ValueError("neither extra treatment nor symptoms are told")
    by_treatment = "I" if treatment is None else closed(treatment, TREATMENT)
    by_symptoms = "I" if symptoms is None else closed(symptoms, SYMPTOMS)
    if left_out is not None:
        return _not_applicable("an event of this kind", closed(left_out, NOT_COUNTED))
    if not inside:
        return _not_applicable(
            "an event before incision or after closure", "the scale runs from skin incision to skin closure"
        )
    grade = max(by_treatment, by_symptoms, key=ORDER.index)
    if symptoms is None:
        note = "Symptoms are not told; they may give more."
        return Implied(SCALE, grade, f"extra treatment ({treatment})", RULES[grade], SOURCE, note, least=True)
    if treatment is None:
        note = "Extra treatment is not told; it may give more."
        decides = f"what the patient had ({symptoms})"
        return Implied(SCALE, grade, decides, RULES[grade], SOURCE, note, least=grade != "V")
    note = (
        f"Treatment alone would give {by_treatment}, symptoms alone {by_symptoms}; the heavier is taken, "
        "which the definition leaves open."
        if by_treatment != by_symptoms and by_symptoms != "V"
        else ""
    )
    decides = (
        f"extra treatment ({treatment})" if grade == by_treatment else f"what the patient had ({symptoms})"
    )
    return Implied(SCALE, grade, decides, RULES[grade], SOURCE, note)


def challenge(stated: str, given: Implied | None) -> str | None:
    """Return what to say where the stated grade is not the one implied, or is below the least it can be."""
    if given is not None and given.least and stated in ORDER[ORDER.index(given.grade) :]:
        return None
    return common.challenge(stated, given)


def _not_applicable(because: str, rule: str) -> Implied:
    return Implied(SCALE, NOT_APPLICABLE, because, rule, SOURCE)
