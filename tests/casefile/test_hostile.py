"""Files made to hurt: refused in one sentence, in bounded time and memory, with nothing written."""

from __future__ import annotations

import json
import os
import resource
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from mmbuilder.casefile import check
from mmbuilder.casefile.reader import MOST_BYTES, MOST_NODES, read
from tests.casefile.minimal import TEXT, minimal_case

BOMB = "a: &a [x, x]\n" + "".join(
    f"{chr(98 + n)}: &{chr(98 + n)} [*{chr(97 + n)}, *{chr(97 + n)}]\n" for n in range(24)
)

TRAPS = {
    "alias bomb": BOMB,
    "alias bomb in brackets": "a: [" + ", ".join(f"&x{n} [*x{n - 1}, *x{n - 1}]" for n in range(1, 40)) + "]",
    "merge keys": "<<: [*a, *b]\na: b\n",
    "deep brackets": "a: " + "[" * 100_000,
    "deep lists": "- " * 50_000,
    "deep keys": "\n".join("  " * n + "a:" for n in range(1000)),
    "many nodes": "a: [" + "x," * (MOST_NODES + 10) + "]",
    "many keys": "".join(f"k{n}: v\n" for n in range(MOST_NODES)),
    "open brackets on each line": "[\n" * 50_000,
    "open quotes on each line": "\"a\n'b\n" * 50_000,
    "keys too deep": "title: x\n" + "  when: y\n" * 50_000,
    "long blank": "title: " + " " * 1_000_000 + ":",
    "blank lines": "title: x\n" + "\n" * 1_000_000,
    "one long line": "x" * 1_900_000,
    "one long key": "x " * 500_000 + ": y",
    "colons": "a: b: " * 100_000,
    "dashes": "-" * 1_000_000,
    "bullets": "a:\n" + "• b\n" * 200_000,
}


MEMORY = 700 * 2**20
"""Address space for the whole process, the interpreter and its libraries included."""


def test_traps_are_refused_in_bounded_memory() -> None:
    """Every trap in one process that may not grow: what it prints is all that it found."""
    done = subprocess.run(
        [sys.executable, "-c", "from tests.casefile.test_hostile import spring; spring()"],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.stderr == ""
    told = json.loads(done.stdout)
    assert list(told) == list(TRAPS)
    for name, codes in told.items():
        assert codes or name in ("bullets", "blank lines"), name
        assert len(codes) < 200


def spring() -> None:
    """Read every trap and print the codes told, as JSON."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    found = {
        name: read(text.encode(), "case.yaml", {"title", "when"}).problems for name, text in TRAPS.items()
    }
    print(json.dumps({name: [problem.code for problem in problems] for name, problems in found.items()}))  # noqa: T201


def test_large_file_is_refused_unread(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, TEXT + "# " + "x" * (MOST_BYTES + 1_000_000))
    (told,) = check(root).problems
    assert told.code == "file-too-large"


@pytest.mark.parametrize("name", ["case.yaml", "identifiers.yaml"])
@pytest.mark.parametrize("kind", ["device", "pipe", "socket", "folder", "link out", "link in a circle"])
def test_only_plain_files_are_opened(
    tmp_path: Path, name: str, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = minimal_case(tmp_path)
    (root / name).unlink(missing_ok=True)
    (tmp_path / "outside.yaml").write_text(TEXT, encoding="utf-8")
    monkeypatch.chdir(root)  # the name of a socket may not be long
    held = None
    match kind:
        case "device":
            (root / name).symlink_to("/dev/zero")
        case "pipe":
            os.mkfifo(root / name)
        case "socket":
            held = socket.socket(socket.AF_UNIX)
            held.bind(name)
        case "folder":
            (root / name).mkdir()
        case "link out":
            (root / name).symlink_to(tmp_path / "outside.yaml")
        case "link in a circle":
            (root / name).symlink_to(root / name)
    checked = check(root)
    if held is not None:
        held.close()
    assert checked.folder is None
    (told,) = [problem for problem in checked.problems if problem.stops]
    assert told.code in ("file-outside", "file-not-plain", "file-missing")


def test_a_check_writes_nothing(tmp_path: Path) -> None:
    from tests.casefile.bad_case import bad_case

    root = bad_case(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")}
    check(root)
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*")} == before


def test_no_folder_and_no_case(tmp_path: Path) -> None:
    assert [problem.code for problem in check(tmp_path / "nothing").problems] == ["folder-missing"]
    (told,) = check(tmp_path).problems
    assert told.code == "file-missing"
    (tmp_path / "case.yml").write_text(TEXT, encoding="utf-8")
    (told,) = check(tmp_path).problems
    assert "case.yml" in told.found
