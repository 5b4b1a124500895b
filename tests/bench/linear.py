"""How the work of each detector grows with a text twice as long: `python -m tests.bench.linear`.

Two is linear, four is quadratic; only figures above the clock's step are printed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from time import process_time

from mmbuilder.scrub.layers import detectors
from tests.scrub.test_properties import LONG

STEP = 0.02


def spent(find: Callable[[str], Iterable[object]], text: str) -> float:
    """Seconds of the processor, the least of three runs."""
    return min(_once(find, text) for _ in range(3))


def _once(find: Callable[[str], Iterable[object]], text: str) -> float:
    start = process_time()
    list(find(text))
    return process_time() - start


def main() -> None:
    """Print the ratio of every detector and unit above the step."""
    for name, leaf in detectors().items():
        for unit in LONG:
            once, twice = (spent(leaf.find, unit * (size // len(unit))) for size in (20_000, 40_000))
            if once > STEP:
                print(f"{name:20} {unit!r:12} {once * 1000:7.1f} ms, twice as long {twice / once:.1f} x")


if __name__ == "__main__":
    main()
