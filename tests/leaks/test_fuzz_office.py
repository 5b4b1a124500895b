"""Spoilt Office files: each is refused in words with nothing written, or scrubbed with no identifier left.

Three ways to spoil one: bytes of the zip, bytes of a part, and the tree of a part (elements moved,
doubled, renamed or gone; values that are no values; an identifier in any text or attribute).
Common practice in testing readers of files; no source. The seeds are fixed.
"""

from __future__ import annotations

import copy
import io
import random
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path

import docx
import lxml.etree as etree
import openpyxl
import pytest
from pptx import Presentation
from pptx.chart.data import CategoryChartData
from pptx.enum.chart import XL_CHART_TYPE
from pptx.util import Inches

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub import loose
from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES
from mmbuilder.scrub.layers import NoNameModel
from tests.leaks.attack import Package, Search
from tests.scrub.containers.office_kit import few_styles, png
from tests.scrub.images.seeing import nobody_looks

NAME, RECORD = "Wyvernquax", "4839201"
DECLARED = Declared.model_validate({"people": [{"name": NAME, "role": "surgeon"}], "numbers": [{"value": RECORD, "kind": "record number"}]})  # fmt: skip
WORDS = f"Seen by {NAME}, MRN {RECORD}"
SECONDS = 20
"""One small file; a reader that hangs takes for ever."""

JUNK = ("", "²", "٣", "-1", "1e999", "NaN", "1.2.3", "9" * 5000, "1" * 40 + "x", "%1" * 40 + "É", "A1" * 60 + "!", "../../x", "rId1", "a" * 60 + "!", "0", WORDS, NAME.lower(), f"MRN {RECORD}")  # fmt: skip


@cache
def deck() -> bytes:
    show = Presentation()
    for layout in list(show.slide_layouts)[:5] + list(show.slide_layouts)[6:]:
        show.slide_layouts.remove(layout)
    slide = show.slides.add_slide(show.slide_layouts[0])
    slide.shapes.title.text = WORDS
    slide.notes_slide.notes_text_frame.text = WORDS
    slide.shapes.add_table(1, 2, 0, 0, Inches(4), Inches(1)).table.cell(0, 0).text = WORDS
    group = slide.shapes.add_group_shape()
    group.shapes.add_textbox(0, 0, Inches(1), Inches(1)).text = WORDS
    picture = slide.shapes.add_picture(io.BytesIO(png(text=WORDS)), 0, 0)
    picture.crop_left = 0.25
    data = CategoryChartData()
    data.categories = [WORDS, "After"]
    data.add_series("Pressure", (20.0, 12.5))
    slide.shapes.add_chart(XL_CHART_TYPE.COLUMN_CLUSTERED, 0, 0, Inches(4), Inches(3), data)
    out = io.BytesIO()
    show.save(out)
    return out.getvalue()


@cache
def letter() -> bytes:
    made = docx.Document()
    made.add_heading("Note", 1)
    made.add_paragraph(WORDS)
    made.add_paragraph("First", style="List Number")
    made.add_table(1, 2).cell(0, 0).text = WORDS
    made.sections[0].header.paragraphs[0].text = WORDS
    made.add_picture(io.BytesIO(png(text=WORDS)), width=Inches(1))
    few_styles(made, "Normal", "Heading1", "ListNumber", "TableNormal")
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


@cache
def book() -> bytes:
    made = openpyxl.Workbook()
    sheet = made.active
    sheet.append(["MRN", "Value"])
    sheet.append([int(RECORD), 18])
    sheet.append([WORDS, 7])
    sheet["C1"].value, sheet["C1"].number_format = 45000, "yyyy-mm-dd"
    sheet.column_dimensions["F"].hidden = True
    sheet.oddHeader.center.text = WORDS
    made.create_sheet("Hidden").sheet_state = "hidden"
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


