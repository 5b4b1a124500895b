"""What a column of readings is and in which unit: proposed from its heading, else from its values.

The table is `form/quantities.yaml`. What was guessed from values is taken once the author says it is right.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from statistics import median

from mmbuilder.case.tidy import tidy
from mmbuilder.page.form.layout import read


@dataclass(frozen=True)
class Proposed:
    """What is proposed to call a column.

    Attributes:
        called: the quantity; empty where the heading fits several and the author has to say.
        unit: as it is written in a case; empty where nothing tells it.
        guessed: what of it was guessed from the values, in words; empty if the heading tells all.
        offers: the quantities that the heading may mean, where it does not say which.
    """

    called: str
    unit: str
    guessed: str = ""
    offers: tuple[str, ...] = ()


NOTHING = Proposed("", "")


@dataclass(frozen=True)
class _Quantity:
    name: str
    offers: tuple[str, ...]
    says: tuple[frozenset[str], ...]
    units: Mapping[str, tuple[float, float]]

    def fit(self, said: frozenset[str]) -> frozenset[str]:
        """The words of a heading that tell it: the most of its own that stand in there together."""
        return max((words for words in self.says if words <= said), key=len, default=frozenset())

    def unit_of(self, values: Sequence[float]) -> str:
        """The only unit in which these can be values of it; empty if there is none, or several."""
        middle = median(values) if values else float("nan")
        fits = [unit for unit, (low, high) in self.units.items() if low <= middle <= high]
        return fits[0] if len(fits) == 1 else ""


def proposed(heading: str, name: str, unit: str, values: Sequence[float]) -> Proposed:
    """Return what a column seems to be.

    Args:
        heading: as it stands in the file.
        name: the heading without its unit: what is proposed where no quantity is known.
        unit: what stands there for a unit.
        values: its readings.
    """
    told, fits = _unit_told(heading), _fitting(_words(heading))
    named = [(words, one) for words, one in fits if not told or told in one.units]
    can_be = [(words, one) for words, one in named if told or one.unit_of(values)] or named
    # A heading that names one comes before one that has to be asked about: `NIBP sys`.
    can_be = [(words, one) for words, one in can_be if one.name] or can_be
    if len(can_be) != 1:
        return Proposed(name, told or unit)
    words, one = can_be[0]
    by_value = "" if told else one.unit_of(values)
    remark = unit if not told and not re.search(r"[/%°\d]", unit) else ""
    called = f"{one.name} ({remark})" if one.name and _words(remark) - words else one.name
    guessed = [one.name] if one.name and [said for said, _ in named].count(words) > 1 else []
    guessed += [f"in {by_value}"] if by_value else []
    return Proposed(called, told or by_value or ("" if remark else unit), " ".join(guessed), one.offers)


def _fitting(said: frozenset[str]) -> list[tuple[frozenset[str], _Quantity]]:
    """The quantities of which most words stand in a heading, each with those words."""
    fits = [(one.fit(said), one) for one in _table()]
    most = max(len(words) for words, _ in fits)
    return [(words, one) for words, one in fits if words and len(words) == most]


def apart(proposals: Sequence[tuple[str, Proposed]]) -> list[Proposed]:
    """Return the proposals of the columns of a file; of those called alike each has its heading behind it.

    Args:
        proposals: the heading of each column and what it seems to be.
    """
    called = [one.called for _, one in proposals]
    return [
        replace(one, called=f"{one.called}, {heading}")
        if one.called and called.count(one.called) > 1
        else one
        for heading, one in proposals
    ]


def _words(heading: str) -> frozenset[str]:
    plain = tidy(heading.strip("\ufeff")).replace("₂", "2")
    return frozenset(re.findall(r"[^\W_]+", plain))


def _unit_told(heading: str) -> str:
    """The unit that a heading ends with, as a case writes it; empty where it ends with none that is known."""
    plain = "".join(tidy(heading.strip("\ufeff")).replace("₂", "2").split(" "))
    spaced = re.split(r"[\s_()\[\],;]+", tidy(heading.strip("\ufeff")).replace("₂", "2").rstrip(")] "))
    last = spaced[-1] if len(spaced) > 1 else "%" if plain.endswith("%") else ""
    two = "".join(spaced[-2:]) if len(spaced) > 2 else ""
    return next((unit for unit, forms in _spelt().items() if last in forms or two in forms), "")


@cache
def _table() -> tuple[_Quantity, ...]:
    return tuple(
        _Quantity(
            one.get("name", ""),
            tuple(one.get("offers", ())),
            tuple(_words(words) for words in one["says"]),
            {unit: (float(low), float(high)) for unit, (low, high) in one["units"].items()},
        )
        for one in read("quantities.yaml")["quantities"]
    )


@cache
def _spelt() -> Mapping[str, frozenset[str]]:
    return {unit: frozenset(forms) for unit, forms in read("quantities.yaml")["spelt"].items()}
