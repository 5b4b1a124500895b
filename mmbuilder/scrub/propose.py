"""Everything in a case that may identify somebody, as a plan: places and stand-ins, never the text."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import chain

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.freetext import Path
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.scrub import beside, declared, edges, outside_pictures, reach, stills
from mmbuilder.scrub.code import check_code
from mmbuilder.scrub.decided import ruled
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.judged import SPEAKS_AGAINST, Judged
from mmbuilder.scrub.layers import Finder, Found, Informed, Memory, Patterns
from mmbuilder.scrub.memory import DocumentMemory
from mmbuilder.scrub.outside import Outside
from mmbuilder.scrub.own_days import OwnDays, day_first
from mmbuilder.scrub.plan import Decision, Layer, RedactionPlan, Span
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.spared import in_a_term, references, spare, spare_published
from mmbuilder.scrub.standins import Dates, lettered
from mmbuilder.scrub.surrogates import overlaps, protected
from mmbuilder.scrub.times_of_day import TimesOfDay
from mmbuilder.scrub.walk import Texts
from mmbuilder.scrub.whole import whole

UNCHECKED = (
    "places and employers that nobody declared and that neither a cue nor the model shows",
    "names in cue words of languages other than English, Spanish, German, French and Hindi-English",
    "times of day in four bare figures that no word beside them tells",
    "fingerprints and voice prints (class P)",
    "circumstances that single somebody out are warned of, not removed",
    "voices and names in sound",
)
"""What no layer of this stage looks at in words; `stills.unchecked` has the pictures."""


def propose(
    folder: CaseFolder, *, names: Finder | None = None, memory: Memory | None = None
) -> RedactionPlan:
    """Find what may identify somebody in every text and picture of a case.

    Args:
        folder: the case.
        names: a finder of names without a title; by default the model that ships.
        memory: a memory of the whole document; by default the one that ships.

    Raises:
        CaseInvalid: the code of the case, which names the files, names somebody.
        FileRefused: a picture cannot be read, or cannot be covered for certain.
        MMBuilderError: a detector failed.
    """
    words = in_words(folder, names=names, memory=memory)
    return whole(words, folder, outside_pictures.clocks(folder, stills.boxes(folder)))


def in_words(
    folder: CaseFolder, *, names: Finder | None = None, memory: Memory | None = None
) -> RedactionPlan:
    """Find what may identify somebody in every text of a case. Arguments and errors as for `propose`."""
    index = Index(folder.declared)
    check_code(folder, index)
    texts = Texts(folder.case, folder.previous)
    judged, patterns = _readers()
    model, recall = names or judged, memory or DocumentMemory()
    listed = [item.value for item in texts.items]
    paths = [item.path for item in texts.items]
    found = _layers(
        listed, index, patterns, model, recall, lambda at, span: spare(paths[at], listed[at], span)
    )
    plan = RedactionPlan(
        texts=_settled(folder, texts, found),
        detectors=(declared.NAME, *patterns.names, model.name, recall.name, beside.NAME),
        unchecked=(*model.unchecked, *recall.unchecked, *UNCHECKED),
    )
    return ruled(plan, folder, texts)


@cache
def _readers() -> tuple[Judged, Patterns]:
    """What reads the words of cases in this process, and until it ends remembers what it read."""
    return Judged(), Patterns()


def spans(text: str, index: Index, patterns: Patterns | None = None) -> tuple[Span, ...]:
    """Return what is to be replaced in one text that belongs to no case (a file made elsewhere)."""
    return tuple(in_texts([text], index, patterns=patterns)[0])


def in_texts(
    texts: Sequence[str],
    index: Index,
    *,
    names: Finder | None = None,
    memory: Memory | None = None,
    patterns: Patterns | None = None,
    spared: list[list[Span]] | None = None,
) -> list[list[Span]]:
    """Return what is to be replaced in the texts of one file: for each, sorted and not overlapping.

    One person has one stand-in through the whole file. A date becomes `[date]`: a loose text
    has no event to count days from. What is kept is added to `spared`, for each text a list.
    """
    ours, cited = [protected(text) for text in texts], [references(text) for text in texts]
    found = _layers(
        texts,
        index,
        patterns or Patterns(),
        names or Judged(),
        memory or DocumentMemory(),
        lambda at, span: _beside_ours(texts[at], spare_published(texts[at], span, cited[at]), ours[at]),
    )
    settled = [settle(text, spans_) for text, spans_ in zip(texts, found, strict=True)]
    replaced = [[span for span in of_one if span.decision is Decision.REPLACE] for of_one in settled]
    if spared is not None:
        spared += [[span for span in of_one if span.decision is Decision.KEEP] for of_one in settled]
    return lettered(texts, replaced, _FIRST_FREE)


_FIRST_FREE = 10_000
"""Groups from here on are of people found by title; declared ones are numbered below."""


Filter = Callable[[int, Span], Span | None]
"""Told the number of a text and a finding in it, returns what becomes of the finding."""


def _layers(
    texts: Sequence[str], index: Index, patterns: Patterns, model: Finder, memory: Memory, passed: Filter
) -> list[list[Span]]:
    by_pattern = patterns.find(texts)
    named = model.find_beside(texts, by_pattern) if isinstance(model, Informed) else model.find(texts)
    spared = [
        [in_a_term(text, one) for span in its for one in edges.within(text, span)]
        for text, its in zip(texts, _left(by_pattern, named), strict=True)
    ]
    judged = [
        [reach.whole(text, one) for span in its for one in edges.within(text, span)]
        for text, its in zip(texts, named, strict=True)
    ]
    layers = [[index.find(text) for text in texts], spared, judged]
    found = _passed([[*chain.from_iterable(of_one)] for of_one in zip(*layers, strict=True)], passed)
    again = _passed(memory.find(texts, found), passed)
    known = [[*first, *more] for first, more in zip(found, again, strict=True)]
    others = _passed(beside.find(texts, known), passed)
    whole = zip(texts, known, others, strict=True)
    return [[_author_keeps(text, index, span) for span in (*first, *more)] for text, first, more in whole]


def _left(by_pattern: Found, named: Found) -> Found:
    """The findings of the patterns without those that the judge speaks against."""
    left = []
    for spans, its in zip(by_pattern, named, strict=True):
        against = {_which(span) for span in its if span.reason == SPEAKS_AGAINST}
        left.append([span for span in spans if _which(span) not in against])
    return left


def _which(span: Span) -> tuple[int, int, str, float]:
    """What tells a finding of a pattern from another of the same extent."""
    return span.start, span.end, span.kind, span.confidence


def _passed(found: Sequence[Sequence[Span]], passed: Filter) -> list[list[Span]]:
    return [
        [kept for span in spans if (kept := passed(at, span)) is not None] for at, spans in enumerate(found)
    ]


def _beside_ours(text: str, span: Span, ours: Sequence[tuple[int, int]]) -> Span | None:
    """Leave out a finding in a stand-in of an earlier scrubbing, unless it was declared.

    The judge joins words side by side: of a name that runs into a stand-in ("Quorrin Day 3"), the name is left.
    """
    if span.layer is Layer.DECLARED or not overlaps(span.start, span.end, ours):
        return span
    if span.layer is not Layer.MODEL:
        return None if any(start <= span.start and span.end <= end for start, end in ours) else span
    beside = "".join(
        "\0" if any(start <= at < end for start, end in ours) else text[at]
        for at in range(span.start, span.end)
    )
    left = max(re.finditer(r"[^\W\d_](?:[^\0]*\w)?", beside), key=lambda one: len(one[0]), default=None)
    return replace(span, start=span.start + left.start(), end=span.start + left.end()) if left else None


_AROUND = 200
"""Characters on each side in which a phrase to be kept may begin or end."""


def _author_keeps(text: str, index: Index, span: Span) -> Span:
    """Leave alone what the author listed to be kept, unless it was declared or stands after a title."""
    if span.layer not in (Layer.MODEL, Layer.MEMORY):
        return span
    begin = max(
        0, span.start - _AROUND
    )  # the whole text, for every finding, would take for ever in a long one
    if index.keeps(text[begin : span.end + _AROUND], span.start - begin, span.end - begin):
        return replace(span, decision=Decision.KEEP, reason="the author's list keeps it")
    return span


def _settled(folder: CaseFolder, texts: Texts, found: list[list[Span]]) -> Mapping[Path, tuple[Span, ...]]:
    first = day_first(
        item.value[span.start : span.end]
        for item, inside in zip(texts.items, found, strict=True)
        for span in inside
        if span.letter == "C"
    )
    own = OwnDays(Reckoner(folder.case).day_zero, first)
    dates, outside, times = Dates(folder.case, first), Outside(folder.case), TimesOfDay(folder.case)
    settled = []
    for item, inside in zip(texts.items, found, strict=True):
        known = [*inside, *own.find(item.value)]
        hours = [*times.find(item.path, item.value, known)]
        more = (*outside.find(item.path, item.value), *hours)
        told = [dates.told(item.path, item.value, span) for span in settle(item.value, [*known, *more])]
        # a date that is told by its day alone leaves the hour beside it out: `14/11 at 10.30`
        places = [(span.start, span.end) for span in told]
        left = (one for one in hours if not overlaps(one.start, one.end, places))
        settled.append(settle(item.value, [*told, *left]))
    named = lettered([item.value for item in texts.items], settled, _FIRST_FREE)
    pairs = zip(texts.items, named, strict=True)
    return {item.path: tuple(of_one) for item, of_one in pairs if of_one}
