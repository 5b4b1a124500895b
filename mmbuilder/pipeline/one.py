"""One case: checked, made or recalled, and put in its place."""

from __future__ import annotations

from pathlib import Path

from mmbuilder import cache
from mmbuilder.casefile import load
from mmbuilder.errors import FileRefused, ReviewPending
from mmbuilder.pipeline.making import make, name_of, recall, remember
from mmbuilder.pipeline.placing import place
from mmbuilder.pipeline.results import BuildOptions, BuildReport


def build(root: Path, options: BuildOptions) -> BuildReport:
    """Build the deck and the paper of one case folder.

    Raises:
        CaseInvalid: the folder has faults; all of them are in it.
        ReviewPending: `final` was asked for and nobody has reviewed the case.
        IdentifierInOutput: the finished file still held an identifier; nothing was written.
        OutputNotWritable: the output folder cannot be written to.
        FileRefused: the template or a picture cannot be used.
        MissingDependency: `need_pictures` was asked for, and something that looks is not installed.
    """
    if options.final:
        raise ReviewPending(
            "a final deck needs a completed review of what was removed; until then every build is a DRAFT"
        )
    if options.template is not None and not options.template.is_file():
        raise FileRefused("the template is not an ordinary file; give a .pptx")
    if options.need_pictures:
        from mmbuilder.scrub.images import regions

        regions.require()
    folder = load(root, options.use)
    name = name_of(folder, folder.case.use, options)
    made = None if options.fresh else recall(name)
    reused = made is not None
    if made is None:
        with cache.held():
            made = make(folder, folder.case.use, options)
            remember(name, made)
    return place(folder, folder.case.use, made, options.out, reused=reused)
