"""The goals of the main job, measured in one run, by hand:

    python -m tests.bench.goals [CASES]

Prints each goal with its figure. CASES (200) is how many copies of the eye case the last
part builds; use fewer for a quick look.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from mmbuilder import resources

EYE = next(path for path in resources.bundled_cases() if path.name.startswith("eye"))
PYTHON = sys.executable


# An installed package has its bytecode; a checkout on a machine that forbids writing it would be
# compiled anew at each start, and that is not what is measured here.
SETTINGS = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def seconds(*arguments: object, cache: Path | str = "", times: int = 5) -> float:
    """Median wall time of a process, after one run that warms the file system."""
    environment = SETTINGS | {"MMBUILDER_CACHE": str(cache)}
    taken = []
    for _ in range(times + 1):
        start = time.perf_counter()
        subprocess.run([PYTHON, *map(str, arguments)], env=environment, check=True, capture_output=True)
        taken.append(time.perf_counter() - start)
    return statistics.median(taken[1:])


def startup() -> None:
    print(
        f"--help cold                 {seconds('-m', 'mmbuilder', '--help', times=11):6.3f} s   goal <= 0.15"
    )
    print(f"check cold                  {seconds('-m', 'mmbuilder', 'check', EYE):6.3f} s   goal <= 0.4")


def against_the_script(work: Path) -> None:
    import zipfile

    built = seconds("-m", "mmbuilder", "build", EYE, "--out", work / "out", "--fresh")
    deck = zipfile.ZipFile(next((work / "out").glob("*.pptx"))).namelist()
    slides = sum(name.startswith("ppt/slides/slide") for name in deck)
    charts = sum(name.endswith(".svg") for name in deck)
    by_hand = seconds("-m", "tests.bench.by_hand", EYE, work / "by_hand.pptx", slides, charts)
    print(f"build (a) cold              {built:6.3f} s   goal <= 3 ({slides} slides, {charts} charts)")
    print(f"the same by hand            {by_hand:6.3f} s")
    print(f"ratio                       {built / by_hand:6.2f}     goal <= 2")
    again = seconds("-m", "mmbuilder", "build", EYE, "--out", work / "out", cache=work / "kept")
    print(f"unchanged rebuild           {again:6.3f} s   goal <= 1")


def copies(work: Path, count: int) -> list[Path]:
    made = []
    for number in range(count):
        copy = work / "cases" / f"eye-{number:03d}"
        shutil.copytree(EYE, copy)
        text = (copy / "case.yaml").read_text("utf-8")
        code = next(line for line in text.splitlines() if line.startswith("code:"))
        (copy / "case.yaml").write_text(text.replace(code, f"code: copy-{number:03d}", 1), "utf-8")
        made.append(copy)
    return made


_GROWTH = """
import resource, sys
from pathlib import Path
from mmbuilder.pipeline import BuildOptions, build_many
peaks = []
def note(result):
    peaks.append(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
build_many([Path(p) for p in sys.argv[2:]], BuildOptions(Path(sys.argv[1]), fresh=True), done=note)
print(round(peaks[min(4, len(peaks) - 1)]), round(peaks[-1]))
"""


def many(work: Path, count: int) -> None:
    cases = copies(work, count)
    environment = SETTINGS | {"MMBUILDER_CACHE": ""}
    start = time.perf_counter()
    done = subprocess.run(
        [PYTHON, "-c", _GROWTH, work / "alone", *cases],
        env=environment,
        check=True,
        capture_output=True,
        text=True,
    )
    alone = time.perf_counter() - start
    early, late = done.stdout.split()
    print(f"{count} cases, one process       {alone:6.1f} s")
    print(f"peak memory                 {early} MB after 5 cases, {late} MB after all   goal flat")
    start = time.perf_counter()
    call = [PYTHON, "-m", "mmbuilder", "build", *cases, "--out", work / "two", "--fresh", "--jobs", "2"]
    subprocess.run(call, env=environment, check=True, capture_output=True)
    two = time.perf_counter() - start
    print(f"{count} cases, two processes     {two:6.1f} s; {alone / two:.2f} times as fast   goal >= 1.8")


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        startup()
        against_the_script(work)
        many(work, count)
    print(f"(this process peaked at {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB)")


if __name__ == "__main__":
    main()
