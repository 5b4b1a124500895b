"""Processes beside this one: they give way where that is asked, and end when there is nothing to do."""

from __future__ import annotations

import os
import time

import pytest

from mmbuilder.beside import THREADS, Worker, one_thread_each


@pytest.mark.skipif(not hasattr(os, "nice"), reason="this system has no such order of processes")
@pytest.mark.parametrize("gives_way", [True, False])
def test_it_gives_way_if_asked(gives_way: bool) -> None:
    worker = Worker(gives_way=gives_way)
    try:
        assert (worker.do(os.nice, 0).result(60) > os.nice(0)) is gives_way
    finally:
        worker.forget()


def test_at_rest_it_ends_and_begins_again() -> None:
    worker = Worker(rest=0.2)
    try:
        first = worker.do(os.getpid).result(60)
        for _ in range(200):
            if not _runs(first):
                break
            time.sleep(0.05)
        assert not _runs(first)
        assert worker.do(os.getpid).result(60) != first
    finally:
        worker.forget()


def test_it_does_not_end_while_there_is_work() -> None:
    worker = Worker(rest=0.1)
    try:
        first = worker.do(os.getpid)
        slow = worker.do(time.sleep, 1)
        assert worker.do(os.getpid).result(60) == first.result(60)
        slow.result(60)
    finally:
        worker.forget()


def test_after_so_many_pieces_it_is_begun_anew() -> None:
    worker = Worker(most=2)
    try:
        did = [worker.do(os.getpid).result(60) for _ in range(6)]
        assert [len({*did[at : at + 2]}) for at in (0, 2, 4)] == [1, 1, 1]
        assert len({*did}) == 3
    finally:
        worker.forget()


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.mark.parametrize("chosen", ["", "3"])
def test_one_thread_each_unless_the_user_says_otherwise(monkeypatch: pytest.MonkeyPatch, chosen: str) -> None:
    monkeypatch.setattr(os, "environ", {THREADS[1]: chosen} if chosen else {})
    one_thread_each()
    assert [os.environ[name] for name in THREADS] == ["1", chosen or "1", "1"]
