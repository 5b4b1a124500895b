"""Pieces of work that may be done in any order: this process does some, those beside it the others."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, wait
from functools import partial
from types import TracebackType
from typing import Any, Self, TypeVar, TypeVarTuple

from mmbuilder import cache
from mmbuilder.beside import Worker

_Args = TypeVarTuple("_Args")
_R = TypeVar("_R")


NO_PROCESS = OSError, ImportError, NotImplementedError
"""What is raised where no process may be started."""


class _Piece:
    """A piece of work, and the place where what came of it is told."""

    def __init__(self, work: Callable[..., Any], args: tuple[Any, ...]) -> None:
        self.work, self.args = work, args
        self.told: Future[Any] = Future()

    def do(self) -> None:
        try:
            self.told.set_result(self.work(*self.args))
        except Exception as fault:
            self.told.set_exception(fault)


class Together:
    """Work shared with the processes beside this one, a piece at a time; without any, all of it is done here.

    Args:
        worker: the processes beside.
    """

    def __init__(self, worker: Worker | None = None) -> None:
        self._worker = worker
        self._lock = threading.Lock()
        self._begun: list[Future[Any]] = []
        self._waiting = deque[_Piece]()
        self._beside = 0
        self._kept: dict[str, bytes] = {}

    def __enter__(self) -> Self:
        """Return itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Drop what has not begun."""
        with self._lock:
            self._waiting.clear()

    def begin(self, work: Callable[[*_Args], _R], *args: *_Args) -> Future[_R]:
        """Take in a piece: a function of a module, and values that can be sent to another process."""
        piece = _Piece(work, args)
        self._begun.append(piece.told)
        with self._lock:
            self._waiting.append(piece)
        self._hand_over()
        return piece.told

    def finish(self) -> None:
        """Do here what has not begun, the last first, and wait for the rest; every piece is then told."""
        while (piece := self._last()) is not None:
            piece.do()
        wait(self._begun)
        self._begun = []
        for name, content in self._kept.items():
            cache.put(name, content)
        self._kept = {}

    def _last(self) -> _Piece | None:
        with self._lock:
            return self._waiting.pop() if self._waiting else None

    def _hand_over(self) -> None:
        """Give a process beside that has nothing to do the next piece: what waits here may be done here."""
        with self._lock:
            if self._worker is None or self._beside == self._worker.processes or not self._waiting:
                return
            piece = self._waiting.popleft()
            self._beside += 1
        try:
            done = self._worker.do(_apart, piece.work, piece.args)
        except NO_PROCESS:
            with self._lock:
                self._worker = None
                self._waiting.appendleft(piece)
        else:
            done.add_done_callback(partial(self._handed_back, piece))

    def _handed_back(self, piece: _Piece, done: Future[tuple[Any, dict[str, bytes]]]) -> None:
        with self._lock:
            self._beside -= 1
        try:
            result, kept = done.result()
        except Exception as fault:
            piece.told.set_exception(fault)
        else:
            with self._lock:
                self._kept |= kept
            piece.told.set_result(result)
        self._hand_over()


def _apart(work: Callable[..., _R], args: tuple[Any, ...]) -> tuple[_R, dict[str, bytes]]:
    """Do a piece beside, and return with it what it would keep: that is for the build to decide."""
    with cache.gathered() as kept:
        return work(*args), kept
