"""Held-out figures, speed, memory and cold time of the text scrubber: `python -m tests.bench.text`."""

from __future__ import annotations

import random
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from itertools import chain

from mmbuilder.scrub.judged import Judged
from mmbuilder.scrub.layers import Finder, NoNameModel, Patterns
from mmbuilder.scrub.propose import in_texts
from tests.scrub.names import corpus
from tests.scrub.sets.made import clean, identified
from tests.scrub.sets.passages import Passage, Planted, written
from tests.scrub.sets.score import NOTHING, scored

SETS = (
    corpus.NAMED,
    corpus.CLEAN,
    corpus.HANDS,
    corpus.HANDS_CLEAN,
    corpus.FRESH,
    corpus.FRESH_CLEAN,
)


def other() -> list[Passage]:
    """The passages of the name model's and the guard's own sets."""
    return [
        Passage(
            p.text,
            tuple(Planted(*span, "A") for span in (*p.people, *p.places)),
            p.keep,
            "held" if p.half == "held out" else "dev",
        )
        for file in SETS
        for p in corpus.read(file)
    ]


NOTES = (2_000, 5_000, 20_000)
"""Characters of the notes whose speed is measured."""


def notes(texts: Sequence[str], size: int) -> list[str]:
    """Notes of one size with a blank line between passages, made of all the passages, shuffled the same each time."""
    shuffled = list(texts)
    random.Random(size).shuffle(shuffled)
    whole = "\n\n".join(shuffled)
    return [whole[start : start + size] for start in range(0, len(whole) - size + 1, size)]


def speed(name: str, files: Sequence[Sequence[str]], make: Callable[[], Finder], repeats: int = 3) -> None:
    """The quickest of some runs, each with a finder of its own so that none remembers the last, a call a file."""
    taken = []
    for _ in range(repeats):
        finder, patterns, start = make(), Patterns(), time.process_time()
        for texts in files:
            in_texts(texts, NOTHING, names=finder, patterns=patterns)
        taken.append(time.process_time() - start)
    size = sum(len(text) for texts in files for text in texts)
    print(f"{name:32} {size / min(taken):9.0f} characters a second of one processor")


def main() -> None:
    """Print every figure."""
    sets = list(chain(written("written.txt"), written("clean_written.txt"), identified(), clean()))
    print("own sets, held out     ", scored(sets, "held"))
    print("names and keep sets    ", scored(other(), "held"))
    texts = [passage.text for passage in chain(sets, other())]
    for name, make in (("without the name model", NoNameModel), ("with it", Judged)):
        speed(f"{name}, in one call", [texts], make)
        for size in NOTES:
            speed(f"{name}, notes of {size}", [[note] for note in notes(texts, size)], make)
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    code = "from mmbuilder.scrub.containers.tools import Scrubber; Scrubber().look(['Seen by Amara Okonjo in clinic.'])"
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True)
    print(f"cold start to the end of one note {time.perf_counter() - start:.2f} s")


if __name__ == "__main__":
    main()
