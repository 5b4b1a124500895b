"""A table dropped in: known for what it is, looked at by the project's own reader, taken with its columns."""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.analysis.timeline import MOST_LINES
from mmbuilder.casefile import load
from mmbuilder.casefile.readings.csvfile import MOST_BYTES
from mmbuilder.errors import FileRefused
from mmbuilder.page import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._quantity import Proposed, proposed
from mmbuilder.page.parts._table import Odd, Preview, _odd, _parts, as_text, preview
from tests.bundled import CASES
from tests.page.conftest import between

if TYPE_CHECKING:
    from playwright.sync_api import Page

CONTINENTAL = "Monitor 3\n\nZeit;HR (/min);Temp [°C];Ort\n" + "\n".join(
    f"14:{minute:02d};{60 + minute};36,{minute % 10};Saal" for minute in range(0, 20)
)


def looked(content: str | bytes, tmp_path: Path) -> Preview:
    path = tmp_path / "in.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return preview(path, str(hash(content)))


def facts(table: Preview) -> dict[str, str]:
    return dict(table.facts)


# What it is


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"  \n ", "empty"),
        (b"%PDF-1.7 ...", "a PDF, not a table"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old workbook"),
        (b"<html><table>", "a web page"),
        (b"PK\x03\x04 no workbook", "no workbook that can be opened"),
        (b"a" * (MOST_BYTES + 1), "larger than 20 MB"),
    ],
)
def test_what_is_no_table_is_refused_in_words(content: bytes, words: str) -> None:
    with pytest.raises(FileRefused, match=words):
        as_text(content)


def test_text_that_is_no_table_is_refused(tmp_path: Path) -> None:
    for number, words in enumerate(("Just a sentence.\nAnd another one.\n", "one\ntwo\n")):
        path = tmp_path / f"{number}.csv"
        path.write_text(words)
        with pytest.raises(FileRefused, match="no table"):
            preview(path, "")
    (tmp_path / "nul.csv").write_bytes(b"a,b\0\n1,2\n")
    with pytest.raises(FileRefused, match="NUL"):
        preview(tmp_path / "nul.csv", "")


# What is in it: each expectation can be read off the table above


def test_delimiter_decimal_sign_units_and_gaps_are_told(tmp_path: Path) -> None:
    lines = CONTINENTAL.splitlines()
    table = looked("\n".join([*lines[:8], *lines[14:]]), tmp_path)  # 14:05 to 14:10 are not there
    told = facts(table)
    assert told["Between the cells"] == "semicolon"
    assert told["Decimal sign"] == "comma"
    assert told["From, to"] == "14:00 to 14:19"
    assert told["Usually every"] == "1 min"
    assert [(column.name, column.unit, column.holds) for column in table.columns] == [
        ("Zeit", "", "times"),
        ("HR", "/min", "numbers"),
        ("Temp", "°C", "numbers"),
        ("Ort", "", "something else"),
    ]
    assert table.columns[1].told == ("14 readings", "60 to 79", "1 gap: 14:04 to 14:11")


def test_a_title_above_the_headings_is_passed_over(tmp_path: Path) -> None:
    for title in ("Monitor export", "Monitor export;;", "Bed;4;"):
        (tmp_path / "in.csv").write_text(f"{title}\nZeit;HF;Ort\n14:00;72;\n14:01;73;\n")
        table = preview(tmp_path / "in.csv", title)
        assert [column.heading for column in table.columns] == ["Zeit", "HF", "Ort"]
        assert facts(table)["Headings"] == "in line 2 of the file"


def test_sentinels_and_empty_cells_are_counted(tmp_path: Path) -> None:
    table = looked("Time,HR\n14:00,72\n14:01,9999\n14:02,\n14:03,--\n14:04,70\n", tmp_path)
    assert table.columns[1].told == (
        "2 readings",
        "70 to 72",
        "1 device values that mean nothing, left out",
        "2 empty",
    )


def test_what_is_not_understood_is_told_in_the_words_of_the_check(tmp_path: Path) -> None:
    table = looked("Time,HR\n14:00,72\n14:01,about 70\n14:03,71\n14:02,70\n", tmp_path)
    assert {problem.code: problem.found for problem in table.problems} == {
        "readings-not-numbers": "line 3 of the file",
        "readings-order": "line 5 of the file",
    }


