"""Slow work beside the page, in a process of its own: a click never waits for it.

What the name model and the finders remember lives in that process, and is forgotten with it.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait
from typing import ParamSpec, TypeVar

_P = ParamSpec("_P")
_R = TypeVar("_R")


class Worker:
    """One process that does what it is given, in turn; started when it is first needed."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None

    def do(self, work: Callable[_P, _R], *args: _P.args, **kwargs: _P.kwargs) -> Future[_R]:
        """Hand over work: a function of a module, and values that can be sent to another process."""
        with self._lock:
            if self._pool is None:
                self._pool = _started()
            try:
                return self._pool.submit(work, *args, **kwargs)
            except BrokenProcessPool:  # the process was ended from outside; begin another
                self._pool = _started()
                return self._pool.submit(work, *args, **kwargs)

    def forget(self) -> None:
        """End the process and everything it remembers; work that has not begun is dropped."""
        with self._lock:
            pool, self._pool = self._pool, None
        if pool is not None:
            ours = list((pool._processes or {}).values())
            pool.shutdown(wait=False, cancel_futures=True)
            for process in ours:
                process.terminate()


def _started() -> ProcessPoolExecutor:
    return ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=_leave_with_parent)


def _leave_with_parent() -> None:
    """End with the page, also where it was killed: a pool's process would wait for ever."""
    parent = parent_process()
    if parent is None:
        return

    def watch() -> None:
        wait([parent.sentinel])
        os._exit(0)

    threading.Thread(target=watch, daemon=True).start()
