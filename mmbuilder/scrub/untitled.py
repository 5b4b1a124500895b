"""Names without a title: the judge of names proposes, the keep-guard decides.

    UntitledNames().find(["Seen by Amara Okonjo; Fuchs dystrophy."])

The judge (`judging/`) reads every sentence. What may be a name or a word is removed, with a reason that asks; what
looks like a name and is kept is listed with its reason.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from mmbuilder.scrub.judging import Chance, Settled, chances
from mmbuilder.scrub.keep import Guard, Verdict
from mmbuilder.scrub.layers import Found
from mmbuilder.scrub.plan import Decision, Layer, Span

ASK = "could be a name or a word: please decide"
_LONGEST = 500
"""Characters of the longest stretch read at once: keeps the time linear in the length of a text."""

_MOST_READ = 10_000
"""Sentences that are remembered: the templates of a ward come back in every note."""

_EDGE = re.compile(
    r"\n+|(?<=[^\W\d_A-Z][.!?])(?<!\b[DM]r\.)(?<!\bM[rs]s\.)(?<!\bMs\.)(?<!\bSt\.)(?<!Prof\.)(?<!\bS[rt]a\.)"
    r"(?<!Smt\.)(?<!Asst\.)\s+(?=[^\W\d_a-z])"
)
_KINDS = {"A": ("name", "[name]"), "B": ("place", "[place]")}
SURE = 0.85
"""Highest confidence a finding of the judge may have: a title or a declaration is surer."""
TAKEN = {"A": 0.1, "B": 0.5}
"""Least chance of what is replaced. A name that stays does more harm than a word that goes."""
ASKED = 0.6
"""Chance up to which the reviewer is asked."""
CERTAIN = {"A": 0.9, "B": 0.5}
"""Least chance of what goes although the guard would keep it: `Foley had his Foley out`."""
NEAR = 0.03
"""Least chance of what is listed as kept."""

BESIDE = "no name, by the words beside it"
_JOINS = re.compile(r"[ \u00a0]?|[-‐‑'’]|\. ")


_POSSESSIVE = ("'s", "’s", "'S", "’S")


@dataclass(frozen=True)
class Sentence:
    """A stretch of text number `text` that is read by itself."""

    text: int
    start: int
    words: str


@dataclass(frozen=True)
class Run:
    """Words that name one person or place together, with the chance of the likeliest."""

    start: int
    end: int
    letter: str
    chance: float


class UntitledNames:
    """The judge of names behind the keep-guard, as a layer."""

    name: str = "name model"
    unchecked: tuple[str, ...] = ("names in scripts other than the Latin one, unless declared or titled",)

    def __init__(self) -> None:
        self._read: dict[tuple[str, Settled], Sequence[Chance]] = {}

    def find(self, texts: Sequence[str]) -> Found:
        """Return names and places for each text; kept ones with `Decision.KEEP`."""
        return self.find_beside(texts, [()] * len(texts))

    def find_beside(self, texts: Sequence[str], found: Found) -> Found:
        """The same, without a doubt about words that others replace: `found`, for each text."""
        others = dict(zip(texts, found, strict=True))
        every = {text: list(_in_sentences(text, spans)) for text, spans in others.items()}
        read = self._judged(
            dict.fromkeys((one.words, settled) for of_one in every.values() for one, settled in of_one)
        )
        ours = {
            text: [span for one, settled in of_one for span in _spans(one, read[one.words, settled])]
            for text, of_one in every.items()
        }
        return [ours[text] for text in texts]

    def _judged(
        self, different: Collection[tuple[str, Settled]]
    ) -> Mapping[tuple[str, Settled], Sequence[Chance]]:
        """What the judge says of each sentence; one that was read before, in any text, is not read again."""
        new = [one for one in different if one not in self._read]
        if len(self._read) > _MOST_READ:
            self._read = {one: self._read[one] for one in different if one in self._read}
        self._read.update(zip(new, chances(new), strict=True))
        return self._read


def _in_sentences(text: str, others: Sequence[Span]) -> Iterator[tuple[Sentence, Settled]]:
    """Every sentence of a text, with the places in it that others replace."""
    every = list(sentences(0, text))
    starts = [one.start for one in every]
    beside: list[list[tuple[int, int]]] = [[] for _ in every]
    for span in others:
        if span.decision is Decision.REPLACE:
            first, last = bisect_right(starts, span.start) - 1, bisect_left(starts, span.end)
            for at in range(max(0, first), last):
                beside[at].append((span.start - starts[at], span.end - starts[at]))
    return ((one, tuple(its)) for one, its in zip(every, beside, strict=True))


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


def runs(sentence: str, judged: Sequence[Chance]) -> Iterator[Run]:
    """What the judge takes for names, words side by side as one."""
    last: Run | None = None
    for one in judged:
        letter = "A" if one.person >= one.place else "B"
        chance = one.person + one.place
        if chance < TAKEN[letter] or not one.token.text[0].isalpha():
            continue
        end = one.token.end - 2 * one.token.text.endswith(_POSSESSIVE)
        end += one.token.shape in "iI" and sentence.startswith(".", end)
        if last and last.letter == letter and _JOINS.fullmatch(sentence, last.end, one.token.start):
            last = Run(last.start, end, letter, max(last.chance, chance))
            continue
        if last:
            yield last
        last = Run(one.token.start, end, letter, chance)
    if last:
        yield last


def _spans(sentence: Sentence, judged: Sequence[Chance]) -> Iterator[Span]:
    found = list(runs(sentence.words, judged))
    near = [
        one
        for one in judged
        if _near(one) and not any(run.start <= one.token.start < run.end for run in found)
    ]
    if not (found or near):
        return
    guard = Guard(sentence.words)
    for run in found:
        judgement = guard.judge(run.start, run.end)
        kept = judgement.verdict is Verdict.KEEP and run.chance < CERTAIN[run.letter]
        asked = judgement.verdict is not Verdict.REMOVE or run.chance < ASKED
        reason = f"{ASK} ({judgement.reason})" if asked and not kept else judgement.reason
        yield _span(sentence, run, Decision.KEEP if kept else Decision.REPLACE, reason)
    for one in near:
        run = Run(one.token.start, one.token.end, "A", one.person)
        judgement = guard.judge(run.start, run.end)
        reason = judgement.reason if judgement.verdict is Verdict.KEEP else BESIDE
        yield _span(sentence, run, Decision.KEEP, reason)


def _near(one: Chance) -> bool:
    """Whether a word that stays looks like a name: by its chance, or as an eponym with a capital."""
    token = one.token
    return token.text[0].isalpha() and (one.person >= NEAR or ("e" in token.flags and token.shape in "AM"))


def _span(sentence: Sentence, run: Run, decision: Decision, reason: str) -> Span:
    kind, words = _KINDS[run.letter]
    start, end, sure = sentence.start + run.start, sentence.start + run.end, round(SURE * run.chance, 3)
    return Span(start, end, kind, run.letter, words, sure, Layer.MODEL, None, decision, reason)
