"""Everything that one case becomes for one use, measured by hand:

    python -m tests.bench.outputs [CASE]

Prints, for each use: all outputs made anew in a fresh process, made again after one sentence of
the case was edited (by a command of its own, under `--watch`, and in a process that has made them
before, as the page does), and the handout's PDF alone; each with its share of the goal and with the seconds of all
processors together, which other work on the machine changes less.
"""

from __future__ import annotations

import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

from mmbuilder import resources
from mmbuilder.safe.terms import Use
from tests.bench.goals import SETTINGS

COLD, EDITED, PAGES = 6.0, 2.0, 0.6
"""Seconds: the goals."""

_EDITED = "take away: "


def main() -> None:
    """Measure each use."""
    name = sys.argv[1] if len(sys.argv) > 1 else "eye-drainage"
    bundled = next(path for path in resources.bundled_cases() if path.name == name)
    print(f"{name:42} seconds  share of goal  of processors")
    for use in Use:
        with tempfile.TemporaryDirectory() as folder:
            work = Path(folder)
            case = Path(shutil.copytree(bundled, work / name))
            told(f"{use.value}: cold", *_built(case, use, work, work / "none"), COLD)
            kept = work / "kept"
            _built(case, use, work, kept)
            _edit(case, "Look again; ")
            told(f"{use.value}: one sentence edited", *_built(case, use, work, kept), EDITED)
            told(f"{use.value}: edited under --watch", *_watched(case, use, work, kept), EDITED)
            told(f"{use.value}: edited in the page", *_again(case, use, work), EDITED)
            if (taken := pages(case, use)) is not None:
                told(f"{use.value}: handout as PDF", *taken, PAGES)


def _built(case: Path, use: Use, work: Path, kept: Path) -> tuple[float, float]:
    """Wall time and processor time of one build; the cache as it stands."""
    asked = [sys.executable, "-m", "mmbuilder", "build", case, "--use", use.value, "--out", work / "out"]
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        list(map(str, asked)), env=SETTINGS | {"MMBUILDER_CACHE": str(kept)}, check=True, capture_output=True
    )
    taken, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    return taken, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _watched(case: Path, use: Use, work: Path, kept: Path) -> tuple[float, None]:
    """Wall time from a sentence saved until `build --watch` has told that all is written."""
    asked = [sys.executable, "-m", "mmbuilder", "build", case, "--use", use.value, "--out", work / "watched"]
    settings = SETTINGS | {"MMBUILDER_CACHE": str(kept)}
    words = [*map(str, asked), "--watch"]
    with subprocess.Popen(
        words, env=settings, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        draining = threading.Thread(target=run.stdout.read)
        draining.start()
        waits = (line for line in run.stderr if "Ctrl-C" in line)
        for more in ("Look first; ", "Look then; "):
            next(waits)
            _edit(case, more)
            start = time.perf_counter()
        next(waits)
        taken = time.perf_counter() - start
        run.send_signal(signal.SIGINT)
        draining.join()
    return taken, None


def _edit(case: Path, more: str) -> None:
    text = (case / "case.yaml").read_text("utf-8")
    (case / "case.yaml").write_text(text.replace(_EDITED, _EDITED + more, 1), "utf-8")


def _again(case: Path, use: Use, work: Path) -> tuple[float, float]:
    """The same of a build in this process, which made everything before a sentence was edited.

    The processor time is this process's; the one beside it searches the finished files.
    """
    from mmbuilder.beside import Worker
    from mmbuilder.pipeline import BuildOptions, build

    os.environ["MMBUILDER_CACHE"] = str(work / "page-kept")
    asked, worker = BuildOptions(use=use, out=work / "page"), Worker(1)
    for more in ("Look here; ", "Look there; "):
        build(case, asked, worker)
        _edit(case, more)
    start, before = time.perf_counter(), time.process_time()
    build(case, asked, worker)
    taken = time.perf_counter() - start, time.process_time() - before
    worker.forget()
    return taken


def pages(case: Path, use: Use) -> tuple[float, float] | None:
    """The same of writing the handout's PDF in a process that has begun; None where the use has none."""
    from mmbuilder.casefile import load
    from mmbuilder.formats import handout_pdf
    from mmbuilder.scrub.apply import apply
    from mmbuilder.scrub.layers import NoNameModel
    from mmbuilder.scrub.propose import propose
    from mmbuilder.storyboard import compose, compose_papers

    os.environ["MMBUILDER_CACHE"] = ""  # so that the page is set, not remembered
    folder = load(case, use)
    safe = apply(folder, propose(folder, names=NoNameModel()))
    papers = compose_papers(safe, compose(safe, use), use)
    handout = next((one for one in papers if one.slug == "handout"), None)
    if handout is None:
        return None
    start, before = time.perf_counter(), time.process_time()
    handout_pdf.write(handout.board, handout.sheet)
    return time.perf_counter() - start, time.process_time() - before


def told(what: str, taken: float, worked: float | None, goal: float) -> None:
    """Print one line."""
    missed = "" if taken <= goal else "  MISSED"
    processors = "" if worked is None else f"{worked:.2f}"
    print(f"{what:42} {taken:6.2f}   {taken / goal:13.2f}  {processors:>13}{missed}")


if __name__ == "__main__":
    main()