def test_times_that_count_from_a_start(tmp_path: Path) -> None:
    table = looked("t [s],HR\n0,72\n10,73\n20,74\n", tmp_path)
    assert table.elapsed
    assert facts(table)["From, to"] == "00:00:00 to 00:00:20"
    assert facts(table)["Usually every"] == "10 s"


def test_over_midnight(tmp_path: Path) -> None:
    table = looked("Time,HR\n23:58,72\n23:59,73\n00:00,74\n00:01,75\n", tmp_path)
    assert facts(table)["From, to"] == "23:58 to 00:01 (next day)"
    assert table.problems == ()


def test_a_heading_twice_cannot_be_drawn(tmp_path: Path) -> None:
    table = looked("Time,HR,HR\n14:00,72,73\n", tmp_path)
    assert [column.holds for column in table.columns][1:] == ["a heading that stands there twice"] * 2
    assert table.numbers == ()


def test_a_workbook_becomes_its_cells(tmp_path: Path) -> None:
    from datetime import datetime, time  # of a workbook, which knows no zones

    from openpyxl import Workbook

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    moment = datetime(2001, 2, 13, 14, 0, 30)  # noqa: DTZ001
    for row in (["Time", "When", "HR", "Temp"], [time(14, 0), moment, 72, 36.5]):
        sheet.append(row)
    book.create_sheet("Hidden").append(["Orla Quennimore"])
    out = io.BytesIO()
    book.save(out)
    text = as_text(out.getvalue())
    assert text.decode() == "Time,When,HR,Temp\n14:00:00,2001-02-13 14:00:30,72,36.5\n"


@pytest.mark.parametrize(
    "root", [root for root in CASES if (root / "readings").is_dir()], ids=lambda path: path.name
)
def test_the_readings_of_the_bundled_cases_are_understood(root: Path) -> None:
    for entry in load(root).case.readings:
        table = preview(root / entry.file.value, "")
        assert entry.time_column is not None
        assert table.times[0].heading == entry.time_column.value
        drawn = {line.column.value for line in entry.lines}
        assert drawn <= {column.heading for column in table.numbers}
        # The case says between which bounds a line is drawn, the file by itself does not.
        bounded = sum(line.low is not None and line.high is not None for line in entry.lines)
        assert {problem.code for problem in table.problems} <= {"figure-cannot-be"}
        assert len(table.problems) <= bounded


# The page


def dropped(client: FlaskClient, content: str | bytes, name: str = "Orla Quennimore.csv") -> Any:
    held = content.encode() if isinstance(content, str) else content
    return client.post("/readings/look", data={"file": (io.BytesIO(held), name)})


def form_of(client: FlaskClient) -> dict[str, str]:
    page = client.get("/readings/").text
    found = {name: re.search(rf'name="{name}" value="(\w+)"', page) for name in ("revision", "state")}
    return {name: match[1] for name, match in found.items() if match}


CHOSEN = {
    **{"time": "0", "clock": "recorder", "every": "1 min", "name": "second monitor"},
    **{
        "draw-1": "yes",
        "called-1": "heart rate",
        "unit-1": "/min",
        "low-1": "20",
        "high-1": "220",
        "sure-1": "yes",
    },
    **{"draw-2": "yes", "called-2": "saturation", "unit-2": "%", "low-2": "", "high-2": ""},
}
TABLE = "Time,HR,SpO2 %\n" + "".join(f"14:{minute:02d},7{minute % 10},98\n" for minute in range(30, 50))


def test_it_is_looked_at_before_it_is_taken(client: FlaskClient, desk: Desk) -> None:
    before = desk.text()
    assert dropped(client, TABLE).status_code == 303
    page = client.get("/readings/").text
    assert "14:30 to 14:49" in page
    assert "Quennimore" not in page  # the name of the dropped file is forgotten
    assert desk.text() == before
    assert sorted(path.name for path in (desk.root / "readings").iterdir()) == ["monitor.csv"]
    client.post("/readings/leave")
    assert "14:30 to 14:49" not in client.get("/readings/").text


PRESSURES = [112.0, 96.0, 88.0, 104.0]
SITES = ("Systolic pressure", "Diastolic pressure", "Mean pressure")


