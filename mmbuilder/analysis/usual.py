"""The reference range behind a series: for such a patient, in the unit of the series, or none."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from mmbuilder.analysis.values import times
from mmbuilder.clinic.possible import EYE, SIDES, words_of
from mmbuilder.packs.schema import Reference, Whom
from mmbuilder.safe.case import Patient
from mmbuilder.safe.terms import Sex, YesNo
from mmbuilder.safe.text import EMPTY, SafeText, join, number, wording


@dataclass(frozen=True)
class Usual:
    """A reference range; one end may be open."""

    low: float | None
    high: float | None
    unit: SafeText
    source: SafeText
    whom: SafeText

    @property
    def words(self) -> SafeText:
        """`10 to 21`, `up to 5`, `120 or more`."""
        return self._said(EMPTY)

    @property
    def with_unit(self) -> SafeText:
        """`10 to 21 mmHg`, `up to 5 mg/L`, `120 g/L or more`."""
        return self._said(self.unit)

    def _said(self, unit: SafeText) -> SafeText:
        low, high = (None if end is None else number(end, ".4g") for end in (self.low, self.high))
        if low is not None and high is not None:
            return join(" ", (low, wording("to"), high, unit))
        if high is not None:
            return join(" ", (wording("up to"), high, unit))
        return join(" ", (low or EMPTY, unit, wording("or more")))


@dataclass(frozen=True)
class NoUsual:
    """Why the ranges there are for a measure do not hold here."""

    why: SafeText


def find_usual(
    name: SafeText, unit: SafeText, references: Sequence[Reference], patient: Patient
) -> Usual | NoUsual | None:
    """Return the range for a measure, why there is none, or None if nothing is known of the measure."""
    meant = [found for found in references if _means(found, name)]
    if not meant:
        return None
    whom = _whom(patient)
    meant = [found for found in meant if found.whom is whom]
    if not meant:
        return NoUsual(_NONE[whom])
    whose = [found for found in meant if found.sex in (None, patient.sex)]
    if not whose and patient.sex in (Sex.NOT_STATED, Sex.OTHER):
        return NoUsual(wording("it differs by sex, and the sex is not stated"))
    for found in whose:
        factor = times(name, found.safe_unit, unit)
        if factor is not None:
            low, high = (None if end is None else end * factor for end in (found.low, found.high))
            return Usual(low, high, unit, found.safe_source, _IN[whom])
    return NoUsual(
        wording("the figures are in another unit") if unit else wording("the figures have no unit")
    )


def _means(found: Reference, name: SafeText) -> bool:
    """Whether a range is for this measure; on which side of the body it was taken does not matter."""
    side = SIDES | EYE
    plain = words_of(name.reveal()) - side
    return bool(plain) and any(words_of(other) - side == plain for other in found.names)


_IN = {
    Whom.ADULT: wording("in healthy adults"),
    Whom.CHILD: wording("in healthy children"),
    Whom.PREGNANCY: wording("in pregnancy"),
}
_NONE = {
    Whom.ADULT: wording("there is none for adults here"),
    Whom.CHILD: wording("there is none for children here, and that of adults does not hold"),
    Whom.PREGNANCY: wording("there is none for pregnancy here, and that of others does not hold"),
}
_CHILD = re.compile(r"month|week|day|hour|infant|child|neonate|newborn|baby|toddler|teen|adolesc|preterm")
_ADULT = 16
"""From this age on ranges of adults are drawn, as NEWS2 is used (RCP 2017, from memory)."""


def _whom(patient: Patient) -> Whom:
    """What kind of range holds for the patient; an age that is not told is taken for an adult's."""
    if patient.pregnant is YesNo.YES:
        return Whom.PREGNANCY
    age = patient.age.reveal().casefold()
    years = re.search(r"\d+", age)
    young = _CHILD.search(age) is not None or (years is not None and int(years[0]) < _ADULT)
    return Whom.CHILD if young else Whom.ADULT
