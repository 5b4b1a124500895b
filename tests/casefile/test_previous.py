"""The department's action log read back: what can be used, and every fault by row, in our form."""

from __future__ import annotations

import zipfile
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from mmbuilder.case.freetext import FreeText
from mmbuilder.casefile import check
from mmbuilder.casefile.previous import KEY, read
from mmbuilder.problem import Problem, Severity
from mmbuilder.safe.terms import ActionStatus, LogColumn, Strength
from tests.casefile.minimal import changed, minimal_case

HEAD = "id,case,action,strength,owner role,due,measure,baseline,result,status,reason,evidence"
GOOD = "A1,case-b,A second pump,stronger,lead nurse,2031-05-02,Trolleys with two,4,,open,,"
CANARY = "Quillfeather"
"""An invented surname in every cell that a fault could repeat."""


def log(folder: Path, *lines: str, name: str = "actions.csv", encoding: str = "utf-8"):
    (folder / name).write_bytes("\r\n".join(lines).encode(encoding))
    return read(folder, FreeText(name, line=7, column=3))


def codes(problems: tuple[Problem, ...]) -> list[tuple[str, int, int]]:
    return [(problem.code, problem.line, problem.column) for problem in problems]


def test_a_row_is_read_as_it_stands(tmp_path: Path) -> None:
    (row,), problems = log(tmp_path, HEAD, GOOD)
    assert problems == ()
    assert (row.id.value, row.case.value, row.action.value) == ("A1", "case-b", "A second pump")
    assert (row.strength, row.status) == (Strength.STRONGER, ActionStatus.OPEN)
    assert row.due is not None
    assert row.due.value == "2031-05-02"
    assert (row.action.path, row.action.line, row.action.column) == ((KEY, 1, "action"), 2, 3)
    assert row.reason is None


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_other_separators_and_encodings_are_understood(sign: str, encoding: str, tmp_path: Path) -> None:
    lines = [line.replace(",", sign) for line in (HEAD, GOOD.replace("pump", "pömp"))]
    (row,), problems = log(tmp_path, *lines, encoding=encoding)
    assert problems == ()
    assert row.action.value == "A second pömp"


@pytest.mark.parametrize(
    ("days", "read_as"),
    [
        (("05/02/2031", "30/02/2031"), None),  # not in the calendar: told
        (("02/05/2031", "30/01/2031", "next audit"), ["2031-05-02", "2031-01-30", "next audit"]),
        (("05/02/2031", "01/30/2031", ""), ["2031-05-02", "2031-01-30", None]),
        (("2.5.2031", "30.01.2031"), ["2031-05-02", "2031-01-30"]),
        (("2.5.2031", "3.1.2031"), None),  # nothing says which figure is the month
        (("30/01/2031", "01/30/2031"), ["30/01/2031", "01/30/2031"]),  # each is one day, in its own order
    ],
)
def test_a_spreadsheet_saves_all_days_in_the_order_of_its_country(
    days: tuple[str, ...], read_as: list[str | None] | None, tmp_path: Path
) -> None:
    lines = (GOOD.replace("A1", f"A{n}").replace("2031-05-02", day) for n, day in enumerate(days))
    rows, problems = log(tmp_path, HEAD, *lines)
    if read_as is None:
        assert {problem.code for problem in problems} <= {"date-ambiguous", "date-not-in-calendar"}
        assert problems
    else:
        assert problems == ()
        assert [row.due.value if row.due else None for row in rows] == read_as


def test_columns_may_stand_in_any_order_under_a_title_with_other_names(tmp_path: Path) -> None:
    lines = (
        "Log of the eye department,,,,",
        "Due date,Status,Action,Case letter,No.",
        "2 May 2031,In progress,A pump,B,3",
    )
    (row,), problems = log(tmp_path, *lines)
    assert problems == ()
    assert (row.id.value, row.case.value, row.status) == ("3", "B", ActionStatus.OPEN)


