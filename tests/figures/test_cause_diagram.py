from __future__ import annotations

import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageStat

from mmbuilder.analysis.causes import Cause, CauseRow, Causes
from mmbuilder.figures.cause_diagram import LEAST, compose, draw
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.fold import TOO_LONG
from mmbuilder.figures.sheet import Dots, Shape, Sheet, Words
from mmbuilder.figures.style import Ink
from mmbuilder.safe.terms import FactorRole, FactorRow
from mmbuilder.safe.text import SafeText
from tests.figures.drawings import DOZENS, faults, sizes, texts, told
from tests.figures.samples import safe

R = FactorRole
SLIDE = Size(31, 12.5)


def row(name: str, *causes: tuple[str, FactorRole]) -> CauseRow:
    return CauseRow(safe(name), tuple(Cause(safe(what), role) for what, role in causes))


EYE = Causes(
    safe("Capsule tear during lens removal"),
    (
        row("patient", ("small pupil on tamsulosin", R.CONTRIBUTORY), ("could not lie flat", R.CONTRIBUTORY)),
        row("task", ("no pupil device in the tray", R.ROOT), ("no question about tamsulosin", R.ROOT)),
        row("individual", ("second week at this microscope", R.CONTRIBUTORY)),
        row("team", ("scrub nurse changed halfway", R.CONTRIBUTORY), ("music", R.INCIDENTAL)),
        row("work environment", ("list overrun by 70 min", R.CONTRIBUTORY), ("microscope fault", R.EXCLUDED)),
        row("organisation", ("two theatres share one set of hooks", R.ROOT)),
        row("institution"),
    ),
)


def crowded(each: int, words: str = "factor {} of this row, told at some length") -> Causes:
    roles = list(R)
    rows = [row(r.value, *((words.format(n), roles[n % 4]) for n in range(each))) for r in FactorRow]
    return Causes(EYE.event, tuple(rows))


@st.composite
def causes(draw: st.DrawFn) -> Causes:
    cause = st.builds(Cause, texts(), st.sampled_from(R))
    rows = st.builds(CauseRow, texts(3), st.lists(cause, max_size=6).map(tuple))
    return Causes(draw(texts()), tuple(draw(st.lists(rows, min_size=1, max_size=7))))


@DOZENS
@given(causes(), sizes(LEAST))
def test_whatever_is_said_nothing_overlaps_leaves_the_frame_or_is_lost(found: Causes, size: Size) -> None:
    sheets = compose(found, size)
    assert faults(sheets) == []
    shown = told(sheets).casefold()
    for text in _texts(found):
        for word in text.split():
            assert word.reveal().casefold() in shown or TOO_LONG.reveal() in shown


def _texts(found: Causes) -> list[SafeText]:
    return [found.event, *(r.name for r in found.rows), *(c.what for r in found.rows for c in r.causes)]


def test_a_word_is_given_up_only_if_the_whole_sheet_is_too_narrow_for_it() -> None:
    def said(letters: int) -> str:
        return told(compose(Causes(EYE.event, (row("task", ("x" * letters, R.ROOT)),)), SLIDE))

    assert "x" * 110 in said(110)
    assert TOO_LONG.reveal() in said(200)


def marks(sheet: Sheet) -> dict[Shape, int]:
    dots = [item for item in sheet.items if isinstance(item, Dots)]
    return {shape: sum(len(d.points) for d in dots if d.shape is shape) for shape in Shape}


def test_the_eye_fits_one_slide_with_every_word_and_a_key_to_the_roles() -> None:
    sheets = compose(EYE, SLIDE)
    assert len(sheets) == 1
    words = told(sheets)
    for role in FactorRole:
        assert role.value in words
    for name in ("Patient", "Work environment", "Institution", "nothing recorded"):
        assert name in words
    found = marks(sheets[0])  # one of each shape is in the key
    assert [found[s] for s in (Shape.SQUARE, Shape.DOT, Shape.RING, Shape.CROSS)] == [
        3 + 1,
        5 + 1,
        1 + 1,
        1 + 1,
    ]


def test_ribs_lean_to_a_head_at_the_right() -> None:
    (sheet,) = compose(EYE, SLIDE)
    head = next(w for w in sheet.words if w.text.reveal() == "Capsule tear during")
    event = [w for w in sheet.words if w.size > 14]
    top, bottom = min(e.box.top for e in event), max(e.box.bottom for e in event)
    level = [w for w in sheet.words if w not in event and w.box.top < bottom and top < w.box.bottom]
    assert all(w.box.right < min(e.x for e in event) for w in level)
    names = {w.text.reveal(): w for w in sheet.words}
    upper = [names[name] for name in ("Patient", "Task", "Individual", "Team")]
    lower = [names[name] for name in ("Work environment", "Organisation", "Institution")]
    assert [w.x for w in upper] == sorted(w.x for w in upper)
    assert max(w.y for w in upper) < head.y < min(w.y for w in lower)


