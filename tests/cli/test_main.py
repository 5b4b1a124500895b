from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from mmbuilder import registry
from mmbuilder.cli import main
from mmbuilder.errors import ExitCode, MMBuilderError

COMMANDS = registry.names("mmbuilder.cli.commands")


def test_the_commands_are_those_the_readme_lists() -> None:
    readme = Path(__file__).parents[2].joinpath("README.md").read_text("utf-8")
    assert COMMANDS == (
        "build",
        "check",
        "completion",
        "compute",
        "demo",
        "inspect",
        "new",
        "open",
        "record",
        "schema",
        "scrub",
        "template",
    )
    assert all(f"`mmbuilder {name}" in readme for name in COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str) -> None:
    result = CliRunner().invoke(main.program, [name, "--help"])
    assert result.exit_code == 0
    assert len(result.output.splitlines()) > 4


def test_exit_codes_are_documented() -> None:
    readme = Path(__file__).parents[2].joinpath("README.md").read_text("utf-8")
    line = next(line for line in readme.splitlines() if line.startswith("Exit codes:"))
    documented = {int(part.split()[0]) for part in line.removeprefix("Exit codes:").split("·")}
    assert documented == {int(code) for code in ExitCode}


def test_a_misspelt_command_is_usage() -> None:
    assert main._code(["bild"]) == ExitCode.USAGE


@pytest.mark.parametrize("error", MMBuilderError.__subclasses__())
def test_every_error_leaves_with_its_own_code(
    error: type[MMBuilderError], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(*args: object, **kwargs: object) -> None:
        raise error([]) if error.__name__ == "CaseInvalid" else error("a sentence")

    monkeypatch.setattr(main.program, "main", fail)
    assert main._code([]) == error.exit_code
    codes = [kind.exit_code for kind in MMBuilderError.__subclasses__()]
    assert len(set(codes)) == len(codes)
    assert "Traceback" not in capsys.readouterr().err


def test_an_unknown_fault_is_told_without_its_message(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(*args: object, **kwargs: object) -> None:
        raise ValueError("seen by Mr Quillfeather on the ward")

    monkeypatch.setattr(main.program, "main", fail)
    assert main._code([]) == ExitCode.BUG
    told = capsys.readouterr().err
    assert "Quillfeather" not in told
    assert "ValueError" in told


def test_ctrl_c_is_told_apart_from_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*args: object, **kwargs: object) -> None:
        raise click.Abort

    monkeypatch.setattr(main.program, "main", stop)
    assert main._code([]) == ExitCode.INTERRUPTED


def test_help_imports_none_of_the_heavy_libraries() -> None:
    heavy = "{'matplotlib', 'pptx', 'pydantic', 'PIL', 'numpy', 'phonenumbers', 'stdnum', 'rich', 'yaml'}"
    script = (
        "import sys\nfrom mmbuilder.cli.main import _code\n"
        f"_code(['--help'])\nprint(sorted({heavy} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
