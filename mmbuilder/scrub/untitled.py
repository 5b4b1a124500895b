"""Names without a title: the offline name model proposes, the keep-guard decides.

    UntitledNames().find(["Seen by Amara Okonjo; Fuchs dystrophy."])

Only sentences with a word that nothing else decides go through the model (`undecided.py`). What may be a name or
a word is removed, with a reason that asks; what is kept is listed with its reason.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain, count
from typing import TYPE_CHECKING

from mmbuilder.scrub.acting import by_context, unlisted
from mmbuilder.scrub.keep import Guard, Verdict, persons
from mmbuilder.scrub.keep.lists import Lists, load
from mmbuilder.scrub.keep.passage import Passage
from mmbuilder.scrub.known_names import known
from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span
from mmbuilder.scrub.things import GERMAN, UNPROVEN, thing, unproven
from mmbuilder.scrub.undecided import Word, candidates, looked_at, ordinary

if TYPE_CHECKING:
    from mmbuilder.scrub.names import NameHit, NameModel

ASK = "could be a name or a word: please decide"
_LONGEST = 500
"""Characters of the longest stretch read at once: keeps the time linear in the length of a text."""

_MOST_READ = 10_000
"""Sentences whose hits are remembered: the templates of a ward come back in every note."""

_EDGE = re.compile(
    r"\n+|(?<=[^\W\d_A-Z][.!?])(?<!\b[DM]r\.)(?<!\bM[rs]s\.)(?<!\bMs\.)(?<!\bSt\.)(?<!Prof\.)(?<!\bS[rt]a\.)"
    r"(?<!Smt\.)(?<!Asst\.)\s+(?=[^\W\d_a-z])"
)
_KINDS = {
    "person": ("name", "A", "[name]"),
    "place": ("place", "B", "[place]"),
    "address": ("address", "B", "[address]"),
}
SURE = 0.85
"""Highest confidence a finding of the model may have: a title or a declaration is surer."""
WRITTEN = 0.6
"""Confidence of what its writing and its neighbours show, without the model."""


@dataclass(frozen=True)
class Sentence:
    """A stretch of text number `text` that is read by itself."""

    text: int
    start: int
    words: str


class UntitledNames:
    """The name model behind the keep-guard, as a layer.

    Args:
        model: the model; by default the one that ships, loaded when a sentence needs it.
    """

    name: str = "name model"
    unchecked: tuple[str, ...] = (
        "names in scripts other than the Latin one, unless declared or titled",
        "names in small letters that stand without a title, role or family word",
    )

    def __init__(self, model: NameModel | None = None) -> None:
        self._model = model
        self._read: dict[str, Sequence[NameHit]] = {}

    def find(self, texts: Sequence[str]) -> Found:
        """Return names, places and addresses for each text; kept ones with `Decision.KEEP`."""
        return self.find_beside(texts, [()] * len(texts))

    def find_beside(self, texts: Sequence[str], found: Found) -> Found:
        """The same, and the model is not asked about words that others replace: `found`, for each text."""
        others = dict(zip(texts, found, strict=True))
        ours = dict(zip(others, self._found(list(others), list(others.values())), strict=True))
        return [ours[text] for text in texts]

    def _found(self, texts: Sequence[str], others: Found) -> Found:
        found: list[list[Span]] = [[] for _ in texts]
        chosen: list[Sentence] = []
        for one, beside in chain.from_iterable(map(_in_sentences, count(), texts, others)):
            taken, kept, undecided = _without_the_model(one, beside)
            found[one.text] += taken
            if undecided:
                chosen.append(one)
            else:
                found[one.text] += kept
        hits = self._hits(dict.fromkeys(one.words for one in chosen))
        for one in chosen:
            found[one.text] += _judged(one, hits[one.words])
        return found

    def _hits(self, different: Collection[str]) -> Mapping[str, Sequence[NameHit]]:
        """What the model found in each sentence; one that was read before, in any text, is not read again."""
        new = [words for words in different if words not in self._read]
        if len(self._read) > _MOST_READ:
            self._read = {words: self._read[words] for words in different if words in self._read}
        self._read.update(zip(new, self._loaded().find(new) if new else (), strict=True))
        return self._read

    def _loaded(self) -> NameModel:
        if self._model is None:
            from mmbuilder.scrub.names import NameModel

            self._model = NameModel()
        return self._model


def sentences(number: int, text: str) -> Iterator[Sentence]:
    """Cut a text into sentences; one without an end is cut at a space."""
    start = 0
    for edge in [*(found.span() for found in _EDGE.finditer(text)), (len(text), len(text))]:
        while edge[0] - start > _LONGEST:
            cut = text.rfind(" ", start + 1, start + _LONGEST) + 1 or start + _LONGEST
            yield Sentence(number, start, text[start:cut])
            start = cut
        if edge[0] > start:
            yield Sentence(number, start, text[start : edge[0]])
        start = edge[1]


def _without_the_model(
    sentence: Sentence, others: Sequence[Span] = ()
) -> tuple[list[Span], list[Span], bool]:
    """What is taken and what is kept without the model, and whether there is a word for it to decide."""
    taken, passage = list(_acting(sentence)), Passage.of(sentence.words, load())
    could_be = candidates(passage)
    if not could_be:
        return taken, [], False
    taken = list(_joined(sentence, [*taken, *_written(sentence)]))
    look = looked_at(passage, could_be, _places(sentence, taken), _places(sentence, others))
    taken += [_by_guard(sentence, one, Decision.REPLACE) for one in look.titled]
    return taken, [_by_guard(sentence, one, Decision.KEEP) for one in look.kept], look.undecided


def _places(sentence: Sentence, spans: Sequence[Span]) -> list[tuple[int, int]]:
    return [(span.start - sentence.start, span.end - sentence.start) for span in spans]


def _joined(sentence: Sentence, taken: Sequence[Span]) -> Iterator[Span]:
    """Names that overlap or stand side by side as one: what finds them may know one word of it only."""
    last: Span | None = None
    for span in sorted(taken):
        gap = last and sentence.words[max(0, last.end - sentence.start) : span.start - sentence.start]
        if last and (span.start < last.end or gap in ("", " ", "-", "‐")):
            last = replace(last, end=max(last.end, span.end))
            continue
        if last:
            yield last
        last = span
    if last:
        yield last


def _by_guard(sentence: Sentence, word: Word, decision: Decision) -> Span:
    kind, letter, words = _KINDS["person"]
    start, end = word.start, word.end
    if decision is Decision.REPLACE:
        start, end = _whole(sentence.words, start, end)
    at = sentence.start
    return Span(at + start, at + end, kind, letter, words, WRITTEN, Layer.MODEL, None, decision, word.reason)


def _in_sentences(
    number: int, text: str, others: Sequence[Span]
) -> Iterator[tuple[Sentence, Sequence[Span]]]:
    """Every sentence of a text with what others replace in it."""
    every = list(sentences(number, text))
    starts = [one.start for one in every]
    beside: list[list[Span]] = [[] for _ in every]
    for span in others:
        if span.decision is Decision.REPLACE:
            first, last = bisect_right(starts, span.start) - 1, bisect_left(starts, span.end)
            for its in beside[max(0, first) : last]:
                its.append(span)
    return zip(every, beside, strict=True)


def _judged(sentence: Sentence, hits: Sequence[NameHit]) -> Iterator[Span]:
    if not hits:
        return
    guard = Guard(sentence.words)
    for hit in hits:
        start, end = trimmed(sentence.words, hit.start, hit.end)
        judged = guard.judge(start, end, hit.score)
        keep = judged.verdict is Verdict.KEEP
        reason = f"{ASK} ({judged.reason})" if judged.verdict is Verdict.ASK else judged.reason
        if unproven(judged.reason, hit.kind) and (why := thing(sentence.words, hit.kind, start, end)):
            keep, reason = True, why
        start, end = (judged.start, judged.end) if keep else _whole(sentence.words, judged.start, judged.end)
        kind, letter, words = _KINDS[hit.kind]
        decision = Decision.KEEP if keep else Decision.REPLACE
        confidence = round(SURE * hit.score, 3)
        start, end = sentence.start + start, sentence.start + end
        yield Span(start, end, kind, letter, words, confidence, Layer.MODEL, None, decision, reason)


def _written(sentence: Sentence) -> Iterator[Span]:
    """Words written as a name, on no list, two side by side or doing what people do: for what the model missed."""
    lists = load()
    passage = Passage.of(sentence.words, lists)
    if (
        not passage.cased or len(GERMAN.findall(sentence.words)) > 1
    ):  # German writes every noun with a capital
        return
    guard: Guard | None = None
    for first, last in _runs(passage, lists):
        acting = persons.acts(passage, last) or persons.role_before(passage, first)
        start, end = passage.words[first].start, passage.words[last - 1].end
        if last - first < 2 and not acting and not _stands_out(passage, first, lists):
            continue
        guard = guard or Guard(sentence.words)
        judged = guard.judge(start, end, 1.0)
        if judged.verdict is Verdict.REMOVE and not (
            judged.reason in UNPROVEN and thing(sentence.words, "person", start, end)
        ):
            at = sentence.start
            start, end = _whole(sentence.words, judged.start, judged.end)
            yield Span(
                at + start,
                at + end,
                "name",
                "A",
                "[name]",
                WRITTEN,
                Layer.MODEL,
                None,
                Decision.REPLACE,
                "written as a name",
            )


def _acting(sentence: Sentence) -> Iterator[Span]:
    """Names that their neighbours show; a word that may be one is asked about."""
    for start, end, reason in (*by_context(sentence.words), *known(sentence.words)):
        start, end = _whole(sentence.words, start, end)
        start, end = sentence.start + start, sentence.start + end
        reason = f"{ASK} ({reason})"
        yield Span(start, end, "name", "A", "[name]", WRITTEN, Layer.MODEL, None, Decision.REPLACE, reason)


def _runs(passage: Passage, lists: Lists) -> Iterator[tuple[int, int]]:
    """Stretches of neighbouring words on no list, each with a capital and small letters."""
    first = None
    for index in range(len(passage.words) + 1):
        fits = index < len(passage.words) and _unlisted(passage, index, lists)
        joined = fits and first is not None and passage.between(index - 1) in (" ", "-", "‐")
        if first is not None and not joined:
            yield first, index
            first = None
        if fits and first is None:
            first = index


_STANDS_OUT = 5


def _stands_out(passage: Passage, index: int, lists: Lists) -> bool:
    """Whether one word on no list has a capital that nothing but a name explains: in mid-sentence."""
    word = passage.words[index]
    if len(word.plain) < _STANDS_OUT or not unlisted(word.text, lists):
        return False
    if passage.opens(index) and not word.bears_s:
        return False
    around = passage.text[max(0, word.start - 1)] + passage.text[word.end : word.end + 1]
    return not any(sign in "-/®™+" for sign in around)


def _unlisted(passage: Passage, index: int, lists: Lists) -> bool:
    word = passage.words[index]
    if not word.capital or word.text.isupper() or len(word.plain) < 3 or not word.plain.isalpha():
        return False
    listed = word.plain in lists.word_names or word.plain in lists.eponym_words or word.plain in lists.titles
    if listed or ordinary(word.plain, lists) or passage.plain_word(index):
        return False
    return word.text[1:].islower()


_TAIL = re.compile(r"(?:[\s,]+(?:\d[\w.]*|[IVX]{1,4}[a-dA-D]?|[a-z][\w-]*|P))+$")
_DAY_NUMBER = re.compile(r"\s[−-]?\d")
"""`Dr Quorrin Day 3`: what stands before the figure belongs to it."""


def trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch without figures, grades and words in small letters at its end: `Hinchey III`, `Schwann cells`."""
    end = start + _own_words(text[start:end])
    if _DAY_NUMBER.match(text, end) and (day := re.search(r"\sDay$", text[start:end])):
        end = start + day.start()
    tail = _TAIL.search(text[start:end])
    return (start, start + tail.start()) if tail and tail.start() > 0 else (start, end)


