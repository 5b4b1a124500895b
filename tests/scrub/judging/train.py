"""Make mmbuilder/scrub/judging/weights.txt and .bin: `python -m tests.scrub.judging.train`, a quarter of an hour of one processor and 9 GB.

To see what the judge is worth on a set it has not read, leave the set out and write elsewhere:

    python -m tests.scrub.judging.train --without sixth --to /tmp/weights.txt
"""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from itertools import chain
from pathlib import Path
from random import Random

import numpy as np

from mmbuilder.scrub.judging.chain import LABELS
from mmbuilder.scrub.judging.features import features
from mmbuilder.scrub.judging.judge import LEARNED, PULLS, STEP
from mmbuilder.scrub.layers import Patterns
from mmbuilder.scrub.plan import Decision
from tests.scrub.judging.learning import Learned, Sample, batched, learned, numbered
from tests.scrub.judging.swaps import labelled, lesson, varied
from tests.scrub.names import corpus
from tests.scrub.sets.kinds import kinds, more
from tests.scrub.sets.made import clean, identified
from tests.scrub.sets.passages import (
    Passage,
    Planted,
    by_hand,
    eleventh,
    fifth,
    hurried,
    ninth,
    parsed,
    seventh,
    sixth,
    structured,
    tenth,
    twelfth,
)

HERE = Path(__file__).parent
COPIES, PASSES, SEED, SEEN_LEAST = 2, 10, 1, 6
LIGHTEST = 0.22
"""A weight below it is left out of the file."""


def sets() -> Mapping[str, Sequence[Passage]]:
    """Every passage there is to learn from, by the set that can be left out."""
    return {
        "lessons": [passage for path in sorted(HERE.glob("*.txt")) for passage in _lessons(path)],
        "by_hand": list(by_hand()),
        "made": list(chain(identified(3), clean(5))),
        "fourth": list(hurried()),
        "fifth": list(fifth()),
        "sixth": list(sixth()),
        "seventh": list(seventh()),
        "ninth": list(ninth()),
        "tenth": list(tenth()),
        "eleventh": list(eleventh()),
        "twelfth": list(twelfth()),
        "structured": list(structured()),
        "kinds": list(chain(kinds(), more())),
        "names": [passage for path in _CORPORA for passage in map(_planted, corpus.read(path))],
    }


_CORPORA = (
    corpus.NAMED,
    corpus.CLEAN,
    corpus.HANDS,
    corpus.HANDS_CLEAN,
    corpus.FRESH,
    corpus.FRESH_CLEAN,
)


def _lessons(path: Path) -> list[Passage]:
    lines = path.read_text("utf-8").splitlines()
    return [parsed(line, "dev") for line in lines if line and not line.startswith("#")]


def _planted(passage: corpus.Passage) -> Passage:
    """Marked by hand are people and places; other identifiers are what the detectors find."""
    people = [Planted(*span, "A") for span in passage.people]
    places = [Planted(*span, "B") for span in passage.places]
    others = [
        Planted(span.start, span.end, span.letter)
        for span in Patterns().find([passage.text])[0]
        if span.decision is Decision.REPLACE and span.letter not in "AB"
    ]
    return Passage(passage.text, (*people, *places, *others), passage.keep, "dev")


def samples(passages: Sequence[Passage], copies: int = COPIES) -> list[Sample]:
    """Every sentence as it stands, and in so many copies with other people in it."""
    found = []
    for passage in passages:
        whole = lesson(passage)
        variants = [labelled(whole)]
        for copy in range(copies):
            variants.append(labelled(*varied(whole, Random(f"{SEED} {copy} {passage.text}"))))
        for _, tokens, labels in chain(*variants):
            found.append(Sample([seen.all() for seen in features(tokens)], labels))
    return found


def taught(passages: Sequence[Passage]) -> tuple[dict[str, int], Learned]:
    """Numbers of the features, and what was learned."""
    every = samples(passages)
    number = numbered(every, SEEN_LEAST)
    return number, learned(batched(every, number), len(number), passes=PASSES, seed=SEED)


def recipe(names: Sequence[str]) -> list[str]:
    """The first lines of the file: what it was learned from, and how."""
    return [
        "# The weights of the judge of names, in hundredths: for a person, for a place, for any other identifier. Made by tests/scrub/judging/train.py",
        "# from invented passages of ours alone, and the names and words of mmbuilder/scrub/keep put into them.",
        f"# sets: {' '.join(names)}",
        f"# copies {COPIES}, passes {PASSES}, seed {SEED}, features seen {SEEN_LEAST} times or more, of weight {LIGHTEST} or more",
    ]


def write(to: Path, names: Sequence[str], number: Mapping[str, int], weights: Learned) -> None:
    """Both files. What speaks against nothing speaks for all the others, so three figures a feature are enough."""
    of, follows = (
        np.rint(its / STEP).astype(int) for its in (weights.of - weights.of[:, :1], weights.follows)
    )
    heavy = [name for name, at in number.items() if np.abs(of[at]).max() >= LIGHTEST / STEP]
    head = ["\t".join([label, *map(str, row)]) for label, row in zip(LABELS, follows, strict=True)]
    to.write_text("\n".join([*recipe(names), *head]) + "\n\n" + "\n".join(heavy), "utf-8")
    pulls = of[[number[name] for name in heavy], 1:]
    to.with_suffix(PULLS.suffix).write_bytes(pulls.astype("<i2").tobytes())


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--without", default="", help="a set not to learn from")
    parser.add_argument("--to", type=Path, default=LEARNED)
    asked = parser.parse_args()
    chosen = {name: passages for name, passages in sets().items() if name != asked.without}
    number, weights = taught([passage for passages in chosen.values() for passage in passages])
    write(asked.to, list(chosen), number, weights)


if __name__ == "__main__":
    main()
