"""From overlapping findings of one text to spans that do not touch, each with its stand-in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.surrogates import fit, overlaps


def settle(text: str, spans: Iterable[Span]) -> tuple[Span, ...]:
    """Join findings that overlap: the strongest gives the words, all of them the extent.

    Declared wins, then the surer, then the longer; an address wins over a name in it. The
    extent is joined so that no piece of a losing finding ("Dr Anna" of "Dr Anna Oskavarn") stays in the text.
    What a layer would keep never shields what another would replace; elsewhere it stays, for the reviewer.
    """
    given = list(spans)
    joined = [
        _join(text, cluster) for cluster in _clusters(s for s in given if s.decision is not Decision.KEEP)
    ]
    replaced = [_closed(text, span) for span in _apart(joined) if span.start < span.end]
    return tuple(sorted([*replaced, *_kept(given, replaced)]))


def _closed(text: str, span: Span) -> Span:
    """The span with the bracket that closes what was joined to it: `4.5.1933 (92 y)` is told as one thing."""
    said = text[span.start : span.end]
    opens = said.count("(") > said.count(")") and text.startswith(")", span.end)
    return replace(span, end=span.end + 1) if opens else span


def _kept(spans: Iterable[Span], replaced: list[Span]) -> Iterator[Span]:
    """Kept findings that touch nothing else: the first of those that overlap."""
    places = [(span.start, span.end) for span in replaced]
    last = 0
    for span in sorted(span for span in spans if span.decision is Decision.KEEP):
        if span.start >= last and not overlaps(span.start, span.end, places):
            yield span
            last = span.end


def _clusters(spans: Iterable[Span]) -> Iterator[list[Span]]:
    cluster: list[Span] = []
    end = -1
    for span in sorted(spans, key=lambda span: (span.start, span.end)):
        if cluster and span.start >= end:
            yield cluster
            cluster = []
        cluster.append(span)
        end = max(end, span.end) if len(cluster) > 1 else span.end
    if cluster:
        yield cluster


def _join(text: str, cluster: list[Span]) -> Span:
    best = max(cluster, key=_strength)
    start, end = min(span.start for span in cluster), max(span.end for span in cluster)
    if best.layer is Layer.DECLARED and _OF_THEIRS.fullmatch(text, best.end, end):
        end = best.end
    words = best.stand_in
    if words == _NOBODY:
        words = next((span.stand_in for span in cluster if span.letter == "A" and span.start == start), words)
    if best.letter == "A":
        fitted = fit(text, start, end, words)
        start, end, words = fitted.start, fitted.end, fitted.words
    return replace(best, start=start, end=end, stand_in=words)


_NOBODY = "[name]"
"""Where another finding of the same extent tells the role, as a title does, its words are taken: `the nurse`."""

_OF_THEIRS = re.compile(r"['’]s\s(?:clinic|list|rooms|practice|surgery|team|ward|unit)")
"""What a declared person has: `the surgeon's clinic` names nobody, though `Quillorne's clinic` was found as a place."""

_WHOLE = frozenset("FNO")
"""E-mail, web and network addresses: one that holds a name is still told as an address."""


def _strength(span: Span) -> tuple[bool, bool, float, int, int]:
    length = span.end - span.start
    return (span.letter in _WHOLE, span.layer is Layer.DECLARED, span.confidence, length, -span.start)


def _apart(spans: list[Span]) -> Iterator[Span]:
    """Yield spans that fitting has not pushed into the one before."""
    last = 0
    for span in spans:
        yield replace(span, start=max(span.start, last))
        last = max(last, span.end)
