"""`mmbuilder scrub`: loose files with their identifiers removed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mmbuilder.cli.telling import counts
from mmbuilder.errors import ExitCode

if TYPE_CHECKING:
    from mmbuilder.scrub.loose import Outcome


@click.command("scrub")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--out", required=True, type=click.Path(path_type=Path, file_okay=False), help="Folder for the results."
)
@click.option(
    "--identifiers",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="Your private list of names, places and numbers (identifiers.yaml).",
)
@click.option("--rename", is_flag=True, help="Scrub file names too.")
@click.option(
    "--report", "with_report", is_flag=True, help="Write a report beside the results, safe to file."
)
@click.option("--json", "as_json", is_flag=True, help="Tell the findings as JSON, without the text found.")
def command(
    files: tuple[Path, ...],
    out: Path,
    identifiers: Path | None,
    rename: bool,
    with_report: bool,
    as_json: bool,
) -> int:
    """Remove identifiers from files made elsewhere.

    Reads text, pictures, .pptx, .docx, .xlsx, .pdf, DICOM and .zip of these (some need an extra).

    Folders are walked; results keep their relative names under --out. What cannot be read
    safely is refused and named at the end; the rest is done all the same.
    """
    from mmbuilder.cli.progress import progress
    from mmbuilder.scrub import loose

    declared = loose.read_declared(identifiers) if identifiers else None
    jobs = loose.plan_files(files)
    with progress("Scrubbing", len(jobs)) as step:
        outcomes = []
        for job in jobs:
            outcomes.append(loose.scrub_file(job, out, declared, rename=rename))
            step()
    if with_report:
        _report(outcomes, out)
    if as_json:
        click.echo(json.dumps([outcome.as_dict() for outcome in outcomes], indent=2, ensure_ascii=False))
    else:
        _tell(outcomes)
    return ExitCode.FILE_REFUSED if any(outcome.refused for outcome in outcomes) else ExitCode.OK


def _tell(outcomes: list[Outcome]) -> None:
    """Print what was written with its counts, what was not looked at, and what was refused, that last."""
    for outcome in outcomes:
        if not outcome.refused:
            click.echo(f"{outcome.written}: {counts(outcome.findings)}")
    for note in sorted({note for outcome in outcomes for note in outcome.notes}):
        click.echo(f"  not looked at: {note}")
    for words in sorted({words for outcome in outcomes for words in outcome.dropped}):
        click.echo(f"  left out: {words}")
    for outcome in outcomes:
        if outcome.refused:
            click.echo(f"{outcome.file}: not written: {outcome.refused}", err=True)
    if any(not outcome.refused for outcome in outcomes):
        click.echo(
            "Look at every result before it is shown. Identifiers are removed only as far as they were found."
        )


def _report(outcomes: list[Outcome], out: Path) -> None:
    from mmbuilder.cli.writing import write_new
    from mmbuilder.scrub import report

    told = report.of_files(outcomes)
    files = {
        "scrub-report.json": report.as_json(told).encode(),
        "scrub-report.html": report.as_page(told).encode(),
    }
    write_new(out, files, replace=True)
