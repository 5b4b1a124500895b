from __future__ import annotations

import collections

import pytest
from fontTools.ttLib import TTFont
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from mmbuilder import fonts
from mmbuilder.formats._pptx import house, measure, text
from mmbuilder.formats._pptx.flow import Sheet, sheets
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.picture import arrange
from mmbuilder.formats._pptx.pieces import Figure, Grid, Text, grid
from mmbuilder.formats._pptx.stage import Seat
from mmbuilder.formats._pptx.style import HOUSE_FACE, STEPS
from mmbuilder.formats._pptx.text import Para
from mmbuilder.safe.text import EMPTY, SafeText, wording
from mmbuilder.storyboard.blocks import Block, Bullets, Callout, Cell, Facts, Paragraph, Picture, Slide, Table
from tests.formats import boards
from tests.formats.boards import safe

STAGE = house.stage()
SEATS = (STAGE.telling, STAGE.pause, STAGE.opening, STAGE.closing)

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
FIND = [Phase.explicit, Phase.reuse, Phase.generate]
"""Shrinking a slide of hundreds of words takes minutes and makes it no clearer."""

letters = st.text(alphabet="abcdefghiklmnopqrstuvwxyzäéßMW", min_size=1, max_size=18)
words = st.lists(letters, min_size=1, max_size=60)


class Counter:
    """Gives every word a number, so that each can be looked for."""

    def __init__(self) -> None:
        self.made: list[str] = []

    def told(self, parts: list[str]) -> str:
        start = len(self.made)
        self.made += [f"{word}{start + place}" for place, word in enumerate(parts)]
        return " ".join(self.made[start:])


@st.composite
def slides(draw: st.DrawFn) -> tuple[Slide, list[str]]:
    counter = Counter()

    def said(size: int = 60) -> object:
        return safe(counter.told(draw(st.lists(letters, min_size=1, max_size=size))))

    def rows(count: int, columns: int) -> tuple[tuple[Cell, ...], ...]:
        return tuple(tuple(Cell(said(25), said(4)) for _ in range(columns)) for _ in range(count))

    blocks: list[Block] = []
    for kind in draw(st.lists(st.sampled_from("pbftc"), min_size=1, max_size=4)):
        count = draw(st.integers(1, 9))
        if kind == "p":
            blocks.append(Paragraph(safe(counter.told(draw(words)) + ".")))
            counter.made[-1] += "."
        elif kind == "b":
            blocks.append(Bullets(tuple(said() for _ in range(count)), said(6), draw(st.booleans())))
        elif kind == "f":
            blocks.append(Facts(tuple((said(3), said()) for _ in range(count))))
        elif kind == "t":
            columns = draw(st.integers(1, 5))
            shares = tuple(draw(st.floats(0.5, 4)) for _ in range(columns))
            head = tuple(said(4) for _ in range(columns))
            blocks.append(Table(head, rows(count, columns), shares, wording("A table.")))
        else:
            blocks.append(Callout(said(), said(4)))
    headline = safe(counter.told(draw(st.lists(letters, min_size=1, max_size=30))))
    return Slide("held", headline, tuple(blocks), beside=draw(st.booleans())), counter.made


def laid(*blocks: Block, headline: SafeText = EMPTY) -> tuple[Sheet, ...]:
    slide = Slide("held", headline or wording("Many."), blocks)
    return sheets(slide, STAGE.telling, STAGE.telling, HOUSE_FACE)


def shown_words(made: tuple[Sheet, ...]) -> list[str]:
    """Every word in order of sheets; headings of tables and the headline once only."""
    found = _apart(made[0].headline.text.rsplit(" (1\u00a0of", 1)[0])
    seen: set[str] = set()
    for sheet in made:
        for placed in sheet.placed:
            piece = placed.piece
            if isinstance(piece, Text):
                paras = list(piece.paras)
            elif isinstance(piece, Grid):
                header = [para for cell in piece.header for para in cell if para.text not in seen]
                seen |= {para.text for para in header}
                paras = [*header, *(para for row in piece.rows for cell in row for para in cell)]
            else:
                paras = list(piece.caption)
            found += [word for para in paras for word in _apart(para.text)]
    return found


