"""DEVELOPERS.md lists every fault code there is, and no other."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
_LITERAL = re.compile(r'"([a-z]+(?:-[a-z]+)+)"')
_NOT_CODES = {"case-a", "my-case", "post-op", "utf-sig"}


def _in_source() -> set[str]:
    folders = ("casefile", "case")
    files = [path for folder in folders for path in (ROOT / "mmbuilder" / folder).rglob("*.py")]
    files += [*(ROOT / "mmbuilder/pipeline").glob("*.py"), ROOT / "mmbuilder/scrub/code.py"]
    files += [ROOT / "mmbuilder/scrub/crossing/department.py"]
    return {code for path in files for code in _LITERAL.findall(path.read_text("utf-8"))} - _NOT_CODES


def _documented() -> set[str]:
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    section = text.split("### Codes of faults")[1].split("###")[0]
    lines = [line.split("**: ")[1] for line in section.splitlines() if line.startswith("- **")]
    return {code.strip() for line in lines for code in line.split(",")}


def test_every_code_is_documented() -> None:
    assert _in_source() - _documented() == set()


def test_no_code_is_documented_that_is_gone() -> None:
    assert _documented() - _in_source() == set()
