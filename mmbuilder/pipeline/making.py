"""Everything one case becomes for one use, written and swept, before it has a place."""

from __future__ import annotations

import functools
import hashlib
import json
import os
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import mmbuilder
from mmbuilder import cache, labels, ready_patterns, uses
from mmbuilder.casefile.checking import DEPARTMENT
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.pipeline.results import BuildOptions
from mmbuilder.pipeline.together import Together
from mmbuilder.safe.terms import Use, YesNo

if TYPE_CHECKING:
    from mmbuilder.beside import Worker
    from mmbuilder.formats._pptx.stage import Wanted
    from mmbuilder.safe.log import LoggedAction
    from mmbuilder.safe.terms import PaperSize
    from mmbuilder.scrub.plan import RedactionPlan
    from mmbuilder.scrub.sweep import Known
    from mmbuilder.storyboard.blocks import Storyboard

DECK = "deck.pptx"
"""Under this name among the files made."""


@dataclass(frozen=True)
class Made:
    """A finished, swept result, before it has a place.

    Attributes:
        files: content by name: `deck.pptx`, and each paper as `<name of the paper>.<suffix>`.
        facts: what the report says, as plain values.
    """

    files: dict[str, bytes]
    facts: dict[str, object]


def make(folder: CaseFolder, use: Use, options: BuildOptions, worker: Worker | None = None) -> Made:
    """Run the line from the case to the swept files.

    Args:
        folder: the case.
        use: who it is for.
        options: what else was asked for.
        worker: processes that may do a part of it.

    Raises:
        ReviewPending: a final result was asked for, and the review does not cover what was found.
        IdentifierInOutput: a finished file still held an identifier.
        FileRefused: the template or a picture cannot be used.
    """
    with labels.speaking(options.language or folder.case.language), Together(worker) as work:
        return _made(folder, use, options, work)


def _made(folder: CaseFolder, use: Use, options: BuildOptions, work: Together) -> Made:
    with ready_patterns.kept("making"):
        from mmbuilder.analysis.action_log import action_log, due_days
        from mmbuilder.formats import deck_pptx
        from mmbuilder.pipeline.papers import Papers
        from mmbuilder.pipeline.signing import reviewed
        from mmbuilder.scrub.apply import apply
        from mmbuilder.scrub.second_look import look_again
        from mmbuilder.scrub.sweep import guard, known
        from mmbuilder.storyboard import Telling
        from mmbuilder.storyboard.untold import untold

    plan = _plan(folder, options, work)
    plan = reviewed(folder, plan) if options.final else plan
    case = apply(folder, plan)
    identifiers = known(folder)
    files, swept = dict[str, bytes](), dict[str, Future[bytes]]()
    # A result that is final, or asked for anew, is searched whole.
    anew = options.final or options.fresh

    def took(made: Mapping[str, bytes], sought: Known) -> None:
        files.update(made)
        for name, data in made.items():
            called = f"{stem(folder, use)}-{name}"
            before = None if anew else cache.get(_clean(called))
            swept[called] = work.begin(guard, called, data, sought, before or b"")

    telling = Telling.of(case, use, draft=plan.draft, working=options.working)
    with Papers(telling, folder.department.paper) as papers:
        papers.begin()
        deck = deck_pptx.lay_out(
            telling.deck, template=options.template, wanted=_wanted(folder, use, options)
        )
        took({DECK: deck.pptx}, identifiers)
        papers.begin(deck.board)
        rows = action_log(case)
        logs = work.begin(_logged, labels.spoken(), rows, telling.spec.log, folder.department.paper)
        look_again(files[DECK], case, folder, plan)
        left = untold(case, deck.board.slides, (paper.board for paper in papers.told))
        facts = {**_facts(folder, plan, deck.board), "untold": [one.told.reveal() for one in left]}
        shortened: list[str] = []
        for paper, written in papers.written():
            took(written.files, identifiers)
            shortened += (f"{paper.slug}.pdf: {told.reveal()}" for told in written.told)
    work.finish()
    took(logs.result(), replace(identifiers, dates=identifiers.dates - due_days(rows)))
    work.finish()
    for called, told in swept.items():
        cache.put(_clean(called), told.result())
    return Made(files, {**facts, "too_long": shortened})


def _logged(
    language: str, rows: Sequence[LoggedAction], formats: Sequence[str], size: PaperSize
) -> dict[str, bytes]:
    """Write the action log; what writes workbooks and calendars takes longer to load than to use."""
    from mmbuilder.formats import write_log

    with labels.speaking(language):
        return write_log(rows, formats, size)


def _clean(called: str) -> str:
    """The name under which is kept what was clean in a file (`scrub.sweep.clean`)."""
    return cache.key("clean", _fingerprint(), called)


def _plan(folder: CaseFolder, options: BuildOptions, work: Together) -> RedactionPlan:
    """Search the words here and the pictures beside."""
    with ready_patterns.kept("plan"):
        from mmbuilder.scrub import outside_pictures, stills
        from mmbuilder.scrub.layers import NoNameModel
        from mmbuilder.scrub.propose import in_words
        from mmbuilder.scrub.whole import whole

    looked = {still.number: work.begin(stills.look, still) for still in stills.stills(folder)}
    words = in_words(folder, names=NoNameModel() if options.skip_names else None)
    work.finish()
    boxes = {number: found for number, one in looked.items() if (found := one.result())}
    return whole(words, folder, outside_pictures.clocks(folder, boxes))


