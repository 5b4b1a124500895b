"""The name model and its guard, measured by hand:

    python -m tests.bench.names [development] [-v]

Prints, for the held-out half of the invented passages (or the development half), what is found and
what clinical text is harmed, then speed and memory. `-v` lists every miss and every harm.
"""

from __future__ import annotations

import resource
import sys
import time

from mmbuilder.scrub.keep import Verdict
from mmbuilder.scrub.names import NameHit, NameModel
from mmbuilder.scrub.names.tokenizer import pieces
from tests.scrub.names.corpus import CLEAN, NAMED, Half, Passage, Span, read
from tests.scrub.names.score import Score, alone, guarded

WAYS = ("model alone", "model + guard, removed", "model + guard, removed or asked")


def spans(way: str, passage: Passage, hits: list[NameHit]) -> list[Span]:
    if way == WAYS[0]:
        return alone(hits)
    verdicts = (Verdict.REMOVE,) if way == WAYS[1] else (Verdict.REMOVE, Verdict.ASK)
    return guarded(passage.text, hits, *verdicts)


def scored(half: Half, model: NameModel) -> dict[str, Score]:
    named = [p for p in read(NAMED) if p.half == half]
    clean = [p for p in read(CLEAN) if p.half == half]
    hits = model.find([p.text for p in (*named, *clean)])
    scores = {way: Score() for way in WAYS}
    for way, score in scores.items():
        for passage, its in zip(named, hits, strict=False):
            score.named(passage, spans(way, passage, its))
        for passage, its in zip(clean, hits[len(named) :], strict=True):
            score.clean(passage, spans(way, passage, its))
    return scores


def speed(model: NameModel) -> None:
    texts = [p.text for path in (NAMED, CLEAN) for p in read(path)]
    count = sum(len(pieces(text)) for text in texts)
    for called, given in (("short fields", texts), ("one long text", [" ".join(texts)])):
        best = min(_timed(model, given) for _ in range(3))
        print(f"{count} word pieces as {called:14} {count / best:6.0f} a second   goal >= 1200")


def _timed(model: NameModel, texts: list[str]) -> float:
    start = time.perf_counter()
    model.find(texts)
    return time.perf_counter() - start


def main() -> None:
    model = NameModel()
    start = time.perf_counter()
    model.find(["Seen by A. Quillfeather."])
    print(f"first call, with loading            {time.perf_counter() - start:6.2f} s   goal <= 1")
    half: Half = "development" if "development" in sys.argv else "held out"
    for way, score in scored(half, model).items():
        print(f"{half}, {way}:\n    {score}")
        if "-v" in sys.argv:
            print("\n".join(f"    missed {line}" for line in score.missed))
            print("\n".join(f"    harmed {line}" for line in score.harmed))
    speed(model)
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
