"""What was chosen was one of the options."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Decision
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "chosen-not-an-option"
WHY = "the slide shows the options first and then marks the one that was taken"
WIDE = True  # an option that was refused may be the one chosen
GOOD = """
decisions: [{at: sign, question: "What now?", chosen: Convert, because: Quickest,
  options: [{option: Pack and wait, reason: It often stops}, {option: convert, reason: A better view}]}]
"""
BAD = """
decisions: [{at: sign, question: "What now?", chosen: 3, because: Quickest,
  options: [{option: Pack and wait, reason: It often stops}, {option: Convert, reason: A better view}]}]
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each decision whose choice is neither the words nor the number of an option."""
    for place, decision in enumerate(ctx.case.decisions):
        if not _among(decision):
            count = len(decision.options)
            yield Finding(
                ("decisions", place, "chosen"),
                f"what was chosen in decision {place + 1} is not one of its options",
                found="other words, or a number past the last option",
                expected=f"the words of an option as written there, or its number: 1 to {count}",
                example="chosen: 1",
            )


def _among(decision: Decision) -> bool:
    chosen = decision.chosen.value.casefold()
    if chosen.isascii() and chosen.isdigit():
        return 1 <= int(chosen[:6]) <= len(decision.options)
    return chosen in [option.option.value.casefold() for option in decision.options]
