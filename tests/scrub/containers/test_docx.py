"""Every hiding place of a .docx: something is planted in it, and a search of the result finds nothing."""

from __future__ import annotations

import io
from collections.abc import Callable

import pytest

docx = pytest.importorskip(
    "docx", reason="python-docx is not installed, and writes the documents of these tests"
)

from mmbuilder.errors import FileRefused  # noqa: E402  (after the skip)
from mmbuilder.scrub.containers import docx as leaf  # noqa: E402
from mmbuilder.scrub.containers.base import Result  # noqa: E402
from tests.scrub.containers import office_kit as kit  # noqa: E402
from tests.scrub.containers.office_kit import NAME, OFFICE, RECORD, SURNAME  # noqa: E402

_W = "application/vnd.openxmlformats-officedocument.wordprocessingml."
_MAIN = "word/document.xml"
_HERE = "<w:t>Nothing here.</w:t></w:r>"


def scrub(data: bytes) -> Result:
    return leaf.scrub(data, kit.SmallScrubber())


@pytest.fixture(scope="module")
def letter() -> bytes:
    """A heading, a table, a picture, a header; nothing in it identifies."""
    letter = docx.Document()
    letter.add_heading("Operation note", 1)
    letter.add_paragraph("Nothing here.")
    table = letter.add_table(2, 2)
    table.cell(0, 0).text, table.cell(1, 0).text, table.cell(1, 1).text = "MRN", "none", "dehiscence"
    letter.add_picture(io.BytesIO(kit.png(text=NAME)))
    letter.sections[0].header.paragraphs[0].text = "Page head"
    kit.few_styles(letter, "Normal", "Heading1", "Header", "TableNormal")
    out = io.BytesIO()
    letter.save(out)
    return out.getvalue()


def _after(xml: str) -> Callable[[bytes], bytes]:
    return lambda letter: kit.changed(letter, _MAIN, _HERE, _HERE + xml)


def _swap(part: str, old: str, new: str) -> Callable[[bytes], bytes]:
    return lambda letter: kit.changed(letter, part, old, new)


def _extra(name: str, content: str, kind: str, relation: str) -> Callable[[bytes], bytes]:
    return lambda letter: kit.with_part(letter, _MAIN, name, content.encode(), kind, relation)


def _run(text: str) -> str:
    return f"<w:r><w:t>{text}</w:t></w:r>"


def _field(instruction: str, shown: str) -> str:
    def mark(kind: str) -> str:
        return f'<w:r><w:fldChar w:fldCharType="{kind}"/></w:r>'

    words = f"<w:r><w:instrText>{instruction}</w:instrText></w:r>{mark('separate')}{_run(shown)}"
    return f"{mark('begin')}{words}{mark('end')}"


def _linked(letter: bytes) -> bytes:
    planted = _after(f'<w:hyperlink r:id="rId901" w:tooltip="{NAME}">{_run("see")}</w:hyperlink>')(letter)
    return kit.with_link(planted, _MAIN, f"file:///C:/Users/{SURNAME}/x", f"{OFFICE}/hyperlink")


