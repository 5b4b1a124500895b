"""Work shared between this process and one beside it: everything is done once, wherever that is."""

from __future__ import annotations

import operator
import os
import time
from collections.abc import Iterator
from concurrent.futures import Future
from pathlib import Path

import pytest

from mmbuilder import cache
from mmbuilder.beside import Worker
from mmbuilder.errors import FileRefused
from mmbuilder.pipeline.together import Together
from mmbuilder.scrub import stills


@pytest.fixture(params=[1, 3])
def worker(request: pytest.FixtureRequest) -> Iterator[Worker]:
    worker = Worker(request.param)
    yield worker
    worker.forget()


def keep(name: str, content: bytes) -> int:
    cache.put(name, content)
    return os.getpid()


def test_without_a_process_beside_all_of_it_is_done_here() -> None:
    with Together() as work:
        told = [work.begin(os.getpid) for _ in range(3)]
        work.finish()
    assert [one.result() for one in told] == [os.getpid()] * 3


def test_each_piece_is_told_to_who_began_it(worker: Worker) -> None:
    with Together(worker) as work:
        told = [work.begin(operator.add, one, 1) for one in range(20)]
        work.finish()
        more = work.begin(operator.add, 40, 2)
        work.finish()
    assert [one.result() for one in told] == list(range(1, 21))
    assert more.result() == 42


def test_the_process_beside_does_a_part_and_what_it_would_keep_comes_back(
    worker: Worker, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))
    with cache.gathered() as kept, Together(worker) as work:
        first = work.begin(keep, cache.key("one"), b"1")
        assert first.result() != os.getpid()  # nothing is done here before `finish`
        assert kept == {}
        work.finish()
    assert kept == {cache.key("one"): b"1"}
    assert not (tmp_path / "kept").exists()


def test_a_fault_is_raised_where_it_is_asked_for(worker: Worker, tmp_path: Path) -> None:
    missing = stills.Still(3, tmp_path, "none.jpg", None, (), ())
    for hands in (None, worker):
        with Together(hands) as work:
            told = work.begin(stills.look, missing)
            fine = work.begin(operator.add, 1, 1)
            work.finish()
        assert fine.result() == 2
        with pytest.raises(FileRefused, match=r"^still 3: "):
            told.result()


def test_where_no_process_may_be_started_all_of_it_is_done_here() -> None:
    class Alone(Worker):
        def do(self, *args: object, **kwargs: object) -> Future[int]:  # type: ignore[override]
            raise OSError

    with Together(Alone()) as work:
        told = [work.begin(os.getpid) for _ in range(3)]
        work.finish()
    assert {one.result() for one in told} == {os.getpid()}


def test_what_has_not_begun_is_dropped_when_the_work_breaks_off(tmp_path: Path) -> None:
    done, busy = tmp_path / "done", list[Future[None]]()
    worker = Worker()

    def broken_off() -> None:
        with Together(worker) as work:
            busy.append(work.begin(time.sleep, 1))
            work.begin(done.touch)
            raise KeyError

    try:
        with pytest.raises(KeyError):
            broken_off()
        busy[0].result()
        # Whatever would be handed over after the first piece has been done before these are.
        worker.do(time.sleep, 0.5).result()
        worker.do(os.getpid).result()
    finally:
        worker.forget()
    assert not done.exists()
