"""The PDF handout: what it says, how it is made, what is not in it."""

from __future__ import annotations

import io
import re
import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from pypdf import PageObject, PdfReader
from pypdf.generic import ArrayObject, DictionaryObject

from mmbuilder import fonts, labels, resources
from mmbuilder.casefile import load
from mmbuilder.errors import LetterNotDrawn
from mmbuilder.formats import _sink, handout_pdf, picture_png, picture_svg
from mmbuilder.formats._paper import page
from mmbuilder.formats._paper.columns import settle
from mmbuilder.pipeline import BuildReport
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.terms import PaperSize, Use
from mmbuilder.safe.text import EMPTY, SafeText, wording
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import (
    Bullets,
    Callout,
    Cell,
    Diagram,
    Facts,
    Paragraph,
    Sheet,
    Slide,
    Storyboard,
    Table,
    TimeChart,
    Tone,
)
from mmbuilder.storyboard.shortened import Cut, shortened
from tests.formats import boards

CASES = resources.bundled_cases()


def reader(data: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(data))


def letters(data: bytes) -> str:
    return "".join("".join(page.extract_text() for page in reader(data).pages).split())


def board(*texts: str) -> Storyboard:
    said = [SafeText(KEY, text) for text in texts]
    blocks = (
        Bullets(tuple(said)),
        Facts(tuple((text, text) for text in said)),
        Table((wording("Head"),), tuple((Cell(text),) for text in said), (1,), wording("")),
    )
    return replace(boards.every_block(), slides=(Slide("held", wording("A headline."), blocks),))


# ISO 32000-1, 14.7 and 14.8 (structure, marked content) and 14.9.2 (language), read by pypdf.
def test_it_is_tagged_titled_and_in_a_language() -> None:
    root = reader(handout_pdf.write(boards.every_block())).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


# ISO 14289-1 (PDF/UA-1), 5: the file says which part of the standard it keeps to, in its metadata.
def test_it_says_that_it_can_be_read_aloud() -> None:
    metadata = reader(handout_pdf.write(boards.every_block())).trailer["/Root"]["/Metadata"].get_data()
    assert b"<pdfuaid:part>1</pdfuaid:part>" in metadata


def elements(data: bytes) -> list[DictionaryObject]:
    """Every element of the structure tree, in reading order."""
    return list(_below(reader(data).trailer["/Root"]["/StructTreeRoot"]))


def _below(node: object) -> Iterator[DictionaryObject]:
    node = getattr(node, "get_object", lambda: node)()
    if isinstance(node, ArrayObject):
        for kid in node:
            yield from _below(kid)
    elif isinstance(node, DictionaryObject):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from _below(node["/K"])


def test_every_drawing_tells_itself() -> None:
    told = boards.every_block()
    drawn = [
        block for slide in told.slides for block in slide.blocks if isinstance(block, TimeChart | Diagram)
    ]
    found = [one.get("/Alt") for one in elements(handout_pdf.write(told)) if one["/S"] == "/Figure"]
    assert len(found) >= len(drawn) > 2
    assert all(found)
    assert {block.alt.reveal() for block in drawn if isinstance(block, TimeChart)} <= set(found)


def test_headings_and_heads_of_columns_are_said_to_be_such() -> None:
    told = boards.every_block()
    tables = [block for slide in told.slides for block in slide.blocks if isinstance(block, Table)]
    kinds = [one["/S"] for one in elements(handout_pdf.write(told))]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == len(told.slides)
    assert kinds.count("/Table") == len(tables) > 0
    assert kinds.count("/TH") == sum(len(table.header) for table in tables)


def test_a_table_that_goes_on_repeats_its_head_and_tears_no_row() -> None:
    rows = tuple(
        (Cell(SafeText(KEY, f"start{n} " + "word " * 60 + f"end{n}")), Cell(EMPTY)) for n in range(60)
    )
    grid = Table((wording("Head"), wording("Next")), rows, (1, 1), EMPTY)
    data = handout_pdf.write(replace(board(), slides=(Slide("held", wording("Grid."), (grid,)),)))
    pages = [page.extract_text() for page in reader(data).pages]
    assert len(pages) > 2
    assert all("Head" in text for text in pages)
    assert all(
        sum((f"start{n} " in text) == (f"end{n}\n" in text) for n in range(60)) == 60 for text in pages
    )