_STYLE = f'<w:style w:type="paragraph" w:customStyle="1" w:styleId="{SURNAME}"><w:name w:val="{SURNAME} head"/></w:style>'
_CONTROL = f'<w:sdt><w:sdtPr><w:alias w:val="{NAME}"/><w:tag w:val="{RECORD}"/></w:sdtPr><w:sdtContent>{_run(NAME)}</w:sdtContent></w:sdt>'
_BOX = (
    '<w:r><w:pict><v:shape xmlns:v="urn:schemas-microsoft-com:vml" id="{0}" alt="{1}"><v:textbox><w:txbxContent><w:p>'
    "<w:r><w:t>{1}</w:t></w:r></w:p></w:txbxContent></v:textbox></v:shape></w:pict></w:r>"
)
PLACES: dict[str, Callable[[bytes], bytes]] = {
    "text": _after(_run(f" Seen by {NAME}, {RECORD}")),
    "text split across runs": _after(_run(f" by {SURNAME[:6]}") + _run(SURNAME[6:])),
    "table": _swap(_MAIN, "<w:t>none</w:t>", f"<w:t>{RECORD}</w:t>"),
    "header": _swap("word/header1.xml", "Page head", f"Page of {NAME}"),
    "insertion": _after(f'<w:ins w:id="7" w:author="{NAME}" w:date="2024-03-14T00:00:00Z">{_run(NAME)}</w:ins>'),
    "deletion": _after(f'<w:del w:id="8" w:author="A"><w:r><w:delText>{NAME}</w:delText></w:r></w:del>'),
    "hidden text": _after(f"<w:r><w:rPr><w:vanish/></w:rPr><w:t>{NAME}</w:t></w:r>"),
    "content control": _after(_CONTROL),
    "bookmark": _after(f'<w:bookmarkStart w:id="9" w:name="{SURNAME}"/><w:bookmarkEnd w:id="9"/>'),
    "field instruction": _after(_field(f' HYPERLINK "mailto:{SURNAME}@example.org" ', "mail")),
    "field of the author": _after(_field(" AUTHOR ", SURNAME.lower())),
    "simple field": _after(f'<w:fldSimple w:instr=" FILENAME {SURNAME} ">{_run("x")}</w:fldSimple>'),
    "unended field": _after(f'<w:r><w:fldChar w:fldCharType="begin"/><w:instrText>{NAME}</w:instrText></w:r>'),
    "link": _linked,
    "text box": _after(_BOX.format("box", NAME)),
    "name of a text box": _after(_BOX.format(SURNAME, "words")),
    "alt text": _swap(_MAIN, "<wp:docPr ", f'<wp:docPr descr="{NAME}" title="{RECORD}" '),
    "revision mark": _swap(_MAIN, "<w:r>", f'<w:r w:rsidR="{SURNAME}">'),
    "style name": _swap("word/styles.xml", "</w:styles>", f"{_STYLE}</w:styles>"),
    "document variable": _swap("word/settings.xml", "</w:settings>", f'<w:docVars><w:docVar w:name="n" w:val="{NAME}"/></w:docVars></w:settings>'),
    "core properties": _swap("docProps/core.xml", "</cp:coreProperties>", f"<dc:identifier>{NAME}</dc:identifier></cp:coreProperties>"),
    "comments": _extra("word/comments.xml", f"<x>{NAME}</x>", f"{_W}comments+xml", f"{OFFICE}/comments"),
    "people": _extra("word/people.xml", f"<x>{NAME}</x>", f"{_W}people+xml", "http://schemas.microsoft.com/office/2011/relationships/people"),
    "footnotes": _extra("word/footnotes.xml", f'<w:footnotes xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:footnote w:id="1"><w:p>{_run(NAME)}</w:p></w:footnote></w:footnotes>', f"{_W}footnotes+xml", f"{OFFICE}/footnotes"),
    "endnotes": _extra("word/endnotes.xml", f'<w:endnotes xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:endnote w:id="1"><w:p>{_run(NAME)}</w:p></w:endnote></w:endnotes>', f"{_W}endnotes+xml", f"{OFFICE}/endnotes"),
    "building blocks": _extra("word/glossary/document.xml", f"<x>{NAME}</x>", f"{_W}document.glossary+xml", f"{OFFICE}/glossaryDocument"),
    "inserted file": _extra("word/a.html", NAME, "text/html", f"{OFFICE}/aFChunk"),
    "extra member": lambda letter: kit.packed({**kit.parts(letter), f"{SURNAME}.txt": b"x"}),
}  # fmt: skip


@pytest.mark.parametrize("place", PLACES)
def test_nothing_planted_survives(place: str, letter: bytes) -> None:
    planted = PLACES[place](letter)
    assert kit.leaks(planted), "the search does not find what was planted, so the test would prove nothing"
    assert not kit.leaks(scrub(planted).data)


def _words(data: bytes) -> list[str]:
    return [paragraph.text for paragraph in docx.Document(io.BytesIO(data)).paragraphs]


def test_what_identifies_nobody_is_kept(letter: bytes) -> None:
    result = scrub(letter)
    read = docx.Document(io.BytesIO(result.data))
    assert _words(result.data)[:2] == ["Operation note", "Nothing here."]
    assert [cell.text for row in read.tables[0].rows for cell in row.cells] == [
        "MRN",
        "",
        "none",
        "dehiscence",
    ]
    assert read.paragraphs[0].style.name == "Heading 1"
    assert len(read.inline_shapes) == 1
    assert read.sections[0].header.paragraphs[0].text == "Page head"


def test_insertions_stay_and_deletions_go(letter: bytes) -> None:
    planted = _after(
        f'<w:ins w:id="1">{_run(" kept")}</w:ins><w:del w:id="2"><w:r><w:delText>x</w:delText></w:r></w:del>'
    )
    result = scrub(planted(letter))
    assert _words(result.data)[1] == "Nothing here. kept"
    assert any(finding.kind.startswith("tracked changes") for finding in result.findings)


def test_page_numbers_stay_fields_and_link_words_stay(letter: bytes) -> None:
    data = scrub(_after(_field(" PAGE ", "3") + _field(' HYPERLINK "x" ', "seen"))(letter)).data
    assert b"<w:instrText> PAGE </w:instrText>" in kit.parts(data)[_MAIN]
    assert _words(data)[1] == "Nothing here.3seen"


def test_a_bare_number_under_a_head_is_read_with_it(letter: bytes) -> None:
    data = scrub(_swap(_MAIN, "<w:t>none</w:t>", "<w:t>00771234</w:t>")(letter)).data
    assert b"00771234" not in kit.parts(data)[_MAIN]


def test_the_same_file_gives_the_same_bytes_and_a_second_scrub_changes_nothing(letter: bytes) -> None:
    once = scrub(letter).data
    assert scrub(letter).data == once
    assert scrub(once).data == once


def test_another_kind_and_macros_are_refused(letter: bytes) -> None:
    planted = kit.changed(
        letter, "[Content_Types].xml", "wordprocessingml.document.main", "wordprocessingml.template.main"
    )
    with pytest.raises(FileRefused, match=r"a \.docx"):
        scrub(planted)
    with pytest.raises(FileRefused, match="macros"):
        scrub(kit.packed({**kit.parts(letter), "word/vbaProject.bin": b"x"}))