def test_an_empty_row_is_passed_over(tmp_path: Path) -> None:
    rows, problems = log(tmp_path, HEAD, "", "," * 11, GOOD)
    assert problems == ()
    assert len(rows) == 1


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("A1,b,Pump,,,03/04/2031,,,,open,,", ("date-ambiguous", 2, 6)),
        ("A1,b,Pump,,,2 May,,,,open,,", ("date-no-year", 2, 6)),
        ("A1,b,Pump,,,31.02.2031,,,,open,,", ("date-not-in-calendar", 2, 6)),
        ("A1,b,Pump,,,2031-05-02,,,,opne,,", ("unknown-word", 2, 10)),
        ("A1,b,Pump,stornger,,2031-05-02,,,,open,,", ("unknown-word", 2, 4)),
        ("A1,b,,,lead nurse,2031-05-02,,,,open,,", ("log-row-incomplete", 2, 3)),
        (",b,Pump,,,2031-05-02,,,,open,,", ("log-row-incomplete", 2, 1)),
        ("A1,b,Pump,,,2031-05-02,,,,dropped,,", ("dropped-without-reason", 2, 10)),
    ],
)
def test_a_row_with_a_fault_is_asked_about_and_not_used(
    row: str, told: tuple[str, int, int], tmp_path: Path
) -> None:
    rows, problems = log(tmp_path, HEAD, row)
    assert codes(problems) == [told]
    (problem,) = problems
    assert (problem.file, problem.severity) == (KEY, Severity.STOP)
    assert all((problem.found, problem.expected, problem.why, problem.example))
    assert problem.text.startswith("row 2: ")
    assert rows == ()


@pytest.mark.parametrize(
    ("typed", "meant"), [("opne", "open"), ("droped", "dropped"), ("done, not mesured", "done not measured")]
)
def test_a_misspelt_status_is_told_with_the_nearest(typed: str, meant: str, tmp_path: Path) -> None:
    _, (problem,) = log(tmp_path, HEAD, f'A1,b,Pump,,,,,,,"{typed}",,')
    assert f"`{meant}`" in problem.found
    assert problem.example == meant
    assert "`done not measured`" in problem.expected


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    _, problems = log(tmp_path, HEAD, "A1,b,,x,,03/04/2031,,,,y,,", GOOD, GOOD)
    assert codes(problems) == [
        ("unknown-word", 2, 4),
        ("unknown-word", 2, 10),
        ("log-row-incomplete", 2, 3),
        ("date-ambiguous", 2, 6),
        ("repeated-id", 4, 1),
    ]


def test_done_without_a_result_is_not_closed(tmp_path: Path) -> None:
    (row,), (problem,) = log(tmp_path, HEAD, "A1,b,Pump,,,2031-05-02,,,,Done,,")
    assert (problem.code, problem.severity) == ("done-without-result", Severity.WARN)
    assert row.status is ActionStatus.NOT_MEASURED


def test_words_that_are_no_date_stay_words(tmp_path: Path) -> None:
    (row,), problems = log(tmp_path, HEAD, "A1,b,Pump,,,at the next audit,,,,,,")
    assert problems == ()
    assert row.due is not None
    assert row.due.value == "at the next audit"


def test_an_unknown_column_is_named_by_its_place_and_what_it_is_like(tmp_path: Path) -> None:
    rows, problems = log(tmp_path, HEAD.replace("measure", "mesure"), GOOD)
    assert len(rows) == 1
    assert codes(problems) == [("log-column-unknown", 1, 7)]
    assert problems[0].severity is Severity.WARN
    assert "`measure`" in problems[0].found


@pytest.mark.parametrize("column", ["id", "case", "action", "due", "status"])
def test_a_log_without_a_column_it_needs_is_refused_by_name(column: str, tmp_path: Path) -> None:
    _, problems = log(
        tmp_path, HEAD.replace(f"{column},", "", 1) if column != "case" else HEAD.replace("case,", ""), GOOD
    )
    assert ("log-column-missing", 1, 1) in codes(problems)
    assert f"`{column}`" in next(one.found for one in problems if one.code == "log-column-missing")


