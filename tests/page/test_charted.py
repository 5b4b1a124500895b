"""A chart copied into the note. The notes are invented; how such charts are typed is common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.parts._charted import charts
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._pull import each_begun
from tests.page.test_note import paste

NOTE = """\
0831 knife to skin
anaes chart (copied):
time   HR   BP      SpO2  etCO2  notes
08:15  78   132/76  98    4.6    propofol 180 mg
08:30  74   118/70  98%   4.8
0845   -    ~112/66 97
09:41  128  72/40   94    3.4    2u O neg, Dr Quennimore here
0950 pressed
"""


def test_figures_become_a_table_without_the_remarks_behind_them() -> None:
    (chart,) = charts(NOTE)
    assert chart.headings == ("HR", "BP", "SpO2", "etCO2")
    assert chart.table().splitlines() == [
        "time,HR,BP sys,BP dia,SpO2,etCO2",
        "08:15,78,132,76,98,4.6",
        "08:30,74,118,70,98,4.8",
        "0845,,112,66,97,",
        "09:41,128,72,40,94,3.4",
    ]
    assert [row.remark for row in chart.rows] == ["propofol 180 mg", "", "", "2u O neg, Dr Quennimore here"]


@pytest.mark.parametrize(
    "note",
    [
        "time out done\n0815 78 in\n0830 74 in\n0845 76 in",  # no row of headings
        "time HR BP\n0815 78 132/76\n0830 74 118/70",  # two rows
        "time HR BP\n0815 port in\n0830 clip on\n0845 out",  # no figures
        "0815 HR 78\n0830 HR 74\n0845 HR 76",
    ],
)
def test_other_lines_are_no_chart(note: str) -> None:
    assert [*charts(note)] == []


def test_a_row_is_an_event_only_where_something_is_remarked() -> None:
    made = {one.lines[0].text: one for one in each_begun(Note(NOTE).lines, Known({}, text=NOTE))}
    told = [(one.when, one.kind, one.what) for one in made.values() if one.whole]
    assert told == [
        ("0831", "step", "knife to skin"),
        ("08:15", "drug", "propofol 180 mg"),
        ("09:41", "drug", "2u O neg, Dr Quennimore here"),
        ("0950", "step", "pressed"),
    ]


def test_the_chart_of_the_note_is_taken_as_readings_by_two_buttons(
    client: FlaskClient, desk: Desk, case: Path
) -> None:
    paste(client, desk, NOTE)
    assert "chart of 4 rows" in client.get("/note/several").text
    page = client.get("/readings/").text
    assert "A chart of 4 rows stands in your note: time, HR, BP, SpO2, etCO2." in page
    assert client.post("/readings/of-note").status_code == 303
    page = client.get("/readings/").text
    for name in ("Heart rate", "Systolic pressure", "Diastolic pressure", "Oxygen saturation"):
        assert f'value="{name}"' in page
    assert "Quennimore" not in page
    (case / "readings").mkdir(exist_ok=True)
    (case / "readings" / "chart.csv").write_text(next(charts(NOTE)).table(), "utf-8")
    assert client.post("/readings/leave").status_code == 303
    assert "stands in your note" not in client.get("/readings/").text  # it is taken
