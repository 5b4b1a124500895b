"""The department's size of paper reaches everything that is printed."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from mmbuilder.pipeline import BuildOptions, build
from tests.scrub.small_case import folder


# ECMA-376 Part 1, 18.3.1.63: 1 is Letter, 9 is A4. ISO 216; ANSI/ASME Y14.1; in points of 1/72 in.
@pytest.mark.parametrize(
    ("said", "code", "sides"), [("letter", 1, {612, 792}), ("A4", 9, {595, 842})], ids=["letter", "a4"]
)
def test_a_departments_paper(said: str, code: int, sides: set[int], tmp_path: Path) -> None:
    folder(tmp_path / "case")
    (tmp_path / "department.yaml").write_text(f"paper: {said}\n", encoding="utf-8")
    report = build(tmp_path / "case", BuildOptions(tmp_path / "out", skip_names=True))
    by_kind: dict[str, list[bytes]] = {}
    for path in report.papers:
        by_kind.setdefault(path.suffix, []).append(path.read_bytes())
    (log,) = by_kind[".xlsx"]
    assert {int(sheet.page_setup.paperSize) for sheet in load_workbook(io.BytesIO(log))} == {code}
    pages = [page.mediabox for data in by_kind[".pdf"] for page in PdfReader(io.BytesIO(data)).pages]
    assert {frozenset((round(page.width), round(page.height))) for page in pages} == {frozenset(sides)}
    (page,) = by_kind[".html"]
    assert (b"size: letter" in page.lower()) is (said == "letter")