def test_no_heading_stands_at_the_foot_of_a_page() -> None:
    for lines in range(1, 30):
        filler = Bullets(tuple(wording("A line.") for _ in range(lines)))
        words = SafeText(KEY, "word " * 700)
        slides = (
            Slide("held", wording("First."), (filler,)),
            Slide(
                "held",
                wording("Second heading."),
                (Facts(((wording("Clock"), wording("0:15")),)), Paragraph(words)),
            ),
        )
        for text in (
            one.extract_text() for one in reader(handout_pdf.write(replace(board(), slides=slides))).pages
        ):
            assert ("Second heading." in text) <= ("word word" in text)


def test_every_font_is_embedded() -> None:
    pages = reader(handout_pdf.write(boards.every_block())).pages
    fonts = [
        font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        for page in pages
        for font in page["/Resources"].get("/Font", {}).values()
    ]
    assert fonts
    assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts)


def test_nobody_is_named_as_its_author_and_no_date_is_in_it() -> None:
    data = handout_pdf.write(boards.every_block())
    facts = reader(data).metadata
    assert facts is not None
    assert set(facts) == {"/Title", "/Creator"}
    assert facts["/Creator"].startswith("Typst ")
    assert not re.search(rb"/(Author|CreationDate|ModDate|Producer|Keywords|Subject)\b", data)
    metadata = reader(data).trailer["/Root"]["/Metadata"].get_data()
    assert not re.search(rb"dc:creator|CreateDate|ModifyDate", metadata)


def test_the_foot_of_every_page_says_what_it_is() -> None:
    told = replace(board(*["word " * 700] * 2), draft=True)
    pages = [" ".join(one.extract_text().split()) for one in reader(handout_pdf.write(told)).pages]
    assert len(pages) > 2
    for number, text in enumerate(pages, 1):
        for part in (
            "DRAFT",
            boards.BANNER.reveal(),
            f"Page {number} of {len(pages)}",
            page.CAUTION.reveal(),
        ):
            assert part in text
    final = handout_pdf.write(replace(told, draft=False))
    assert not any("DRAFT" in one.extract_text() for one in reader(final).pages)


def test_the_same_board_gives_the_same_bytes() -> None:
    assert handout_pdf.write(boards.every_block()) == handout_pdf.write(boards.every_block())


SIGNS = "#$*_@[]{}()<>\\/\"'`~=+-|&%^;:,.!?"


@settings(max_examples=60, deadline=None)
@given(st.text(st.sampled_from("abc XYZ0129" + SIGNS), min_size=1, max_size=60))
def test_signs_come_out_as_they_were_typed(text: str) -> None:
    written = letters(handout_pdf.write(board(text)))
    assert written.count("".join(text.split())) >= 3 or not text.strip()


@settings(max_examples=30, deadline=None)
@given(st.text(st.characters(min_codepoint=0x20, max_codepoint=0x52F), min_size=1, max_size=60))
def test_letters_come_out_as_they_were_typed_or_are_refused(text: str) -> None:
    said = _sink.plain(SafeText(KEY, text))
    bare = unicodedata.normalize("NFKD", "".join(said.split()))
    try:
        written = unicodedata.normalize("NFKD", letters(handout_pdf.write(board(text))))
    except LetterNotDrawn:
        assert fonts.missing(said) or any(unicodedata.category(one) in ("Cc", "Cn", "Co") for one in said)
    else:
        assert Counter(bare) - Counter(written) == Counter()


@pytest.mark.parametrize(
    "text",
    [
        '#panic("x")',
        '#import "@preview/x:1.0.0"',
        "$ x^2 $",
        "*strong* _soft_ `raw` <label> @label",
        "= Heading",
        "- item + item / term: x",
        "// comment /* comment */",
        "\\u{41} \\#",
        'x"); #read("/etc/hostname',
    ],
)
def test_nothing_is_read_as_markup(text: str) -> None:
    assert letters(handout_pdf.write(board(text))).count("".join(text.split())) == 4