@pytest.mark.parametrize(
    ("heading", "values", "called", "unit", "guessed", "offers"),
    [
        ("Puls", [88, 92, 131], "Heart rate", "/min", "in /min", ()),
        ("HR_bpm", [88, 92, 131], "Heart rate", "/min", "", ()),
        ("NIBP sys", PRESSURES, "Systolic pressure", "mmHg", "in mmHg", ()),
        ("NIBP-Sys [mmHg]", PRESSURES, "Systolic pressure", "mmHg", "", ()),
        ("SpO2 %", [97, 98], "Oxygen saturation", "%", "", ()),
        ("etco2 kPa", [4.1, 4.6], "End-tidal CO2", "kPa", "", ()),
        ("etCO2", [4.1, 4.6], "End-tidal CO2", "kPa", "in kPa", ()),
        ("etCO2", [34, 36], "End-tidal CO2", "mmHg", "in mmHg", ()),
        ("MAP(art)", [61, 72], "Mean pressure (art)", "mmHg", "in mmHg", ()),
        ("BP", PRESSURES, "", "mmHg", "in mmHg", SITES),
        ("art mmHg", PRESSURES, "", "mmHg", "", SITES),
        ("RR", [12, 14], "Breathing rate", "/min", "Breathing rate in /min", ()),
        ("RR", PRESSURES, "", "mmHg", "in mmHg", SITES),
        ("CVP", [8, 9], "Central venous pressure", "", "", ()),  # mmHg or cmH2O: the values do not tell
        ("Temp C", [36.1], "Temperature", "°C", "", ()),
        ("Schläge (1/s)", [3.0], "Schläge", "1/s", "", ()),
        ("Bed", [3.0], "Bed", "", "", ()),
    ],
)
def test_a_column_is_proposed_its_quantity_and_unit(  # headings and values: common practice, no source
    heading: str, values: list[float], called: str, unit: str, guessed: str, offers: tuple[str, ...]
) -> None:
    found = proposed(heading, *_parts(heading), values)
    assert found == Proposed(called, unit, guessed, offers)


def test_columns_of_one_quantity_are_told_apart(tmp_path: Path) -> None:
    rows = "".join(f"14:{minute},7{minute % 10},8{minute % 10},{minute}\n" for minute in range(30, 50))
    table = looked(f"Time,MAP mmHg,NIBP mean mmHg,Bed\n{rows}", tmp_path)
    assert [one.proposed.called for one in table.numbers] == [
        "Mean pressure, MAP mmHg",
        "Mean pressure, NIBP mean mmHg",
        "Bed",
    ]


def test_what_was_guessed_needs_a_tick_or_another_unit(client: FlaskClient, desk: Desk) -> None:
    dropped(client, TABLE)
    unsure = {**form_of(client), **CHOSEN, "sure-1": ""}
    answer = client.post("/readings/", data=unsure)
    assert answer.status_code == 422
    assert "tick it if it is right" in answer.text
    assert len(desk.tree()["readings"]) == 1
    assert client.post("/readings/", data={**unsure, "unit-1": "bpm"}).status_code == 303


def test_it_is_taken_into_the_folder_and_the_case(client: FlaskClient, desk: Desk) -> None:
    dropped(client, TABLE)
    assert client.post("/readings/", data={**form_of(client), **CHOSEN}).status_code == 303
    assert (desk.root / "readings" / "second monitor.csv").read_text() == TABLE
    case = load(desk.root).case
    taken = case.readings[-1]
    assert len(case.readings) == 2
    assert (taken.file.value, taken.clock) == ("readings/second monitor.csv", "recorder")
    assert [(line.column.value, line.name.value, line.unit.value, line.low) for line in taken.lines] == [
        ("HR", "heart rate", "/min", 20),
        ("SpO2 %", "saturation", "%", None),
    ]
    assert "  - {column: HR, name: heart rate, unit: /min, low: 20, high: 220}\n" in desk.text().replace(
        "      -", "  -"
    )
    assert "second monitor.csv" in client.get("/readings/").text
    assert not (desk.aside / "readings.csv").exists()
    client.post("/undo")
    assert len(load(desk.root).case.readings) == 1
    left = desk.root / "readings" / "second monitor.csv"
    assert left.exists()  # an undo takes back words, not files
    assert 'value="readings/second monitor.csv"' in client.get("/readings/").text
    sent = {"revision": desk.revision(), "name": "readings/second monitor.csv"}
    assert client.post("/readings/leftover", data={**sent, "revision": "0000"}).status_code == 409
    assert client.post("/readings/leftover", data=sent).status_code == 303
    assert not left.exists()


