"""`mmbuilder record`: the minutes of a meeting into the case folder."""

from __future__ import annotations

from pathlib import Path

import click

from mmbuilder.errors import ExitCode


@click.command("record")
@click.argument("case", type=click.Path(path_type=Path, file_okay=False, exists=True))
@click.argument("minutes", type=click.Path(path_type=Path, dir_okay=False))
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), default=Path("out"), show_default=True
)
@click.option("--no-build", is_flag=True, help="Take the minutes in, and build nothing.")
def command(case: Path, minutes: Path, out: Path, no_build: bool) -> int:
    """Take attendance by role, decisions, learning points and actions into the case, and build it anew.

    Where MINUTES is not there yet, it is written for you to fill in. Comments and order in the case
    file survive; the file as it was before is kept beside it.
    """
    from mmbuilder.casefile.recording import recorded
    from mmbuilder.cli.telling import tell_problems, tell_report
    from mmbuilder.cli.writing import put_in_place, write_new
    from mmbuilder.pipeline import BuildOptions, build

    if not minutes.exists():
        write_new(minutes.parent, {minutes.name: _blank(case)})
        click.echo(f"{minutes} is written for you to fill in. Then run the same command again.")
        return ExitCode.OK
    after, checked = recorded(case, minutes)
    tell_problems(checked.problems, built=True)
    kept = put_in_place(case / "case.yaml", after.encode())
    click.echo(f"The minutes are in the case; the file as it was before is {kept.name}.")
    if not no_build:
        tell_report(build(case, BuildOptions(out)))
    return ExitCode.OK


def _blank(case: Path) -> bytes:
    from mmbuilder.casefile import load
    from mmbuilder.casefile.recording import blank

    told = load(case).case
    ids = [action.id for action in told.actions if action.id]
    return blank([point.value for point in told.learning], ids).encode()