def test_a_letter_that_no_font_has_is_an_error_that_names_the_script() -> None:
    for text, script in (("plan योजना", "Devanagari"), ("計画", "Cjk"), ("\ue000", "Unknown")):
        with pytest.raises(LetterNotDrawn, match=script) as caught:
            handout_pdf.write(board("fine", text))
        assert text not in str(caught.value)


@pytest.mark.parametrize("text", ["план изменён", "Σχέδιο", "תוכנית שונתה", "تغيرت الخطة", "გეგმა", "Ծրագիր"])
def test_letters_of_other_scripts_are_set(text: str) -> None:
    written = letters(handout_pdf.write(board(text)))
    assert Counter("".join(text.split())) - Counter(unicodedata.normalize("NFKC", written)) == Counter()


def test_words_wider_than_their_column_are_broken_and_stay_on_the_page() -> None:
    word = "Phakoemulsifikation" * 8
    grid = Table(
        tuple(wording("Head") for _ in range(6)),
        (tuple(Cell(SafeText(KEY, word)) for _ in range(6)),),
        (1,) * 6,
        EMPTY,
    )
    blocks = (grid, Facts(((SafeText(KEY, word), SafeText(KEY, word)),)), Callout(SafeText(KEY, word)))
    data = handout_pdf.write(
        replace(board(), slides=(Slide("held", wording("Wide."), blocks),)), Sheet(upright=True)
    )
    assert letters(data).count("Phako") == 8 * 9
    assert "\u200b" not in letters(data)
    for one, (x, _, _) in placed(data):
        assert x < float(one.mediabox.width) - 36


def placed(data: bytes) -> Iterator[tuple[PageObject, tuple[float, float, float]]]:
    """Where each text starts, from the left and from below, and its size; points."""
    for one in reader(data).pages:
        found = _placed(one)
        assert found
        yield from ((one, each) for each in found)


def _placed(one: PageObject) -> list[tuple[float, float, float]]:
    found: list[tuple[float, float, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], _: object, size: float) -> None:
        if text.strip():
            x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
            found.append((x, y, abs(cm[3] * tm[3]) * size))

    one.extract_text(visitor_text=visit)
    return found


@pytest.mark.parametrize(
    ("size", "width", "height"), [(PaperSize.A4, 842, 595), (PaperSize.LETTER, 792, 612)]
)
def test_the_sheet_has_its_size(size: PaperSize, width: int, height: int) -> None:
    # ISO 216 A4 210 x 297 mm; ANSI/ASME Y14.1 size A 8.5 x 11 in; in points of 1/72 in.
    box = reader(handout_pdf.write(boards.every_block(), Sheet(size))).pages[0].mediabox
    assert (round(box.width), round(box.height)) == (width, height)
    upright = reader(handout_pdf.write(boards.every_block(), Sheet(size, upright=True))).pages[0].mediabox
    assert (round(upright.width), round(upright.height)) == (height, width)


def test_it_is_set_smaller_to_keep_to_its_pages_and_says_so() -> None:
    text = "A sentence of some length that is said again and again. " * 8
    many = board(*[text] * 8)
    free = handout_pdf.pages_of(handout_pdf.write(many))
    kept = handout_pdf.pages_of(handout_pdf.write(many, Sheet(pages=free - 1)))
    assert kept == free - 1
    assert kept == len(reader(handout_pdf.write(many, Sheet(pages=free - 1))).pages)


def test_what_does_not_fit_is_cut_short_and_says_so() -> None:
    text = SafeText(KEY, "A sentence of some length that is said again and again. " * 60)
    table = Table((wording("Head"),), ((Cell(text),),) * 30, (1,), wording("A table"))
    facts = Facts(((wording("Label"), text),) * 30)
    long = replace(
        board(), slides=(Slide("held", wording("A headline."), (Bullets((text,) * 30), facts, table)),)
    )
    fitted = handout_pdf.fit(long, Sheet(pages=1))
    assert fitted.fits
    assert fitted.pages == len(reader(fitted.pdf).pages) == 1
    assert fitted.points == min(page.SIZES)
    assert fitted.cut is not None
    assert f"atextafter{fitted.cut.words}words" in letters(fitted.pdf)
    (told,) = fitted.told
    assert told == fitted.cut.told


