"""Work that a click does not wait for: begun once for each state of the case, kept until the next."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any, Generic, TypeVar
from weakref import WeakKeyDictionary

from mmbuilder.errors import MMBuilderError
from mmbuilder.page.desk import Desk

_T = TypeVar("_T")

_POOL = ThreadPoolExecutor(1, thread_name_prefix="drawing")
_LOCK = threading.Lock()
_KEPT: WeakKeyDictionary[Desk, dict[str, tuple[str, Future[Any]]]] = WeakKeyDictionary()


@dataclass(frozen=True)
class Made(Generic[_T]):
    """How far a piece of work is.

    Attributes:
        value: what came out, once it is done.
        fault: why it stopped, in words.
    """

    value: _T | None = None
    fault: str = ""

    @property
    def running(self) -> bool:
        """Whether it is still being done."""
        return self.value is None and not self.fault


def kept(desk: Desk, name: str, state: str) -> Made[Any] | None:
    """Return how far work of that name is for a state of the case; None if nobody has begun it."""
    with _LOCK:
        begun = _KEPT.get(desk, {}).get(name)
    if begun is None or begun[0] != state:
        return None
    return _told(begun[1])


def ahead(desk: Desk, name: str, state: str, work: Callable[[], Any]) -> Made[Any]:
    """Return how far work of that name is; begin it if nobody has for this state."""
    with _LOCK:
        held = _KEPT.setdefault(desk, {})
        if name not in held or held[name][0] != state:
            if name in held:
                held[name][1].cancel()
            held[name] = (state, _POOL.submit(work))
        begun = held[name][1]
    return _told(begun)


def _told(begun: Future[Any]) -> Made[Any]:
    if not begun.done():
        return Made()
    if begun.cancelled():
        return Made(fault="it was begun anew for a later state of the case; load the page again")
    fault = begun.exception()
    if fault is None:
        return Made(begun.result())
    if isinstance(fault, MMBuilderError):
        return Made(fault=str(fault))
    return Made(fault=f"a fault of the program itself ({type(fault).__name__}); nothing was lost")
