"""Decisions and the questions put to the room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mmbuilder.case import model
from mmbuilder.safe import case as safe
from mmbuilder.safe.moment import Moment
from mmbuilder.scrub.crossing.references import References
from mmbuilder.scrub.crossing.words import Words


def decisions(
    raw: Sequence[model.Decision], words: Words, known: References, times: Sequence[Moment]
) -> Iterator[safe.Decision]:
    """Yield the decisions, numbered from 1."""
    for number, decision in enumerate(raw, 1):
        event = known.event(decision.at)
        yield safe.Decision(
            number=number,
            event=event,
            at=times[event - 1],
            question=words.safe(decision.question),
            options=tuple(
                safe.Option(words.safe(option.option), words.safe(option.reason))
                for option in decision.options
            ),
            chosen=chosen(decision),
            because=words.safe(decision.because),
            visible=words.every(decision.visible),
            fallback=words.safe(decision.fallback),
            trigger=words.safe(decision.trigger),
            counterfactual=words.safe(decision.counterfactual),
            sure=decision.sure,
        )


def chosen(decision: model.Decision) -> int:
    """Return which option was taken, from 0: named by its words, or by its place from 1.

    Raises:
        ValueError: it names none (the check of the case refuses that).
    """
    said = _plain(decision.chosen.value)
    named = [_plain(option.option.value) for option in decision.options]
    if said in named:
        return named.index(said)
    if said.isdecimal() and 1 <= int(said) <= len(named):
        return int(said) - 1
    raise ValueError("the chosen option is none of those listed")


def _plain(text: str) -> str:
    return " ".join(text.casefold().split()).rstrip(".")


def questions(raw: Sequence[model.Question], words: Words) -> Iterator[safe.Question]:
    """Yield the questions with the presenter's own answers."""
    for question in raw:
        yield safe.Question(words.safe(question.ask), words.safe(question.answer), question.sure)