def lines(desk: Desk) -> list[list[str]]:
    return [[line["name"] for line in entry["lines"]] for entry in desk.tree()["readings"]]


def test_the_limit_is_told_before_and_what_is_left_out_after(client: FlaskClient, desk: Desk) -> None:
    own = lines(desk)[0]
    dropped(client, TABLE)
    page = client.get("/readings/").text
    assert f"at most {MOST_LINES} lines, the first {MOST_LINES} of the case" in page
    assert f"room for {MOST_LINES - len(own) or 'none'} more" in page
    client.post("/readings/", data={**form_of(client), **CHOSEN})
    told = re.findall(
        r"<li>([^<]+) \((?:[^)]*)\) <span class=\"bad\">not drawn", client.get("/readings/").text
    )
    assert (
        told == [*own, "heart rate", "saturation"][MOST_LINES:]
    )  # as `figures.strips` groups the first lines
    assert told


def test_what_was_taken_can_be_changed_and_removed(client: FlaskClient, desk: Desk) -> None:
    own = lines(desk)[0]
    dropped(client, TABLE)
    client.post("/readings/", data={**form_of(client), **CHOSEN})
    assert 'href="/write/readings/?open=at-readings-1#at-readings-1"' in client.get("/readings/").text
    assert client.post("/readings/remove", data={"revision": desk.revision(), "at": "1-0"}).status_code == 303
    assert lines(desk) == [own, ["saturation"]]
    assert client.post("/readings/remove", data={"revision": "0000", "at": "1"}).status_code == 409
    for wrong in ("", "x", "1-0-0", "-1", "7"):
        sent = {"revision": desk.revision(), "at": wrong}
        assert client.post("/readings/remove", data=sent).status_code == 400
    assert client.post("/readings/remove", data={"revision": desk.revision(), "at": "1"}).status_code == 303
    assert lines(desk) == [own]
    assert 'value="readings/second monitor.csv"' in client.get("/readings/").text  # still in the folder


@pytest.mark.parametrize(
    "name", ["case.yaml", "identifiers.yaml", "readings/../case.yaml", "images/scan.jpg", ""]
)
def test_only_a_file_that_the_case_does_without_is_deleted(
    client: FlaskClient, desk: Desk, name: str
) -> None:
    before = sorted(path for path in desk.root.rglob("*") if path.is_file())
    named = [entry["file"] for entry in desk.tree()["readings"]]
    for one in (name, *named):
        sent = {"revision": desk.revision(), "name": one}
        assert client.post("/readings/leftover", data=sent).status_code == 400
    assert sorted(path for path in desk.root.rglob("*") if path.is_file()) == before


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"draw-1": "", "draw-2": ""}, "Choose at least one column to draw."),
        ({"unit-2": ""}, "Say its unit."),
        ({"low-1": "ten"}, "A plain number, or nothing."),
        ({"low-1": "nan"}, "A plain number, or nothing."),
        ({"every": "5"}, "unit"),
        ({"time": "9"}, "Say which column holds the time."),
        ({"name": ""}, "Give the file a short name."),
    ],
)
def test_nothing_is_taken_with_a_fault(
    client: FlaskClient, desk: Desk, more: dict[str, str], words: str
) -> None:
    dropped(client, TABLE)
    before = desk.text()
    answer = client.post("/readings/", data={**form_of(client), **CHOSEN, **more})
    assert answer.status_code == 422
    assert words in answer.text
    assert desk.text() == before
    assert not (desk.root / "readings" / "second monitor.csv").exists()


def test_no_tick_is_told_beside_the_ticks(client: FlaskClient, desk: Desk) -> None:
    dropped(client, TABLE)
    unticked = {name: value for name, value in CHOSEN.items() if not name.startswith("draw-")}
    answer = client.post("/readings/", data={**form_of(client), **unticked})  # as a browser sends it
    assert answer.status_code == 422
    assert "Choose at least one column to draw." in answer.text
    assert 'value="heart rate"' in answer.text
    assert client.post("/readings/", data=form_of(client)).status_code == 422


