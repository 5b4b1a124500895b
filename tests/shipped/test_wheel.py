"""The installed package, run outside the checkout (`-I` keeps the checkout off the path)."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from mmbuilder import registry
from mmbuilder.cli.main import _COMMANDS

_LEAVES = (
    _COMMANDS,
    "mmbuilder.casefile.rules",
    "mmbuilder.formats",
    "mmbuilder.scrub.detectors",
    "mmbuilder.storyboard.slides",
)


def _installed(*arguments: object, cwd: Path, kept: str = "") -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"MMBUILDER_CACHE": kept}
    return subprocess.run(
        [sys.executable, "-I", *map(str, arguments)],
        cwd=cwd,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(autouse=True)
def _needs_the_package(tmp_path: Path) -> None:
    if _installed("-c", "import mmbuilder", cwd=tmp_path).returncode:
        reason = "mmbuilder is not installed in this environment: pip install '.[test]'"
        pytest.fail(reason) if os.environ.get("CI") else pytest.skip(reason)


def test_the_demo_runs_from_the_installed_package(tmp_path: Path, seen: Path) -> None:
    done = _installed("-m", "mmbuilder", "demo", "--out", "slides", cwd=tmp_path, kept=str(seen))
    assert done.returncode == 0, done.stderr
    assert len(list((tmp_path / "slides").glob("*-DRAFT.pptx"))) == 1


def test_the_installed_package_has_every_leaf_and_every_file(tmp_path: Path) -> None:
    script = (
        "import json, mmbuilder\n"
        "from mmbuilder import registry, resources\n"
        f"leaves = {{name: registry.names(name) for name in {_LEAVES!r}}}\n"
        "shipped = sorted(p.relative_to(resources.templates()).as_posix() "
        "for p in resources.templates().rglob('*') "
        "if p.is_file() and '__pycache__' not in p.parts)\n"
        "cases = [p.name for p in resources.bundled_cases()]\n"
        "print(json.dumps([leaves, shipped, cases, mmbuilder.__file__]))"
    )
    done = _installed("-c", script, cwd=tmp_path)
    leaves, shipped, cases, place = json.loads(done.stdout)
    root = Path(__file__).parents[2]
    assert leaves == {name: list(registry.names(name)) for name in _LEAVES}
    templates = root / "templates"
    assert shipped == sorted(
        path.relative_to(templates).as_posix()
        for path in templates.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    )
    assert cases == sorted(path.parent.name for path in (root / "cases").glob("*/case.yaml"))
    assert Path(place).is_file()
