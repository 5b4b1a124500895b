"""The whole run on one page: a case folder in, a swept deck out.

    check -> propose -> apply -> compose -> write -> sweep -> rename into place

Nothing appears in the output folder before the sweep has passed, and then by one rename:
a build that is killed leaves the old deck whole.
"""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
import tempfile
import zipfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

import mmbuilder
from mmbuilder import cache
from mmbuilder.casefile import load
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import CaseInvalid, FileRefused, MMBuilderError, OutputNotWritable, ReviewPending
from mmbuilder.problem import Problem
from mmbuilder.safe.terms import Use

if TYPE_CHECKING:
    from mmbuilder.scrub.plan import RedactionPlan


@dataclass(frozen=True)
class BuildOptions:
    """What was asked for.

    Attributes:
        out: folder for the results; made if it is not there.
        use: who the deck is for; each case's own use if None.
        template: a department's own .pptx; the house template if None.
        final: asks for a deck without the DRAFT stamp.
        fresh: ignore what earlier builds kept.
        skip_names: do without the search for names that nobody declared; the report says so.
        working: show every step of a computed figure.
        need_pictures: refuse to build where a part that looks at pictures is not installed.
    """

    out: Path
    use: Use | None = None
    template: Path | None = None
    final: bool = False
    fresh: bool = False
    skip_names: bool = False
    need_pictures: bool = False
    working: bool = False


@dataclass(frozen=True)
class BuildReport:
    """What was built. Holds counts and our own words only, nothing of the case.

    Attributes:
        code: the code of the case.
        deck, handout, report, page: the files written; the page is the report for people to read.
        slides: number of slides.
        seconds: time budget of the deck.
        removed: replacements by kind.
        detectors: every detector that ran.
        unchecked: what nothing looked at.
        rules: which edition of a rule was applied, where it matters.
        recognisable: circumstances that may single somebody out although no identifier is left.
        circumstances: all circumstances told, in closed words; `across` compares them.
        across: what this case has in common with others of the same call.
        left_out: slides that the use asks for and the case has nothing for.
        warnings: faults that did not stop the build.
        kept: a deck that somebody had changed since it was built, put aside under this name.
        reused: nothing had changed, so the earlier result was written again.
    """

    case: Path
    code: str
    deck: Path
    handout: Path
    report: Path
    page: Path
    slides: int
    seconds: int
    removed: dict[str, int]
    detectors: tuple[str, ...]
    unchecked: tuple[str, ...]
    rules: tuple[str, ...]
    recognisable: tuple[str, ...]
    circumstances: tuple[str, ...]
    left_out: tuple[str, ...]
    warnings: tuple[Problem, ...] = field(default=(), repr=False)
    across: tuple[str, ...] = ()
    kept: Path | None = None
    reused: bool = False


@dataclass(frozen=True)
class Failure:
    """A case that could not be built, among others that could."""

    case: Path
    error: MMBuilderError


