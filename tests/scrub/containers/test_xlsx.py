"""Every hiding place of an .xlsx: something is planted in it, and a search of the result finds nothing."""

from __future__ import annotations

import datetime
import io
from collections.abc import Callable
from pathlib import Path

import pytest

openpyxl = pytest.importorskip(
    "openpyxl", reason="openpyxl is not installed, and writes the workbooks of these tests"
)

from mmbuilder.errors import FileRefused  # noqa: E402  (after the skip)
from mmbuilder.scrub.containers import xlsx as leaf  # noqa: E402
from mmbuilder.scrub.containers.base import Result  # noqa: E402
from mmbuilder.scrub.containers.tools import Scrubber  # noqa: E402
from tests.scrub.containers import office_kit as kit  # noqa: E402
from tests.scrub.containers.office_kit import NAME, OFFICE, RECORD, SURNAME  # noqa: E402

Plant = Callable[[object], None]


def scrub(data: bytes) -> Result:
    return leaf.scrub(data, kit.SmallScrubber())


def book(plant: Callable[..., None] | None = None) -> bytes:
    """A sheet with heads and a row of each kind of cell, and a chart; nothing in it identifies."""
    from openpyxl.chart import BarChart, Reference

    made = openpyxl.Workbook()
    sheet = made.active
    sheet.title = "Readings"
    sheet.append(["Eye", "MRN", "Seen", "Pressure", "Twice"])
    sheet.append(["left", "none", datetime.date(2024, 2, 1), 18.5, "=D2*2"])
    sheet.append(["right", "none", datetime.time(14, 30), 21, 42])
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=4, min_row=1, max_row=3), titles_from_data=True)
    sheet.add_chart(chart, "G2")
    if plant:
        plant(made, sheet)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def _cell(place: str, value: object) -> Callable[..., None]:
    def plant(made: object, sheet: dict[str, object]) -> None:
        sheet[place] = value

    return plant


def _comment(made: object, sheet: dict[str, openpyxl.cell.Cell]) -> None:
    sheet["A1"].comment = openpyxl.comments.Comment(NAME, NAME)


def _rich(made: object, sheet: dict[str, object]) -> None:
    from openpyxl.cell.rich_text import CellRichText, TextBlock
    from openpyxl.cell.text import InlineFont

    sheet["A2"] = CellRichText("by ", TextBlock(InlineFont(b=True), SURNAME[:5]), SURNAME[5:])


def _hidden_sheet(made: openpyxl.Workbook, sheet: object) -> None:
    other = made.create_sheet("More")
    other["A1"], other.sheet_state = NAME, "veryHidden"


