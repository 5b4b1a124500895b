"""How many small faults planted in the figures of the clinic their tests find, by hand:

    pip install mutmut==3.8.1 && python -m tests.bench.mutants [FOLDER]

Goal: 90 in 100. It copies the package and tests/clinic into FOLDER (a temporary one if none is
named; kept ones are gone on with), lets mutmut change one thing at a time in what works a figure out,
with one process, and prints the share that a test noticed, then every mutant that none did. An hour on
a busy machine. `mutmut show NAME` in FOLDER shows one.

Each mutant runs in a process forked from one that has collected the tests and run none, because what an
earlier run had cached (factors of units) would hide it. What is worked out on import is done before a
mutant is switched on, so mutants of a function that only builds INPUTS or EXAMPLES live on; they are
counted as missed all the same.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
COPIED = ("mmbuilder", "tests/__init__.py", "tests/clinic")
SETTINGS = """\
[tool.mutmut]
source_paths = ["mmbuilder"]
only_mutate = [
  "mmbuilder/clinic/measures/*.py",
  "mmbuilder/clinic/severity/*.py",
  "mmbuilder/clinic/units.py",
  "mmbuilder/clinic/inputs.py",
  "mmbuilder/clinic/working.py",
  "mmbuilder/clinic/measure.py",
  "mmbuilder/clinic/acuity.py",
  "mmbuilder/clinic/conflict.py",
  "mmbuilder/clinic/days.py",
  "mmbuilder/clinic/possible.py",
  "mmbuilder/clinic/undone.py",
]
process_isolation = "forkserver"
pytest_add_cli_args_test_selection = ["tests/clinic"]
pytest_add_cli_args = ["-q", "-p", "no:randomly", "-p", "no:xdist"]
[tool.pytest.ini_options]
pythonpath = ["."]
"""
MISSED = (0, 33, 34, 35)
"""How a trial ends when nobody noticed: every test passed, no test, left out, unclear. Others are finds."""


def copied(folder: Path) -> None:
    """Copy what is mutated, and the tests it is tried with; the checkout itself is never touched."""
    for name in COPIED:
        source, copy = ROOT / name, folder / name
        if source.is_dir():
            ignored = shutil.ignore_patterns("__pycache__")
            shutil.copytree(source, copy, dirs_exist_ok=True, ignore=ignored)
        else:
            copy.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(source, copy)
    (folder / "pyproject.toml").write_text(SETTINGS, "utf-8")


def ends(folder: Path) -> Iterator[tuple[str, int | None]]:
    """Yield every mutant with how its tests ended; None for one that was not tried."""
    for kept in sorted(folder.glob("mutants/mmbuilder/clinic/**/*.meta")):
        yield from json.loads(kept.read_text("utf-8"))["exit_code_by_key"].items()


def told(folder: Path) -> None:
    """Print the share, by file and in all, and what was missed."""
    found = list(ends(folder))
    tried = [(name, end) for name, end in found if end is not None]
    missed = [name for name, end in tried if end in MISSED]
    files = Counter(name.partition(".x")[0] for name, _ in tried)
    for file, count in sorted(Counter(name.partition(".x")[0] for name in missed).items()):
        print(f"{file:60} {count:4} missed of {files[file]}")
    print(*missed, sep="\n")
    share = 100 * (len(tried) - len(missed)) / len(tried)
    print(f"{len(found)} mutants, {len(tried)} tried: {share:.1f} % found   goal >= 90")


def main() -> None:
    """Copy, mutate, count."""
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(sys.argv[1] if len(sys.argv) > 1 else temporary).absolute()
        copied(folder)
        subprocess.run(
            [sys.executable, "-m", "mutmut", "run", "--max-children", "1"], cwd=folder, check=False
        )
        told(folder)


if __name__ == "__main__":
    main()