def _wanted(folder: CaseFolder, use: Use, options: BuildOptions) -> Wanted:
    """What the department says of its template; a deck for outside goes without the crest."""
    from mmbuilder.formats._pptx.stage import Wanted

    said = folder.department
    opening, telling = said.layouts.opening, said.layouts.telling
    return Wanted(
        opening=options.opening_layout or (opening.value if opening else ""),
        telling=options.telling_layout or (telling.value if telling else ""),
        crest=not uses.load(use).outside or said.crest_outside is YesNo.YES,
    )


def _facts(folder: CaseFolder, plan: RedactionPlan, board: Storyboard) -> dict[str, object]:
    """Return what the report says: counts and our own words only."""
    from mmbuilder.scrub.reidentify import circumstances, shown, warn, written
    from mmbuilder.scrub.report import of_case
    from mmbuilder.storyboard.timing import timing

    timed = timing(board)
    texts = written(folder)
    recognisable = tuple(dict.fromkeys(warning.sentence for warning in warn(shown(texts, plan))))
    return {
        "reviewed_by": plan.reviewed_by,
        "slides": timed.sheets,
        "seconds": timed.budget,
        "needs": timed.needs,
        "questions": board.questions,
        "too_many": timed.too_many,
        "to_cut": [number for one in timed.to_cut for number in one.sheets],
        "removed": plan.counts(),
        "detectors": list(plan.detectors),
        "unchecked": list(plan.unchecked),
        "rules": _rules(plan),
        "recognisable": list(recognisable),
        "circumstances": sorted(circumstances(texts)),
        "left_out": [text.reveal() for text in board.left_out],
        "scrub": asdict(replace(of_case(plan), warnings=recognisable)),
    }


def _rules(plan: RedactionPlan) -> list[str]:
    """Return the edition of each rule that was applied and has editions."""
    from mmbuilder.scrub.detectors import postal_code

    if not any(span.stand_in.startswith("[ZIP ") for spans in plan.texts.values() for span in spans):
        return []
    return [f"ZIP codes were cut by the list of areas of 20,000 people or fewer: {postal_code.VINTAGE}"]


def stem(folder: CaseFolder, use: Use) -> str:
    """What the name of every result starts with: the code of the case and the use."""
    return f"{folder.case.code}-{use.value.replace(' ', '-')}"


def name_of(folder: CaseFolder, use: Use, options: BuildOptions) -> str:
    """Return the name under which the result is kept: a hash of everything that goes into it."""
    from mmbuilder.scrub.images import regions

    asked = (use.value, options.language, options.skip_names, options.working, options.final)
    layouts = (options.opening_layout, options.telling_layout)
    looks = [finder.NAME for finder in regions.finders()]
    return cache.key(
        "build", _fingerprint(), f"{asked} {layouts} {looks}", *_inputs(folder.root, options.template)
    )


@functools.cache
def _fingerprint() -> str:
    """Return version and state of the code, so that an edited checkout never meets its old results."""
    states = sorted(_states(Path(mmbuilder.__file__).parent))
    return mmbuilder.__version__ + hashlib.sha256("\n".join(states).encode()).hexdigest()


def _states(package: Path) -> Iterator[str]:
    """Yield name, size and time of every source file; one that goes while it is looked at is not there."""
    for folder, _, names in os.walk(package):  # as `rglob` does not, it bears a folder that goes
        for name in names:
            if name.endswith((".py", ".yaml", ".mo")):
                with suppress(FileNotFoundError):
                    told = Path(folder, name).stat()
                    yield f"{name}:{told.st_size}:{told.st_mtime_ns}"


def _inputs(root: Path, template: Path | None) -> Iterator[bytes]:
    """Every file that goes into a build, as hashes of name and content."""
    from mmbuilder.resources import templates

    shipped = [path for path in templates().rglob("*") if path.is_file() and path.suffix != ".py"]
    for path in own_files(root) + sorted(shipped) + ([template] if template else []):
        with path.open("rb") as file:
            content = hashlib.file_digest(file, "sha256").digest()
        yield path.name.encode("utf-8", "surrogateescape") + b"\0" + content


_OWN = "*.yaml", "*.csv", "*.xlsx", "images/*", "readings/*"


def own_files(root: Path) -> list[Path]:
    """Every file of a case that a build reads, with the department's beside its folder."""
    own = [path for kind in _OWN for path in sorted(root.glob(kind)) if path.is_file()]
    return own + [path for path in [root.absolute().parent / DEPARTMENT] if path.is_file()]


def recall(name: str) -> Made | None:
    """Return a result that was kept, whole, or None."""
    listed = cache.get(cache.key(name, "listed"))
    if listed is None:
        return None
    names, facts = json.loads(listed)
    files = {one: cache.get(cache.key(name, one)) for one in names}
    whole = {one: content for one, content in files.items() if content is not None}
    return Made(whole, facts) if len(whole) == len(files) else None


def remember(name: str, made: Made) -> None:
    """Keep a result; it has been swept."""
    for one, content in made.files.items():
        cache.put(cache.key(name, one), content)
    cache.put(cache.key(name, "listed"), json.dumps([list(made.files), made.facts]).encode())
