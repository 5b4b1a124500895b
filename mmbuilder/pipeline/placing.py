"""Put finished results into the output folder: all of them, each by one rename."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import mmbuilder
from mmbuilder import atomic
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import OutputNotWritable
from mmbuilder.pipeline.making import DECK, Made, stem
from mmbuilder.pipeline.results import BuildReport
from mmbuilder.safe.terms import Use


def place(folder: CaseFolder, use: Use, made: Made, out: Path, *, reused: bool) -> BuildReport:
    """Write the files of a result.

    Raises:
        OutputNotWritable: the output folder cannot be written to.
    """
    start = out / stem(folder, use)
    mark = "" if made.facts["reviewed_by"] else "-DRAFT"
    deck, report, page = (Path(f"{start}{end}") for end in (f"{mark}.pptx", "-report.json", "-report.html"))
    papers = {name: Path(f"{start}-{_marked(name, mark)}") for name in made.files if name != DECK}
    try:
        out.mkdir(parents=True, exist_ok=True)
        kept = _put_aside(deck, report)
        atomic.write(deck, made.files[DECK])
        for name, path in papers.items():
            atomic.write(path, made.files[name])
        atomic.write(report, _report_bytes(made))
        atomic.write(page, page_bytes(made.facts["scrub"]))
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
        report=report,
        page=page,
        reviewed_by=facts["reviewed_by"],
        slides=facts["slides"],
        seconds=facts["seconds"],
        needs=facts["needs"],
        questions=facts["questions"],
        too_many=facts["too_many"],
        to_cut=tuple(facts["to_cut"]),
        removed=facts["removed"],
        detectors=tuple(facts["detectors"]),
        unchecked=tuple(facts["unchecked"]),
        rules=tuple(facts["rules"]),
        recognisable=tuple(facts["recognisable"]),
        circumstances=tuple(facts["circumstances"]),
        left_out=tuple(facts["left_out"]),
        untold=tuple(facts["untold"]),
        too_long=tuple(facts["too_long"]),
        warnings=folder.warnings,
        papers=tuple(papers.values()),
        kept=kept,
        reused=reused,
    )


def _marked(name: str, mark: str) -> str:
    """`one-page-summary.pdf` becomes `one-page-summary-DRAFT.pdf` for the mark `-DRAFT`."""
    paper, suffix = name.rsplit(".", 1)
    return f"{paper}{mark}.{suffix}"


def _report_bytes(made: Made) -> bytes:
    """Return the scrub report: counts and our own words, safe to file."""
    body = {
        "mmbuilder": mmbuilder.__version__,
        "state": _state(made),
        **made.facts,
        "deck_sha256": hashlib.sha256(made.files[DECK]).hexdigest(),
    }
    return _json(body)


def _state(made: Made) -> str:
    role = made.facts["reviewed_by"]
    return f"identifiers removed, reviewed by {role}" if role else "DRAFT: identifiers not yet reviewed"


def _json(body: dict[str, object]) -> bytes:
    return json.dumps(body, indent=2, ensure_ascii=False).encode() + b"\n"


def page_bytes(scrub: object, across: Sequence[str] = ()) -> bytes:
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
    return deck.rename(atomic.aside(deck, "changed"))


def told(report: BuildReport, words: Sequence[str]) -> BuildReport:
    """Write the reports of a case anew, with what it has in common with others."""
    try:
        body = json.loads(report.report.read_text("utf-8")) | {"across": list(words)}
        atomic.write(report.report, _json(body))
        atomic.write(report.page, page_bytes(body["scrub"], words))
    except OSError as fault:
        raise OutputNotWritable(
            f"the reports cannot be written ({fault.strerror}); the decks are written, but their reports do "
            "not tell what the cases have in common. Build them again"
        ) from fault
    return replace(report, across=tuple(words))
