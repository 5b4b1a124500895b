"""How results are told in a terminal. Counts, places and our own words: never case text."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import click

from mmbuilder.errors import CaseInvalid, ReviewPending
from mmbuilder.problem import Problem, as_dict, as_github, as_text, tally

if TYPE_CHECKING:
    from mmbuilder.pipeline import BuildReport, Failure
    from mmbuilder.scrub.findings import Finding


def tell_problems(problems: Sequence[Problem], form: str = "text", *, built: bool = False) -> None:
    """Print problems as text (stops first to standard error), JSON or workflow annotations."""
    if form == "json":
        click.echo(json.dumps([as_dict(problem) for problem in problems], indent=2, ensure_ascii=False))
    elif form == "github":
        for problem in problems:
            click.echo(as_github(problem))
    else:
        _tell_text(problems, built)


def _tell_text(problems: Sequence[Problem], built: bool) -> None:
    stops = [problem for problem in problems if problem.stops]
    warnings = [problem for problem in problems if not problem.stops]
    for heading, group in (("To mend before a deck can be built", stops), ("Worth a look", warnings)):
        if group:
            click.secho(f"{heading}:", bold=True, err=True)
            click.echo("\n\n".join(as_text(problem) for problem in group) + "\n", err=True)
    if problems:
        click.echo(_sum(problems) + ("" if built or not stops else " No deck was written."), err=True)


def _sum(problems: Iterable[Problem]) -> str:
    stops, warnings = tally(problems)
    return f"{_count(stops, 'stop')}, {_count(warnings, 'warning')}."


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" + ("" if number == 1 else "s")


def tell_report(report: BuildReport) -> None:
    """Print what was built, what was removed, and what nothing looked at."""
    click.secho(f"{report.deck}", bold=True)
    after = f"; then {_minutes(report.questions)} for questions" if report.questions else ""
    click.echo(
        f"  {report.slides} slides, {_minutes(report.seconds)}; told in {_minutes(report.needs)}{after}"
    )
    if report.to_cut:
        numbers = ", ".join(map(str, report.to_cut))
        click.echo(f"  {report.why_cut}; leave out slide {numbers}")
    for paper in report.papers:
        click.echo(f"  paper: {paper.name}")
    click.echo(f"  report, safe to file: {report.page.name}")
    removed = ", ".join(f"{count} {kind}" for kind, count in report.removed.items()) or "nothing"
    click.echo(f"  replaced: {removed}")
    for words in report.too_long:
        click.echo(f"  {words}")
    for words in report.left_out:
        click.echo(f"  left out: {words}")
    for words in report.untold:
        click.echo(f"  on no slide: {words}")
    for words in report.rules:
        click.echo(f"  {words}")
    for words in report.recognisable:
        click.echo(f"  could still be recognised: {words}")
    for words in report.across:
        click.echo(f"  in common {words}")
    for words in report.unchecked:
        click.echo(f"  not looked at: {words}")
    if report.kept:
        click.echo(f"  the deck there had been changed since it was built; it is kept as {report.kept.name}")
    if report.reviewed_by:
        click.echo(f"  identifiers removed, reviewed by {report.reviewed_by}")
    else:
        click.echo("  DRAFT until the removal of identifiers has been reviewed.")


def _minutes(seconds: int) -> str:
    return f"{seconds // 60} min {seconds % 60:02d} s"


def report_as_dict(report: BuildReport) -> dict[str, object]:
    """Return plain values for JSON."""
    return {
        "case": str(report.case),
        "deck": str(report.deck),
        "papers": [str(path) for path in report.papers],
        "report": str(report.report),
        "page": str(report.page),
        "slides": report.slides,
        "seconds": report.seconds,
        "needs": report.needs,
        "questions": report.questions,
        "too_many": report.too_many,
        "to_cut": list(report.to_cut),
        "removed": report.removed,
        "detectors": list(report.detectors),
        "unchecked": list(report.unchecked),
        "rules": list(report.rules),
        "recognisable": list(report.recognisable),
        "across": list(report.across),
        "left_out": list(report.left_out),
        "untold": list(report.untold),
        "too_long": list(report.too_long),
        "warnings": [as_dict(problem) for problem in report.warnings],
        "kept": str(report.kept) if report.kept else None,
        "draft": not report.reviewed_by,
        "reviewed_by": report.reviewed_by,
    }


def tell_failure(failure: Failure) -> None:
    """Print why a case was not built."""
    if isinstance(failure.error, CaseInvalid):
        tell_problems(failure.error.problems)
    else:
        hint = _SIGN if isinstance(failure.error, ReviewPending) else ""
        click.echo(f"{failure.case}: {failure.error}{hint}", err=True)


_SIGN = ". Review and sign it on its page: mmbuilder open, then the folder"


def failure_as_dict(failure: Failure) -> dict[str, object]:
    """Return plain values for JSON."""
    problems = failure.error.problems if isinstance(failure.error, CaseInvalid) else ()
    return {
        "case": str(failure.case),
        "error": str(failure.error),
        "exit_code": int(failure.error.exit_code),
        "problems": [as_dict(problem) for problem in problems],
    }


def counts(findings: Iterable[Finding]) -> str:
    """`2 phone number, 1 date`, or `nothing found`."""
    tallied = Counter(finding.kind for finding in findings)
    return ", ".join(f"{number} {kind}" for kind, number in sorted(tallied.items())) or "nothing found"
