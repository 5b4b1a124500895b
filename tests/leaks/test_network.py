"""No command opens a connection: watched through Python's own audit events, in a process of its own."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from mmbuilder import registry, resources
from tests.casefile.minimal import minimal_case

_WATCH = """
import sys
def watch(event, args):
    # The page listens, to this computer alone; nothing else may even do that. Its server reads the
    # address it would take if it were given none: figures, which nobody is asked about.
    if "open" in sys.argv[1:2] and event.startswith("socket.") and (event, args[1][0] if event == "socket.bind" else args[0]) in {
        ("socket.bind", "127.0.0.1"), ("socket.bind", "::1"), ("socket.getaddrinfo", "0.0.0.0")
    }:
        return
    if event in {"socket.connect", "socket.bind", "socket.getaddrinfo", "socket.sendto", "urllib.Request"}:
        print("CONNECTION", event, file=sys.stderr)
        import os; os._exit(99)
sys.addaudithook(watch)
from mmbuilder.cli.main import run
run(sys.argv[1:])
"""


def _run(*arguments: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", _WATCH, *map(str, arguments)],
        cwd=cwd,
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_watch_itself_sees_a_connection(tmp_path: Path) -> None:
    script = _WATCH.split("from mmbuilder")[0] + "import socket; socket.create_connection(('127.0.0.1', 9))"
    seen = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False, cwd=tmp_path
    )
    assert seen.returncode == 99


def _calls(tmp_path: Path) -> dict[str, list[object]]:
    case = resources.bundled_cases()[0]
    small = minimal_case(tmp_path / "small", readings=True)
    note = tmp_path / "note.txt"
    note.write_text("Seen at 09:30. Phone 01632 960123, mail a.person@example.org.", "utf-8")
    return {
        "build": ["build", small, "--out", tmp_path / "out", "--fresh"],
        "check": ["check", case],
        "completion": ["completion", "bash"],
        "compute": ["compute", "shock index", "heart rate=120", "systolic=90 mmHg"],
        "demo": ["demo", "--out", tmp_path / "demo"],
        "inspect": ["inspect", note],
        "new": ["new", tmp_path / "fresh"],
        "open": ["open", tmp_path / "fresh", "--no-browser", "--idle-minutes", "0.01"],
        "record": ["record", case, tmp_path / "minutes.yaml"],
        "schema": ["schema"],
        "scrub": ["scrub", note, "--out", tmp_path / "scrubbed"],
        "template": ["template", resources.templates() / "deck.pptx", "--out", tmp_path / "looked"],
    }


@pytest.mark.parametrize("command", registry.names("mmbuilder.cli.commands"))
def test_no_command_opens_a_connection(command: str, tmp_path: Path) -> None:
    done = _run(*_calls(tmp_path)[command], cwd=tmp_path)
    assert "CONNECTION" not in done.stderr
    assert done.returncode in {0, 1}, done.stderr
