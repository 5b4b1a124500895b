"""What was found and what was harmed: the model alone, and the model behind the guard."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from mmbuilder.scrub.keep import Guard, Verdict
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import words
from mmbuilder.scrub.names import NameHit
from tests.scrub.names.corpus import Passage, Span


def alone(hits: Iterable[NameHit]) -> list[Span]:
    return [(hit.start, hit.end) for hit in hits]


def guarded(text: str, hits: Iterable[NameHit], *verdicts: Verdict) -> list[Span]:
    guard = Guard(text)
    judged = [guard.judge(hit.start, hit.end, hit.score) for hit in hits]
    return [(j.start, j.end) for j in judged if j.verdict in verdicts]


def name_words(text: str, span: Span) -> list[Span]:
    """Words of a name that carry it: titles, particles and initials left out unless all there is."""
    lists = load()
    every = [w for w in words(text) if span[0] <= w.start and w.end <= span[1]]
    bare = [w for w in every if w.plain not in lists.titles]
    carrying = [w for w in bare if w.plain not in lists.particles and not w.initial] or bare
    return [(w.start, w.end - 2 if w.text[-2:] in ("'s", "’s") else w.end) for w in carrying]


def covered(span: Span, found: Sequence[Span]) -> bool:
    return all(any(a <= at < b for a, b in found) for at in range(*span))


@dataclass
class Score:
    names: int = 0
    names_found: int = 0
    keep: int = 0
    keep_harmed: int = 0
    passages: int = 0
    touched: int = 0
    missed: list[str] = field(default_factory=list)
    harmed: list[str] = field(default_factory=list)

    def named(self, passage: Passage, found: Sequence[Span]) -> None:
        for span in (*passage.people, *passage.places):
            self.names += 1
            hit = all(covered(word, found) for word in name_words(passage.text, span))
            self.names_found += hit
            if not hit:
                self.missed.append(f"{passage.text[slice(*span)]!r} in {passage.text}")
        for span in passage.keep:
            self.keep += 1
            hit = any(a < span[1] and b > span[0] for a, b in found)
            self.keep_harmed += hit
            if hit:
                self.harmed.append(f"{passage.text[slice(*span)]!r} in {passage.text}")

    def clean(self, passage: Passage, found: Sequence[Span]) -> None:
        self.passages += 1
        self.touched += bool(found)
        if found:
            self.harmed.append(f"{[passage.text[a:b] for a, b in found]} in {passage.text}")

    def __str__(self) -> str:
        return (
            f"recall {self.names_found}/{self.names} = {self.names_found / max(1, self.names):.3f}   "
            f"keep strings surviving {1 - self.keep_harmed / max(1, self.keep):.3f} of {self.keep}   "
            f"clean passages touched {self.touched}/{self.passages}"
            f" = {self.touched / max(1, self.passages):.3f}"
        )
