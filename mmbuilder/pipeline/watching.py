"""Cases built again whenever one of their files was saved; the process stays, and loads nothing twice."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from mmbuilder.beside import Worker
from mmbuilder.errors import CaseInvalid
from mmbuilder.pipeline.making import own_files
from mmbuilder.pipeline.results import BuildOptions, BuildReport, Failure
from mmbuilder.pipeline.several import attempt, collisions, helping

_EVERY = 0.1
"""Seconds between two looks. A build waits for two that see the same: editors save in several steps."""

_State = dict[Path, tuple[int, int]]
"""Size and time of each file."""


def watch(
    roots: Sequence[Path],
    options: BuildOptions,
    *,
    jobs: int,
    done: Callable[[BuildReport | Failure], None],
    pause: Callable[[float], None] = time.sleep,
) -> NoReturn:
    """Build each case, and again after each change of its files, until the user interrupts it.

    Args:
        roots: case folders, each with a code of its own.
        options: the same for all.
        jobs: processes to use.
        done: called with each result as it comes.
        pause: waits so many seconds.

    Raises:
        CaseInvalid: two cases share a code; nothing was built.
        KeyboardInterrupt: the user ended it.
    """
    if problems := collisions(roots):
        raise CaseInvalid(problems)
    worker = Worker(helping(jobs)) if jobs > 1 else None
    built, seen = dict[Path, _State](), dict[Path, _State]()
    try:
        while True:
            for root in roots:
                state = _state(root, options.template)
                if state == seen.get(root) != built.get(root):
                    built[root] = state
                    done(attempt(root, options, worker))
                seen[root] = state
            pause(_EVERY)
    finally:
        if worker is not None:
            worker.forget()


def _state(root: Path, template: Path | None) -> _State:
    state = _State()
    for path in (*own_files(root), *((template,) if template else ())):
        with suppress(FileNotFoundError):  # an editor puts another in its place just now
            told = path.stat()
            state[path] = told.st_size, told.st_mtime_ns
    return state
