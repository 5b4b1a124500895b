"""`mmbuilder build`: case folders in, decks out."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mmbuilder.errors import ExitCode
from mmbuilder.labels import languages
from mmbuilder.safe.terms import Use

if TYPE_CHECKING:
    from mmbuilder.pipeline import BuildOptions, BuildReport, Failure


@click.command("build")
@click.argument("cases", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--use",
    type=click.Choice([use.value for use in Use]),
    help="Who it is for; the case's own use if not given.",
)
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), default=Path("out"), show_default=True
)
@click.option(
    "--template",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="Your department's own .pptx.",
)
@click.option(
    "--jobs",
    type=click.IntRange(1, 64),
    default=None,
    help="Processes to use, for several cases or parts of one; one a processor if not given.",
)
@click.option(
    "--skip-name-search",
    is_flag=True,
    help="Do not look for names that nobody declared; quicker, and the report says so.",
)
@click.option(
    "--need-picture-search",
    is_flag=True,
    help="Build nothing where a part that looks for text, faces and codes in pictures is not installed.",
)
@click.option("--working", is_flag=True, help="Show every step of a computed figure.")
@click.option(
    "--language",
    type=click.Choice(languages()),
    help="Of headings and labels, such as de; the case's own if not given.",
)
@click.option("--final", is_flag=True, help="Without DRAFT; needs a completed review.")
@click.option("--fresh", is_flag=True, help="Build anew even if nothing changed.")
@click.option(
    "--watch",
    "watching",
    is_flag=True,
    help="Stay, and build a case again each time one of its files is saved; Ctrl-C ends it.",
)
@click.option("--json", "as_json", is_flag=True, help="Tell the results as JSON.")
def command(
    cases: tuple[Path, ...],
    use: str | None,
    out: Path,
    template: Path | None,
    jobs: int | None,
    skip_name_search: bool,
    need_picture_search: bool,
    working: bool,
    language: str | None,
    final: bool,
    fresh: bool,
    watching: bool,
    as_json: bool,
) -> int:
    """Build the slides and the paper of each case folder.

    Every result is a DRAFT until the removal of identifiers has been reviewed.
    """
    from mmbuilder.cli.progress import progress
    from mmbuilder.pipeline import BuildOptions, build_many

    if watching and as_json:
        raise click.UsageError("--watch tells people and not programs; leave out --json")
    options = BuildOptions(
        out,
        Use(use) if use else None,
        template,
        final,
        fresh,
        skip_name_search,
        need_picture_search,
        working,
        language,
    )
    jobs = jobs or os.cpu_count() or 1
    if watching:
        return _watch(cases, options, jobs)
    with progress("Building", len(cases)) as step:
        results = build_many(cases, options, jobs=jobs, done=lambda result: step())
    return _tell_json(results) if as_json else _tell(results)


def _watch(cases: tuple[Path, ...], options: BuildOptions, jobs: int) -> int:
    from mmbuilder.pipeline import watch

    def done(result: BuildReport | Failure) -> None:
        _tell([result])
        click.echo("Waiting for a file to be saved; Ctrl-C ends.\n", err=True)

    try:
        watch(cases, options, jobs=jobs, done=done)
    except KeyboardInterrupt:
        return ExitCode.OK


def _tell(results: list[BuildReport | Failure]) -> int:
    from mmbuilder.cli.telling import tell_failure, tell_problems, tell_report
    from mmbuilder.pipeline import Failure

    code = ExitCode.OK
    for result in results:
        if isinstance(result, Failure):
            tell_failure(result)
            code = code or result.error.exit_code
        else:
            tell_problems(result.warnings, built=True)
            tell_report(result)
    return code


def _tell_json(results: list[BuildReport | Failure]) -> int:
    from mmbuilder.cli.telling import failure_as_dict, report_as_dict
    from mmbuilder.pipeline import Failure

    failures = [result.error.exit_code for result in results if isinstance(result, Failure)]
    told = [
        failure_as_dict(result) if isinstance(result, Failure) else report_as_dict(result)
        for result in results
    ]
    click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    return failures[0] if failures else ExitCode.OK
