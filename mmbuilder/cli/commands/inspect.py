"""`mmbuilder inspect`: look into a finished file."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mmbuilder.cli.telling import counts
from mmbuilder.errors import ExitCode, FileRefused

if TYPE_CHECKING:
    from mmbuilder.scrub.inspect import Inspection


@click.command("inspect")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--identifiers",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="Your private list of names, places and numbers (identifiers.yaml).",
)
@click.option(
    "--need-picture-search",
    is_flag=True,
    help="Refuse where a part that looks for text, faces and codes in pictures is not installed.",
)
@click.option("--json", "as_json", is_flag=True, help="Tell the findings as JSON, without the text found.")
def command(
    files: tuple[Path, ...], identifiers: Path | None, need_picture_search: bool, as_json: bool
) -> int:
    """Look into finished files for identifiers, and say what could not be looked into.

    Leaves with 0 if nothing was found, 1 if something was, 9 if a file could not be read.
    """
    from mmbuilder.scrub.inspect import inspect
    from mmbuilder.scrub.loose import read_declared

    if need_picture_search:
        from mmbuilder.scrub.images import regions

        regions.require()
    declared = read_declared(identifiers) if identifiers else None
    told: list[dict[str, object]] = []
    code = ExitCode.OK
    for path in files:
        try:
            found = inspect(path, declared, path.name)
        except FileRefused as refused:
            told.append({"file": str(path), "findings": [], "kept": [], "notes": [], "refused": str(refused)})
            code = ExitCode.FILE_REFUSED
            continue
        told.append(found.as_dict())
        if found.findings and code is ExitCode.OK:
            code = ExitCode.FINDINGS
        if not as_json:
            _tell(found)
    if as_json:
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        for entry in told:
            if entry.get("refused"):
                click.echo(f"{entry['file']}: not looked into: {entry['refused']}", err=True)
    return code


def _tell(found: Inspection) -> None:
    click.echo(f"{found.file}: {counts(found.findings)}")
    for (where, kind), number in Counter((finding.where, finding.kind) for finding in found.findings).items():
        click.echo(f"  {where}: {kind}{f', {number} places' if number > 1 else ''}")
    kept = Counter((finding.kind, finding.kept) for finding in found.kept)
    for (kind, why), number in kept.items():
        click.echo(f"  may stay, {number} times: {kind} ({why}); places: --json")
    for note in found.notes:
        click.echo(f"  not looked at: {note}")
