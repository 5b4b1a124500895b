"""`mmbuilder schema`: the JSON Schemas of the case files, for editors."""

from __future__ import annotations

from pathlib import Path

import click

from mmbuilder.errors import ExitCode


@click.command("schema")
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), help="Write both schema files there."
)
@click.option(
    "--identifiers", is_flag=True, help="Print the schema of identifiers.yaml instead of case.yaml."
)
def command(out: Path | None, identifiers: bool) -> int:
    """Print the JSON Schema of the case files, for editors."""
    from mmbuilder import resources
    from mmbuilder.cli.writing import write_new

    names = ("case.schema.json", "identifiers.schema.json")
    if out is None:
        click.echo((resources.templates() / names[identifiers]).read_text("utf-8"), nl=False)
    else:
        files = {name: (resources.templates() / name).read_bytes() for name in names}
        write_new(out, files, replace=True)
        click.echo(f"Written to {out}: {', '.join(names)}")
    return ExitCode.OK
