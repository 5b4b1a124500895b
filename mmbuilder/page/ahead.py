"""Work that a click does not wait for: begun once for each state of the case, kept until the next."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from mmbuilder.errors import Entry, IdentifierInOutput, MMBuilderError

_T = TypeVar("_T")


@dataclass(frozen=True)
class Made(Generic[_T]):
    """How far a piece of work is.

    Attributes:
        value: what came out, once it is done.
        fault: why it stopped, in words.
        entries: of the private list, that it stopped for.
        broken: whether the program itself failed, so that it may go better if it is begun anew.
    """

    value: _T | None = None
    fault: str = ""
    entries: tuple[Entry, ...] = ()
    broken: bool = False

    @property
    def running(self) -> bool:
        """Whether it is still being done."""
        return self.value is None and not self.fault


class Ahead:
    """Pieces of work by name, each for one state of the case."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._begun: dict[str, tuple[str, Future[Any]]] = {}

    def kept(self, name: str, state: str) -> Made[Any] | None:
        """Return how far work of that name is for a state; None if nobody has begun it."""
        with self._lock:
            begun = self._begun.get(name)
        return _told(begun[1]) if begun is not None and begun[0] == state else None

    def begun(self, name: str, state: str, begin: Callable[[], Future[_T]]) -> Made[_T]:
        """Return how far work of that name is; begin it if nobody has for this state."""
        with self._lock:
            before = self._begun.get(name)
            if before is None or before[0] != state:
                if before is not None:
                    before[1].cancel()
                self._begun[name] = (state, begin())
            future = self._begun[name][1]
        return _told(future)

    def anew(self, name: str) -> None:
        """Forget work of that name that failed, so that it is begun anew when it is asked for."""
        with self._lock:
            begun = self._begun.get(name)
            if begun is not None and begun[1].done():
                del self._begun[name]

    def forget(self) -> None:
        """Forget what was made."""
        with self._lock:
            self._begun.clear()


def _told(begun: Future[_T]) -> Made[_T]:
    """Say how far it is; of an unknown fault only its kind, for its message may hold case text."""
    if not begun.done():
        return Made()
    if begun.cancelled():
        return Made(fault="it was begun anew for a later state of the case; load the page again")
    fault = begun.exception()
    if fault is None:
        return Made(begun.result())
    if isinstance(fault, IdentifierInOutput):
        return Made(fault=str(fault), entries=fault.entries)
    if isinstance(fault, MMBuilderError):
        return Made(fault=str(fault))
    return Made(fault=f"a fault of the program itself ({type(fault).__name__})", broken=True)
