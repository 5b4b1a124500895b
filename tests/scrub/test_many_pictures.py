"""Many pictures in one call: progress on a terminal, and one damaged file stops nothing and is named at the end."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.many_pictures import many

pty = pytest.importorskip("pty", reason="a terminal of its own to draw on")


def on_a_terminal(program: list[str]) -> str:
    """Run a program whose errors go to a terminal, and return what the terminal showed."""
    ours, theirs = pty.openpty()
    quiet = os.environ | {"MMBUILDER_CACHE": "", "TERM": "xterm", "COLUMNS": "200"}
    with subprocess.Popen(program, env=quiet, stdout=subprocess.DEVNULL, stderr=theirs):
        os.close(theirs)
        shown = b""
        try:
            while piece := os.read(ours, 4096):
                shown += piece
        except OSError:
            pass  # Linux answers so when the other end is closed
        os.close(ours)
    return shown.decode()


@pytest.mark.parametrize("jobs", [1, 2])
def test_progress_is_shown_and_the_damaged_one_is_named_last(tmp_path: Path, jobs: int) -> None:
    bad = many(tmp_path / "in", 5)
    program = [sys.executable, "-m", "mmbuilder", "scrub", str(tmp_path / "in")]
    shown = on_a_terminal([*program, "--out", str(tmp_path / "out"), "--jobs", str(jobs)])
    assert len(list((tmp_path / "out").glob("*.png"))) == 5
    assert "0/6" in shown
    assert "6/6" in shown
    last = re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", shown).split("\n")
    assert f"{bad}: not written: this PNG picture is cut short" in "".join(last[-2:])
    assert "1 of 6 files were not written:" in shown
