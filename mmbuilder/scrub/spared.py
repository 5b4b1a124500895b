"""What is left alone in a case: what references hold because it is published, words that open a label.

Declared names are not spared anywhere, and patterns only in references: their dates, journals' addresses and
listed authors. What is spared stays listed, for the reviewer.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from mmbuilder.case.freetext import Path
from mmbuilder.scrub.context import opens_sentence
from mmbuilder.scrub.plan import Decision, Layer, Span

SURE = 0.765
"""Confidence from which a capital that opens a sentence still counts: a score of 0.9 of the model."""

LABEL = 3
"""Words of the longest label."""


def spare(path: Path, text: str, span: Span) -> Span:
    """Return the span, kept where it is published, or where the model or the memory has too little to go by."""
    if span.layer is Layer.DECLARED or span.decision is Decision.KEEP:
        return span
    if path[:1] == ("references",):
        return replace(span, decision=Decision.KEEP, reason=PUBLISHED) if _published(text, span) else span
    if _author(text, span):
        return replace(span, decision=Decision.KEEP, reason=PUBLISHED)
    if span.layer is Layer.PATTERN:
        return span
    if span.layer is Layer.MODEL and span.letter == "A" and not _shown(text, span):
        return replace(
            span, decision=Decision.KEEP, reason="one word, with nothing to show that it is a name"
        )
    return span


def in_a_term(text: str, span: Span) -> Span:
    """Return the finding of a pattern, kept where it is a saint in a listed term that says more: `St Mark's solution`.

    Other places are found behind words of their own: in `transferred from Birmingham hip in plaster` no term is meant.
    """
    if span.letter != "B" or span.decision is Decision.KEEP or not _SAINT.match(text, span.start):
        return span
    from mmbuilder.scrub.keep.passage import term_around

    listed = term_around(text, span.start, span.end)
    return replace(span, decision=Decision.KEEP, reason=f"listed as {listed}") if listed else span


_SAINT = re.compile(r"st\.?\s", re.IGNORECASE)
PUBLISHED = "in a reference: authors, dates and journals are published"
_CITED = re.compile(
    r"(?:https?://(?:dx\.)?doi\.org/|doi:?\s?)?10\.\d{4,9}/\S+"  # DOI, ISO 26324
    r"|PM(?:ID|C):?\s?\d+|ISBN:?\s?[\dX-]{10,17}|ISSN:?\s?\d{4}-\d{3}[\dX]"
    r"|(?<!\w)(?:1[89]|20)\d\d(?!\d)[^;\n]{0,12};\s?\d+\s?(?:\([^)\n]{1,12}\))?(?::\s?[A-Z]?\d+(?:\s?[-–]\s?\d+)?)?",
    re.IGNORECASE,
)
"""What names a publication: DOI, PMID, ISBN, ISSN, and `2014;370(2):1198-208`."""
_AUTHOR = re.compile(r"[^\W\d_]+(?:[ '’-][^\W\d_]+)?\s[A-Z]{1,3}(?:,|\.\s)")
"""The first author with initials, which may be a state's letters as well: `Haynes AB, et al.` is nobody's town."""
_WITHIN = re.compile(
    r"pacs|intranet|sharepoint|localhost|\.(?:local|lan|internal|corp|home)(?![\w-])", re.IGNORECASE
)
"""An address of a house's own network is no journal's."""


_BY = r"[^\W\d_a-z][^\W\d_]+(?:[ '’-][^\W\d_a-z][^\W\d_]+)?\s[A-Z]{1,3}"
_REFERENCE = re.compile(
    rf"^[ \t]*(?:\[?\d{{1,3}}[\].)]?\s|[-•*·]\s?)?(?P<whole>{_BY}(?:(?:,\s|\s?&\s|,?\sand\s){_BY}){{0,40}}(?:,?\set\sal\.?)?[.:,]?"
    r"\s[^;\n]{0,400}?(?<!\w)(?:1[89]|20)\d\d[^;\n]{0,12};\s?\d+(?:\s?\([^)\n]{1,12}\))?:\s?[A-Z]?\d+(?:[-–]\d+)?)",
    re.MULTILINE,
)
"""A line that is a reference, from its first author to its pages (NLM style, as in ICMJE's samples of formatted references)."""


def references(text: str) -> list[tuple[int, int]]:
    """Where references stand in a text that is none itself."""
    return [found.span("whole") for found in _REFERENCE.finditer(text)] if ";" in text else []


def spare_published(text: str, span: Span, cited: Sequence[tuple[int, int]]) -> Span:
    """Return the span, kept where it is published in a reference: `cited`, from `references`."""
    if span.layer is not Layer.DECLARED and _author(text, span):
        return replace(span, decision=Decision.KEEP, reason=PUBLISHED)
    for start, end in cited:
        if start <= span.start and span.end <= end:
            own = replace(span, start=span.start - start, end=span.end - start)
            kept = spare(("references",), text[start:end], own)
            return replace(span, decision=kept.decision, reason=kept.reason)
    return span


_AND_OTHERS = re.compile(r"(?:\s[A-Z]{1,3})?,?\set\sal(?!\w)")


def _author(text: str, span: Span) -> bool:
    """Whether what looks like a name is the first author of something printed: `see Haynes AB et al.`."""
    return span.letter == "A" and _AND_OTHERS.match(text, span.end) is not None


def _published(text: str, span: Span) -> bool:
    """Whether a finding in a reference is part of what was published."""
    if span.layer is not Layer.PATTERN or any(
        cited.start() < span.end and span.start < cited.end() for cited in _CITED.finditer(text)
    ):
        return True
    if span.letter == "B":
        return span.start == 0 and _AUTHOR.match(text) is not None
    if span.letter == "N":
        return not _WITHIN.search(text[span.start : span.end])
    return span.letter == "C" or span.kind == "listed name"


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
