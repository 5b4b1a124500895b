"""Seconds for many pictures in one call of the program, with one process and with two: by hand.

    python -m tests.bench.many_pictures [how many pictures, 500 if not given]

Goal: >= 1.8 times as fast on two processes, and one damaged file in the middle named at the end, the rest
written. Nothing is remembered between the two runs. The pictures are small, 400 x 300. Seconds of the
processor are told beside those of the clock: on a machine that does something else, the clock tells less.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from PIL import Image, ImageDraw, ImageFont

WORDS = ("Left eye", "IOP 18 mmHg", "Quillmarkton", "MRN 00471902", "09:30")


class Run(NamedTuple):
    """One call: seconds of the clock and of the processor, with its helpers, and what it said."""

    clock: float
    processor: float
    said: str


def drawn(number: int) -> Image.Image:
    """A small picture with a label, each a little different."""
    image = Image.new("RGB", (400, 300), (30 + number % 60, 60, 90))
    pen = ImageDraw.Draw(image)
    pen.ellipse((120, 60, 260, 200), fill=(180, 90 + number % 40, 70))
    words = f"{WORDS[number % len(WORDS)]} {number}"
    pen.text((20 + number % 30, 20), words, (240, 240, 240), ImageFont.load_default(24))
    return image


def many(folder: Path, number: int) -> Path:
    """Write pictures into a new folder and a damaged one in their middle; return that one."""
    folder.mkdir()
    for each in range(number):
        drawn(each).save(folder / f"{each:04}.png")
    whole = (folder / "0000.png").read_bytes()
    bad = folder / f"{number // 2:04}-damaged.png"
    bad.write_bytes(whole[: len(whole) // 2])
    return bad


def timed(folder: Path, out: Path, jobs: int) -> Run:
    """Make one call."""
    program = [sys.executable, "-m", "mmbuilder", "scrub", str(folder), "--out", str(out)]
    quiet = os.environ | {"MMBUILDER_CACHE": "", "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    before, start = _processor(), time.perf_counter()
    done = subprocess.run(
        [*program, "--jobs", str(jobs)], check=False, env=quiet, capture_output=True, text=True
    )
    return Run(time.perf_counter() - start, _processor() - before, done.stdout + done.stderr)


def _processor() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main(number: int) -> None:
    """Print the times and how they compare."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "in"
        bad = many(folder, number)
        one, two = (timed(folder, Path(place) / f"out{jobs}", jobs) for jobs in (1, 2))
        for jobs, run in ((1, one), (2, two)):
            assert len([*(Path(place) / f"out{jobs}").glob("*.png")]) == number, run.said
            assert run.said.splitlines()[-1].startswith(f"{bad}: not written: "), run.said
    print(f"{number} pictures and a damaged one in their middle, which was named at the end")
    print(
        f"clock      one process {one.clock:.1f} s, two {two.clock:.1f} s: {one.clock / two.clock:.2f} times"
    )
    shared = 2 * one.processor / two.processor
    print(
        f"processor  one process {one.processor:.1f} s, two {two.processor:.1f} s together: {shared:.2f} times"
    )
    print("goal >= 1.8; the second line is what two processors with nothing else to do would reach at most")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