def build(root: Path, options: BuildOptions) -> BuildReport:
    """Build the deck and the handout of one case folder.

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
    from mmbuilder.scrub.images import regions

    if options.need_pictures:
        regions.require()
    folder = load(root, options.use)
    use = folder.case.use
    looks = f"{options.skip_names} {[finder.NAME for finder in regions.finders()]}"
    name = cache.key("build", _fingerprint(), use.value, looks, *_inputs(root, options.template))
    made = None if options.fresh else _recall(name)
    reused = made is not None
    if made is None:
        with cache.held():
            made = _make(folder, use, options)
            _remember(name, made)
    return _place(folder, use, made, options.out, reused=reused)


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
        jobs: processes to use.
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


def _run(roots: Sequence[Path], options: BuildOptions, jobs: int) -> Iterator[BuildReport | Failure]:
    if jobs <= 1 or len(roots) <= 1:
        for root in roots:
            yield _attempt(root, options)
        return
    from concurrent.futures import ProcessPoolExecutor, as_completed
    from multiprocessing import get_context

    # 'spawn' behaves the same on every system; a forked child would inherit open figures.
    with ProcessPoolExecutor(min(jobs, len(roots)), mp_context=get_context("spawn")) as pool:
        for future in as_completed([pool.submit(_attempt, root, options) for root in roots]):
            yield future.result()


def _attempt(root: Path, options: BuildOptions) -> BuildReport | Failure:
    try:
        return build(root, options)
    except MMBuilderError as error:
        return Failure(root, error)


# --- making -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Made:
    """A finished, swept result, before it has a place."""

    deck: bytes
    handout: bytes
    facts: dict[str, object]


def _make(folder: CaseFolder, use: Use, options: BuildOptions) -> _Made:
    from mmbuilder.formats import deck_pptx, handout_html
    from mmbuilder.scrub import apply, propose
    from mmbuilder.scrub.layers import NoNameModel
    from mmbuilder.scrub.reidentify import circumstances_of, singled_out
    from mmbuilder.scrub.report import of_case
    from mmbuilder.scrub.second_look import look_again
    from mmbuilder.scrub.sweep import guard, known
    from mmbuilder.storyboard import compose, compose_handout

    plan = propose(folder, names=NoNameModel() if options.skip_names else None)
    case = apply(folder, plan)
    board = compose(case, use, draft=plan.draft, working=options.working)
    deck = deck_pptx.write(board, template=options.template)
    handout = handout_html.write(compose_handout(case, use, draft=plan.draft, working=options.working))
    identifiers = known(folder)
    guard(f"{_stem(folder, use)}.pptx", deck, identifiers)
    guard(f"{_stem(folder, use)}.html", handout, identifiers)
    look_again(deck, case, folder, plan)
    recognisable = tuple(dict.fromkeys(warning.sentence for warning in singled_out(folder)))
    facts: dict[str, object] = {
        "slides": _sheets(deck),
        "seconds": sum(slide.seconds for slide in board.slides),
        "removed": plan.counts(),
        "detectors": list(plan.detectors),
        "unchecked": list(plan.unchecked),
        "rules": _rules(plan),
        "recognisable": list(recognisable),
        "circumstances": sorted(circumstances_of(folder)),
        "left_out": [text.reveal() for text in board.left_out],
        "scrub": asdict(replace(of_case(plan), warnings=recognisable)),
    }
    return _Made(deck, handout, facts)


def _rules(plan: RedactionPlan) -> list[str]:
    """Return the edition of each rule that was applied and has editions."""
    from mmbuilder.scrub.detectors import postal_code

    if not any(span.stand_in.startswith("[ZIP ") for spans in plan.texts.values() for span in spans):
        return []
    return [f"ZIP codes were cut by the list of areas of 20,000 people or fewer: {postal_code.VINTAGE}"]


def _stem(folder: CaseFolder, use: Use) -> str:
    return f"{folder.case.code}-{use.value.replace(' ', '-')}"


def _sheets(deck: bytes) -> int:
    """Count the slides as written: a long one goes on over two."""
    with zipfile.ZipFile(io.BytesIO(deck)) as archive:
        return sum(re.fullmatch(r"ppt/slides/slide\d+\.xml", name) is not None for name in archive.namelist())


def _fingerprint() -> str:
    """Return version and state of the code, so that an edited checkout never meets its old results."""
    package = Path(mmbuilder.__file__).parent
    files = sorted(package.rglob("*.py")) + sorted(package.rglob("*.yaml"))
    states = (f"{path.name}:{path.stat().st_size}:{path.stat().st_mtime_ns}" for path in files)
    return mmbuilder.__version__ + hashlib.sha256("\n".join(states).encode()).hexdigest()


def _inputs(root: Path, template: Path | None) -> Iterator[bytes]:
    """Every file that goes into a build, as hashes of name and content."""
    from mmbuilder.resources import templates

    shipped = [path for path in templates().rglob("*") if path.is_file() and path.suffix != ".py"]
    kinds = ("case.yaml", "identifiers.yaml", "images/*", "readings/*")
    own = [path for kind in kinds for path in sorted(root.glob(kind)) if path.is_file()]
    for path in own + sorted(shipped) + ([template] if template else []):
        with path.open("rb") as file:
            content = hashlib.file_digest(file, "sha256").digest()
        yield path.name.encode("utf-8", "surrogateescape") + b"\0" + content


def _recall(name: str) -> _Made | None:
    parts = [cache.get(cache.key(name, part)) for part in ("deck", "handout", "facts")]
    deck, handout, facts = parts
    if deck is None or handout is None or facts is None:
        return None
    return _Made(deck, handout, json.loads(facts))


def _remember(name: str, made: _Made) -> None:
    cache.put(cache.key(name, "deck"), made.deck)
    cache.put(cache.key(name, "handout"), made.handout)
    cache.put(cache.key(name, "facts"), json.dumps(made.facts).encode())


# --- placing ----------------------------------------------------------------------------------


def _place(folder: CaseFolder, use: Use, made: _Made, out: Path, *, reused: bool) -> BuildReport:
    stem = _stem(folder, use)
    deck, handout = out / f"{stem}-DRAFT.pptx", out / f"{stem}-handout-DRAFT.html"
    report, page = out / f"{stem}-report.json", out / f"{stem}-report.html"
    try:
        out.mkdir(parents=True, exist_ok=True)
        kept = _put_aside(deck, report)
        _write(deck, made.deck)
        _write(handout, made.handout)
        _write(report, _report_bytes(made))
        _write(page, _page_bytes(made.facts["scrub"]))
    except OSError as fault:
        raise OutputNotWritable(
            f"the output folder cannot be written to ({fault.strerror}); nothing there was changed. "
            "Close the deck if it is open, or choose another folder with --out"
        ) from fault
    facts = json.loads(json.dumps(made.facts))
    return BuildReport(
        case=folder.root,
        code=folder.case.code,
        deck=deck,
        handout=handout,
        report=report,
        page=page,
        slides=facts["slides"],
        seconds=facts["seconds"],
        removed=facts["removed"],
        detectors=tuple(facts["detectors"]),
        unchecked=tuple(facts["unchecked"]),
        rules=tuple(facts["rules"]),
        recognisable=tuple(facts["recognisable"]),
        circumstances=tuple(facts["circumstances"]),
        left_out=tuple(facts["left_out"]),
        warnings=folder.warnings,
        kept=kept,
        reused=reused,
    )


def _report_bytes(made: _Made) -> bytes:
    """Return the scrub report: counts and our own words, safe to file."""
    body = {
        "mmbuilder": mmbuilder.__version__,
        "state": "DRAFT: identifiers not yet reviewed",
        **made.facts,
        "deck_sha256": hashlib.sha256(made.deck).hexdigest(),
    }
    return json.dumps(body, indent=2, ensure_ascii=False).encode() + b"\n"


def _page_bytes(scrub: object, across: Sequence[str] = ()) -> bytes:
    """Return the same report as a page for people.

    Args:
        scrub: the report of what was removed, as plain values.
        across: what the case has in common with others of the same call.
    """
    from pydantic import TypeAdapter

    from mmbuilder.scrub.report import Report, as_page

    report = TypeAdapter(Report).validate_python(scrub)
    return as_page(replace(report, warnings=(*report.warnings, *across))).encode()


def _put_aside(deck: Path, report: Path) -> Path | None:
    """Keep a deck that somebody has worked on since it was built: rename it, never overwrite it."""
    if not deck.exists():
        return None
    with deck.open("rb") as file:
        state = hashlib.file_digest(file, "sha256").hexdigest()
    try:
        built = json.loads(report.read_text("utf-8"))["deck_sha256"]
    except (OSError, ValueError, KeyError, TypeError):
        built = None
    if state == built:
        return None
    number = 1
    while (aside := deck.with_name(f"{deck.stem}-changed-{number}{deck.suffix}")).exists():
        number += 1
    deck.rename(aside)
    return aside


def _write(path: Path, content: bytes) -> None:
    """Write beside, then rename: a reader sees the old file or the new one, never half of either."""
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".writing-", suffix=path.suffix)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


# --- several cases ----------------------------------------------------------------------------


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
        built[code] = _told(built[code], words)
    return [built[result.code] if isinstance(result, BuildReport) else result for result in results]


def _told(report: BuildReport, words: Sequence[str]) -> BuildReport:
    """Write the reports of a case anew, with what it has in common with others."""
    try:
        body = json.loads(report.report.read_text("utf-8")) | {"across": list(words)}
        _write(report.report, json.dumps(body, indent=2, ensure_ascii=False).encode() + b"\n")
        _write(report.page, _page_bytes(body["scrub"], words))
    except OSError as fault:
        raise OutputNotWritable(
            f"the reports cannot be written ({fault.strerror}); the decks are written, but their reports do "
            "not tell what the cases have in common. Build them again"
        ) from fault
    return replace(report, across=tuple(words))


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
