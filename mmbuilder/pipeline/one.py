"""One case: checked, made or recalled, and put in its place."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from mmbuilder import cache
from mmbuilder.beside import Worker
from mmbuilder.casefile import load
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused, ReviewPending
from mmbuilder.pipeline.making import make, name_of, recall, remember
from mmbuilder.pipeline.placing import place
from mmbuilder.pipeline.results import BuildOptions, BuildReport
from mmbuilder.pipeline.signing import pending
from mmbuilder.pipeline.together import NO_PROCESS


def build(root: Path, options: BuildOptions, worker: Worker | None = None) -> BuildReport:
    """Build the deck and the paper of one case folder.

    Args:
        root: the case folder.
        options: what is asked for.
        worker: processes that may do a part of it.

    Raises:
        CaseInvalid: the folder has faults; all of them are in it.
        ReviewPending: `final` was asked for, and the review does not cover the case as it is.
        IdentifierInOutput: the finished file still held an identifier; nothing was written.
        OutputNotWritable: the output folder cannot be written to.
        FileRefused: the template or a picture cannot be used.
        MissingDependency: `need_pictures` was asked for, and something that looks is not installed.
    """
    if options.template is not None and not options.template.is_file():
        raise FileRefused("the template is not an ordinary file; give a .pptx")
    if options.need_pictures:
        from mmbuilder.scrub.images import regions

        regions.require()
    if worker is not None and any(root.glob("images/*")):
        _get_ready(worker)
    folder = load(root, options.use)
    if options.final and (why := list(_unsigned(folder, options))):
        raise ReviewPending("; ".join(why))
    name = name_of(folder, folder.case.use, options)
    made = None if options.fresh else recall(name)
    reused = made is not None
    if made is None:
        with cache.held():
            made = make(folder, folder.case.use, options, worker)
            remember(name, made)
    return place(folder, folder.case.use, made, options.out, reused=reused)


def _get_ready(worker: Worker) -> None:
    """Let the processes beside begin and load what looks at pictures, while the case is read here."""
    from mmbuilder.scrub.images.regions import get_ready

    with suppress(*NO_PROCESS):  # the pictures are then looked at here
        for _ in range(worker.processes):
            worker.do(get_ready)


def _unsigned(folder: CaseFolder, options: BuildOptions) -> Iterator[str]:
    """Yield what a final result still needs, as far as files tell; the rest is told once it is searched."""
    if options.skip_names:
        yield "a final result is searched for names; leave out --skip-name-search"
    yield from pending(folder)
