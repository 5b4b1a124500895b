"""The patient and the plan: ages pooled over 89, sex and side from closed lists, the rest scrubbed words."""

from __future__ import annotations

import re

from mmbuilder.case import model
from mmbuilder.case.freetext import FreeText
from mmbuilder.safe import case as safe
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import EMPTY, SafeText
from mmbuilder.scrub.crossing.words import Words
from mmbuilder.scrub.surrogates import OVER_89

_YEARS = re.compile(r"(\d{1,3})[\s-]*(?:y|yo|y/o|yrs?|years?)?\.?[\s-]*(?:old)?", re.IGNORECASE)
_DECADE = re.compile(r"(\d{1,2}0)['’]?s")
_YOUNG = re.compile(r"\d{1,3}\s*(?:hours?|days?|weeks?|months?|mo|w|d|m)(?:\s*old)?", re.IGNORECASE)
_POOLED = 90
"""45 CFR 164.514(b)(2)(i)(C): ages over 89."""


def patient(raw: model.Patient, words: Words) -> safe.Patient:
    """Carry the patient across."""
    age, decade = ages(raw.age, words)
    return safe.Patient(
        age=age,
        age_decade=decade,
        sex=raw.sex,
        side=raw.side,
        weight=words.safe(raw.weight),
        height=words.safe(raw.height),
        history=words.every(raw.history),
        negatives=words.every(raw.negatives),
    )


def ages(raw: FreeText | None, words: Words) -> tuple[SafeText, SafeText]:
    """Return (age, decade): `71` and `70s`, `90 or older` twice, `8 months` and `under 10`.

    An age in other words is scrubbed as they are, and has no decade.
    """
    if raw is None:
        return EMPTY, EMPTY
    written = raw.value.strip()
    if found := _YEARS.fullmatch(written):
        return _in_years(int(found[1]))
    if (decade := _DECADE.fullmatch(written)) and int(decade[1]) >= _POOLED:
        return SafeText(KEY, OVER_89), SafeText(KEY, OVER_89)
    age = words.safe(raw)
    if decade:
        return age, age
    return age, SafeText(KEY, "under 10") if _YOUNG.fullmatch(written) else EMPTY


def _in_years(years: int) -> tuple[SafeText, SafeText]:
    if years >= _POOLED:
        return SafeText(KEY, OVER_89), SafeText(KEY, OVER_89)
    decade = f"{years // 10 * 10}s" if years >= 10 else "under 10"
    return SafeText(KEY, str(years)), SafeText(KEY, decade)


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
