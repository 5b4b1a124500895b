"""What was found and what was harmed, by the layers as a file is scrubbed with nothing declared."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.propose import in_texts
from tests.scrub.sets.passages import Half, Passage, Planted

NOTHING = Index(Declared())


@dataclass
class Score:
    """Counts; `missed` and `harmed` hold passages, for tuning on the development half."""

    structured: int = 0
    structured_found: int = 0
    names: int = 0
    names_found: int = 0
    keep: int = 0
    keep_kept: int = 0
    clean: int = 0
    touched: int = 0
    missed: list[str] = field(default_factory=list)
    harmed: list[str] = field(default_factory=list)

    @property
    def structured_recall(self) -> float:
        return self.structured_found / max(1, self.structured)

    @property
    def name_recall(self) -> float:
        return self.names_found / max(1, self.names)

    @property
    def keep_survival(self) -> float:
        return self.keep_kept / max(1, self.keep)

    @property
    def clean_touched(self) -> float:
        return self.touched / max(1, self.clean)

    def __str__(self) -> str:
        return (
            f"structured {self.structured_found}/{self.structured} = {self.structured_recall:.3f}  "
            f"names {self.names_found}/{self.names} = {self.name_recall:.3f}  "
            f"keep {self.keep_kept}/{self.keep} = {self.keep_survival:.3f}  "
            f"clean touched {self.touched}/{self.clean} = {self.clean_touched:.3f}"
        )


def scored(passages: Iterable[Passage], half: Half) -> Score:
    """Every passage of a half as a file of its own, so that no memory helps."""
    score = Score()
    for passage in (passage for passage in passages if passage.half == half):
        spans = in_texts([passage.text], NOTHING)[0]
        _count(score, passage, spans)
    return score


def _count(score: Score, passage: Passage, spans: Sequence[Span]) -> None:
    for planted in passage.planted:
        hit = _covered(passage.text, planted, spans)
        if planted.letter == "A":
            score.names, score.names_found = score.names + 1, score.names_found + hit
        else:
            score.structured, score.structured_found = score.structured + 1, score.structured_found + hit
        if not hit:
            score.missed.append(
                f"{planted.letter} {passage.text[planted.start : planted.end]!r} in {passage.text}"
            )
    for start, end in passage.keep:
        kept = not any(span.start < end and start < span.end for span in spans)
        score.keep, score.keep_kept = score.keep + 1, score.keep_kept + kept
        if not kept:
            score.harmed.append(f"{passage.text[start:end]!r} in {passage.text}")
    if not passage.planted:
        score.clean, score.touched = score.clean + 1, score.touched + bool(spans)
        if spans:
            score.harmed.append(
                f"{[(passage.text[s.start : s.end], s.kind) for s in spans]} in {passage.text}"
            )


def _covered(text: str, planted: Planted, spans: Sequence[Span]) -> bool:
    """Whether every letter and figure of it is replaced; titles do not count as part of a name."""
    left = [at for at in range(planted.start, planted.end) if text[at].isalnum()]
    bare = text[planted.start : planted.end]
    for title in ("Mrs ", "Dr. ", "Dr "):
        if planted.letter == "A" and bare.startswith(title):
            left = [at for at in left if at >= planted.start + len(title)]
    return all(any(span.start <= at < span.end for span in spans) for at in left)
