"""The patterns of our own code, compiled by an earlier run.

Python keeps the modules it has compiled, and not the patterns in them. The detectors hold a thousand:
compiling them anew took 0.7 s of every command, and fitting in what an earlier run compiled takes 0.02 s.
`re` has no door for this, so that its last step is done here; where its insides are others, patterns are
compiled as ever.
"""

from __future__ import annotations

import marshal
import re
import sys
import threading
from array import array
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from mmbuilder import cache

_ONE_AT_A_TIME = threading.RLock()
"""Two threads that import side by side would each put back what the other had put in."""
_Asked = tuple[str, int]
_Compiled = tuple[int, bytes, int, dict[str, int]]
"""Flags, code, number of groups, and the number of each named one."""


@contextmanager
def kept(name: str) -> Iterator[None]:
    """Within the block this thread's `re.compile` takes what was compiled before, and keeps what was not.

    Only for a block that imports: what is compiled in it is written in our code, and knows of no case.

    Args:
        name: what is imported; under it the patterns are kept.
    """
    inside: Any = getattr(re, "_compiler", None)
    if not all(hasattr(inside, one) for one in ("compile", "_code", "_parser", "_sre")):
        yield
        return
    where = cache.key("patterns", sys.version, name)
    ready: dict[_Asked, _Compiled] = _read(where)
    asked: dict[_Asked, _Compiled] = {}
    with _ONE_AT_A_TIME, _ours(inside, ready, asked):
        yield
    if not asked.keys() <= ready.keys():
        cache.put(where, marshal.dumps(asked))


@contextmanager
def _ours(inside: Any, ready: dict[_Asked, _Compiled], asked: dict[_Asked, _Compiled]) -> Iterator[None]:
    """Within the block, take what is ready, and note in `asked` what was asked for."""
    as_ever: Callable[[Any, int], re.Pattern[Any]] = inside.compile
    thread = threading.get_ident()

    def ours(pattern: Any, flags: int = 0) -> re.Pattern[Any]:
        if threading.get_ident() != thread or not isinstance(pattern, str) or flags & re.DEBUG:
            return as_ever(pattern, flags)
        one = pattern, int(flags)
        asked[one] = ready.get(one) or _compiled(inside, *one)
        return _fitted(inside, pattern, *asked[one])

    inside.compile = ours
    try:
        yield
    finally:
        inside.compile = as_ever


def _read(where: str) -> dict[_Asked, _Compiled]:
    content = cache.get(where)
    return marshal.loads(content) if content is not None else {}


def _compiled(inside: Any, pattern: str, flags: int) -> _Compiled:
    tree = inside._parser.parse(pattern, flags)
    code = array("I", inside._code(tree, flags))
    state = tree.state
    return flags | state.flags, code.tobytes(), state.groups - 1, dict(state.groupdict)


def _fitted(
    inside: Any, pattern: str, flags: int, code: bytes, groups: int, named: dict[str, int]
) -> re.Pattern[Any]:
    called: list[str | None] = [None] * (groups + 1)
    for name, number in named.items():
        called[number] = name
    fit: Callable[..., re.Pattern[Any]] = inside._sre.compile
    return fit(pattern, flags, array("I", code).tolist(), groups, named, tuple(called))
