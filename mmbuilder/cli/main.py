"""The command line: find the command, run it, turn an error into a sentence and an exit code."""

from __future__ import annotations

import gc
import sys
from importlib import import_module

import click

import mmbuilder
from mmbuilder import ready_patterns, registry
from mmbuilder.beside import one_thread_each
from mmbuilder.errors import CaseInvalid, ExitCode, MMBuilderError, where

_COMMANDS = "mmbuilder.cli.commands"


class _Commands(click.Group):
    """Commands found in their folder, imported when they are needed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(registry.names(_COMMANDS))

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in registry.names(_COMMANDS):
            return None
        with ready_patterns.kept(cmd_name):
            command = import_module(f"{_COMMANDS}.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command


@click.group(
    cls=_Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Not a medical device. Local policy and information governance come first.",
)
@click.version_option(mmbuilder.__version__, prog_name="mmbuilder")
def program() -> None:
    """Turn the notes on an unexpected complication into slides with the identifiers removed.

    Start with `mmbuilder demo`, then `mmbuilder new my-case`.
    """


def run(arguments: list[str] | None = None) -> None:
    """Run the program and leave with its exit code."""
    # A short run makes many objects while it loads and drops few: collecting as often as a server
    # does costs a seventh of the time to check a case.
    gc.set_threshold(50_000, 20, 20)
    one_thread_each()
    sys.exit(_code(arguments))


def _code(arguments: list[str] | None) -> int:
    try:
        result = program.main(arguments, standalone_mode=False)
        return result if isinstance(result, int) else ExitCode.OK
    except click.exceptions.Exit as leave:
        return leave.exit_code
    except click.Abort:
        return ExitCode.INTERRUPTED
    except click.ClickException as misuse:
        misuse.show()
        return ExitCode.USAGE
    except KeyboardInterrupt:
        return ExitCode.INTERRUPTED
    except CaseInvalid as fault:
        from mmbuilder.cli.telling import tell_problems

        tell_problems(fault.problems)
        return fault.exit_code
    except MMBuilderError as fault:
        click.echo(f"mmbuilder: {fault}", err=True)
        return fault.exit_code
    except Exception as bug:
        # The message of an unknown error may quote the case; its kind and place in our code cannot.
        click.echo(f"mmbuilder: a fault of the program itself, {where(bug)}. Nothing was written.", err=True)
        return ExitCode.BUG