def test_lines_above_the_headings_are_told_and_go_nowhere(client: FlaskClient, desk: Desk) -> None:
    dropped(client, TABLE)
    assert "above the headings" not in client.get("/readings/").text
    dropped(client, f"Device: bay 2,Pt: QUENNIMORE O\nExport,1\n,,\n{TABLE}")
    page = client.get("/readings/").text
    assert "2 lines above the headings" in page
    assert "QUENNIMORE" not in page
    client.post("/readings/", data={**form_of(client), **CHOSEN})
    assert "QUENNIMORE" in (desk.root / "readings" / "second monitor.csv").read_text()
    folder = desk.checked().folder
    assert folder is not None
    assert "QUENNIMORE" not in repr(folder)
    assert "QUENNIMORE" not in desk.text()


# Dates with a year of two figures; the day of Day 0 is 13 February 2001, a Tuesday


SHORT = "Bed 2;;;\n;;;\nZeit/Time;HR bpm;NIBP_S;pH\n" + "".join(
    f"{{day}} 02:{minute:02d};{100 + minute};1{minute:02d};7.2{minute % 10}\n" for minute in range(20, 40)
)


def short(day: str) -> str:
    return SHORT.replace("{day}", day)


DRAWN = {
    **{"time": "0", "clock": "", "every": "", "name": "ward"},
    **{"draw-1": "yes", "called-1": "heart rate", "unit-1": "bpm", "low-1": "", "high-1": ""},
}


@pytest.mark.parametrize("day", ["13.02.01", "13/2/01", "13-02-01"])
def test_a_year_of_two_figures_is_read_beside_day_zero(client: FlaskClient, desk: Desk, day: str) -> None:
    desk.change(lambda tree: tree["timeline"].update({"day zero": "13 February 2001"}), desk.revision())
    dropped(client, short(day))
    page = client.get("/readings/").text
    assert "02:20 to 02:39" in page
    assert "Not understood" not in page
    assert client.post("/readings/", data={**form_of(client), **DRAWN}).status_code == 303
    assert 'class="stop"' not in client.get("/readings/").text


@pytest.mark.parametrize(
    ("day", "zero", "words"),
    [
        ("13.02.01", "", "this date has a year of two figures"),
        ("02.10.01", "13 February 2001", "this date can be read in two ways"),
        ("01-02-13", "13 February 2001", "this date can be read in two ways"),  # the year may stand in front
        ("02.10.2001", "13 February 2001", "this date can be read in two ways"),
        ("31.02.01", "13 February 2001", "there is no such day in the calendar"),
    ],
)
def test_a_day_that_is_not_certain_is_refused_at_once(
    client: FlaskClient, desk: Desk, day: str, zero: str, words: str
) -> None:
    desk.change(lambda tree: tree["timeline"].update({"day zero": zero}), desk.revision())
    for event in desk.tree()["timeline"]["events"]:
        assert "2001" not in event.get("when", "")
    before = desk.text()
    dropped(client, short(day))
    page = client.get("/readings/").text
    assert words in page
    assert re.search(r'<option value="0" selected>Zeit/Time', page)
    assert 'id="draw-1"' in page  # a heart rate of 120 is no time
    answer = client.post("/readings/", data={**form_of(client), **DRAWN})
    assert answer.status_code == 422
    assert re.search(rf'id="fault-time">[^<]*{words}', answer.text)
    assert desk.text() == before


def test_another_column_of_the_time_is_looked_at_again(client: FlaskClient) -> None:
    table = "Taken,Time,HR\n" + "".join(f"13:{minute},14:{minute},{minute}\n" for minute in range(30, 50))
    dropped(client, table)
    assert "13:30 to 13:49" in client.get("/readings/").text
    page = client.post("/readings/again", data={**form_of(client), "time": "1"}).text
    assert "14:30 to 14:49" in page
    assert re.search(r'<option value="1" selected>Time', page)


