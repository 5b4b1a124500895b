"""What the whole run shares: what the finders see in the bundled stills, and one browser; both are slow."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Generator, Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from mmbuilder.beside import one_thread_each
from tests.browser import chromium

if TYPE_CHECKING:
    from mmbuilder.pipeline import BuildReport
    from mmbuilder.safe.terms import Use

one_thread_each()  # as the program does: tests run in several processes


@pytest.hookimpl(wrapper=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> Generator[None, int, int]:
    """With `-n auto`, run one process more than there are processors.

    A fifth of the time tests wait: for Chromium, for LibreOffice, for a search in a process beside. Another test
    goes on meanwhile.
    """
    found = yield
    told = config.option.numprocesses != "auto" or "PYTEST_XDIST_AUTO_NUM_WORKERS" in os.environ
    return found if told or not found else found + 1


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """A Chromium for all tests of a process: its driver runs once in each."""
    with chromium() as opened:
        yield opened


@pytest.fixture(scope="session")
def run(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that all processes of this run share."""
    root = tmp_path_factory.getbasetemp()
    return root.parent if root.name.startswith("popen-") else root


@pytest.fixture(scope="session")
def shared(run: Path) -> Path:
    """The cache of the run: other tests look for it too where the user chose it."""
    return Path(os.environ.get("MMBUILDER_CACHE") or run / "shared")


@pytest.fixture(scope="session")
def looks(run: Path, shared: Path) -> Path:
    """A cache folder that holds what was found in each bundled still, before and after covering, and nothing else.

    Nothing is dropped from it, as from the cache of the run once that is full.
    """
    folder = run / "looks"

    def look() -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("MMBUILDER_CACHE", str(shared))
            _look()
        only_looks(shared, folder)

    once(run / "looking", look)
    return folder


def once(begun: Path, work: Callable[[], object]) -> None:
    """Do a work that one process of the run does for all, and they wait for: half a minute of a processor is worth it."""
    done = begun / "done"
    try:
        begun.mkdir()
    except FileExistsError:
        wait_until(done.exists)
        return
    try:
        work()
    finally:
        done.touch()


def wait_until(true: Callable[[], bool], most: float = 300) -> None:
    """Wait for something that another process does; so many seconds at the most."""
    end = time.monotonic() + most
    while not true():
        assert time.monotonic() < end, "the other process did not end its part"
        time.sleep(0.1)


def _begins(kept: Path) -> bytes:
    """Return the first byte of what is kept, behind its hash."""
    with kept.open("rb") as file:
        file.seek(32)
        return file.read(1)


def _look() -> None:
    from mmbuilder.casefile import load
    from mmbuilder.formats._pptx.media import encoded
    from mmbuilder.safe.terms import Use
    from mmbuilder.scrub.apply import apply
    from mmbuilder.scrub.layers import NoNameModel
    from mmbuilder.scrub.propose import propose
    from mmbuilder.scrub.second_look import look_at
    from tests.bundled import ILLUSTRATED

    for root in ILLUSTRATED:
        folder = load(root)
        plan = propose(folder, names=NoNameModel())
        case = apply(folder, plan)
        for frame in case.frames:
            look_at(encoded(frame.image), case, folder, plan)
        propose(load(root, Use.REPORT), names=NoNameModel())  # what else is covered for readers elsewhere


@pytest.fixture(scope="session")
def built(
    looks: Path, shared: Path, run: Path, tmp_path_factory: pytest.TempPathFactory
) -> Callable[[Path, Use], BuildReport]:
    """Builds a bundled case for a use, once in a run: another process finds the results where this one kept them.

    To be called where nothing of the program is replaced: what is kept here, others take for what is built.
    """

    @cache
    def build_once(root: Path, use: Use) -> BuildReport:
        from mmbuilder.pipeline import BuildOptions, build

        options = BuildOptions(tmp_path_factory.mktemp("built"), use)
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("MMBUILDER_CACHE", str(only_looks(looks, shared)))
            once(run / f"building {root.name} {use.name}", lambda: build(root, options))
            return build(root, options)

    return build_once


@pytest.fixture(scope="session")
def decided(looks: Path, shared: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The bundled airway case with everything decided, as by a reviewer who agrees; to be copied."""
    from mmbuilder import resources
    from tests.agreed import agreed

    source = next(path for path in resources.bundled_cases() if path.name == "airway-prone")
    root = Path(shutil.copytree(source, tmp_path_factory.mktemp("decided") / source.name))
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MMBUILDER_CACHE", str(only_looks(looks, shared)))
        agreed(root)
    return root


@pytest.fixture
def seen(looks: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of the test's own that holds what was found in the bundled stills, and nothing else."""
    own = only_looks(looks, tmp_path / "kept")
    monkeypatch.setenv("MMBUILDER_CACHE", str(own))
    return own


def only_looks(known: Path, own: Path) -> Path:
    """Have a cache folder hold what another knows of stills, as what was used last; return it."""
    for path in known.glob("??/*"):
        with suppress(FileNotFoundError):  # half written by another process, or dropped as the oldest
            if _begins(path) == b"[":  # a look is kept as a list
                to = own / path.parent.name / path.name
                if to.exists():
                    to.touch()
                else:
                    to.parent.mkdir(parents=True, exist_ok=True)
                    shutil.copyfile(path, to)
    return own
