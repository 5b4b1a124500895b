"""`mmbuilder demo`: a bundled, invented case from folder to deck."""

from __future__ import annotations

from pathlib import Path

import click

from mmbuilder.errors import ExitCode

_CASE = "eye"


@click.command("demo")
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), default=Path("out"), show_default=True
)
def command(out: Path) -> int:
    """Build the bundled eye case, to see what a deck looks like."""
    from mmbuilder import resources
    from mmbuilder.cli.telling import tell_report
    from mmbuilder.pipeline import BuildOptions, build

    case = next(path for path in resources.bundled_cases() if path.name.startswith(_CASE))
    tell_report(build(case, BuildOptions(out)))
    click.echo(f"The case it was made from is in {case}. Copy it, or start your own with `mmbuilder new`.")
    return ExitCode.OK