FILES: dict[str, Callable[[], bytes]] = {".pptx": deck, ".docx": letter, ".xlsx": book}


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Finders in pixels and the model for names have tests of their own; the last sweep would hide a leak."""
    nobody_looks(monkeypatch)
    monkeypatch.setattr(tools, "name_model", NoNameModel)
    monkeypatch.setattr(loose, "guard", lambda *_: None)
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "cache"))


def survives(data: bytes, suffix: str, folder: Path) -> str:
    """What is wrong with the way a file was dealt with; empty where nothing is."""
    source, out = folder / f"f{suffix}", folder / "out"
    source.write_bytes(data)
    begun = time.monotonic()
    outcome = loose.scrub_file(source, out, DECLARED)
    if time.monotonic() - begun > SECONDS:
        return f"took {time.monotonic() - begun:.0f} seconds"
    written = [path for path in out.rglob("*") if path.is_file()] if out.exists() else []
    if "fault of the program" in outcome.refused:
        return outcome.refused
    if outcome.refused:
        return "refused, and yet something was written" if written else ""
    made = Search(written[0].read_bytes())
    written[0].unlink()
    return "an identifier is left" if made.holds((NAME, RECORD)) else ""


def all_well(spoilt: list[tuple[str, bytes]], suffix: str, folder: Path) -> None:
    wrong = [(how, fault) for how, data in spoilt if (fault := survives(data, suffix, folder))]
    assert wrong == []


def flipped(data: bytes, chance: random.Random) -> bytes:
    made = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 5))):
        made[chance.randrange(len(made))] ^= 1 << chance.randrange(8)
    return bytes(made)


@pytest.mark.parametrize("suffix", FILES)
def test_bytes_of_the_file(suffix: str, tmp_path: Path) -> None:
    chance, whole = random.Random(1), FILES[suffix]()
    all_well([(f"flip {turn}", flipped(whole, chance)) for turn in range(60)], suffix, tmp_path)


@pytest.mark.parametrize("suffix", FILES)
def test_cut_short(suffix: str, tmp_path: Path) -> None:
    whole = FILES[suffix]()
    places = [len(whole) * step // 20 for step in range(20)]
    all_well([(f"cut at {place}", whole[:place]) for place in places], suffix, tmp_path)


@pytest.mark.parametrize("suffix", FILES)
def test_bytes_of_a_part(suffix: str, tmp_path: Path) -> None:
    chance, spoilt = random.Random(2), []
    for _ in range(50):
        box = Package.of(FILES[suffix]())
        name = chance.choice(sorted(box.parts))
        box.parts[name] = flipped(box.parts[name], chance)
        spoilt.append((name, box.packed()))
    all_well(spoilt, suffix, tmp_path)


@pytest.mark.parametrize("suffix", FILES)
def test_the_tree_of_a_part(suffix: str, tmp_path: Path) -> None:
    chance, spoilt = random.Random(3), []
    for _ in range(60):
        box = Package.of(FILES[suffix]())
        name = chance.choice([part for part in sorted(box.parts) if part.endswith((".xml", ".rels"))])
        root = etree.fromstring(box.parts[name])
        how = [disturbed(root, chance) for _ in range(chance.choice((1, 2, 4)))]
        box.parts[name] = etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
        spoilt.append((f"{name}: {', '.join(how)}", box.packed()))
    all_well(spoilt, suffix, tmp_path)


@pytest.mark.parametrize("value", ["1" * 60 + "x", "%1" * 60 + "É", "A1" * 60 + "!", "no" * 60 + "!"])
def test_long_values_are_read_at_once(value: str, tmp_path: Path) -> None:
    """A pattern that tries every way to split them would take for ever."""
    box = Package.of(letter())
    style = f'<w:style w:type="paragraph" w:styleId="{value}"><w:name w:val="{value}"/></w:style>'
    level = f'<w:abstractNum xmlns:w="{NAMESPACES["w"]}" w:abstractNumId="99"><w:lvl w:ilvl="0"><w:lvlText w:val="{value}"/></w:lvl></w:abstractNum>'
    box.before("word/styles.xml", "</w:styles>", style)
    box.before("word/numbering.xml", "<w:num ", level)
    all_well([("long", box.packed())], ".docx", tmp_path)
    box = Package.of(book())
    box.before(
        "xl/worksheets/sheet1.xml",
        "<pageMargins",
        f'<conditionalFormatting sqref="A1"><cfRule type="expression" priority="1"><formula>{value}</formula></cfRule></conditionalFormatting>',
    )
    all_well([("long", box.packed())], ".xlsx", tmp_path)


def disturbed(root: etree._Element, chance: random.Random) -> str:
    """Change one thing of a tree; says what."""
    nodes = [node for node in root.iter() if isinstance(node.tag, str)]
    node, other = chance.choice(nodes), chance.choice(nodes)
    local = etree.QName(node).localname
    what = chance.choice(("gone", "moved", "doubled", "renamed", "text", "value", "value", "value gone"))
    if what == "text":
        node.text = chance.choice(JUNK)
    elif what.startswith("value") and node.attrib:
        name = chance.choice(sorted(node.attrib))
        if what == "value":
            node.set(name, chance.choice(JUNK))
        else:
            del node.attrib[name]
        return f"{what} {local} {etree.QName(name).localname}"
    elif what == "renamed":
        node.tag = other.tag
    elif node is not root and what == "gone":
        node.getparent().remove(node)
    elif node is not root and what == "doubled":
        node.addnext(copy.deepcopy(node))
    elif (
        node is not root and what == "moved" and node not in list(other.iterancestors()) and node is not other
    ):
        other.append(node)
    return f"{what} {local}"
