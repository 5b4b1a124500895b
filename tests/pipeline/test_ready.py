"""What looks at pictures is loaded beside while the case is read, if there are pictures."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest

from mmbuilder.beside import Worker
from mmbuilder.errors import CaseInvalid
from mmbuilder.pipeline import BuildOptions, build
from mmbuilder.scrub.images import regions
from tests.casefile.minimal import minimal_case


class Noted(Worker):
    """Does the work here, and tells what was asked of it."""

    def __init__(self, fault: Exception | None = None) -> None:
        super().__init__(1)
        self.asked: list[Callable[..., Any]] = []
        self.fault = fault

    def do(self, work: Callable[..., Any], *args: Any, **kwargs: Any) -> Future[Any]:
        self.asked.append(work)
        if self.fault is not None:
            raise self.fault
        done = Future[Any]()
        done.set_result(work(*args, **kwargs))
        return done


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    return minimal_case(tmp_path / "small")


def test_begins_before_anything_else_where_there_are_pictures(case: Path, tmp_path: Path) -> None:
    worker = Noted()
    build(case, BuildOptions(tmp_path / "out"), worker)
    assert worker.asked.index(regions.get_ready) == 0
    assert worker.asked.count(regions.get_ready) == worker.processes


def test_is_left_out_where_there_are_none(case: Path, tmp_path: Path) -> None:
    shutil.rmtree(case / "images")
    worker = Noted()
    with pytest.raises(CaseInvalid):  # its one still is not there
        build(case, BuildOptions(tmp_path / "out"), worker)
    assert worker.asked == []


def test_where_no_process_may_be_started_the_case_is_built_here(case: Path, tmp_path: Path) -> None:
    worker = Noted(OSError("no processes here"))
    assert build(case, BuildOptions(tmp_path / "out"), worker).slides


_READY = """
import sys
from mmbuilder.scrub.images import regions
needed = {name for finder in regions.finders() for name in finder.NEEDS}
assert needed and not needed & sys.modules.keys()
regions.get_ready()
assert needed <= sys.modules.keys()
"""


def test_what_the_finders_need_is_loaded() -> None:
    subprocess.run([sys.executable, "-c", _READY], check=True)
