"""Figures of the clinic: inputs stay behind, what came out crosses in the tool's own words.

The printed inputs are figures and closed words as they were understood, never what the author typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from mmbuilder.case import model
from mmbuilder.clinic import Answer, Worked, gather, work
from mmbuilder.safe import case as safe
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, figured, fill, ours


def computed(raw: Sequence[model.Computation]) -> Iterator[safe.Computed]:
    """Work out each figure.

    Raises:
        InputFault, KeyError: it cannot be worked out (the check of the case refuses that).
    """
    for one in raw:
        worked = work(one.what.value, gather((item.name.value, item.value.value) for item in one.given))
        yield crossed(worked)


def crossed(worked: Worked) -> safe.Computed:
    """Carry across what came out of a figure."""
    return safe.Computed(
        name=_own(worked.name),
        answers=_answers(worked.answers),
        disputed=_answers(worked.disputed),
        inputs=tuple((_own(name), _figure(value)) for name, value in worked.inputs),
        steps=tuple(map(_figure, worked.steps)),
        notes=tuple(map(_figure, worked.notes)),
        formula=_own(worked.formula),
        source=_own(worked.source),
        caution=_own(worked.caution),
    )


def _answers(answers: Iterable[Answer]) -> tuple[SafeText, ...]:
    return tuple(_answer(answer) for answer in answers)


def _answer(answer: Answer) -> SafeText:
    figure = _figure(answer.figure())
    return fill("{label}: {figure}", label=_figure(answer.label), figure=figure) if answer.label else figure


def _figure(words: str) -> SafeText:
    """Figures with words of ours among them."""
    return figured(KEY, words)


def _own(words: str) -> SafeText:
    return ours(KEY, words)
