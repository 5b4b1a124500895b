"""How the case is understood beside what is published, and where that ends."""

from __future__ import annotations

from mmbuilder.safe.text import EMPTY, SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Slide
from mmbuilder.storyboard.context import Context, filled

MISSING = wording("discussion: the case has neither points nor references for it")

_MOST_CITED = 3
"""References on a slide; all of them stand on paper. Common practice, no source."""


def make(context: Context) -> tuple[Slide, ...]:
    """One slide: the points, else the mechanism; the first references; strengths and limits."""
    case = context.case
    mechanism = case.mechanism.steps if case.mechanism is not None else ()
    rows = (
        (wording("Discussion"), join(" ", map(sentence, case.report.discussion or mechanism))),
        (wording("Literature"), _cited(case.references)),
        (wording("Limits"), sentence(case.report.strengths) if case.report.strengths else EMPTY),
    )
    told = filled(rows)
    if not told.rows:
        return ()
    notes = (wording("One minute: what is known, what this case adds, what it cannot show."),)
    headline = wording("This is what the case adds, and what it cannot show.")
    return (Slide("discussion", headline, (told,), notes, context.seconds),)


def _cited(references: tuple[SafeText, ...]) -> SafeText:
    cited = enumerate(references[:_MOST_CITED], 1)
    return join(" ", (fill("[{n}] {reference}", n=n, reference=sentence(one)) for n, one in cited))
