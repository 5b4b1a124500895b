"""The patient and the plan: ages pooled over 89, sex and side from closed lists, the rest scrubbed words."""

from __future__ import annotations

from mmbuilder.case import model
from mmbuilder.case.age import read_age
from mmbuilder.case.freetext import FreeText
from mmbuilder.safe import case as safe
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import EMPTY, SafeText, fill, ours, wording
from mmbuilder.scrub.crossing.words import Words
from mmbuilder.scrub.surrogates import OVER_89

UNDER_TEN, TEENS = wording("under 10"), wording("10 to 19")


def patient(raw: model.Patient, words: Words) -> safe.Patient:
    """Carry the patient across."""
    age, decade = ages(raw.age, words)
    read = read_age(raw.age.value) if raw.age is not None else None
    return safe.Patient(
        age=age,
        age_decade=decade,
        child=read is not None and read.child,
        sex=raw.sex,
        side=raw.side,
        weight=words.safe(raw.weight),
        height=words.safe(raw.height),
        history=words.every(raw.history),
        negatives=words.every(raw.negatives),
        pregnant=raw.pregnant,
    )


def ages(raw: FreeText | None, words: Words) -> tuple[SafeText, SafeText]:
    """Return (age, decade): `71` and `70s`, `90 or older` twice, `8 months` and `under 10`.

    An age that cannot be read does not cross: `[age]` stands for it. The check of the case refuses it.
    """
    if raw is None:
        return EMPTY, EMPTY
    age = read_age(raw.value)
    if age is None:
        return SafeText(KEY, "[age]"), EMPTY
    if age.pooled:
        return ours(KEY, OVER_89), ours(KEY, OVER_89)
    if age.years is None:
        return words.safe(raw), EMPTY
    return SafeText(KEY, str(age.years)) if age.exact else words.safe(raw), _decade(age.years)


def _decade(years: int) -> SafeText:
    """`70s`; the two decades before the twenties have no such name."""
    if years < 10:
        return UNDER_TEN
    return fill("{tens}s", tens=years // 10 * 10) if years >= 20 else TEENS


def plan(raw: model.Plan, words: Words) -> safe.Plan:
    """Carry across what was intended, foreseen and said."""
    return safe.Plan(
        procedure=words.safe(raw.procedure),
        indication=words.safe(raw.indication),
        anaesthesia=words.safe(raw.anaesthesia),
        findings=words.every(raw.findings),
        foreseen=words.every(raw.foreseen),
        told=words.every(raw.told),
    )
