"""Words that judge by what is known now are told, with a neutral way to put it; they are never changed."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "words-of-hindsight"
WHY = "what is known now was not known then; the room learns only from what could be seen"
GOOD = "learning: [The ooze was seen at 10:05 and named at 10:15]"
BAD = "learning: [It should have been obvious]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each such word; what is quoted is left alone."""
    from mmbuilder.review import hindsight

    for key, text in ctx.told:
        supposes = key == "counterfactual"
        for flag in hindsight.find(text.value, counterfactual=supposes, asked=key == "ask"):
            yield Finding(
                text.path,
                f"`{key}` holds the word '{flag.word}': {flag.why}",
                expected=f"such as: {flag.neutral}",
                severity=Severity.WARN,
            )