# A line of a page holds about 99 letters of 8.5 points, 16 words of six: fewer words save no line.
def test_what_is_cut_short_is_cut_at_a_phrase_and_tells_how_many_entries_are_gone() -> None:
    text = SafeText(
        KEY, "The join was sound, the bowel below it was pink, and the gap was left open as is usual here."
    )
    facts = Facts(((wording("Label"), text),) * 7)
    table = Table((wording("Head"),), ((Cell(text),),) * 9, (1,), wording("A table"))
    cut = Cut(words=16, cell=8, entries=6)
    long = replace(board(), slides=(Slide("held", wording("A headline."), (facts, table)),))
    first, second, told = shortened(long, cut).slides[0].blocks
    assert isinstance(first, Facts)
    assert isinstance(second, Table)
    rows = [said.reveal() for _, said in first.rows]
    phrase = "The join was sound, the bowel below it was pink\N{NO-BREAK SPACE}…"
    assert rows == [*[phrase] * 5, f"{phrase} (and 1 more)"]
    cells = [row[0].text.reveal() for row in second.rows]
    phrase = "The join was sound\N{NO-BREAK SPACE}…"
    assert cells == [*[phrase] * 5, f"{phrase} (and 3 more)"]
    assert told == Paragraph(cut.told, Tone.QUIET)


def test_what_cannot_be_cut_is_whole_and_says_how_many_pages_it_took() -> None:
    kept = Callout(SafeText(KEY, "One sentence of many to take away. " * 9))
    many = replace(board(), slides=(Slide("take_away", wording("Keep these."), (kept,) * 20),))
    fitted = handout_pdf.fit(many, Sheet(pages=1))
    assert not fitted.fits
    assert fitted.cut is None
    (told,) = fitted.told
    assert told.reveal().startswith(f"It takes {fitted.pages} pages, not 1")


# Body 10.5 points at first, nothing below 8.5: common practice, no source.
@pytest.mark.parametrize("upright", [True, False])
def test_nothing_is_set_smaller_than_can_be_read(upright: bool) -> None:
    assert max(page.SIZES) >= 10.5
    fitted = handout_pdf.fit(boards.every_block(), Sheet(upright=upright, pages=1))
    assert fitted.points == min(page.SIZES) == 8.5
    assert min(size for _, (_, _, size) in placed(fitted.pdf)) >= 8.49


def test_a_picture_is_one_page_however_long() -> None:
    many = board(*["word " * 60] * 30)
    assert picture_png.write(many)[:8] == b"\x89PNG\r\n\x1a\n"
    assert picture_svg.write(many).lstrip().startswith(b"<svg")


# ISO 216: A4 is 210 by 297 mm; a picture has 200 pixels to the inch.
@pytest.mark.parametrize(("upright", "wide"), [(True, 210), (False, 297)])
def test_a_picture_is_as_wide_as_its_sheet_and_as_high_as_it_needs(upright: bool, wide: int) -> None:
    boards_ = (board(*["word " * 60] * count) for count in (2, 30))
    written = [picture_png.write(one, Sheet(upright=upright)) for one in boards_]
    low, high = (Image.open(io.BytesIO(one)).size for one in written)
    assert low[0] == high[0] == pytest.approx(wide / 25.4 * 200, abs=1)
    assert low[1] < high[1]


# WCAG 2.2, success criterion 1.4.3 and its definition of relative luminance.
def test_every_ink_can_be_read_on_its_ground_also_in_grey() -> None:
    source = (resources.templates() / "handout.typ").read_text("utf-8")
    inks = dict(re.findall(r'#let (ink|soft|deep) = rgb\("#(\w{6})"\)', source))
    (wash,) = re.findall(r'#let wash = rgb\("#(\w{6})"\)', source)
    assert len(inks) == 3
    for ink in inks.values():
        for ground in ("ffffff", wash):
            assert (luminance(ground) + 0.05) / (luminance(ink) + 0.05) >= 4.5


