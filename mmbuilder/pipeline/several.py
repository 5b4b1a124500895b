"""Several cases in one call: one that fails does not stop the rest."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from mmbuilder import cache
from mmbuilder.beside import Worker
from mmbuilder.errors import CaseInvalid, MMBuilderError
from mmbuilder.pipeline.one import build
from mmbuilder.pipeline.placing import told
from mmbuilder.pipeline.results import BuildOptions, BuildReport, Failure
from mmbuilder.problem import Problem


def build_many(
    roots: Sequence[Path],
    options: BuildOptions,
    *,
    jobs: int = 1,
    done: Callable[[BuildReport | Failure], None] = lambda result: None,
) -> list[BuildReport | Failure]:
    """Build several cases; one that fails does not stop the rest.

    Args:
        roots: case folders, each with a code of its own.
        options: the same for all.
        jobs: processes to use; on one case, at the most four.
        done: called with each result as it comes.

    Returns:
        Results in the order of `roots`.

    Raises:
        CaseInvalid: two cases share a code; nothing was built.
    """
    if problems := collisions(roots):
        raise CaseInvalid(problems)
    results: dict[Path, BuildReport | Failure] = {}
    for result in _run(roots, options, jobs):
        results[result.case] = result
        done(result)
    cache.trim()
    return _compared([results[root] for root in roots])


_HELPING = 4
"""Processes on one case, at the most: a further one takes as long to start as it saves."""


def helping(jobs: int) -> int:
    """How many processes beside this one work on one case."""
    return min(jobs, _HELPING) - 1


def _run(roots: Sequence[Path], options: BuildOptions, jobs: int) -> Iterator[BuildReport | Failure]:
    if jobs <= 1:
        yield from (attempt(root, options) for root in roots)
        return
    from concurrent.futures import as_completed

    one = len(roots) <= 1
    worker = Worker(helping(jobs) if one else min(jobs, len(roots)))
    try:
        if one:
            yield from (attempt(root, options, worker) for root in roots)
        else:
            for future in as_completed([worker.do(attempt, root, options) for root in roots]):
                yield future.result()
    finally:
        worker.forget()


def attempt(root: Path, options: BuildOptions, worker: Worker | None = None) -> BuildReport | Failure:
    """Build one case; what stops it is returned."""
    try:
        return build(root, options, worker)
    except MMBuilderError as error:
        return Failure(root, error)


def _compared(results: Sequence[BuildReport | Failure]) -> list[BuildReport | Failure]:
    """Return the results, each report told what its case has in common with the others of the call."""
    from mmbuilder.scrub.reidentify import across

    built = {result.code: result for result in results if isinstance(result, BuildReport)}
    shared: dict[str, list[str]] = {}
    for warning in across({code: report.circumstances for code, report in built.items()}):
        for code in warning.places:
            others = ", ".join(place for place in warning.places if place != code)
            shared.setdefault(code, []).append(f"with {others}: {warning.sentence}")
    for code, words in shared.items():
        built[code] = told(built[code], words)
    return [built[result.code] if isinstance(result, BuildReport) else result for result in results]


_CODE_LINE = re.compile(r"""^code\s*:\s*["']?([a-z0-9-]+)""", re.MULTILINE)


def collisions(roots: Sequence[Path]) -> list[Problem]:
    """Return a problem for each case whose code an earlier one of the same call has.

    It looks at the `code:` line alone, so that two hundred cases are not read twice; a case
    whose line it cannot find is told about by the check of that case.
    """
    seen: set[str] = set()
    problems = []
    for root in roots:
        code = _peek(root)
        if code in seen:
            problems.append(_collision(root))
        if code:
            seen.add(code)
    return problems


def _peek(root: Path) -> str | None:
    if not (root / "case.yaml").is_file():  # a pipe would be waited for
        return None
    try:
        with (root / "case.yaml").open(encoding="utf-8-sig", errors="replace") as file:
            found = _CODE_LINE.search(file.read(20_000))
    except OSError:
        return None
    return found[1] if found else None


def _collision(root: Path) -> Problem:
    return Problem(
        file=str(root / "case.yaml"),
        line=0,
        column=0,
        code="code-used-twice",
        text="two of these cases have the same code, so one deck would replace the other",
        found="a code that another case of this call has too",
        expected="a code of its own for each case",
        example="code: eye-02",
    )
