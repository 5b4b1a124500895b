"""`mmbuilder check`: every fault of a case folder at once."""

from __future__ import annotations

from pathlib import Path

import click

from mmbuilder.errors import ExitCode


@click.command("check")
@click.argument("cases", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--format", "form", type=click.Choice(["text", "json", "github"]), default="text", show_default=True
)
def command(cases: tuple[Path, ...], form: str) -> int:
    """Tell every fault of each case folder; write nothing.

    Leaves with 0 if a deck can be built (warnings allowed), 3 if not.
    """
    from mmbuilder.casefile import check
    from mmbuilder.cli.telling import tell_problems

    problems = [problem for root in cases for problem in check(root).problems]
    tell_problems(problems, form)
    if form == "text" and not problems:
        click.echo("No faults found.")
    return ExitCode.CASE_INVALID if any(problem.stops for problem in problems) else ExitCode.OK
