"""Decimals of a table look like a day and a month (`21.5`): below a head that speaks of no day they stay."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from typing import Any

import pytest

docx = pytest.importorskip(
    "docx", reason="python-docx is not installed, and writes the documents of these tests"
)
openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is not installed, and writes the workbooks")

from mmbuilder.scrub import columns  # noqa: E402  (after the skip)
from mmbuilder.scrub.containers.tools import Scrubber  # noqa: E402
from tests.scrub.containers import office_kit as kit  # noqa: E402

HEADS = ("Albumin", "Potassium", "Left eye", "Axial length", "Bilirubin")
ROWS = (("21.5", "4.2", "16.5", "22.11", "18.3"), ("24.11", "8.11", "11.2", "21.3", "9.12"))
FIGURES = [figure for row in ROWS for figure in row]


def _csv() -> bytes:
    return "".join(",".join(row) + "\n" for row in (HEADS, *ROWS)).encode()


def _markdown() -> bytes:
    rows = (HEADS, ["---"] * len(HEADS), *ROWS)
    return "".join("| " + " | ".join(row) + " |\n" for row in rows).encode()


def _workbook() -> bytes:
    made = openpyxl.Workbook()
    made.active.append(HEADS)
    for row in ROWS:
        made.active.append([float(figure) for figure in row])
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def _filled(table: Any) -> None:
    for place, row in enumerate((HEADS, *ROWS)):
        for column, words in enumerate(row):
            table.cell(place, column).text = words


def _document() -> bytes:
    made = docx.Document()
    _filled(made.add_table(3, len(HEADS)))
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def _deck() -> bytes:
    from pptx import Presentation

    made = Presentation()
    _filled(
        made.slides.add_slide(made.slide_layouts[6]).shapes.add_table(3, len(HEADS), 0, 0, 9**7, 9**6).table
    )
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def _of_workbook(data: bytes) -> list[str]:
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active
    return [str(cell.value) for row in list(sheet)[1:] for cell in row]


def _of_text(data: bytes) -> list[str]:
    return re.findall(r"\d+\.\d+", data.decode())


def _of_part(name: str) -> Callable[[bytes], list[str]]:
    return lambda data: re.findall(r":t(?: [^>]*)?>(\d+\.\d+)<", kit.parts(data)[name].decode())


@pytest.mark.parametrize(
    ("suffix", "data", "read"),
    [
        (".csv", _csv, _of_text),
        (".md", _markdown, _of_text),
        (".xlsx", _workbook, _of_workbook),
        (".docx", _document, _of_part("word/document.xml")),
        (".pptx", _deck, _of_part("ppt/slides/slide1.xml")),
    ],
)
def test_readings_stay(suffix: str, data: Callable[[], bytes], read: Callable[[bytes], list[str]]) -> None:
    assert read(Scrubber().file(suffix, data()).data) == FIGURES


@pytest.mark.parametrize("head", ["Date", "Seen on", "DOB", "Datum", "Admitted"])
def test_a_day_below_a_head_for_days_goes_all_the_same(head: str) -> None:
    assert not columns.measured(head, "21.5")
    scrubbed = Scrubber().file(".csv", f"{head},Albumin\n21.05.2024,21.5\n".encode()).data.decode()
    assert scrubbed.endswith("\n[date],21.5\n")


def test_an_old_line_end_in_a_cell_is_one_and_parts_words() -> None:
    made = openpyxl.Workbook()
    made.active["A1"] = "PLACE"
    out = io.BytesIO()
    made.save(out)
    part = next(name for name, data in kit.parts(out.getvalue()).items() if b"PLACE" in data)
    told = "Hb 91_x000D_\nplan_x0009_oral_x000D_fluids, seen by Dr _x0051_uenvellan"
    data = Scrubber().file(".xlsx", kit.changed(out.getvalue(), part, "PLACE", told)).data
    said = openpyxl.load_workbook(io.BytesIO(data)).active["A1"].value
    assert said == "Hb 91\nplan\toral\nfluids, seen by the doctor"


def test_a_number_is_judged_as_it_is_read() -> None:
    made = openpyxl.Workbook()
    made.active.append(["Potassium"])
    made.active.append([4])
    out = io.BytesIO()
    made.save(out)
    kept = kit.changed(out.getvalue(), "xl/worksheets/sheet1.xml", "<v>4</v>", "<v>8.1099999999999994</v>")
    assert _of_workbook(Scrubber().file(".xlsx", kept).data) == ["8.11"]