def test_no_cell_is_ever_repeated(tmp_path: Path) -> None:
    heads = f"{HEAD},{CANARY}"
    bad = ",".join(
        [CANARY] * 3
        + [f"{CANARY} strong", CANARY, "03/04/2031", CANARY, CANARY, "", f"{CANARY} done", CANARY, CANARY]
    )
    _, problems = log(tmp_path, heads, bad, bad)
    assert len(problems) > 5
    assert CANARY.lower() not in repr(problems).lower()
    assert "2031" not in repr([(one.text, one.found) for one in problems])


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b"", "empty"),
        (b"PK\x03\x04 not a workbook", "no workbook"),
        (b"\x00\x01\x02", "NUL"),
        ((HEAD + "\n" + (GOOD + "\n") * 2002).encode(), "2,000 rows"),
        ((HEAD + "\n" + "x" * 20_001).encode(), "20,000 characters"),
        ((HEAD + "\n" + "x," * 150 + "x").encode(), "100 columns"),
    ],
)
def test_a_file_that_cannot_be_read_is_refused(content: bytes, found: str, tmp_path: Path) -> None:
    (tmp_path / "actions.csv").write_bytes(content)
    rows, (problem,) = read(tmp_path, FreeText("actions.csv", line=7, column=3))
    assert rows == ()
    assert (problem.code, problem.file, problem.line, problem.column) == ("log-refused", "case.yaml", 7, 3)
    assert found in problem.found


@pytest.mark.parametrize("name", ["missing.csv", "../actions.csv", "/etc/hostname"])
def test_a_file_that_is_not_there_is_told_where_the_case_names_it(name: str, tmp_path: Path) -> None:
    _, (problem,) = read(tmp_path, FreeText(name, line=7, column=3))
    assert problem.code in ("file-missing", "file-outside")
    assert (problem.file, problem.line) == ("case.yaml", 7)
    assert name not in repr(problem)


def test_a_workbook_that_unpacks_to_too_much_is_refused(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "bomb.xlsx", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"\0" * (65 * 2**20))
    _, (problem,) = read(tmp_path, FreeText("bomb.xlsx"))
    assert "64 MB" in problem.found


def test_cells_of_a_workbook_are_read_as_they_are_shown(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append([column.value for column in LogColumn])
    sheet.append([7, "b", "Pump", None, None, date(2031, 5, 2), None, 4.50, 0.875, "done", None, "=1+1"])
    sheet["H2"].number_format, sheet["I2"].number_format = "0.00", "0.0%"
    book.save(tmp_path / "log.xlsx")
    (row,), problems = read(tmp_path, FreeText("log.xlsx"))
    assert problems == ()
    assert row.due is not None
    assert row.baseline is not None
    assert row.result is not None
    assert (row.id.value, row.due.value, row.baseline.value, row.result.value) == (
        "7",
        "2031-05-02",
        "4.50",
        "87.5%",
    )
    assert row.evidence is None, "of a formula that was never worked out there is no value"
    assert row.action.line == 2


def test_the_check_of_a_case_tells_the_faults_of_its_log(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("previous actions: actions.csv"))
    (root / "actions.csv").write_text(f"{HEAD}\nA1,b,Pump,,,03/04/2031,,,,open,,\n", "utf-8")
    checked = check(root)
    assert checked.folder is None
    assert codes(checked.problems) == [("date-ambiguous", 2, 6)]
    (root / "actions.csv").write_text(f"{HEAD}\n{GOOD}\n", "utf-8")
    checked = check(root)
    assert checked.problems == ()
    assert checked.folder is not None
    assert len(checked.folder.previous) == 1


def test_the_check_tells_a_missing_log_beside_what_else_is_wrong(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("{previous actions: gone.csv, patient: {sex: femal}}"))
    found = {problem.code for problem in check(root).problems}
    assert found == {"file-missing", "unknown-word"}


def test_a_log_among_the_readings_counts_as_used(tmp_path: Path) -> None:
    root = minimal_case(tmp_path, changed("previous actions: readings/actions.csv"))
    (root / "readings").mkdir()
    (root / "readings" / "actions.csv").write_text(f"{HEAD}\n{GOOD}\n", "utf-8")
    assert check(root).problems == ()
