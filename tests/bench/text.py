"""Held-out figures, speed, memory and cold time of the text scrubber: `python -m tests.bench.text`."""

from __future__ import annotations

import resource
import subprocess
import sys
import time
from itertools import chain

from mmbuilder.scrub.layers import NoNameModel, Patterns
from mmbuilder.scrub.propose import in_texts
from mmbuilder.scrub.untitled import UntitledNames
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


def speed(name: str, texts: list[str], model: NoNameModel | UntitledNames) -> None:
    start = time.process_time()
    in_texts(texts, NOTHING, names=model, patterns=Patterns())
    took = time.process_time() - start
    print(f"{name:24} {sum(map(len, texts)) / took:9.0f} characters a second of one processor")


def main() -> None:
    """Print every figure."""
    sets = list(chain(written("written.txt"), written("clean_written.txt"), identified(), clean()))
    print("own sets, held out     ", scored(sets, "held"))
    print("names and keep sets    ", scored(other(), "held"))
    texts = [passage.text for passage in chain(sets, other())]
    speed("without the name model", texts, NoNameModel())
    speed("with the name model", texts, UntitledNames())
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    code = "from mmbuilder.scrub.containers.tools import Scrubber; Scrubber().look(['Seen by Amara Okonjo in clinic.'])"
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True)
    print(f"cold start to the end of one note {time.perf_counter() - start:.2f} s")


if __name__ == "__main__":
    main()
