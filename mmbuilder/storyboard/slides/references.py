"""References; for paper, never for a slide at the end."""

from __future__ import annotations

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.text import SafeText, fill, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("references: the case lists none")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part."""
    references = context.case.references
    if not references:
        return ()
    return (Slide("references", sentence(heading(context.case)), (Bullets(references, numbered=True),)),)


def heading(case: ScrubbedCase) -> SafeText:
    """Name the list `References` only where the author cites one of them by its number, `[1]`."""
    report = case.report
    words = (report.importance, *report.introduction, *report.discussion, report.strengths)
    numbers = (fill("[{n}]", n=n) for n in range(1, len(case.references) + 1))
    cited = any(number.within(text) for number in numbers for text in words)
    return wording("References") if cited else wording("Further reading")