def _apart(text: str) -> list[str]:
    """Words, those that are held together on a line among them."""
    return text.replace("\u00a0", " ").split(" ")


@given(slides(), st.sampled_from(SEATS))
@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
def test_every_word_once_and_nothing_overflows(drawn: tuple[Slide, list[str]], seat: Seat) -> None:
    slide, told = drawn
    made = sheets(slide, seat, STAGE.telling, HOUSE_FACE)
    # By letters: a word wider than its column is broken, and must be neither lost nor doubled.
    assert collections.Counter("".join(shown_words(made))) == collections.Counter("".join(told))
    for place, sheet in enumerate(made):
        _fits(sheet, (seat if place == 0 else STAGE.telling), HOUSE_FACE.pitch)


def _fits(sheet: Sheet, seat: Seat, pitch: float) -> None:
    assert sheet.headline.height(seat.headline.w) <= seat.headline.h + 0.01
    lower = 0.0
    for placed in sheet.placed:
        box, piece = placed.box, placed.piece
        assert piece.height(box.w) <= box.h + 0.01
        assert box.bottom <= seat.body.bottom + 0.01
        assert box.right <= seat.body.right + 0.01
        assert box.y >= seat.headline.y + sheet.headline.height(seat.headline.w)
        if isinstance(piece, Text):
            inner = piece.inner(box.w)
            shown = [(line, para) for para in piece.paras for line in para.lines(inner)]
            widths = [measure.width(line, para.size, bold=para.bold) for line, para in shown]
            assert max(widths) <= inner + 0.01
        lower = max(lower, box.bottom)
    assert lower > 0


@given(words, st.floats(60, 800), st.sampled_from([18, 20, 24, 36]))
def test_lines_keep_every_word_and_the_width(parts: list[str], room: float, size: float) -> None:
    told = " ".join(parts)
    shown = measure.lines(told, room, size)
    assert "".join(shown).replace(" ", "") == "".join(parts)
    assert all(measure.width(line, size) <= room + 0.01 or len(line) == 1 for line in shown)


@given(words, st.floats(60, 800), st.integers(1, 12))
def test_a_cut_paragraph_loses_nothing(parts: list[str], width: float, lines: int) -> None:
    para = Para(" ".join(parts), 20)
    room = lines * para.pitch
    cut = para.cut(width, room)
    if cut is None:
        assert para.height(width) <= room + 0.01
        return
    head, tail = cut
    assert head.height(width) <= room + 0.01
    assert (head.text + tail.text).replace(" ", "") == "".join(parts)


def test_a_paragraph_is_cut_at_the_end_of_a_sentence() -> None:
    para = Para("One sentence stands here and is not short. " * 12 + "The last.", 20)
    cut = para.cut(300, 6 * para.pitch)
    assert cut is not None
    assert cut[0].text.endswith("short.")


def test_line_pitch_is_what_the_font_says() -> None:
    # Source: the `hhea` table of the face that ships (OpenType 1.9: ascender - descender + lineGap).
    for bold in (False, True):
        font = TTFont(fonts.path(bold=bold))
        head = font["hhea"]
        pitch = (head.ascent - head.descent + head.lineGap) / font["head"].unitsPerEm
        assert pitch == pytest.approx(measure.LINE, abs=0.001)


def test_widths_are_what_the_font_says() -> None:
    # Source: the `hmtx` table, read by fontTools and not by the library that measures.
    font = TTFont(fonts.path())
    cmap, metrics = font.getBestCmap(), font["hmtx"].metrics
    said = "The clip stands across the duct (T+0:42)"
    units = sum(metrics[cmap[ord(char)]][0] for char in said)
    expected = units / font["head"].unitsPerEm * 24
    assert measure.width(said, 24) == pytest.approx(expected * 1.01, rel=0.005)


