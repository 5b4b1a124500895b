"""What a case holds and no slide tells: nobody should miss it only in the room.

The events of the timeline are not among it: each has its mark on the whole chart.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass
from typing import TypeAlias

from mmbuilder.analysis.timeline import MOST_LINES
from mmbuilder.safe.case import Factor, Reflection, Report, ScrubbedCase, Visit
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.terms import FactorRole
from mmbuilder.safe.text import EMPTY, SafeText, fill, inline, join, wording
from mmbuilder.storyboard.blocks import Slide, Storyboard, TimeChart

_Item: TypeAlias = tuple[SafeText | SafeImage, ...]
"""What has to be there for one thing to be told."""


@dataclass(frozen=True)
class Untold:
    """Things of one sort that stand on no slide.

    Attributes:
        what: the sort, in the plural.
        left: how many stand on no slide, of how many.
        on_paper: whether each of them stands on a paper.
    """

    what: SafeText
    left: int
    of: int
    on_paper: bool

    @property
    def told(self) -> SafeText:
        """`2 of 6 causes`, `visits (on paper)`."""
        some = fill("{left} of {of} {what}", left=self.left, of=self.of, what=self.what)
        count = self.what if self.left == self.of else some
        return join(" ", (count, wording("(on paper)") if self.on_paper else EMPTY))


def untold(
    case: ScrubbedCase, slides: Iterable[Slide], papers: Iterable[Storyboard] = ()
) -> tuple[Untold, ...]:
    """Return what of a case stands on none of these slides, by its sort."""
    shown = _Shown.of(slides)
    paper = _Shown.of(slide for board in papers for slide in board.slides)
    found = []
    for what, items in _sorts(case):
        left = [item for item in items if not shown.holds(item)]
        if left:
            found.append(Untold(what, len(left), len(items), all(map(paper.holds, left))))
    return tuple(found)


@dataclass(frozen=True)
class _Shown:
    """Everything that some slides show."""

    words: SafeText
    images: tuple[SafeImage, ...]

    @classmethod
    def of(cls, slides: Iterable[Slide]) -> _Shown:
        parts = [part for slide in slides for part in _parts((slide.headline, slide.blocks))]
        words = join("\n", (part for part in parts if isinstance(part, SafeText)))
        return cls(words, tuple(part for part in parts if isinstance(part, SafeImage)))

    def holds(self, item: _Item) -> bool:
        """Whether all of it is there."""
        return all(
            any(part is image for image in self.images)
            if isinstance(part, SafeImage)
            else inline(part).within(self.words)
            for part in item
        )


def _parts(part: object) -> Iterator[SafeText | SafeImage]:
    """Yield words and pictures in depth; of a chart the lines of readings that it draws."""
    if isinstance(part, SafeText | SafeImage):
        yield part
    elif isinstance(part, TimeChart):
        yield from (line.name for line in part.chart.timeline.series[:MOST_LINES])
    elif isinstance(part, tuple):
        for item in part:
            yield from _parts(item)
    elif is_dataclass(part):
        for field in fields(part):
            yield from _parts(getattr(part, field.name))


def _sorts(case: ScrubbedCase) -> Iterator[tuple[SafeText, list[_Item]]]:
    """Yield each sort of thing that a case holds, with what tells each of them."""
    patient, plan, outcome = case.patient, case.plan, case.outcome
    acting = [one for one in case.factors if one.role in (FactorRole.ROOT, FactorRole.CONTRIBUTORY)]
    sorts: tuple[tuple[SafeText, Iterable[_Item]], ...] = (
        (wording("pictures"), ((frame.image,) for frame in case.frames)),
        (
            wording("decisions with their alternatives"),
            (tuple(option.what for option in decision.options) for decision in case.decisions),
        ),
        (wording("causes"), ((factor.what,) for factor in acting)),
        (wording("incidental causes"), _of_role(case.factors, FactorRole.INCIDENTAL)),
        (wording("causes considered and excluded"), _of_role(case.factors, FactorRole.EXCLUDED)),
        (wording("visits"), map(_visit, outcome.visits)),
        (wording("grades"), ((one.complication or one.grade,) for one in outcome.grades)),
        (wording("things still watched"), ((watch.what,) for watch in outcome.monitoring)),
        (wording("things that held"), ((one.what,) for one in case.held)),
        (wording("learning points"), ((point,) for point in case.learning)),
        (wording("actions"), ((action.what,) for action in case.actions)),
        (wording("previous actions"), ((action.what,) for action in case.previous)),
        (wording("questions"), ((question.ask,) for question in case.questions)),
        (wording("answers of the presenter"), ((question.answer,) for question in case.questions)),
        (wording("steps of the rescue"), ((step,) for step in case.rescue)),
        (
            wording("steps of how it came about"),
            ((step,) for step in (case.mechanism.steps if case.mechanism else ())),
        ),
        (wording("lines of the history"), ((line,) for line in patient.history)),
        (wording("things that were not present"), ((line,) for line in patient.negatives)),
        (wording("findings"), ((line,) for line in plan.findings)),
        (wording("risks foreseen"), ((line,) for line in plan.foreseen)),
        (wording("things said to the patient"), ((line,) for line in plan.told)),
        (wording("lines of readings"), ((line.name,) for line in case.series)),
        (wording("computed figures"), ((one.name,) for one in case.computed)),
        (wording("decisions of a meeting"), ((line,) for one in case.meetings for line in one.decided)),
        (wording("lines of the reflection"), _reflected(case.reflection)),
        (wording("texts for the written report"), _reported(case.report)),
        (wording("references"), ((line,) for line in case.references)),
    )
    for what, items in sorts:
        if written := [item for item in items if any(item)]:
            yield what, written


def _of_role(factors: Iterable[Factor], role: FactorRole) -> Iterator[_Item]:
    return ((factor.what,) for factor in factors if factor.role is role)


def _visit(visit: Visit) -> _Item:
    """What was said of it, or what was measured where nothing was said."""
    return (visit.note,) if visit.note else tuple(measure.value for measure in visit.measures)


def _reflected(reflection: Reflection | None) -> Iterator[_Item]:
    if reflection is not None:
        yield from ((thought.thought,) for thought in reflection.thoughts)
        for line in (*reflection.feelings, *reflection.control, *reflection.escalate, reflection.change):
            yield (line,)


def _reported(report: Report) -> Iterator[_Item]:
    alone = (report.importance, report.strengths, report.patient_words)
    return ((line,) for line in (*report.introduction, *report.discussion, *alone))
