"""What the name model and the memory leave alone in a case: references, words that open a label.

Declared names and patterns are not spared anywhere. What is spared stays listed, for the reviewer.
"""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.case.freetext import Path
from mmbuilder.scrub.context import opens_sentence
from mmbuilder.scrub.plan import Decision, Layer, Span

SURE = 0.765
"""Confidence from which a capital that opens a sentence still counts: a score of 0.9 of the model."""

LABEL = 3
"""Words of the longest label."""


def spare(path: Path, text: str, span: Span) -> Span:
    """Return the span, kept where the model or the memory has too little to go by."""
    if span.layer not in (Layer.MODEL, Layer.MEMORY) or span.decision is Decision.KEEP:
        return span
    if path[:1] == ("references",):
        return replace(
            span, decision=Decision.KEEP, reason="in a reference: authors and journals are published"
        )
    if span.layer is Layer.MODEL and span.letter == "A" and not _shown(text, span):
        return replace(
            span, decision=Decision.KEEP, reason="one word, with nothing to show that it is a name"
        )
    return span


def _shown(text: str, span: Span) -> bool:
    """Whether a single word is shown to be a name by its capital, its neighbours or a very high score."""
    said = text[span.start : span.end]
    if " " in said.strip():
        return True
    if said[:1].islower():
        return False
    label = len(text.split()) <= LABEL
    capital = not opens_sentence(text, span.start)
    sure = span.confidence >= SURE
    return (capital and sure if label else capital or sure) or _with_people(text, span)


def _with_people(text: str, span: Span) -> bool:
    from mmbuilder.scrub.keep import persons
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.passage import Passage

    passage = Passage.of(text, load())
    first, last = passage.span(span.start, span.end)
    return (
        persons.acts(passage, last) or persons.titled(passage, first) or persons.role_before(passage, first)
    )
