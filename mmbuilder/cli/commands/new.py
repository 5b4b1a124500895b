"""`mmbuilder new`: a commented case folder to fill in."""

from __future__ import annotations

import re
from pathlib import Path

import click

from mmbuilder.errors import ExitCode


@click.command("new")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--specialty", default="general surgery", show_default=True, help="Whose words and phases to start from."
)
def command(folder: Path, specialty: str) -> int:
    """Start a case folder with a commented case.yaml.

    Beside it: a private identifiers.yaml, and folders for images and readings.
    """
    from mmbuilder.casefile.scaffold import scaffold
    from mmbuilder.cli.writing import write_new

    write_new(folder, scaffold(specialty, _code(folder.name)))
    click.echo(f"Started {folder}. Fill in case.yaml, list names in identifiers.yaml, then:")
    click.echo(f"  mmbuilder check {folder}")
    return ExitCode.OK


def _code(name: str) -> str:
    """Return the folder's name as a code: the deck's file name begins with it."""
    return "-".join(re.findall(r"[a-z0-9]+", name.casefold()))[:40].strip("-") or "my-case"