def test_on_paper_no_factor_stands_in_a_tower_of_single_words() -> None:
    """The width of a page is for words, over the head as well (common practice, no source)."""
    long = "answered by the anaesthetic side and not repeated as a finding to the surgeon"
    cause, counts = Cause(safe(long), R.CONTRIBUTORY), (2, 2, 2, 1, 1, 1, 1)
    rows = tuple(CauseRow(r.name, (cause,) * n) for n, r in zip(counts, EYE.rows, strict=True))
    (sheet,) = compose(Causes(EYE.event, rows), Size(24, 13.5))
    lines = [w.text.reveal() for w in sheet.words if w.text.reveal() in long]
    assert len(lines) < 5 * sum(counts), lines
    head = min(w.x for w in sheet.words if w.size > 14)
    assert max(w.box.right for w in sheet.words if w.text.reveal() in lines) > head


def test_what_finds_no_room_is_numbered_with_a_list_beside_it() -> None:
    counts, full = (
        (4, 3, 2, 3, 2, 1, 0),
        crowded(6, "factor {} of this row, told at some length for the test of room"),
    )
    some = tuple(CauseRow(r.name, r.causes[:n]) for n, r in zip(counts, full.rows, strict=True))
    sheets = compose(Causes(EYE.event, some), SLIDE)
    assert len(sheets) == 1
    numbers = [w for w in sheets[0].words if w.text.reveal() == "9"]
    assert len(numbers) == 2
    assert min(w.x for w in numbers) < sheets[0].width * 0.48 < max(w.x for w in numbers)


def test_what_finds_no_room_beside_either_is_on_further_sheets_which_is_said() -> None:
    sheets = compose(crowded(6), SLIDE)
    assert len(sheets) > 1
    assert "listed on the next sheet" in told(sheets[:1])
    assert all("as in the diagram before" in told((sheet,)) for sheet in sheets[1:])
    shown = [w.text.reveal() for sheet in sheets[1:] for w in sheet.words]
    assert [n for n in range(1, 43) if str(n) not in shown] == []
    assert {(sheet.width, sheet.height) for sheet in sheets} == {SLIDE.points}


@pytest.mark.parametrize("rows", [0, 8])
def test_no_row_and_more_than_seven_are_refused(rows: int) -> None:
    with pytest.raises(ValueError, match=f"found {rows} rows, expected 1 to 7"):
        compose(Causes(EYE.event, EYE.rows[:1] * rows), SLIDE)


def test_a_size_without_room_for_readable_words_is_refused() -> None:
    with pytest.raises(ValueError, match="found 10 by 12 cm, expected at least 16 by 8 cm"):
        compose(EYE, Size(10, 12))


def ink(role: FactorRole) -> float:
    """Mean darkness of the diagram of one factor, in grey and without its key."""
    made = draw(Causes(safe("event"), (row("task", ("the same words", role)),)), SLIDE)
    with Image.open(io.BytesIO(made.pictures[0].png)) as picture:
        grey = picture.convert("L").crop((0, 0, picture.width, picture.height - 80))
    return 255 - ImageStat.Stat(grey).mean[0]


@pytest.mark.usefixtures("no_cache")
def test_a_root_cause_has_the_strongest_ink_in_grey() -> None:
    strengths = [ink(role) for role in (R.ROOT, R.CONTRIBUTORY, R.INCIDENTAL)]
    assert strengths == sorted(strengths, reverse=True)
    assert len({round(s, 3) for s in strengths}) == 3
    assert ink(R.EXCLUDED) < strengths[1]


@pytest.fixture
def no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", "")


@pytest.mark.usefixtures("no_cache")
def test_pictures_are_the_same_each_time_the_size_of_the_slide_and_their_text_stays_text() -> None:
    first, second = draw(EYE, SLIDE), draw(EYE, SLIDE)
    assert first == second
    svg = first.pictures[0].svg.decode()
    sizes_ = [float(size) for size in re.findall(r"(?:font-size: |font: (?:bold |700 )?)([\d.]+)px", svg)]
    assert len(sizes_) == svg.count("<text")
    assert min(sizes_) >= 14
    assert "two theatres share" in svg
    with Image.open(io.BytesIO(first.pictures[0].png)) as picture:
        assert picture.size == (round(31 / 2.54 * 150), round(12.5 / 2.54 * 150))


def test_an_empty_bone_is_quiet_and_the_key_says_what_it_means() -> None:
    (sheet,) = compose(EYE, SLIDE)
    words = {item.text.reveal(): item for item in sheet.items if isinstance(item, Words)}
    assert not words["Institution"].bold
    assert words["Institution"].ink is Ink.GREY
    assert words["Organisation"].bold
    assert "nothing recorded" not in words
    assert "thin line: nothing recorded" in words
    (full,) = compose(Causes(EYE.event, EYE.rows[:-1]), SLIDE)
    assert not any("nothing recorded" in one.text.reveal() for one in full.items if isinstance(one, Words))


def test_alt_text_and_rows_say_all_that_the_figure_shows() -> None:
    made = draw(EYE, SLIDE)
    alt = made.alt.reveal()
    assert alt.startswith("Cause diagram of: Capsule tear during lens removal. Patient: small pupil")
    assert "microscope fault (considered and excluded)" in alt
    assert "Institution: nothing recorded." in alt
    assert len(made.rows) == 1 + sum(len(r.causes) for r in EYE.rows)
    assert [cell.reveal() for cell in made.rows[3]] == ["task", "no pupil device in the tray", "root"]


def test_a_kept_picture_is_the_one_that_was_drawn(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    first = draw(EYE, SLIDE)
    monkeypatch.setattr("mmbuilder.figures.paint.png", None)
    assert draw(EYE, SLIDE) == first
