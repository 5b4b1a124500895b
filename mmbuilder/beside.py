"""Work beside this process, in others: what asks for it need not wait.

What the name model and the finders remember lives in those processes, and is forgotten with them.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, ParamSpec, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor

_P = ParamSpec("_P")
_R = TypeVar("_R")


class Worker:
    """Processes that do what they are given, in turn; each is started when it is first needed.

    Args:
        processes: how many at the most.
    """

    def __init__(self, processes: int = 1) -> None:
        self.processes = processes
        self._lock = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None

    def do(self, work: Callable[_P, _R], *args: _P.args, **kwargs: _P.kwargs) -> Future[_R]:
        """Hand over work: a function of a module, and values that can be sent to another process."""
        from concurrent.futures.process import BrokenProcessPool

        with self._lock:
            if self._pool is None:
                self._pool = _started(self.processes)
            try:
                return self._pool.submit(work, *args, **kwargs)
            except BrokenProcessPool:  # the process was ended from outside; begin another
                self._pool = _started(self.processes)
                return self._pool.submit(work, *args, **kwargs)

    def forget(self) -> None:
        """End the processes and everything they remember; work that has not begun is dropped."""
        with self._lock:
            pool, self._pool = self._pool, None
        if pool is not None:
            ours = list((pool._processes or {}).values())
            pool.shutdown(wait=False, cancel_futures=True)
            for process in ours:
                process.terminate()


def _started(processes: int) -> ProcessPoolExecutor:
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    # 'spawn' behaves the same on every system.
    return ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=_leave_with_parent)


def _leave_with_parent() -> None:
    """End with the parent, also where it was killed: a pool's process would wait for ever."""
    from multiprocessing import parent_process
    from multiprocessing.connection import wait

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who stops the parent means both, and is told once
    parent = parent_process()
    if parent is None:
        return

    def watch() -> None:
        wait([parent.sentinel])
        os._exit(0)

    threading.Thread(target=watch, daemon=True).start()
