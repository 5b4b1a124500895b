"""Every element and attribute of the formats (tables of the Open XML SDK, ECMA-376) with an identifier in it.

Most stand where no program would put them; a reader that trusts a name for what it is at home
lets them through elsewhere.
"""

from __future__ import annotations

from pathlib import Path

import lxml.etree as etree
import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub import loose
from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.containers._ooxml import vocabulary
from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES, q
from mmbuilder.scrub.layers import NoNameModel
from tests.leaks.attack import Package
from tests.leaks.test_fuzz_office import FILES
from tests.scrub.images.seeing import nobody_looks

NAME, NUMBER = "Wyvernquax", "999 123 4527"
DECLARED = Declared.model_validate({"people": [{"name": NAME, "role": "surgeon"}]})

PARTS = (
    (".pptx", "ppt/slides/slide1.xml", "p:spTree"),
    (".pptx", "ppt/slideMasters/slideMaster1.xml", "p:spTree"),
    (".pptx", "ppt/theme/theme1.xml", "a:theme"),
    (".pptx", "ppt/tableStyles.xml", "a:tblStyleLst"),
    (".pptx", "ppt/presentation.xml", "p:presentation"),
    (".pptx", "ppt/slides/slide1.xml", "a:p"),
    (".pptx", "ppt/slides/slide1.xml", "a:r"),
    (".pptx", "ppt/charts/chart1.xml", "c:plotArea"),
    (".pptx", "ppt/charts/chart1.xml", "c:ser"),
    (".pptx", "ppt/charts/chart1.xml", "c:numCache"),
    (".docx", "word/document.xml", "w:body"),
    (".docx", "word/document.xml", "w:p"),
    (".docx", "word/document.xml", "w:r"),
    (".docx", "word/document.xml", "w:tc"),
    (".docx", "word/styles.xml", "w:styles"),
    (".docx", "word/styles.xml", "w:style"),
    (".docx", "word/numbering.xml", "w:numbering"),
    (".docx", "word/settings.xml", "w:settings"),
    (".docx", "word/settings.xml", "w:compat"),
    (".docx", "word/fontTable.xml", "w:fonts"),
    (".xlsx", "xl/workbook.xml", "x:sheets"),
    (".xlsx", "xl/worksheets/sheet1.xml", "x:sheetData"),
    (".xlsx", "xl/worksheets/sheet1.xml", "x:worksheet"),
    (".xlsx", "xl/worksheets/sheet1.xml", "x:row"),
    (".xlsx", "xl/worksheets/sheet1.xml", "x:c"),
    (".xlsx", "xl/worksheets/sheet1.xml", "x:is"),
    (".xlsx", "xl/worksheets/sheet1.xml", "x:headerFooter"),
    (".xlsx", "xl/styles.xml", "x:styleSheet"),
)
HARMLESS = frozenset(
    ("w:vanish", "w:fldChar", "w:sdtPr", "w:moveFrom", "w:del", "x:sheet", "x:col", "p:sldId", "p:sldSz")
)
"""Elements that take their surroundings away, or without which there is no file; each has tests of its own."""

OUTLINES = frozenset(("path", "v", "points", "coordsize", "coordorigin", "adj", "wrapcoords", "connectlocs"))
"""Attributes that are lists of any numbers: the outline of an old drawing."""


def elements() -> list[etree._Element]:
    lines = (line.split(" ") for line in _table().splitlines()[1:])
    made = []
    for tag, *attributes in lines:
        if tag in HARMLESS:
            continue
        node = etree.Element(q(tag), nsmap=dict(NAMESPACES))
        for one in attributes:
            prefix, colon, _ = one[2:].partition(":")
            if not colon or prefix in NAMESPACES:
                node.set(q(one[2:]) if colon else one[2:], "PLANT")
        node.text, node.tail = " PLANT ", " PLANT "
        made.append(node)
    return made


def _table() -> str:
    return Path(vocabulary.__file__).with_name("vocabulary.txt").read_text("utf-8")


@pytest.mark.parametrize("planted", [NAME, NUMBER, f"MRN 4839201 {NAME}"])
@pytest.mark.parametrize(("suffix", "part", "parent"), PARTS)
def test_no_element_carries_it_through(
    suffix: str, part: str, parent: str, planted: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    nobody_looks(monkeypatch)
    monkeypatch.setattr(tools, "name_model", NoNameModel)
    monkeypatch.setattr(loose, "guard", lambda *_: None)
    box = Package.of(FILES[suffix]())
    root = etree.fromstring(box.parts[part])
    node = next(root.iter(q(parent)))
    for made in elements():
        node.append(made)
    text = etree.tostring(root).decode().replace("PLANT", planted)
    assert text.count(planted) > 9_000
    box.parts[part] = text.encode()
    source = tmp_path / f"a{suffix}"
    source.write_bytes(box.packed())
    outcome = loose.scrub_file(source, tmp_path / "out", DECLARED)
    assert outcome.refused == ""
    assert outcome.written is not None
    left = [
        f"{name}: {etree.QName(node).localname} {etree.QName(where).localname if where else 'text'}"
        for name, data in Package.of(outcome.written.read_bytes()).parts.items()
        if name.endswith((".xml", ".rels"))
        for node in etree.fromstring(data).iter()
        for where, value in (*node.attrib.items(), ("", node.text or ""), ("", node.tail or ""))
        if not (planted == NUMBER and etree.QName(where or "text").localname in OUTLINES)
        and any(core.casefold() in value.casefold() for core in (NAME, NUMBER, "4839201"))
    ]
    assert left == []
