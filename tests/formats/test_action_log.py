"""The action log as CSV and XLSX: what a spreadsheet makes of it, and what comes back from it."""

from __future__ import annotations

import csv
import io
import os
import re
import shutil
import subprocess
import sys
import zipfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.previous import PreviousAction
from mmbuilder.casefile.previous import read
from mmbuilder.formats import action_log_csv, action_log_xlsx
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.terms import ActionStatus, LogColumn, PaperSize, Strength
from mmbuilder.safe.text import SafeText

ATTACKS = (
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(1;1)",
    "\t=1+1",
    "\r=1+1",
    '=HYPERLINK("http://example.org";"here")',
    "=cmd|' /c calc'!A1",
    "done;=1+1",
    'done;"=1+1"',
    '","=1+1',
    "＝1+1",
    "#N/A",
)
"""After OWASP, "CSV Injection"; the last two rows cut a cell open, and name an error."""


def say(text: str) -> SafeText:
    return SafeText(KEY, text)


ROW = LoggedAction(
    id=say("A1"),
    case=say("case-b"),
    what=say('A "second" pump, on every trolley'),
    strength=Strength.STRONGER,
    owner=say("lead nurse"),
    due=say("May"),
    due_day=date(2031, 5, 2),
    passed=True,
    measure=say("Trolleys with two pumps / all trolleys"),
    baseline=say("4"),
    result=say("87.5%"),
    status=ActionStatus.NOT_MEASURED,
    evidence=say("Photographs of each trolley"),
)
ROWS = (
    ROW,
    replace(ROW, id=say("A2"), due=say("next audit"), due_day=None, result=say(""), status=ActionStatus.OPEN),
)


def table(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def sheet(data: bytes):
    return openpyxl.load_workbook(io.BytesIO(data)).active


def attacked(text: str) -> LoggedAction:
    return replace(
        ROW, what=say(text), measure=say(text), result=say(text), owner=say(text), due_day=None, due=say(text)
    )


# CSV


def test_csv_is_as_rfc_4180_says() -> None:
    data = action_log_csv.write(ROWS)
    assert data.startswith(b"\xef\xbb\xbf")
    lines = data.removeprefix(b"\xef\xbb\xbf").split(b"\r\n")
    assert b"\n" not in b"".join(lines)
    assert lines[-1] == b""  # 2: the last record ends in CRLF or not
    assert len(lines) == 4
    assert b'"A ""second"" pump, on every trolley"' in lines[1]  # 2.7: a quotation mark is doubled


def test_csv_says_what_the_rows_say() -> None:
    first, second = table(action_log_csv.write(ROWS))
    assert list(first) == [column.value for column in LogColumn]
    assert (first["due"], second["due"]) == ("2031-05-02", "next audit")
    assert (first["strength"], first["status"]) == ("stronger", "done not measured")
    assert "this meeting" not in str(first), "a day stands beside no offset"


@pytest.mark.parametrize("text", ATTACKS)
def test_no_cell_of_the_csv_begins_with_a_sign_that_runs(text: str) -> None:
    (row,) = table(action_log_csv.write([attacked(text)]))
    for cell in row.values():
        for part in cell.split(";"):
            assert not re.match(r"[\s\"]*[=+\-@＝＋－＠]", part), cell


# XLSX


def test_xlsx_cells_are_what_they_are() -> None:
    cells = [[cell for cell in row] for row in sheet(action_log_xlsx.write(ROWS)).iter_rows()]
    assert [cell.value for cell in cells[0]] == [column.value for column in LogColumn]
    first = dict(zip(LogColumn, cells[1], strict=True))
    assert first[LogColumn.DUE].value.isoformat() == "2031-05-02T00:00:00"
    assert first[LogColumn.DUE].is_date
    assert first[LogColumn.DUE].number_format == "yyyy-mm-dd"
    assert (first[LogColumn.BASELINE].value, first[LogColumn.BASELINE].data_type) == (4, "n")
    assert (first[LogColumn.RESULT].value, first[LogColumn.RESULT].number_format) == (0.875, "0.0%")
    assert first[LogColumn.ACTION].value == 'A "second" pump, on every trolley'
    assert first[LogColumn.ACTION].alignment.wrap_text
    assert cells[2][5].value == "next audit"


@pytest.mark.parametrize("text", ["007", "1234567890123456", "1e5", "4 of 20", "1,5"])
def test_what_is_no_certain_figure_stays_words(text: str) -> None:
    row = sheet(action_log_xlsx.write([replace(ROW, result=say(text))]))[2]
    assert (row[8].value, row[8].data_type) == (text, "s")


@pytest.mark.parametrize(("size", "code"), [(PaperSize.A4, 9), (PaperSize.LETTER, 1)])
def test_xlsx_is_set_out_for_screen_and_print(size: PaperSize, code: int) -> None:
    page = sheet(action_log_xlsx.write(ROWS, size))
    assert page.freeze_panes == "A2"
    assert page.auto_filter.ref == "A1:L3"
    assert page.print_title_rows == "$1:$1"
    assert (page.page_setup.orientation, page.page_setup.paperSize) == ("landscape", code)
    assert page.sheet_properties.pageSetUpPr.fitToPage
    assert (page.page_setup.fitToWidth, page.page_setup.fitToHeight) == (1, 0)
    assert all(page.column_dimensions[letter].width >= 6 for letter in "ABCDEFGHIJKL")
    offered = {str(one.sqref)[:2]: one.formula1 for one in page.data_validations.dataValidation}
    assert offered["J2"] == '"open,done,done not measured,dropped"'


def test_xlsx_tells_nothing_of_who_when_or_with_what() -> None:
    data = action_log_xlsx.write(ROWS)
    assert data == action_log_xlsx.write(ROWS)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert b"openpyxl" not in b"".join(archive.read(name) for name in archive.namelist())
        for name in ("docProps/core.xml", "docProps/app.xml"):
            assert not re.search(rb">[^<\s]", archive.read(name)), name


@settings(max_examples=60, deadline=None)
@given(st.sampled_from("=+-@\t\r#'"), st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=30))
def test_words_are_never_a_formula_in_the_workbook(sign: str, rest: str) -> None:
    data = action_log_xlsx.write([attacked(sign + rest)])
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        written = archive.read("xl/worksheets/sheet1.xml").decode()
    assert "<f>" not in written
    assert "<f " not in written
    cell = sheet(data)["C2"]
    assert cell.data_type in ("s", "n")  # "n" where nothing that can be seen was said
    if cell.value is not None:
        assert cell.quotePrefix


