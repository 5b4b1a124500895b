"""A figure by each of the records that do not agree: every result, never a mean and never a choice."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from mmbuilder.clinic.faults import InputFault
from mmbuilder.clinic.inputs import Many, Raw
from mmbuilder.clinic.measure import Answer, Worked, in_full
from mmbuilder.clinic.units import Amount, amount, same_kind
from mmbuilder.clinic.working import find, work

_MANY_OF = re.compile(r"\s*(\d{1,3})\s*[x×*]\s*(.+)", re.DOTALL)
_BEHIND = re.compile(r"(?<![\w.,/:–-])\d+(?:[.,]\d+)*\s*[^\W\d_%][^\s,;()]*")
"""A figure with the word behind it."""
_EXACT = 12
"""Significant figures to which two amounts are compared, so that 1 mg and 1,000 µg are one."""


def leading(text: str) -> Amount | None:
    """Read the amount that stands first in a text, such as `10 mg IV`, or the only one behind a name.

    None where there is none, or several behind a name: which of them is meant is not guessed.
    """
    found = _amount(text)
    if found is not None:
        return _with_unit(found)
    behind = [_with_unit(one) for one in map(_amount, _BEHIND.findall(text)) if one is not None]
    amounts = [one for one in behind if one is not None]
    return amounts[0] if len(amounts) == 1 else None


def _with_unit(found: Amount) -> Amount | None:
    """The amount with the unit that its words begin with; none at all is left for others to ask about."""
    if _known(found.unit):
        return found
    unit = found.unit.partition(" ")[0].rstrip(",;.")
    return replace(found, unit=unit) if _known(unit) else None


def _amount(text: str) -> Amount | None:
    try:
        return amount("", text, "10 mg")
    except InputFault:
        return None


def _known(unit: str) -> bool:
    return bool(unit) and same_kind(unit, unit)


def alike(one: Amount, other: Amount) -> bool:
    """Whether two amounts are the same, in whatever units."""
    if not same_kind(one.unit, other.unit):
        return False
    ends = zip(one.within(other.unit), (other.low, other.high), strict=True)
    return all(f"{first:.{_EXACT}g}" == f"{second:.{_EXACT}g}" for first, second in ends)


def written(found: Amount) -> str:
    """An amount as an input may have it: `0.1 mg`, `14-16 mL`."""
    ends = dict.fromkeys((found.low, found.high))
    return f"{'-'.join(in_full(end, _EXACT) for end in ends)} {found.unit}"


def by_records(name: str, given: Mapping[str, Raw], told: Amount, others: Sequence[Amount]) -> Worked | None:
    """Work a figure out with what one record tells, and with each other record put in its place.

    Args:
        name: of the figure.
        given: its inputs; one of them is `told`. Of `3 x 0.1 mg` one dose is taken to be it.
        told: the amount that other records tell differently.
        others: what they tell.

    Returns:
        One result in which every answer holds all that come out; None where not exactly one input
        is `told`, so that nobody can know which to change.

    Raises:
        InputFault: a record gives an amount that the figure cannot be worked out from.
    """
    places = dict(_places(name, given, told))
    if len(places) != 1:
        return None
    key, (swapped, unit) = next(iter(places.items()))
    results = [work(name, given)]
    for other in others:
        there = Amount(*other.within(unit), unit)
        results.append(work(name, {**given, key: _put(swapped, written(there))}))
    first = results[0]
    answers = _each(tuple(zip(*(result.answers for result in results), strict=False)))
    disputed = tuple(dict.fromkeys(one for result in results for one in result.disputed))
    shown = [dict(result.inputs).get(key, "") for result in results]
    return replace(
        first,
        answers=answers,
        disputed=disputed,
        inputs=tuple(
            (at, " or ".join(dict.fromkeys(shown)) if at == key else value) for at, value in first.inputs
        ),
        steps=tuple(dict.fromkeys(step for result in results for step in result.steps)),
        notes=(*dict.fromkeys(note for result in results for note in result.notes), _OPEN),
    )


_OPEN = "Records conflict: the result by each of them is told, and none is chosen."
_HERE: None = None
"""What stands among the inputs where the records conflict."""


def _places(
    name: str, given: Mapping[str, Raw], told: Amount
) -> Iterator[tuple[str, tuple[list[str | None], str]]]:
    """Yield each input that `told` is a part of, with the first such part taken out of it, and its unit."""
    measure = find(name)
    if measure is None:
        return
    for key, raw in given.items():
        kind = measure.INPUTS.get(key)
        parts = kind.parts(raw) if isinstance(kind, Many) else [raw] if isinstance(raw, str) else []
        for place, part in enumerate(parts):
            count, found = _told(part)
            if count and found is not None and alike(found, told):
                # Of three doses, two are left beside the one in dispute.
                left = [f"{count - 1} x {written(found)}"] if count > 1 else []
                yield key, ([*parts[:place], *left, _HERE, *parts[place + 1 :]], found.unit)
                break


def _told(part: str) -> tuple[int, Amount | None]:
    """Read `0.1 mg`, or `3 x 0.1 mg` with its number."""
    many = _MANY_OF.fullmatch(part)
    return (int(many[1]), _amount(many[2])) if many else (1, _amount(part))


def _put(parts: list[str | None], other: str) -> Raw:
    filled = [other if part is None else part for part in parts]
    return filled[0] if len(filled) == 1 else filled


def _each(answers: Sequence[tuple[Answer, ...]]) -> tuple[Answer, ...]:
    return tuple(_one(same) for same in answers)


def _one(same: Sequence[Answer]) -> Answer:
    """`0.3 or 1.2 mg, unresolved`; the answer as it is where every record gives the same."""
    figures = list(dict.fromkeys(answer.figure() for answer in same))
    if len(figures) == 1:
        return same[0]
    unit = f" {same[0].unit}"
    if same[0].unit and all(figure.endswith(unit) for figure in figures):
        figures = [*(figure.removesuffix(unit) for figure in figures[:-1]), figures[-1]]
    return replace(same[0], words=f"{' or '.join(figures)}, unresolved")
