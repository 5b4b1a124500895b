"""Templates of different makes: each is used or refused in words, and nothing stands on anything."""

from __future__ import annotations

import io
import shutil
import subprocess
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image
from pptx import Presentation
from pptx.presentation import Presentation as Deck
from pptx.util import Cm, Inches, Pt

from mmbuilder.cli.commands.template import command
from mmbuilder.errors import FileRefused
from mmbuilder.formats import deck_pptx
from mmbuilder.formats._pptx import template
from mmbuilder.formats._pptx.stage import Wanted
from tests.formats import boards
from tests.formats.invariants import check_deck


def four_to_three(deck: Deck) -> None:
    """The make of python-pptx's own default: 10 x 7.5 inches."""


def wide(deck: Deck) -> None:
    deck.slide_width, deck.slide_height = Inches(13.333), Inches(7.5)


def one_layout(deck: Deck) -> None:
    wide(deck)
    for layout in list(deck.slide_layouts)[1:]:
        deck.slide_layouts.remove(layout)


def title_at_the_foot(deck: Deck) -> None:
    wide(deck)
    for layout in deck.slide_layouts:
        for shape in layout.placeholders:
            if shape.placeholder_format.idx == 0:
                shape.left, shape.top, shape.width, shape.height = Cm(1), Cm(15), Cm(30), Cm(2)


def narrow_title(deck: Deck) -> None:
    wide(deck)
    for layout in deck.slide_layouts:
        for shape in layout.placeholders:
            if shape.placeholder_format.idx == 0:
                shape.left, shape.top, shape.width, shape.height = Cm(28), Cm(0.2), Cm(5), Cm(1)


def crests_in_the_corners(deck: Deck) -> None:
    wide(deck)
    for left in (Cm(0.3), Cm(30.5)):
        picture = io.BytesIO()
        Image.new("RGB", (60, 60), "navy").save(picture, "PNG")
        picture.seek(0)
        _, rel = deck.slide_layouts[5].part.get_or_add_image_part(picture)
        shape = deck.slides.add_slide(deck.slide_layouts[6]).shapes.add_picture(
            picture, left, Cm(0.3), Cm(2.2), Cm(2.2)
        )
        shape._element.blipFill.blip.rEmbed = rel
        deck.slide_layouts[5].shapes._spTree.append(shape._element)


def strip(deck: Deck) -> None:
    deck.slide_width, deck.slide_height = Inches(5), Inches(11.69)


def small_type(deck: Deck) -> None:
    wide(deck)
    for layout in deck.slide_layouts:
        for shape in layout.placeholders:
            shape.text_frame.text = "x"
            shape.text_frame.paragraphs[0].runs[0].font.size = Pt(8)


MAKES: tuple[Callable[[Deck], None], ...] = (
    four_to_three,
    wide,
    one_layout,
    title_at_the_foot,
    narrow_title,
    crests_in_the_corners,
    small_type,
)


def made(change: Callable[[Deck], None], path: Path) -> Path:
    deck = Presentation()
    change(deck)
    deck.save(str(path))
    return path


@pytest.mark.parametrize("change", MAKES, ids=lambda change: change.__name__)
def test_a_deck_on_any_make_keeps_the_rules_of_a_deck(change: Callable[[Deck], None], tmp_path: Path) -> None:
    check_deck(
        deck_pptx.write(boards.every_block(), template=made(change, tmp_path / "own.pptx")), house=False
    )


def test_a_page_too_narrow_for_its_foot_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="does not fit the foot"):
        deck_pptx.write(boards.every_block(), template=made(strip, tmp_path / "own.pptx"))


def test_layouts_are_chosen_by_the_department(tmp_path: Path) -> None:
    path = made(wide, tmp_path / "own.pptx")
    names = [layout.name for layout in Presentation(str(path)).slide_layouts]
    _, opening, telling = template.chosen(path, Wanted(opening="section header ", telling=names[1]))
    assert (opening.layout.name, telling.layout.name) == ("Section Header", names[1])


def test_a_name_that_no_layout_has_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="no layout of the name"):
        template.chosen(made(wide, tmp_path / "own.pptx"), Wanted(telling="Plain"))


def test_a_crest_goes_where_the_department_does_not_want_it_outside(tmp_path: Path) -> None:
    path = made(crests_in_the_corners, tmp_path / "own.pptx")
    board = replace(boards.every_block(), slides=boards.every_block().slides[:1])

    def pictures(data: bytes) -> int:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            names = archive.namelist()
            layouts = b"".join(archive.read(name) for name in names if "slideLayouts/slideLayout" in name)
            return layouts.count(b"<p:pic>")

    assert pictures(deck_pptx.write(board, template=path)) == 2
    assert pictures(deck_pptx.write(board, template=path, wanted=Wanted(crest=False))) == 0


@pytest.mark.usefixtures("seen")
def test_the_command_tells_each_layout_and_writes_a_sheet_and_a_sample(tmp_path: Path) -> None:
    path = made(wide, tmp_path / "own.pptx")
    done = CliRunner().invoke(command, [str(path), "--out", str(tmp_path / "out")], standalone_mode=False)
    assert done.return_value == 0, done.output
    for layout in Presentation(str(path)).slide_layouts:
        assert layout.name in done.output
    assert "Blank: cannot serve: no place for a title" in done.output
    with Image.open(tmp_path / "out" / "template-contact-sheet.png") as sheet:
        assert sheet.width > 1000
    assert list((tmp_path / "out").glob("*-DRAFT.pptx"))


# LibreOffice ships templates of its own make (share/template); they are turned into .pptx by it.
@pytest.mark.office
@pytest.mark.parametrize("number", range(6))
def test_a_template_that_libreoffice_ships(number: int, tmp_path: Path) -> None:
    office = shutil.which("soffice")
    assert office is not None
    found = sorted(Path(office).resolve().parents[1].glob("share/template/common/presnt/*.otp"))
    assert len(found) > number
    subprocess.run(
        [
            office,
            f"-env:UserInstallation=file://{tmp_path}/profile",
            "--headless",
            "--convert-to",
            "pptx",
            "--outdir",
            str(tmp_path),
            str(found[number]),
        ],
        check=True,
        capture_output=True,
        timeout=180,
    )
    (own,) = tmp_path.glob("*.pptx")
    check_deck(deck_pptx.write(boards.every_block(), template=own), house=False)