_INSIDE = re.compile(r"\s(?P<small>[a-z]{2,})(?!\w)")
_CAPITALS_LAST = re.compile(r"(?<=[a-zà-ÿ])(?:\s(?P<last>[A-Z]{2,5}))+$")


def _own_words(said: str) -> int:
    """Length of what is a name in a hit: `Miladinovski` of `Miladinovski had ERCP`, `Brackle` of `Brackle HDU`."""
    lists = load()
    if said[:1].isupper():
        for found in _INSIDE.finditer(said):
            small = found["small"]
            known = lists.called(small) or small in lists.auxiliaries or small in lists.verbs_after
            if (known or lists.plain_word(small)) and small not in lists.particles and small not in _JOINING:
                said = said[: found.start()]
                break
    last = _CAPITALS_LAST.search(said)
    return last.start() if last else len(said)


_JOINING = frozenset({"and", "of", "the"})


def _whole(text: str, start: int, end: int) -> tuple[int, int]:
    """The stretch widened to whole written words, hyphens and apostrophes within them included."""
    while start > 0 and (
        text[start - 1].isalpha() or (text[start - 1] in "-‐'’" and text[start - 2 : start - 1].isalpha())
    ):
        start -= 1
    while end < len(text) and (
        text[end].isalpha() or (text[end] in "-‐" and text[end + 1 : end + 2].isalpha())
    ):
        end += 1
    return start, end
