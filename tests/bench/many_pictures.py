"""Seconds for many pictures in one call of the program, with one process and with two: by hand.

    python -m tests.bench.many_pictures [how many pictures, 40 if not given]

Goal: >= 1.8 times as fast on two processes, and one damaged file among them named at the end, the rest
written. Nothing is remembered between the two runs. The pictures are small, 640 x 480.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

BAD = "damaged.png"
WORDS = ("Left eye", "IOP 18 mmHg", "Quillmarkton", "MRN 00471902", "09:30")


def drawn(number: int) -> Image.Image:
    """A small picture with a label, each a little different."""
    image = Image.new("RGB", (640, 480), (30 + number % 60, 60, 90))
    pen = ImageDraw.Draw(image)
    pen.ellipse((120, 60, 360, 300), fill=(180, 90 + number % 40, 70))
    pen.text(
        (20 + number % 30, 20),
        f"{WORDS[number % len(WORDS)]} {number}",
        (240, 240, 240),
        ImageFont.load_default(24),
    )
    return image


def timed(folder: Path, out: Path, jobs: int) -> tuple[float, str]:
    """Seconds of one call, and what it said."""
    program = [
        sys.executable,
        "-m",
        "mmbuilder",
        "scrub",
        str(folder),
        "--out",
        str(out),
        "--jobs",
        str(jobs),
    ]
    quiet = os.environ | {"MMBUILDER_CACHE": "", "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    start = time.perf_counter()
    done = subprocess.run(program, check=False, env=quiet, capture_output=True, text=True)
    return time.perf_counter() - start, done.stdout + done.stderr


def main(number: int) -> None:
    """Print both times and how they compare."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "in"
        folder.mkdir()
        for each in range(number):
            drawn(each).save(folder / f"{each:04}.png")
        whole = (folder / "0000.png").read_bytes()
        (folder / BAD).write_bytes(whole[: len(whole) // 2])
        (one, _), (two, said) = (timed(folder, Path(place) / f"out{jobs}", jobs) for jobs in (1, 2))
        assert len([*(Path(place) / "out2").glob("*.png")]) == number, said
        assert BAD in "".join(said.splitlines(keepends=True)[-8:]), said
    print(f"{number} pictures and a damaged one, which was named at the end")
    print(f"one process {one:.1f} s, two {two:.1f} s: {one / two:.2f} times; goal >= 1.8")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