def luminance(code: str) -> float:
    parts = [int(code[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.usefixtures("seen")
@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("language", labels.languages())
@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_a_paper_of_so_many_pages_has_no_more_on_any_sheet(
    root: Path, language: str, size: PaperSize
) -> None:
    folder = load(root, Use.REVIEW)
    case = apply(folder, propose(folder, names=NoNameModel()))
    with labels.speaking(language):
        papers = compose_papers(case, compose(case, Use.REVIEW), Use.REVIEW, size=size)
        summaries = [one for one in papers if one.sheet.pages is not None]
        assert [one.sheet.pages for one in summaries] == [1, 2]
        fitted = [handout_pdf.fit(one.board, one.sheet) for one in summaries]
    for one, its in zip(summaries, fitted, strict=True):
        assert its.pages == len(reader(its.pdf).pages) == one.sheet.pages
        # About a line of the page, and all actions: less would tell half of what a meeting agreed.
        assert its.cut is None or (its.cut.words >= 20 and its.cut.entries >= 8)


@pytest.fixture(scope="module", params=CASES, ids=lambda path: path.name)
def reviewed(
    request: pytest.FixtureRequest, built: Callable[[Path, Use], BuildReport]
) -> tuple[Path, BuildReport]:
    """A bundled case and what is built of it for the department review, drawn as it is for the room."""
    return request.param, built(request.param, Use.REVIEW)


def test_the_papers_of_a_bundled_case_keep_to_their_pages_and_name_nobody(
    reviewed: tuple[Path, BuildReport],
) -> None:
    root, report = reviewed
    written = {path.name: path.read_bytes() for path in report.papers if path.suffix == ".pdf"}
    (summary,) = [data for name, data in written.items() if "one-page-summary" in name]
    assert handout_pdf.pages_of(summary) == 1
    planted = yaml.safe_load((root / "identifiers.yaml").read_text("utf-8"))
    names = [one["name"] for one in planted["people"] + planted["places"]]
    names += [one["value"] for one in planted["numbers"] if len(one["value"]) > 4]
    assert len(names) > 5
    for data in written.values():
        said = [one.extract_text() for one in reader(data).pages]
        said += [str(one.get("/Alt", "")) for one in elements(data)]
        words = " ".join(" ".join(said).split())
        for name in names:
            assert not re.search(rf"\b{re.escape(name)}\b", words, re.IGNORECASE)


def test_columns_move_to_save_lines_and_keep_their_longest_word() -> None:
    asked, words, inset = [100.0, 300.0], [40.0, 40.0], 10.0
    texts = [[600.0, 50.0]] * 5
    wide = settle(asked, texts, words, inset)
    assert sum(wide) == pytest.approx(sum(asked))
    assert wide[0] > 1.5 * asked[0]
    assert all(column >= word + inset for column, word in zip(wide, words, strict=True))
    assert settle(asked, [[50.0, 50.0]], words, inset) == asked
    assert settle(asked, [[600.0, 50.0]], [40.0, 290.0], inset) == asked


def test_a_column_is_no_narrower_than_its_longest_word_while_others_have_width_to_give() -> None:
    # By hand: 110 points are wanted of 100, and the other column can give them.
    assert settle([100.0, 300.0], [[80.0, 50.0]], [100.0, 40.0], 10.0) == [110.0, 290.0]
    # Both are too narrow: words will be broken, and the widths stay as asked for.
    assert settle([100.0, 300.0], [[100.0, 50.0]], [150.0, 300.0], 10.0) == [100.0, 300.0]


def test_what_the_web_page_says_the_pdf_says() -> None:
    told = board("Some words", "and others")
    assert "Paragraph" not in letters(handout_pdf.write(told))
    for text in ("Somewords", "andothers", "Aheadline."):
        assert text in letters(handout_pdf.write(told))
    quiet = replace(told, slides=(Slide("held", wording("Head."), (Paragraph(wording("Only this.")),)),))
    assert "Onlythis." in letters(handout_pdf.write(quiet))


def test_a_page_that_was_set_before_is_kept_and_each_of_its_words_counts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    first, letter = handout_pdf.write(board("One.")), Sheet(size=PaperSize.LETTER)
    monkeypatch.setattr(page.fonts, "typeset", lambda *_, **__: pytest.fail("it was set again"))
    assert handout_pdf.write(board("One.")) == first
    for other, sheet in ((board("Two."), Sheet()), (board("One."), letter)):
        with pytest.raises(pytest.fail.Exception):
            handout_pdf.write(other, sheet)


def lines(table: Table) -> dict[str, float]:
    """How high on its page each word stands."""
    slide = Slide("actions", wording("A headline."), (table,))
    (one,) = reader(handout_pdf.write(replace(boards.every_block(), slides=(slide,)))).pages
    found: dict[str, float] = {}

    def visit(text: str, ctm: list[float], tm: list[float], *rest: object) -> None:
        if text.strip():
            found.setdefault(text.strip(), ctm[3] * tm[5] + ctm[5])

    one.extract_text(visitor_text=visit)
    return found


def test_a_stamp_stands_on_the_line_of_its_words_and_makes_no_row_higher() -> None:
    # Common practice, no source.
    def rows(stamp: SafeText) -> Table:
        told = (Cell(wording("alpha"), stamp), Cell(wording("beta")))
        return Table((wording("Head"),), tuple((one,) for one in told), (1,), wording(""))

    plain, stamped = lines(rows(EMPTY)), lines(rows(wording("OVER")))
    assert stamped["OVER"] == pytest.approx(stamped["alpha"], abs=0.1)
    assert stamped["alpha"] - stamped["beta"] == pytest.approx(plain["alpha"] - plain["beta"], abs=0.1)


def test_lines_to_write_on_have_a_head_of_one_line_and_no_caption() -> None:
    def to_write(*texts: str) -> Table:
        rows = tuple((Cell(SafeText(KEY, text)),) for text in texts)
        return Table((wording("Your answer"),), rows, (1,), wording("Room to write"))

    empty, filled = lines(to_write("", "2")), lines(to_write("", "gamma"))
    assert "Room to write" not in empty
    assert "Room to write" in filled
    assert "Your answer" in empty


@pytest.mark.parametrize("before", range(20, 46, 2))
def test_no_table_begins_with_one_row_alone_at_the_foot_of_a_page(before: int) -> None:
    # Common practice, no source. Above the table stands what fills a page more and more.
    filled = Bullets(tuple(SafeText(KEY, f"line {n}") for n in range(before)))
    rows = tuple((Cell(SafeText(KEY, f"row {n}")),) for n in range(80))
    table = Table((wording("Head"),), rows, (1,), wording("All events"))
    slides = (Slide("held", wording("A headline."), (filled,)), Slide("events", wording("Events."), (table,)))
    data = handout_pdf.write(replace(boards.every_block(), slides=slides))
    pages = [one.extract_text() for one in reader(data).pages]
    (first,) = (text for text in pages if "row 0\n" in text)
    assert "row 2\n" in first
    assert "Events." in first


@pytest.mark.parametrize("before", range(20, 38, 3))
def test_no_table_ends_with_one_row_alone_at_the_head_of_a_page(before: int) -> None:
    # Common practice, no source.
    filled = Bullets(tuple(SafeText(KEY, f"line {n}") for n in range(before)))
    rows = tuple((Cell(SafeText(KEY, f"row {n}")), Cell(SafeText(KEY, "told"))) for n in range(30))
    table = Table((wording("Head"), wording("What")), rows, (1, 1), wording("All events"))
    slides = (Slide("held", wording("A headline."), (filled,)), Slide("events", wording("Events."), (table,)))
    data = handout_pdf.write(replace(boards.every_block(), slides=slides))
    pages = [one.extract_text() for one in reader(data).pages]
    (last,) = (text for text in pages if "row 29 " in text)
    assert "row 28 " in last