def test_a_figure_takes_what_is_left() -> None:
    picture = boards.every_block().slides[4].blocks[0]
    shared = laid(picture, Paragraph(wording("One line.")))
    figures = [made[0].placed[0] for made in (laid(picture), shared)]
    assert all(isinstance(placed.piece, Figure) for placed in figures)
    assert figures[0].box.h > figures[1].box.h > 250


def test_charts_of_one_axis_have_one_size() -> None:
    short = boards.slide("timeline_before", wording("Short."), boards.every_block().slides[2].blocks[0])
    long = boards.slide("timeline_slice", safe("A headline of two lines " * 4), short.blocks[0])
    made = [
        sheets(slide, STAGE.telling, STAGE.telling, HOUSE_FACE)[0].placed[0].box for slide in (short, long)
    ]
    assert made[0] == made[1]


def test_content_is_shared_out_evenly() -> None:
    items = tuple(safe(f"Item {n} told in one line") for n in range(13))
    made = sheets(
        Slide("held", wording("Many."), (Bullets(items),)), STAGE.telling, STAGE.telling, HOUSE_FACE
    )
    counts = [len(sheet.placed[0].piece.paras) for sheet in made if isinstance(sheet.placed[0].piece, Text)]
    assert len(counts) == 2
    assert abs(counts[0] - counts[1]) <= 1


@pytest.mark.parametrize("count", range(1, 25))
def test_a_heading_is_not_left_alone_at_the_foot(count: int) -> None:
    filler = Bullets(tuple(safe(f"Item {n} told in one line") for n in range(count)))
    more = Bullets(tuple(safe(f"Thing {n} told in one line") for n in range(6)), wording("What held"))
    made = laid(filler, more)
    for sheet in made:
        last = sheet.placed[-1].piece
        assert isinstance(last, Text)
        assert last.paras[-1].text != "What held"


def test_empty_blocks_leave_no_empty_box() -> None:
    empty = (Paragraph(EMPTY), Bullets((EMPTY,)), Facts(()), Callout(EMPTY))
    assert [sheet.placed for sheet in laid(*empty)] == [()]


def test_split_of_nothing_fits() -> None:
    para = Para("word", 20)
    assert text.split((para,), 100, 1) == ((), (para,))


def test_the_use_gives_way_where_the_confidentiality_line_would_wrap() -> None:
    from mmbuilder.formats._pptx.footer import footer
    from mmbuilder.formats._pptx.shapes import Ids

    stage = house.stage()
    line = (
        "Confidential. For this department's complication review only. Do not copy or forward. "
        "Identifiers removed, reviewed by registrar."
    )
    parts = {
        seat.layout.name: len(list(footer(Ids(), seat, (line, "department review"), 5, stage.face)))
        for seat in (stage.telling, stage.pause)
    }
    assert list(parts.values()) == [3, 2], "line, use and number; beside the pause bar line and number"


def test_what_is_told_of_a_picture_stands_below_it_where_others_stand_beside() -> None:
    # As long as a caption and what could be seen are in the bundled cases: both columns stay on one sheet.
    told = (
        "The iris has come forward and the pupil is drawn towards the track, the reflex is red still. " * 2
        + "Ache. " * 6
    )
    picture = Picture(boards.still(1600, 900), wording("A still."), safe(told.strip()))
    options = [Bullets((wording("A fair reason for it"),), wording("A way forward")) for _ in range(3)]
    slide = Slide("options", wording("What now?"), (picture, *options), pause=True, beside=True)
    (sheet,) = sheets(slide, STAGE.pause, STAGE.pause, HOUSE_FACE)
    figure, column = (placed.piece for placed in sheet.placed)
    assert isinstance(figure, Figure)
    assert [para.text.replace("\xa0", " ") for para in figure.caption] == [told.strip()]
    assert isinstance(column, Text)
    assert "Ache." not in " ".join(para.text for para in column.paras)


