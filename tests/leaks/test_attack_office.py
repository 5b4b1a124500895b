"""An identifier in every hiding place of a Word document and an Excel workbook: none survives a scrub.

Places and their structure: ECMA-376-1 (WordprocessingML, SpreadsheetML); those of `_misplaced_*`
are hostile, no program writes them.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path

import docx
import openpyxl
import pytest

from tests.leaks import attack_office
from tests.leaks.attack import (
    VARIANTS,
    Attacked,
    attacked,
    no_faults,
    nothing_beside,
    nothing_survives,
    places,
    tells_nothing,
)

_BUILD = {".docx": attack_office.build_docx, ".xlsx": attack_office.build_xlsx}


@pytest.fixture(scope="module", params=VARIANTS)
def letter(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Attacked:
    return attacked(attack_office.build_docx, ".docx", request.param, tmp_path_factory.mktemp("docx"))


@pytest.fixture(scope="module", params=VARIANTS)
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Attacked:
    return attacked(attack_office.build_xlsx, ".xlsx", request.param, tmp_path_factory.mktemp("xlsx"))


@pytest.mark.parametrize("place", places(attack_office.build_docx))
def test_nothing_survives_in_a_document(letter: Attacked, place: str) -> None:
    nothing_survives(letter, place)


@pytest.mark.parametrize("place", places(attack_office.build_xlsx))
def test_nothing_survives_in_a_workbook(book: Attacked, place: str) -> None:
    nothing_survives(book, place)


def test_the_command_tells_nothing_of_a_document(letter: Attacked) -> None:
    tells_nothing(letter)
    nothing_beside(letter)


def test_the_command_tells_nothing_of_a_workbook(book: Attacked) -> None:
    tells_nothing(book)
    nothing_beside(book)


def _whole(name: str, folder: Path) -> Path:
    """What programs can write, scrubbed with the program's own last search on."""
    done = attacked(partial(_BUILD[name], hostile=False), name, "declared", folder, sweep=True)
    return folder / "out" / f"case{name}" if done.data else folder


def test_the_document_opens_and_the_validator_finds_nothing(tmp_path: Path) -> None:
    path = _whole(".docx", tmp_path)
    read = docx.Document(str(path))
    assert "ANCHOR" in [paragraph.text for paragraph in read.paragraphs]
    assert len(read.inline_shapes) == 3  # two pictures and a text box
    assert read.tables[0].cell(0, 0).text == "MRN"
    no_faults(path)


def test_the_workbook_opens_and_shows_what_is_shown(tmp_path: Path) -> None:
    (sheet,) = openpyxl.load_workbook(_whole(".xlsx", tmp_path)).worksheets
    assert (sheet["B1"].value, sheet["C2"].value, sheet["B11"].value) == ("Finding", 18, 4)
    assert len(sheet._charts) == 1