def test_no_finding_by_the_schema_validator(tmp_path: Path) -> None:
    from openxml_audit import OpenXmlValidator

    path = tmp_path / "log.xlsx"
    path.write_bytes(action_log_xlsx.write([*ROWS, *map(attacked, ATTACKS)]))
    result = OpenXmlValidator().validate(path)
    assert result.is_valid, result.errors
    assert not list(result.errors)


# Out and in again


@pytest.mark.parametrize(("writer", "name"), [(action_log_csv, "log.csv"), (action_log_xlsx, "log.xlsx")])
@pytest.mark.parametrize(
    "words", ["A second pump", "-2.5 D of error; =not a sum", "'=quoted'", "+ and @", "ünïcode ↔ 漢字"]
)
def test_what_is_written_is_read_back(writer, name: str, words: str, tmp_path: Path) -> None:
    rows = [replace(ROW, what=say(words), measure=say(words)), *ROWS[1:]]
    (tmp_path / name).write_bytes(writer.write(rows))
    read_back, problems = read(tmp_path, FreeText(name))
    assert problems == ()
    for row, back in zip(rows, read_back, strict=True):
        wrote = words if row is rows[0] else ROW.what.reveal()
        # A workbook needs no apostrophe: one before a sign is taken for that of somebody who needed it.
        expected = wrote.removeprefix("'") if writer is action_log_xlsx and wrote.startswith("'=") else wrote
        assert back.action.value == expected
        assert (back.id.value, back.case.value, back.status, back.strength) == (
            row.id.reveal(),
            "case-b",
            row.status,
            row.strength,
        )
        assert back.due is not None
        assert back.due.value == (row.due_day.isoformat() if row.due_day else row.due.reveal())
        assert _value(back, "result") == row.result.reveal()
        assert _value(back, "baseline") == row.baseline.reveal()


def _value(row: PreviousAction, name: str) -> str:
    text = getattr(row, name)
    return text.value if text else ""


# What a spreadsheet program makes of it


def _opened(path: Path, *options: str) -> str:
    """Return the file as LibreOffice opens it, as flat XML. Skips with the reason; in CI that is a failure."""
    if shutil.which("soffice") is None:
        reason = "soffice is not installed, so no spreadsheet program opens the log here"
        pytest.fail(reason) if os.environ.get("CI") == "true" else pytest.skip(reason)
    profile = f"-env:UserInstallation={(path.parent / 'profile').as_uri()}"
    command = [
        "soffice",
        profile,
        "--headless",
        *options,
        "--convert-to",
        "fods",
        "--outdir",
        path.parent,
        path,
    ]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    return path.with_suffix(".fods").read_text("utf-8")


def _filter(separator: str) -> str:
    """LibreOffice Help, "Filter Options for CSV": separator, quote, UTF-8, first line; token 13 runs formulas."""
    return f"--infilter=Text - txt - csv (StarCalc):{ord(separator)},34,76,1,,0,false,false,false,false,false,0,true"


@pytest.mark.office
@pytest.mark.parametrize("separator", [",", ";"])
def test_a_spreadsheet_program_runs_nothing_of_the_csv(separator: str, tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b'"=1+1"\r\n')
    assert "table:formula" in _opened(path, _filter(separator)), "the program does run what it is given"
    path.write_bytes(action_log_csv.write(map(attacked, ATTACKS)))
    opened = _opened(path, _filter(separator))
    assert "1+1" in opened
    assert "table:formula" not in opened


@pytest.mark.office
def test_a_spreadsheet_program_runs_nothing_of_the_workbook(tmp_path: Path) -> None:
    path = tmp_path / "log.xlsx"
    path.write_bytes(action_log_xlsx.write([*ROWS, *map(attacked, ATTACKS)]))
    opened = _opened(path)
    assert "table:formula" not in opened
    assert "<text:p>=1+1</text:p>" in opened
    assert 'office:value-type="date" office:date-value="2031-05-02"' in opened
    assert 'office:value-type="percentage" office:value="0.875"' in opened


def test_writing_a_log_needs_no_case() -> None:
    """The formats stand past the line: what they import knows nothing of a raw case."""
    code = "import sys; from mmbuilder.formats import action_log_csv, action_log_xlsx, due_dates_ics; "
    code += "assert not [n for n in sys.modules if n.startswith(('mmbuilder.case.', 'mmbuilder.scrub'))]"
    subprocess.run([sys.executable, "-c", code], check=True)
