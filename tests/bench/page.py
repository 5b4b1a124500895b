"""The local page, measured in one run, by hand:

    python -m tests.bench.page [RUNS]

First page after the command, each page of the bundled cases, a change that is kept, a case of 300
events, and sixty pictures of 12 megapixels with the memory of the server and its helpers. Each figure
is a median of RUNS (5), beside its goal as a ratio: below 1.00 it is met. Searching and building are
done beside the page and are not waited for, but for memory: it is watched until three of the pictures
have been looked at.
"""

from __future__ import annotations

import re
import statistics
import sys
import tempfile
from collections.abc import Callable, Iterator
from compileall import compile_dir
from contextlib import suppress
from pathlib import Path
from threading import Thread
from time import perf_counter, sleep
from urllib.request import HTTPCookieProcessor, Request, build_opener

import mmbuilder
from mmbuilder import resources
from mmbuilder.casefile.editing import edited
from tests.page.conftest import Program, copied

PAGES = (
    "start",
    "note",
    "write/story",
    "write/events",
    "clocks",
    "readings",
    "timeline",
    "words",
    "cover",
    "sign",
)
PICTURES, MEGAPIXELS = 60, (4000, 3000)


class Visitor:
    """Asks as a browser does, with the session's cookie."""

    def __init__(self, served: Program) -> None:
        self._served, self._opener = served, build_opener(HTTPCookieProcessor())
        self.get_at(served.address)

    def get_at(self, address: str, data: bytes | None = None, **headers: str) -> str:
        request = Request(address, data, {"Origin": self._served.base, **headers})
        with self._opener.open(request, timeout=120) as answer:
            return str(answer.read().decode("latin-1"))

    def get(self, page: str) -> str:
        return self.get_at(f"{self._served.base}/{page}")

    def post(self, page: str, body: str) -> str:
        kind = {"Content-Type": "application/json", "Accept": "application/json"}
        return self.get_at(f"{self._served.base}/{page}", body.encode(), **kind)


def tell(name: str, seconds: float, goal: float) -> None:
    print(f"{name:<52} {seconds * 1000:7.0f} ms   {seconds / goal:5.2f} of the goal")


def median(work: Callable[[], object], runs: int) -> float:
    taken = []
    for _ in range(runs):
        begun = perf_counter()
        work()
        taken.append(perf_counter() - begun)
    return statistics.median(taken)


def first_page(root: Path) -> float:
    begun = perf_counter()
    served = Program(root)
    Visitor(served)
    taken = perf_counter() - begun
    served.stop()
    return taken


def changes(visitor: Visitor, runs: int) -> float:
    """A title typed anew, as the form sends it."""
    taken = []
    for number in range(runs):
        shown = visitor.get("write/story/")
        revision = re.search(r'data-revision="(\w+)"', shown)
        assert revision is not None
        body = f'{{"revision": "{revision[1]}", "do": "set", "path": ["title"], "value": "Title {number}"}}'
        begun = perf_counter()
        visitor.post("write/story/", body)
        taken.append(perf_counter() - begun)
    return statistics.median(taken)


def pages(root: Path, runs: int, goal: float) -> None:
    served = Program(root)
    try:
        visitor = Visitor(served)
        slowest = {page: median(lambda page=page: visitor.get(f"{page}/"), runs) for page in PAGES}
        worst = max(slowest, key=lambda page: slowest[page])
        tell(f"{root.name}: slowest page ({worst})", slowest[worst], goal)
        tell(f"{root.name}: a change kept", changes(visitor, runs), goal)
    finally:
        served.stop()


def long(root: Path) -> Path:
    """The case with 300 events."""

    def more(tree: dict[str, dict[str, list[dict[str, str]]]]) -> None:
        events = tree["timeline"]["events"]
        last = dict(events[-1])
        for key in ("id", "also", "compute"):
            last.pop(key, None)
        events += [{**last, "kind": "note", "what": f"Entry {n}"} for n in range(300 - len(events))]

    path = root / "case.yaml"
    path.write_text(edited(path.read_text("utf-8"), more), "utf-8")
    return root


def many_pictures(root: Path) -> Path:
    """The case with sixty large pictures, each its own."""
    import numpy as np
    from PIL import Image

    dice = np.random.default_rng(60)
    small = [Image.fromarray(dice.integers(0, 255, (75, 100, 3), np.uint8)) for _ in range(PICTURES)]
    for number, one in enumerate(small):
        one.resize(MEGAPIXELS, Image.Resampling.BICUBIC).save(
            root / "images" / f"large-{number}.jpg", quality=90
        )

    def more(tree: dict[str, list[dict[str, str]]]) -> None:
        tree["frames"] = [
            {
                "file": f"images/large-{n}.jpg",
                "shows": f"Picture {n}",
                "caption": "A picture",
                "cover": "none",
            }
            for n in range(PICTURES)
        ]

    path = root / "case.yaml"
    path.write_text(edited(path.read_text("utf-8"), more), "utf-8")
    return root


def browse(root: Path) -> None:
    served = Program(root)
    try:
        memory = Memory(served.process.pid)
        memory.start()
        visitor = Visitor(served)
        taken = []
        for number in range(1, PICTURES + 1):
            begun = perf_counter()
            visitor.get(f"cover/{number}")
            visitor.get(f"cover/{number}/picture")
            taken.append(perf_counter() - begun)
        ordered = sorted(taken)
        tell("60 pictures of 12 megapixels: median to the next", statistics.median(taken), 0.3)
        tell("60 pictures of 12 megapixels: 95th of 100", ordered[int(0.95 * len(ordered))], 0.3)
        for number in (PICTURES, 1, 2):  # the last asked for are looked at first; each has its peak
            while '"looking":true' in visitor.get(f"cover/{number}/boxes"):
                sleep(1)
        print(
            f"{'the most memory of the server and its helpers':<52} {memory.most:7.0f} MB   {memory.most / 1200:5.2f} of the goal"
        )
    finally:
        served.stop()


class Memory(Thread):
    """The most that a process and all below it held at one moment, in MB; Linux only."""

    def __init__(self, process: int) -> None:
        super().__init__(daemon=True)
        self.most, self._process = 0.0, process

    def run(self) -> None:
        while True:
            self.most = max(self.most, sum(_held(self._process)))
            sleep(0.2)


def _held(process: int) -> Iterator[float]:
    """Yield the memory of a process, and of each below it."""
    parents, held = {}, {}
    for told in Path("/proc").glob("[0-9]*/status"):
        with suppress(OSError):  # it ended meanwhile
            facts = dict(line.split(":\t", 1) for line in told.read_text().splitlines() if ":\t" in line)
            parents[int(facts["Pid"])] = int(facts["PPid"])
            held[int(facts["Pid"])] = int(facts.get("VmRSS", "0").split()[0]) / 1024
    family = {process}
    while more := {pid for pid, parent in parents.items() if parent in family} - family:
        family |= more
    yield from (held.get(pid, 0.0) for pid in family)


def main() -> None:
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    compile_dir(str(Path(mmbuilder.__file__).parent), quiet=1)  # as pip leaves what it installs
    with tempfile.TemporaryDirectory() as folder:
        roots = [copied(case.name, Path(folder)) for case in resources.bundled_cases()]
        tell(
            "first page after the command", statistics.median(first_page(roots[0]) for _ in range(runs)), 1.0
        )
        for root in roots:
            pages(root, runs, 0.15)
        pages(long(roots[1]), runs, 0.3)
        browse(many_pictures(roots[0]))


if __name__ == "__main__":
    main()
