"""For the chair: the running clock, where the room is stopped, and the questions with their answers."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.safe.case import Decision, ScrubbedCase
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, number, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Cell, Facts, Slide, Storyboard, Table
from mmbuilder.storyboard.timing import Timed, timing


def make(deck: Storyboard, case: ScrubbedCase) -> Storyboard:
    """Return the chair's copy of a deck."""
    return replace(deck, slides=(_clock(deck), *_questions(case)))


def at(seconds: int) -> SafeText:
    """A running clock: `4:30` is four and a half minutes from the start."""
    return fill("{m}:{s}", m=seconds // 60, s=number(seconds % 60, "02d"))


def named(timed: Timed) -> SafeText:
    """Return a slide by the numbers of its sheets and its headline: `3. The plan.`, `3-4. The plan.`."""
    first, last = timed.sheets[0], timed.sheets[-1]
    if first == last:
        return fill("{n}. {headline}", n=first, headline=timed.slide.headline)
    return fill("{n}–{last}. {headline}", n=first, last=last, headline=timed.slide.headline)


def _clock(deck: Storyboard) -> Slide:
    timed = timing(deck)
    table = Table(
        header=(wording("Clock"), wording("Slide"), wording("Time")),
        rows=tuple(map(_row, timed.slides)),
        shares=(1, 8, 1.2),
        caption=fill("The running order; it ends at {end}", end=at(timed.budget)),
    )
    return Slide("running_order", wording("The clock runs like this."), (table,))


def _row(timed: Timed) -> tuple[Cell, ...]:
    stamp = wording("PAUSE") if timed.slide.pause else EMPTY
    return (
        Cell(at(timed.starts), strong=True),
        Cell(named(timed), stamp),
        Cell(at(timed.slide.seconds)),
    )


def _questions(case: ScrubbedCase) -> tuple[Slide, ...]:
    """The questions to the room, each decision's first, with what the presenter would say."""
    asked = [(one.question, _chosen(one)) for one in case.decisions]
    own = [(one.ask, _answer(one.answer, term(one.sure) if one.sure else EMPTY)) for one in case.questions]
    if not asked and not own:
        return ()
    facts = Facts(tuple((question, answer_or_none(answer)) for question, answer in asked + own))
    chair = Bullets(
        (
            wording("Juniors first; the presenter answers last."),
            wording("Past tense, no verdict; systems before persons."),
            wording("Leave the last three minutes to the actions."),
        ),
        wording("For the chair"),
    )
    return (
        Slide(
            "question_list", wording("These are the questions, with the presenter's answers."), (facts, chair)
        ),
    )


def _chosen(decision: Decision) -> SafeText:
    """What the team chose, and why: the reason alone does not say which option it is for."""
    chosen = fill("The team chose: {chosen}", chosen=sentence(decision.options[decision.chosen].what))
    return join(" ", (chosen, sentence(decision.because)))


def answer_or_none(text: SafeText) -> SafeText:
    """The answer, or that there is none."""
    return text or wording("no answer given")


def _answer(answer: SafeText, sure: SafeText) -> SafeText:
    return fill("{answer} (how sure: {sure})", answer=answer, sure=sure) if answer and sure else answer
