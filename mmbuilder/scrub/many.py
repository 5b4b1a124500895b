"""Scrub many files on several processes: one that is refused, or kills its process, does not stop the rest."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from functools import cache, partial
from multiprocessing import get_context
from pathlib import Path

from mmbuilder.beside import THREADS
from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.loose import Job, Outcome, read_declared, scrub_file

DIED = (
    "the process that scrubbed it died (out of memory, or ended from outside); nothing was written for it. "
    "Try it alone, or with --jobs 1"
)
ONE_THREAD = *THREADS, "OPENCV_FOR_THREADS_NUM", "RAYON_NUM_THREADS"
"""Set to 1 in every process, before a library that reads them is loaded: processes share the cores."""

Work = Callable[[Job], Outcome]


def scrub_files(
    jobs: Sequence[Job],
    out: Path,
    identifiers: Path | None = None,
    *,
    rename: bool = False,
    keep_stand_ins: bool = False,
    processes: int = 1,
    done: Callable[[Outcome], None] = lambda outcome: None,
) -> list[Outcome]:
    """Scrub files into a folder.

    Args:
        jobs: what to scrub (`loose.plan_files`).
        out: the folder for the results.
        identifiers: where the private list is. Each process reads it itself: raw names are not sent about.
        rename: whether file names are scrubbed as well.
        keep_stand_ins: whether outcomes say what each stand-in stands for.
        processes: how many to use; 1 works in this one.
        done: called with each outcome as it comes.

    Returns:
        One outcome a job, in their order.
    """
    _declared.cache_clear()
    work = partial(_one, out=out, identifiers=identifiers, rename=rename, keep_stand_ins=keep_stand_ins)
    outcomes: dict[int, Outcome] = {}
    for job, outcome in in_processes(jobs, work, min(processes, len(jobs))):
        outcomes[job.number] = outcome
        done(outcome)
    return [outcomes[job.number] for job in jobs]


def _one(job: Job, out: Path, identifiers: Path | None, rename: bool, keep_stand_ins: bool) -> Outcome:
    return scrub_file(job, out, _declared(identifiers), rename=rename, keep_stand_ins=keep_stand_ins)


@cache
def _declared(identifiers: Path | None) -> Declared:
    return read_declared(identifiers) if identifiers else Declared()


def in_processes(jobs: Sequence[Job], work: Work, processes: int) -> Iterator[tuple[Job, Outcome]]:
    """Yield each job with its outcome as it comes.

    Args:
        jobs: what to do.
        work: what does one; must be picklable.
        processes: how many to use.
    """
    if processes <= 1:
        yield from ((job, work(job)) for job in jobs)
        return
    waiting = deque(jobs)
    while waiting:
        suspects = yield from _until_one_dies(waiting, work, processes)
        # Nobody tells which of them it was: each is tried again in a process of its own.
        for job in suspects:
            yield job, _alone(job, work)


def _until_one_dies(
    waiting: deque[Job], work: Work, processes: int
) -> Generator[tuple[Job, Outcome], None, list[Job]]:
    """Work through what waits; on the death of a process, return what was being done."""
    running: dict[Future[Outcome], Job] = {}
    with _pool(processes) as pool:
        while waiting or running:
            # One more than there are processes: none waits for its next file to be sent.
            while waiting and len(running) <= processes:
                try:
                    running[pool.submit(work, waiting[0])] = waiting[0]
                except BrokenProcessPool:
                    return list(running.values())
                waiting.popleft()
            for future in wait(running, return_when=FIRST_COMPLETED).done:
                try:
                    outcome = future.result()
                except BrokenProcessPool:
                    return list(running.values())
                yield running.pop(future), outcome
    return []


def _alone(job: Job, work: Work) -> Outcome:
    with _pool(1) as pool:
        try:
            return pool.submit(work, job).result()
        except BrokenProcessPool:
            return Outcome(job.path, refused=DIED)


def _pool(processes: int) -> ProcessPoolExecutor:
    # 'spawn' behaves the same on every system; a forked child would inherit open libraries.
    return ProcessPoolExecutor(processes, mp_context=get_context("spawn"), initializer=_one_thread)


def _one_thread() -> None:
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))
