"""`mmbuilder completion`: the script that teaches a shell our commands."""

from __future__ import annotations

import click

from mmbuilder.errors import ExitCode


@click.command("completion")
@click.argument("shell", type=click.Choice(["bash", "fish", "zsh"]))
@click.pass_context
def command(ctx: click.Context, shell: str) -> int:
    """Print the completion script of a shell."""
    from click.shell_completion import get_completion_class

    made = get_completion_class(shell)
    assert made is not None
    program = ctx.find_root().command
    click.echo(made(program, {}, "mmbuilder", "_MMBUILDER_COMPLETE").source())
    return ExitCode.OK
