"""`mmbuilder scrub`: loose files with their identifiers removed."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mmbuilder.cli.telling import counts
from mmbuilder.errors import ExitCode, FileRefused

if TYPE_CHECKING:
    from mmbuilder.scrub.loose import Job, Outcome


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
    "--jobs",
    type=click.IntRange(1, 64),
    default=None,
    help="Files scrubbed at once; one a processor if not given.",
)
@click.option(
    "--need-picture-search",
    is_flag=True,
    help="Write nothing where a part that looks for text, faces and codes in pictures is not installed.",
)
@click.option(
    "--report", "with_report", is_flag=True, help="Write a report beside the results, safe to file."
)
@click.option(
    "--keys",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Keep what each stand-in stands for in this file, sealed with a passphrase that is asked for.",
)
@click.option("--json", "as_json", is_flag=True, help="Tell the findings as JSON, without the text found.")
def command(
    files: tuple[Path, ...],
    out: Path,
    identifiers: Path | None,
    rename: bool,
    jobs: int | None,
    need_picture_search: bool,
    with_report: bool,
    keys: Path | None,
    as_json: bool,
) -> int:
    """Remove identifiers from files made elsewhere.

    Reads text, pictures, .pptx, .docx, .xlsx, .pdf, DICOM and .zip of these (some need an extra).

    Folders are walked; results keep their relative names under --out. What cannot be read
    safely is refused and named at the end; the rest is done all the same.

    One person has one stand-in within a file. In another file the same stand-in may stand for
    somebody else, unless your private list declares who it is.
    """
    from mmbuilder.scrub import loose

    if need_picture_search:
        from mmbuilder.scrub.images import regions

        regions.require()
    if identifiers:
        loose.read_declared(identifiers)  # every fault of the list is told before any work is done
    listed = loose.plan_files(files, out)
    if not listed:
        raise FileRefused("there is no file in what was given, so nothing was written")
    passphrase = _passphrase(keys, out) if keys else ""
    outcomes = _scrubbed(listed, out, identifiers, jobs, rename=rename, keep_stand_ins=keys is not None)
    if keys:
        _save_keys(outcomes, keys, passphrase, out)
    if with_report:
        _report(outcomes, out)
    if as_json:
        click.echo(json.dumps([outcome.as_dict() for outcome in outcomes], indent=2, ensure_ascii=False))
    else:
        _tell(outcomes)
    return ExitCode.FILE_REFUSED if any(outcome.refused for outcome in outcomes) else ExitCode.OK


def _scrubbed(
    listed: tuple[Job, ...],
    out: Path,
    identifiers: Path | None,
    processes: int | None,
    *,
    rename: bool,
    keep_stand_ins: bool,
) -> list[Outcome]:
    from mmbuilder.cli.progress import progress
    from mmbuilder.scrub.many import scrub_files

    # A process takes a second to start: a few files are sooner done in this one.
    chosen = processes or (os.cpu_count() or 1 if len(listed) > _FEW else 1)
    with progress("Scrubbing", len(listed)) as step:
        return scrub_files(
            listed,
            out,
            identifiers,
            rename=rename,
            keep_stand_ins=keep_stand_ins,
            processes=chosen,
            done=lambda outcome: step(),
        )


_FEW = 3


def _tell(outcomes: list[Outcome]) -> None:
    """Print what was written with its counts, what was not looked at, and what was refused, that last."""
    for outcome in outcomes:
        if not outcome.refused:
            kept = f"; kept: {counts(outcome.kept)}" if outcome.kept else ""
            click.echo(f"{outcome.written}: {counts(outcome.findings)}{kept}")
    for note in sorted({note for outcome in outcomes for note in outcome.notes}):
        click.echo(f"  not looked at: {note}")
    for words in sorted({words for outcome in outcomes for words in outcome.dropped}):
        click.echo(f"  left out: {words}")
    refused = [outcome for outcome in outcomes if outcome.refused]
    if len(refused) < len(outcomes):
        click.echo(
            "Look at every result before it is shown. Identifiers are removed only as far as they were found."
        )
    if refused and len(outcomes) > 1:
        click.echo(f"{len(refused)} of {len(outcomes)} files were not written:", err=True)
    for outcome in refused:
        click.echo(f"{outcome.file}: not written: {outcome.refused}", err=True)


def _passphrase(keys: Path, out: Path) -> str:
    """Ask twice, and refuse before any work is done what could not be saved after it."""
    from mmbuilder.scrub import keys as tables

    tables.place(keys, results=out)
    asked = f"Passphrase for the table of stand-ins (at least {tables.LEAST_PASSPHRASE} characters)"
    passphrase: str = click.prompt(asked, hide_input=True, confirmation_prompt="The same again", err=True)
    tables.check(keys, passphrase, results=out)
    return passphrase


def _save_keys(outcomes: list[Outcome], keys: Path, passphrase: str, out: Path) -> None:
    from mmbuilder.scrub import keys as tables

    kept = {
        f"{outcome.written.relative_to(out)}: {stand_in}": originals
        for outcome in outcomes
        if outcome.written is not None
        for stand_in, originals in outcome.stand_ins.items()
    }
    tables.save(kept, keys, passphrase, results=out)
    click.echo(f"{keys}: what each stand-in stands for, sealed; keep it apart from the results.", err=True)


def _report(outcomes: list[Outcome], out: Path) -> None:
    from mmbuilder.cli.writing import write_new
    from mmbuilder.scrub import report

    told = report.of_files(outcomes)
    files = {
        "scrub-report.json": report.as_json(told).encode(),
        "scrub-report.html": report.as_page(told).encode(),
    }
    write_new(out, files, replace=True)