def _hidden_row(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    sheet["A9"] = NAME
    sheet.row_dimensions[9].hidden = True


def _hidden_column(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    sheet["F9"] = NAME
    sheet.column_dimensions["F"].hidden = True


def _defined(made: openpyxl.Workbook, sheet: object) -> None:
    from openpyxl.workbook.defined_name import DefinedName

    made.defined_names[SURNAME] = DefinedName(SURNAME, attr_text="Readings!$A$1")


def _validation(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    check = DataValidation(type="list", formula1=f'"{SURNAME},other"', prompt=NAME, showInputMessage=True)
    check.add("A5")
    sheet.add_data_validation(check)


def _table(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    from openpyxl.worksheet.table import Table

    sheet.add_table(Table(displayName=SURNAME, ref="A1:E3"))


def _header(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    sheet.oddHeader.left.text = f"List of {NAME}"


def _title(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    sheet.title = f"{SURNAME} list"


def _link(made: object, sheet: dict[str, openpyxl.cell.Cell]) -> None:
    sheet["A2"].hyperlink = f"file:///S:/{SURNAME}/list.xlsx"


def _format(made: object, sheet: dict[str, openpyxl.cell.Cell]) -> None:
    sheet["D2"].number_format = f'0 "{SURNAME}"'


def _properties(made: openpyxl.Workbook, sheet: object) -> None:
    made.properties.creator = NAME


def _style(made: openpyxl.Workbook, sheet: dict[str, openpyxl.cell.Cell]) -> None:
    from openpyxl.styles import NamedStyle

    sheet["A1"].style = NamedStyle(name=f"{SURNAME} style")


def _rule(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    from openpyxl.formatting.rule import FormulaRule

    sheet.conditional_formatting.add("A1:A9", FormulaRule(formula=[f'A1="{SURNAME}"']))


def _filter(made: object, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
    sheet.auto_filter.ref = "A1:E3"
    sheet.auto_filter.add_filter_column(0, [SURNAME])


PLACES: dict[str, Callable[..., None]] = {
    "text": _cell("A2", NAME),
    "record number as text": _cell("B2", RECORD),
    "number stored as a number": _cell("D3", 9994765919),
    "formula": _cell("E2", f'="{SURNAME}"&A1'),
    "rich text": _rich,
    "comment": _comment,
    "hidden sheet": _hidden_sheet,
    "hidden row": _hidden_row,
    "hidden column": _hidden_column,
    "defined name": _defined,
    "data check": _validation,
    "table": _table,
    "page header": _header,
    "sheet name": _title,
    "link": _link,
    "number format": _format,
    "properties": _properties,
    "style name": _style,
    "conditional format": _rule,
    "filter": _filter,
}


@pytest.mark.parametrize("place", PLACES)
def test_nothing_planted_survives(place: str) -> None:
    planted = book(PLACES[place])
    assert kit.leaks(planted), "the search does not find what was planted, so the test would prove nothing"
    assert not kit.leaks(scrub(planted).data)


_X = "application/vnd.openxmlformats-officedocument.spreadsheetml."


@pytest.mark.parametrize(
    "kind",
    ["externalLink", "connections", "queryTable", "pivotCacheDefinition", "pivotTable", "printerSettings", "calcChain", "customProperty"],
)  # fmt: skip
def test_parts_that_fetch_or_compute_go(kind: str) -> None:
    planted = kit.with_part(
        book(),
        "xl/workbook.xml",
        f"xl/{kind}1.xml",
        f"<x>{NAME}</x>".encode(),
        f"{_X}{kind}+xml",
        f"{OFFICE}/{kind}",
    )
    assert kit.leaks(planted)
    assert not kit.leaks(scrub(planted).data)


def _values(data: bytes) -> list[list[object]]:
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active
    return [[cell.value for cell in row][:5] for row in sheet.iter_rows(max_row=3)]


def test_values_stay_dates_go_and_times_of_day_stay() -> None:
    result = scrub(book())
    heads, left, right = _values(result.data)
    assert heads == ["Eye", "MRN", "Seen", "Pressure", "Twice"]
    assert left[:4] == ["left", "none", "[date]", 18.5]
    assert right == ["right", "none", datetime.time(14, 30), 21, 42]


def test_a_number_under_a_head_is_read_with_it() -> None:
    result = scrub(book(_cell("B2", 4041)))
    assert _values(result.data)[1][1] == "[record number]"
    assert _values(scrub(book(_cell("D2", 4041))).data)[1][3] == 4041


def test_sheet_names_stay_apart_and_charts_follow_them() -> None:
    def two(made: openpyxl.Workbook, sheet: openpyxl.worksheet.worksheet.Worksheet) -> None:
        made.create_sheet(f"{NAME}")["A1"] = 1
        made.create_sheet("Quillmarkton")["A1"] = 2

    data = scrub(book(two)).data
    names = openpyxl.load_workbook(io.BytesIO(data)).sheetnames
    assert len(set(names)) == 3
    assert b"'Readings'!" in kit.parts(data)["xl/charts/chart1.xml"]


def test_hidden_sheets_are_told_and_a_book_of_them_alone_refused() -> None:
    assert any(finding.kind == "hidden sheet" for finding in scrub(book(_hidden_sheet)).findings)
    planted = kit.changed(book(), "xl/workbook.xml", 'state="visible"', 'state="hidden"')
    with pytest.raises(FileRefused, match="no sheet"):
        scrub(planted)


def test_the_same_file_gives_the_same_bytes_and_a_second_scrub_changes_nothing() -> None:
    data = book()
    once = scrub(data).data
    assert scrub(data).data == once
    assert scrub(once).data == once


def test_the_validator_finds_nothing_that_it_did_not_find_before(tmp_path: Path) -> None:
    """openxml-audit, from PyPI; it says of the book of these tests how its library writes cells and fonts."""
    from openxml_audit import OpenXmlValidator

    told = []
    for name, data in (("before", book()), ("after", scrub(book()).data)):
        path = tmp_path / f"{name}.xlsx"
        path.write_bytes(data)
        told.append({str(error) for error in OpenXmlValidator().validate(path).errors})
    assert told[1] <= told[0]
    assert not any("inline-string" in error for error in told[1])


def test_texts_stand_where_excel_keeps_them_each_once() -> None:
    data = scrub(book()).data
    shared = kit.parts(data)["xl/sharedStrings.xml"].decode()
    assert shared.count(">none<") == 1
    sheet = openpyxl.load_workbook(io.BytesIO(data)).worksheets[0]
    assert [sheet["B2"].value, sheet["B3"].value] == ["none", "none"]


def test_a_word_below_a_heading_that_is_nobodys_stays() -> None:
    made = openpyxl.Workbook()
    made.active.append(["Response", "Status", "Colour", "Surgeon"])
    made.active.append(["Good", "Open", "Brown", "Brown"])
    out = io.BytesIO()
    made.save(out)
    result = leaf.scrub(out.getvalue(), Scrubber())
    (_, (*things, surgeon)) = openpyxl.load_workbook(io.BytesIO(result.data)).active.iter_rows(
        values_only=True
    )
    assert things == ["Good", "Open", "Brown"]
    assert str(surgeon).startswith("[name")


def test_a_form_has_labels_and_no_heads() -> None:
    made = openpyxl.Workbook()
    for row in (
        ("Patient", "Quillorne Vraxholm"),
        ("Specialty", "T&O"),
        ("Consultant", "Mr Quenby"),
        ("Ward", "Curlew"),
    ):
        made.active.append(row)
    out = io.BytesIO()
    made.save(out)
    result = leaf.scrub(out.getvalue(), Scrubber())
    rows = [*openpyxl.load_workbook(io.BytesIO(result.data)).active.iter_rows(values_only=True)]
    assert [label for label, _ in rows] == ["Patient", "Specialty", "Consultant", "Ward"]
    assert rows[1][1] == "T&O"
    assert not any(name in str(rows) for name in ("Quillorne", "Vraxholm", "Quenby", "Curlew"))