def test_a_file_that_is_not_used_is_told_where_it_would_be(client: FlaskClient, desk: Desk) -> None:
    told = "by name in readings/ (a .csv"
    for bare in (False, True):  # with a list of readings in the case, and without
        (desk.root / "readings" / "left over.csv").write_text(TABLE)
        if bare:
            desk.change(lambda tree: tree.pop("readings"), desk.revision())
        assert told in client.get("/write/readings/").text
        assert told not in client.get("/write/story/").text


@pytest.mark.parametrize("name", ["../../out.csv", "..\\out.csv", "/etc/out.csv"])
def test_no_name_leads_out(client: FlaskClient, desk: Desk, name: str) -> None:
    dropped(client, TABLE)
    client.post("/readings/", data={**form_of(client), **CHOSEN, "name": name})
    assert (desk.root / "readings" / "out.csv").is_file()
    assert not list(desk.root.parent.glob("out.csv"))


def test_a_file_of_the_case_is_not_overwritten(client: FlaskClient, desk: Desk) -> None:
    held = (desk.root / "readings" / "monitor.csv").read_bytes()
    dropped(client, TABLE)
    answer = client.post("/readings/", data={**form_of(client), **CHOSEN, "name": "monitor.csv"})
    assert answer.status_code == 400
    assert "another name" in answer.text
    assert (desk.root / "readings" / "monitor.csv").read_bytes() == held


def test_what_is_no_table_is_refused_on_the_page(client: FlaskClient, desk: Desk) -> None:
    answer = dropped(client, b"\x89PNG\r\n\x1a\n" + b"\0" * 100)
    assert answer.status_code == 422
    assert "this is a picture, not a table of readings" in answer.text
    assert client.post("/readings/look", data={}).status_code == 422
    head = b"--x\r\nContent-Disposition: form-data; name=file; filename=a.csv\r\n\r\n"
    body = head + b"1,2\n" * (6 * 2**20)
    kind = "multipart/form-data; boundary=x"
    large = client.post("/readings/look", data=body + b"\r\n--x--", content_type=kind)
    assert large.status_code == 413
    assert "larger than what is taken here" in large.text
    assert not (desk.aside / "readings.csv").exists()


def test_another_tab_is_not_overwritten(client: FlaskClient, desk: Desk) -> None:
    dropped(client, TABLE)
    old = form_of(client)
    desk.change(lambda tree: tree.update(title="Another"), desk.revision())
    assert client.post("/readings/", data={**old, **CHOSEN}).status_code == 409
    old = form_of(client)
    dropped(client, TABLE.replace("98", "97"))
    assert client.post("/readings/", data={**old, **CHOSEN}).status_code == 409
    assert not (desk.root / "readings" / "second monitor.csv").exists()


def test_what_the_check_says_stands_at_its_file(client: FlaskClient, desk: Desk) -> None:
    path = desk.root / "readings" / "monitor.csv"
    path.write_text(path.read_text().replace("72", "much", 1))
    assert "cells in a column to draw are no numbers" in client.get("/readings/").text


@pytest.mark.browser
def test_dropped_looked_at_and_taken_by_keyboard(page: Page, desk: Desk) -> None:
    page.goto(page.url.partition("/start")[0] + "/readings/")
    page.get_by_label("The file", exact=True).set_input_files(
        {"name": "monitor 2.csv", "mimeType": "text/csv", "buffer": TABLE.encode()}
    )
    page.get_by_role("button", name="Look at it").focus()
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="What is in it").wait_for()
    page.get_by_role("checkbox", name="Draw HR").focus()
    page.keyboard.press("Space")
    page.get_by_role("checkbox", name="in /min: guessed, and right").focus()
    page.keyboard.press("Space")
    page.get_by_role("button", name="Take it into the case").focus()
    page.keyboard.press("Enter")
    page.get_by_text("readings/readings-2.csv").wait_for()
    assert [line.name.value for line in load(desk.root).case.readings[-1].lines] == ["Heart rate"]


ODD = "Device,Flowtrace QXD,\nTime,HITS (/min),MAP (mmHg)\n" + "".join(
    f"14:{minute:02d},{hits},{70 + minute}\n"
    for minute, hits in enumerate((0, 1, 4, 9, 22, 31, 6, 999, 999, 4))
)


