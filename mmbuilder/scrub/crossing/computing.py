"""Figures of the clinic: inputs stay behind, what came out crosses in the tool's own words.

The printed inputs are figures and closed words as they were understood, never what the author typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from mmbuilder.case import model
from mmbuilder.clinic import Answer, gather, work
from mmbuilder.safe import case as safe
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, fill, ours


def computed(raw: Sequence[model.Computation]) -> Iterator[safe.Computed]:
    """Work out each figure.

    Raises:
        InputFault, KeyError: it cannot be worked out (the check of the case refuses that).
    """
    for one in raw:
        worked = work(one.what.value, gather((item.name.value, item.value.value) for item in one.given))
        yield safe.Computed(
            name=_own(worked.name),
            answers=_answers(worked.answers),
            disputed=_answers(worked.disputed),
            inputs=tuple((_own(name), _own(value)) for name, value in worked.inputs),
            steps=tuple(map(_own, worked.steps)),
            notes=tuple(map(_own, worked.notes)),
            formula=_own(worked.formula),
            source=_own(worked.source),
            caution=_own(worked.caution),
        )


def _answers(answers: Iterable[Answer]) -> tuple[SafeText, ...]:
    return tuple(_answer(answer) for answer in answers)


def _answer(answer: Answer) -> SafeText:
    figure = _own(answer.figure())
    return fill("{label}: {figure}", label=_own(answer.label), figure=figure) if answer.label else figure


def _own(words: str) -> SafeText:
    return ours(KEY, words)
