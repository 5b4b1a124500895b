"""`mmbuilder compute`: one figure of the clinic, with its formula, source and caution."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from mmbuilder.errors import ExitCode

if TYPE_CHECKING:
    from mmbuilder.clinic import InputFault, Worked
    from mmbuilder.clinic.working import Measure


@click.command("compute")
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1)
@click.option("--working", is_flag=True, help="Show every step.")
def command(name: str | None, inputs: tuple[str, ...], working: bool) -> int:
    """Work out a figure for the review of a past case.

    mmbuilder compute "shock index" "heart rate=120" "systolic=90 mmHg"

    Without a name, lists what can be worked out; without inputs, what a figure needs.
    """
    from mmbuilder import clinic
    from mmbuilder.clinic.measure import REVIEW_ONLY

    if name is None:
        click.echo("\n".join(clinic.catalogue()))
        click.echo(f"\n{REVIEW_ONLY}")
        return ExitCode.OK
    measure = clinic.find(name)
    if measure is None:
        raise click.UsageError(f"there is no such figure; one of: {', '.join(clinic.catalogue())}")
    if not inputs:
        click.echo(_needs(measure))
        return ExitCode.OK
    try:
        worked = clinic.work(name, clinic.gather(_pairs(inputs)))
    except clinic.InputFault as told:
        raise click.UsageError(_faults(told)) from None
    click.echo(_shown(worked, working))
    return ExitCode.OK


def _pairs(inputs: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    """Part `name=value`."""
    for one in inputs:
        key, sign, value = one.partition("=")
        if not sign:
            raise click.UsageError('each input is written name=value, such as "systolic=90 mmHg"')
        yield key, value


def _needs(leaf: Measure) -> str:
    example = " ".join(
        f'"{key}={value}"'
        for key, values in leaf.EXAMPLES[0].given.items()
        for value in ([values] if isinstance(values, str) else values)
    )
    needed = [f"  {key}{'' if kind.required else ' (if known)'}" for key, kind in leaf.INPUTS.items()]
    return "\n".join([f"{leaf.NAME}: {leaf.FORMULA}", *needed, f"such as: {example}"])


def _faults(told: InputFault) -> str:
    return "\n".join(
        f"{fault.name}: found {fault.found}; expected {fault.expected}"
        + (f" ({fault.why})" if fault.why else "")
        + (f"; write {fault.example}" if fault.example else "")
        for fault in told.faults
    )


def _shown(worked: Worked, working: bool) -> str:
    lines = [str(answer) for answer in worked.answers]
    if worked.disputed:
        lines += ["sources do not agree; by each:", *(f"  {answer}" for answer in worked.disputed)]
    lines += [*worked.notes, f"formula  {worked.formula}", f"source   {worked.source}"]
    if working:
        lines += [f"from     {', '.join(f'{key} {value}' for key, value in worked.inputs)}"]
        lines += [f"step     {step}" for step in worked.steps]
    return "\n".join([*lines, f"caution  {worked.caution}"])