def test_a_value_far_from_all_others_that_comes_back_is_told_and_left_out_by_a_tick(
    client: FlaskClient, desk: Desk
) -> None:
    desk.change(lambda tree: tree["clocks"].append({"name": "QXD clock"}), desk.revision())
    assert dropped(client, ODD).status_code == 303
    page = client.get("/readings/").text
    assert "Leave out 999: there 2 times, far from all other values" in page
    assert "what the device shows when it has none" in page
    assert page.count('name="none-') == 1  # the pressures are all near each other
    assert "<option selected>QXD clock</option>" in page  # its name stands above the table
    form = form_of(client) | {"name": "hits", "time": "0"}
    form |= {"draw-1": "yes", "called-1": "HITS", "unit-1": "/min", "none-1": "yes", "clock": "QXD clock"}
    assert client.post("/readings/", data=form).status_code == 303
    (line,) = desk.tree()["readings"][-1]["lines"]
    assert line["high"] == "31"


@pytest.mark.parametrize(("none", "ticked"), [("-999", True), ("999", False)])
def test_what_devices_write_for_no_value_is_left_out_unless_the_tick_is_taken_away(
    client: FlaskClient, none: str, ticked: bool
) -> None:
    """Common practice, no source."""
    assert dropped(client, ODD.replace("999", none)).status_code == 303
    box = between(client.get("/readings/").text, 'name="none-1" value="yes"', "Leave out")
    assert ("checked" in box) is ticked


@pytest.mark.parametrize("values", [(60, 70, 80, 95, 95), (0, 0, 0, 22), (5, 5, 5, 999), (1, 2, 3, 999)])
def test_a_value_that_is_near_or_alone_is_not_called_none(values: tuple[float, ...]) -> None:
    assert _odd(values) is None


def test_an_end_of_the_range_that_comes_back_far_below_is_none() -> None:
    assert _odd((98, 97, 96, 98, -50, -50)) == Odd("-50", 2, "low", "96")


def test_a_value_under_nought_among_high_ones_is_none() -> None:
    """Common practice, no source: a pulse of -1 is none, a venous pressure of -1 beside 2 may be one."""
    assert _odd((98, 97, 60, 45, -1, -1)) == Odd("-1", 2, "low", "45")
    assert _odd((2, 4, 8, 5, -1, -1)) is None
    assert _odd((98, 97, 60, 45, -1)) is None


def test_what_is_none_in_one_column_is_none_in_the_others_even_once(tmp_path: Path) -> None:
    """Common practice, no source: a monitor writes one sign into every column that it has no value for."""
    rows = [(98, 120, 2), (97, 118, 4), (60, 90, 5), (45, 84, -1), (-1, -1, 3), (-1, 88, 4)]
    path = tmp_path / "monitor.csv"
    lines = (f"14:{place:02d},{','.join(map(str, row))}" for place, row in enumerate(rows))
    path.write_text("Time,SpO2 (%),SBP (mmHg),CVP (mmHg)\n" + "\n".join(lines) + "\n")
    spo2, sbp, cvp = preview(path, "1").numbers
    assert spo2.odd == Odd("-1", 2, "low", "45")
    assert sbp.odd == Odd("-1", 1, "low", "84")
    assert cvp.odd is None  # beside 2 it may be one


def test_a_code_of_a_device_is_none_even_once() -> None:
    """Common practice, no source. Another value that stands there once may be the event itself."""
    assert _odd((98, 97, 96, 98, -999)) == Odd("-999", 1, "low", "96")
    assert _odd((98, 97, 96, 98, 32767)) == Odd("32767", 1, "high", "98")
    assert _odd((98, 97, 96, 98, 20)) is None


def test_the_clock_that_the_note_names_is_chosen_for_the_file(client: FlaskClient, desk: Desk) -> None:
    """Common practice, no source."""
    kept.save(desk.aside, Note("readings file from recorder (so fast clock), -1 = probe off"))
    assert dropped(client, TABLE).status_code == 303
    page = client.get("/readings/").text
    assert "<option selected>recorder</option>" in page
    assert "The note says that it is of the recorder." in page
    kept.save(desk.aside, Note("recorder was off"))
    page = client.get("/readings/").text
    assert "<option selected>recorder</option>" not in page
    assert "The clock that stamped the rows." in page