def lines_of(count: int) -> Bullets:
    return Bullets(tuple(safe(f"Thing {n} told in one line") for n in range(count)))


def body() -> Box:
    return STAGE.telling.body


@pytest.mark.parametrize("block", [lines_of(3), Facts(((wording("Reason"), wording("So.")),) * 3)])
def test_a_few_words_stand_apart_and_lower_and_many_do_not(block: Block) -> None:
    # Common practice, no source: words crowded at the top of an empty slide look forgotten.
    (few,) = laid(block)
    (placed,) = few.placed
    close = placed.piece.aired(0).height(placed.box.w)
    assert placed.box.h > close * 1.15
    assert body().y < placed.box.y < body().y + body().h / 4
    assert placed.box.bottom <= body().bottom
    (full,) = laid(lines_of(8)) if isinstance(block, Bullets) else laid(Facts(block.rows * 3))
    assert full.placed[0].box.y == body().y


def test_both_columns_begin_at_one_height_and_have_the_same_air() -> None:
    slide = Slide("held_and_learned", wording("Two."), (lines_of(2), lines_of(3)), beside=True)
    (sheet,) = sheets(slide, STAGE.telling, STAGE.telling, HOUSE_FACE)
    left, right = sheet.placed
    assert left.box.y == right.box.y
    assert isinstance(left.piece, Text)
    assert isinstance(right.piece, Text)
    assert left.piece.air == right.piece.air > 0


def test_a_table_of_many_columns_is_not_set_larger_than_usual() -> None:
    def letters(columns: int) -> float:
        row = (Cell(wording("A cell")),) * columns
        table = Table((wording("Head"),) * columns, (row,), (1,) * columns, wording("A table."))
        (sheet,) = laid(table)
        assert isinstance(sheet.placed[0].piece, Grid)
        return sheet.placed[0].piece.letter

    assert letters(3) > STEPS[0].table
    assert letters(5) == STEPS[0].table


def test_a_long_cell_takes_what_the_others_can_spare() -> None:
    # Two letters more save no line of such a cell; a word more does.
    long = "Standard length tube in a neck of forty-nine centimetres; adjustable flange tubes are not stocked"
    row = (
        long,
        "theatre stock list",
        "The tube was at its limit when he sat up in bed",
        "Tube chosen by neck",
    )
    cells = tuple((Para(words, 20),) for words in row)
    head = tuple((Para(words, 20),) for words in ("What", "Evidence", "How it contributed", "Barrier"))
    made = grid(head, (cells,), (1.4, 1.0, 1.7, 1.05), "A grid.", 852)
    heights = [text.height(cell, wide - 10) for cell, wide in zip(cells, made.columns(852), strict=True)]
    lowest = min(max(heights), *(_with(made, step) for step in (51.0, 34.0, 17.0)))
    assert max(heights) <= lowest + 1e-6


def _with(made: Grid, step: float) -> float:
    """Height of the row if the first column took so much of the widest other one."""
    wide = list(made.columns(852))
    giver = max(range(1, len(wide)), key=lambda place: wide[place] - made.needed[place])
    wide[0], wide[giver] = wide[0] + step, wide[giver] - step
    return max(text.height(cell, width - 10) for cell, width in zip(made.rows[0], wide, strict=True))


@pytest.mark.parametrize(("words", "below"), [(3, True), (36, False)])
def test_a_short_caption_stands_below_an_upright_picture_and_a_long_one_beside_it(
    words: int, below: bool
) -> None:
    source = Picture(boards.still(600, 900), wording("A still."), safe("Caption " * words))
    (sheet,) = laid(source)
    (placed,) = sheet.placed
    assert isinstance(placed.piece, Figure)
    shown, told = arrange(placed.piece, source, placed.box)
    assert (told.y >= shown.bottom) == below
    assert (told.x >= shown.right) == (not below)
    assert not below or told.x == shown.x
