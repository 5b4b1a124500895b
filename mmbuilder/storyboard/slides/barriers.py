"""Barriers in the order in which the case lists them: what did not stop it, or what did.

A case tells no single path: a barrier that held may have stood on another way than the one the
complication took. So it is drawn as the stop only if a grade says that no harm came of it; else
the drawing keeps to what failed or was absent, and what held is told in words.
"""

from __future__ import annotations

from mmbuilder.analysis.barriers import Barrier, Barriers
from mmbuilder.safe.case import Factor, Grade, ScrubbedCase
from mmbuilder.safe.terms import BarrierState, Course, FactorRole, Scale, term
from mmbuilder.safe.terms import grade as graded
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Diagram, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("barriers: the case names none that failed or was absent, and none that kept harm away")

_HARMLESS = {
    Scale.NCC_MERP: "ABCD",
    Scale.ICPS: ("none",),
    Scale.AHRQ: ("none evident",),
}
"""Grades that say no harm came of it: the words of the scales; NCC MERP index of 2001, from memory."""

_COMPLICATION, _HARM = wording("The complication"), wording("Harm to the patient")
_NEAR_MISS = wording("The near miss")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    case = context.case
    named = _named(case)
    held = tuple(bar for bar in named if bar.state is BarrierState.HELD)
    spared = case.course is Course.NEAR_MISS or any(map(_harmless, case.outcome.grades))
    stopped = bool(held) and spared
    drawn = named if stopped else tuple(bar for bar in named if bar not in held)
    if not drawn:
        return ()
    diagram = Diagram(
        Barriers(_start(case), drawn, _HARM if stopped else _reached(case)),
        join(" ", (EMPTY if stopped else _aside(case, held), _unsaid(case))),
    )
    notes = (wording("Which of these would the room make stronger first?"),)
    return (Slide("barriers", _headline(named), (diagram,), notes, context.seconds),)


def _start(case: ScrubbedCase) -> SafeText:
    """Return the index event, by its short form if it has one; of a near miss the hazard."""
    if case.course is Course.NEAR_MISS:
        return wording("The hazard")
    return next((event.label for event in case.events if event.what == case.zero and event.label), case.zero)


def _named(case: ScrubbedCase) -> tuple[Barrier, ...]:
    """Every barrier with its state, once, of factors that played a part."""
    bars = (Barrier(f.barrier, f.barrier_state) for f in _barred(case) if f.barrier_state)
    return tuple(dict.fromkeys(bars))


def _barred(case: ScrubbedCase) -> tuple[Factor, ...]:
    acting = (FactorRole.ROOT, FactorRole.CONTRIBUTORY)
    return tuple(factor for factor in case.factors if factor.barrier and factor.role in acting)


def _harmless(grade: Grade) -> bool:
    return any(grade.grade == graded(grade.scale, value) for value in _HARMLESS.get(grade.scale, ()))


def _reached(case: ScrubbedCase) -> SafeText:
    """What lies behind barriers of which none is drawn as the stop: of a near miss it is no harm."""
    return _NEAR_MISS if case.course is Course.NEAR_MISS else _COMPLICATION


def _aside(case: ScrubbedCase, held: tuple[Barrier, ...]) -> SafeText:
    if held:
        return _held(held)
    near = case.course is Course.NEAR_MISS
    return wording("No harm came of it; which barrier held is not recorded.") if near else EMPTY


def _held(held: tuple[Barrier, ...]) -> SafeText:
    return sentence(fill("Held, and not drawn: {bars}", bars=join("; ", (bar.what for bar in held))))


def _unsaid(case: ScrubbedCase) -> SafeText:
    unsaid = [factor.barrier for factor in _barred(case) if not factor.barrier_state]
    return sentence(fill("State not said: {bars}", bars=join("; ", unsaid))) if unsaid else EMPTY


def _headline(named: tuple[Barrier, ...]) -> SafeText:
    """`Five barriers: one failed, three absent, one held`, as a sentence; of one, `One barrier, absent`."""
    if len(named) == 1:
        return sentence(capital(fill("one barrier, {state}", state=term(named[0].state))))
    told = []
    for state in (BarrierState.FAILED, BarrierState.ABSENT, BarrierState.HELD):
        count = sum(bar.state is state for bar in named)
        if count:
            told.append(counted(count, term(state), term(state)))
    bars = counted(len(named), wording("barrier"), wording("barriers"))
    return sentence(capital(fill("{bars}: {told}", bars=bars, told=join(", ", told))))
