"""How the case is understood beside what is published, and where that ends."""

from __future__ import annotations

from mmbuilder.safe.text import EMPTY, join, sentence, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Slide
from mmbuilder.storyboard.context import Context, facts

MISSING = wording("discussion: the case has neither points nor references for it")

_MOST_CITED = 3
"""References on a slide; all of them stand on paper. Common practice, no source."""


def make(context: Context) -> tuple[Slide, ...]:
    """One slide: what is known, the points, else the mechanism; strengths and limits; the first references.

    What is known comes here and not with why the case matters, where it would answer a later pause.
    """
    case = context.case
    mechanism = case.mechanism.steps if case.mechanism is not None else ()
    wanted = context.planned.facts
    lines = (
        ("known", wording("Known"), join(" ", map(sentence, case.report.introduction))),
        ("discussion", wording("Discussion"), join(" ", map(sentence, case.report.discussion or mechanism))),
        ("limits", wording("Limits"), sentence(case.report.strengths) if case.report.strengths else EMPTY),
    )
    told = facts(lines, wanted)
    cited = case.references[:_MOST_CITED] if not wanted or "literature" in wanted else ()
    blocks: list[Block] = [told] if told.rows else []
    if cited:
        blocks.append(Bullets(cited, wording("Literature"), numbered=True))
    if not blocks:
        return ()
    notes = (wording("One minute: what is known, what this case adds, what it cannot show."),)
    headline = wording("This is what the case adds, and what it cannot show.")
    return (Slide("discussion", headline, tuple(blocks), notes, context.seconds),)
