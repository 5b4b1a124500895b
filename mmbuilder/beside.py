"""Work beside this process, in others: what asks for it need not wait.

What the name model and the finders remember lives in those processes, and is forgotten with them.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, ParamSpec, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future, ProcessPoolExecutor

THREADS = "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"
"""Where the libraries of numbers read how many threads they may use."""

_P = ParamSpec("_P")
_R = TypeVar("_R")


class Worker:
    """Processes that do what they are given, in turn; each is started when it is first needed.

    Args:
        processes: how many at the most.
        gives_way: whether this process goes first where both want to run.
        rest: seconds without new work after which they end and give back their memory, once all is done.
        most: pieces of work after which they are begun anew for the next, if nothing is under way.
    """

    def __init__(
        self,
        processes: int = 1,
        *,
        gives_way: bool = False,
        rest: float | None = None,
        most: int | None = None,
    ) -> None:
        self.processes = processes
        self._gives_way, self._rest, self._most = gives_way, rest, most
        self._lock = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None
        self._given = 0
        self._under_way: list[Future[Any]] = []
        self._ending: threading.Timer | None = None

    def do(self, work: Callable[_P, _R], *args: _P.args, **kwargs: _P.kwargs) -> Future[_R]:
        """Hand over work: a function of a module, and values that can be sent to another process."""
        from concurrent.futures.process import BrokenProcessPool

        with self._lock:
            if self._most is not None and self._given >= self._most and not self._busy():
                self._end()
            self._pool = self._pool or _started(self.processes, self._gives_way)
            try:
                done = self._pool.submit(work, *args, **kwargs)
            except BrokenProcessPool:  # the process was ended from outside; begin another
                self._pool = _started(self.processes, self._gives_way)
                done = self._pool.submit(work, *args, **kwargs)
            self._given += 1
            self._under_way.append(done)
            self._watch()
        return done

    def forget(self) -> None:
        """End the processes and everything they remember; work that has not begun is dropped."""
        with self._lock:
            self._end()

    def _busy(self) -> bool:
        self._under_way = [one for one in self._under_way if not one.done()]
        return bool(self._under_way)

    def _watch(self) -> None:
        if self._ending is not None:
            self._ending.cancel()
        if self._rest is not None:
            self._ending = threading.Timer(self._rest, self._end_at_rest)
            self._ending.daemon = True
            self._ending.start()

    def _end_at_rest(self) -> None:
        with self._lock:
            if self._ending is not threading.current_thread():
                return  # work came in just now
            if self._busy():
                self._watch()
            else:
                self._end()

    def _end(self) -> None:
        pool, self._pool, self._given = self._pool, None, 0
        if self._ending is not None:
            self._ending.cancel()
            self._ending = None
        if pool is not None:
            ours = list((pool._processes or {}).values())
            pool.shutdown(wait=False, cancel_futures=True)
            for process in ours:
                process.terminate()


def one_thread_each() -> None:
    """Have this process, and those beside it, use one thread for numbers unless the user set it.

    Work is shared over processes, and threads of two of them wait for one another by spinning: of a build's
    search for names that took a third of the time. To be called before numpy is loaded.
    """
    for name in THREADS:
        os.environ.setdefault(name, "1")


def _started(processes: int, gives_way: bool) -> ProcessPoolExecutor:
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    # 'spawn' behaves the same on every system.
    return ProcessPoolExecutor(
        processes, mp_context=get_context("spawn"), initializer=_begin, initargs=(gives_way,)
    )


_NICE = 5
"""How far a process that gives way stands back: about a third of the time of one that does not."""


def _begin(gives_way: bool) -> None:
    if gives_way and hasattr(os, "nice"):
        os.nice(_NICE)
    _leave_with_parent()


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
