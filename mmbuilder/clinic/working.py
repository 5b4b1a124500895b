"""Find a measure by its name, read its inputs, work it out over every range."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise, product
from math import isfinite
from typing import Protocol, cast

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Kind, Many, Measured, Raw, Value, Written, WrittenRange
from mmbuilder.clinic.measure import Answer, Example, Result, Worked, plainly
from mmbuilder.registry import discover

REQUIRED = ("NAME", "INPUTS", "FORMULA", "SOURCE", "CAUTION", "EXAMPLES", "work")
MAX_RANGES = 6
"""Inputs that may be ranges at once: all their points are worked out together."""


class Measure(Protocol):
    """A file under `measures/` (see `measure`)."""

    NAME: str
    INPUTS: Mapping[str, Kind]
    FORMULA: str
    SOURCE: str
    CAUTION: str
    EXAMPLES: tuple[Example, ...]

    def work(self, **given: Value) -> Result:
        """Work it out."""
        ...


@cache
def catalogue() -> Mapping[str, Measure]:
    """Every measure there is, by its name."""
    found = discover("mmbuilder.clinic.measures", *REQUIRED).values()
    return {leaf.NAME: cast(Measure, leaf) for leaf in sorted(found, key=lambda leaf: str(leaf.NAME))}


def find(name: str) -> Measure | None:
    """The measure of that name; capitals and spaces do not matter."""
    return catalogue().get(" ".join(name.replace("_", " ").split()).casefold())


def work(name: str, given: Mapping[str, Raw]) -> Worked:
    """Work out a measure.

    Args:
        name: of the measure.
        given: what the author wrote, by the name of the input.

    Raises:
        InputFault: an input is missing, unknown, or cannot be used; all of them are told.
        KeyError: there is no such measure.
    """
    measure = find(name)
    if measure is None:
        raise KeyError("no such measure")
    values = _read(measure, given)
    ranged = [key for key, ends in values.items() if len(ends) > 1]
    if len(ranged) > MAX_RANGES:
        raise InputFault(Fault("", f"{len(ranged)} ranges", f"at most {MAX_RANGES} at once"))
    points = (_points(measure.INPUTS[key], ends) for key, ends in values.items())
    results = [_result(measure, dict(zip(values, at, strict=True))) for at in product(*points)]
    joined = _joined(results)
    return Worked(
        **vars(joined),
        name=measure.NAME,
        inputs=tuple((key, _shown(measure.INPUTS[key], values[key])) for key in given_keys(measure, given)),
        formula=measure.FORMULA,
        source=measure.SOURCE,
        caution=measure.CAUTION,
    )


def gather(pairs: Iterable[tuple[str, str]]) -> dict[str, Raw]:
    """Gather inputs; a name that comes again makes a list."""
    gathered: dict[str, list[str]] = {}
    for name, value in pairs:
        gathered.setdefault(" ".join(name.split()).casefold(), []).append(value.strip())
    return {name: values[0] if len(values) == 1 else values for name, values in gathered.items()}


def given_keys(measure: Measure, given: Mapping[str, Raw]) -> list[str]:
    """The inputs that were given, in the order of the measure."""
    return [key for key in measure.INPUTS if key in given]


def _read(measure: Measure, given: Mapping[str, Raw]) -> dict[str, tuple[Value, ...]]:
    faults = [
        Fault(key, "an input it does not have", ", ".join(measure.INPUTS))
        for key in given
        if key not in measure.INPUTS
    ]
    faults += _two_ways(measure, given)
    values: dict[str, tuple[Value, ...]] = {}
    for key, kind in measure.INPUTS.items():
        if key not in given:
            if kind.required:
                faults.append(Fault(key, "nothing", "this input", example=_example(measure, key)))
            values[key] = (None,)
            continue
        try:
            values[key] = kind.read(key, given[key])
        except InputFault as fault:
            faults += (_of_a_case(one, measure, key) for one in fault.faults)
    if faults:
        raise InputFault(*faults)
    return values


_DECIMAL_COMMA = re.compile(r"(?<![\d.,])(?:\d+,\d{1,2}|0,\d+)(?![\d.,])")
_THREE_BEHIND = re.compile(r"(?<![\d.,])[1-9]\d{0,2}[.,]\d{3}(?![\d.,])")
"""Three figures behind a sign: thousands, or decimals."""


def _two_ways(measure: Measure, given: Mapping[str, Raw]) -> Iterator[Fault]:
    """Yield each figure whose sign may part thousands, where another one has a decimal comma."""
    written = {
        key: "; ".join([raw] if isinstance(raw, str) else raw)
        for key, raw in given.items()
        if isinstance(getattr(kind := measure.INPUTS.get(key), "kind", kind), Measured)
    }
    if any(map(_DECIMAL_COMMA.search, written.values())):
        for key in filter(lambda key: _THREE_BEHIND.search(written[key]), written):
            yield Fault(
                key,
                "a figure that can be read in two ways, beside one with a decimal comma",
                "nothing between thousands, and one sign for decimals",
                "one way is a thousand times the other",
                _example(measure, key),
            )


def _of_a_case(fault: Fault, measure: Measure, key: str) -> Fault:
    """A figure that can be of a patient, where a kind of input knows only what it may lie between."""
    told = _example(measure, key)
    return replace(fault, example=told) if isinstance(measure.INPUTS[key], Measured) else fault


def _example(measure: Measure, key: str) -> str:
    told = next((example.given[key] for example in measure.EXAMPLES if key in example.given), "")
    return f"{key}: {told if isinstance(told, str) else ', '.join(told)}"


def _points(kind: Kind, ends: tuple[Value, ...]) -> list[Value]:
    """What is worked out of a range: its ends, where its formula turns, and the middles between these."""
    if len(ends) == 1:
        return list(ends)
    low, high = ends
    turns = kind.turns if isinstance(kind, Measured) else ()
    inside = [at for at in turns if isinstance(low, float) and isinstance(high, float) and low < at < high]
    stops: list[Value] = [low, *inside, high]
    return [low, *(point for one, other in pairwise(stops) for point in (_middle(one, other), other))]


def _middle(one: Value, other: Value) -> Value:
    if isinstance(one, float) and isinstance(other, float):
        return (one + other) / 2
    if isinstance(one, tuple) and isinstance(other, tuple):
        return tuple(_middle(*both) for both in zip(one, other, strict=True))
    return one


def _result(measure: Measure, given: Mapping[str, Value]) -> Result:
    try:
        result = measure.work(**{key.replace(" ", "_"): value for key, value in given.items()})
    except ArithmeticError:
        raise InputFault(_NO_NUMBER) from None
    if not all(isfinite(end) for answer in result.answers + result.disputed for end in answer.value):
        raise InputFault(_NO_NUMBER)
    return result


_NO_NUMBER = Fault("the inputs", "figures from which no number comes", "figures that can be of one patient")


def _joined(results: Sequence[Result]) -> Result:
    """The results over every range as one: each answer from its lowest to its highest."""
    first = results[0]
    if len(results) == 1:
        return first
    return replace(
        first,
        answers=_ranged([result.answers for result in results]),
        disputed=_ranged([result.disputed for result in results]),
        steps=tuple(dict.fromkeys(step for end in _ends(results) for step in end.steps)),
        notes=tuple(dict.fromkeys(note for result in results for note in result.notes)),
    )


def _ends(results: Sequence[Result]) -> tuple[Result, Result]:
    """The results with the lowest and the highest number: their steps show where a range comes from."""
    return min(results, key=lambda one: _first(one)[0]), max(results, key=lambda one: _first(one)[1])


def _first(result: Result) -> tuple[float, float]:
    return (result.answers or result.disputed)[0].value


def _ranged(every: Sequence[tuple[Answer, ...]]) -> tuple[Answer, ...]:
    return tuple(_spread(same) for same in zip(*every, strict=True))


def _spread(same: tuple[Answer, ...]) -> Answer:
    """One answer over all points: of figures the range, of words all there were, of both both."""
    figures, words = [one for one in same if not one.words], [one for one in same if one.words]
    if not figures:
        return replace(_span(words), words=_all_words(words))
    span = _span(figures)
    return replace(span, words=f"{span.figure()} or {_all_words(words)}") if words else span


def _span(same: Sequence[Answer]) -> Answer:
    low, high = min(same, key=lambda one: one.value[0]), max(same, key=lambda one: one.value[1])
    return replace(low, value=(low.value[0], high.value[1]), digits=max(low.digits, high.digits))


def _all_words(same: Sequence[Answer]) -> str:
    """Words with an order from the lowest to the highest, so that none between is left unsaid."""
    low, high = min(same, key=lambda one: one.value[0]), max(same, key=lambda one: one.value[1])
    if low.value[0] < high.value[1]:
        return f"{low.words} to {high.words}"
    return " or ".join(dict.fromkeys(one.words for one in same))


def _shown(kind: Kind, ends: tuple[Value, ...]) -> str:
    """An input as it was understood. Of a notation of its own only that it was given: it may hold words."""
    inner = kind.kind if isinstance(kind, Many) else kind
    if isinstance(inner, Written) and not isinstance(inner, WrittenRange):
        (value,) = ends
        told = value if isinstance(kind, Many) and isinstance(value, tuple) else (value,)
        return "; ".join(map(inner.shown, told)) if inner.shown else "as it was written"
    unit = f" {inner.unit}" if isinstance(inner, Measured) else ""
    return " to ".join(_plain(end) for end in ends) + unit


def _plain(value: Value) -> str:
    if isinstance(value, tuple):
        with_unit = len({type(part) for part in value}) > 1
        between = " " if with_unit else "; " if isinstance(value[0], float) else ", "
        return between.join(_plain(part) for part in value)
    return plainly(value) if isinstance(value, float) else str(value)
