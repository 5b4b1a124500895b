from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from mmbuilder.analysis.barriers import Barrier, Barriers
from mmbuilder.figures.barrier_diagram import LEAST, compose, draw
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.fold import TOO_LONG
from mmbuilder.figures.sheet import Dash, Sheet, Stroke
from mmbuilder.figures.style import Ink
from mmbuilder.safe.terms import BarrierState
from tests.figures.drawings import DOZENS, faults, sizes, texts, told
from tests.figures.samples import safe

S = BarrierState
SLIDE = Size(31, 12.5)


def barriers(*states: BarrierState) -> Barriers:
    bars = tuple(Barrier(safe(f"check {n} of the lens"), state) for n, state in enumerate(states, 1))
    return Barriers(safe("Wrong lens picked"), bars, safe("Lens in the eye"))


_BARS = st.lists(st.builds(Barrier, texts(), st.sampled_from(S)), min_size=1, max_size=14).map(tuple)


@DOZENS
@given(st.builds(Barriers, texts(), _BARS, texts()), sizes(LEAST))
def test_whatever_is_said_nothing_overlaps_leaves_the_frame_or_is_lost(found: Barriers, size: Size) -> None:
    sheets = compose(found, size)
    assert faults(sheets) == []
    shown = told(sheets).casefold()
    for text in (found.start, found.end, *(bar.what for bar in found.barriers)):
        for word in text.split():
            assert word.reveal().casefold() in shown or TOO_LONG.reveal() in shown
    for state in {bar.state for bar in found.barriers}:
        assert state.value in shown


def tip(sheet: Sheet) -> float | None:
    """How far the arrow goes; nothing if there is none."""
    arrows = [i for i in sheet.items if isinstance(i, Stroke) and i.ink is Ink.BLUE]
    return max((x for item in arrows for line in item.lines for x, _ in line), default=None)


def places(sheet: Sheet) -> list[float]:
    """The middles of the words for the states, which stand over their bars."""
    words = {state.value.capitalize() for state in S}
    return sorted((w.box.left + w.box.right) / 2 for w in sheet.words if w.text.reveal() in words)


@pytest.mark.parametrize(
    ("states", "stop"),
    [
        ((S.HELD,), 0),
        ((S.FAILED, S.HELD), 1),
        ((S.ABSENT, S.FAILED, S.HELD, S.ABSENT), 2),
        ((S.FAILED, S.HELD, S.HELD), 1),
        ((S.FAILED, S.ABSENT), None),
    ],
)
def test_the_arrow_goes_through_what_failed_or_was_absent_and_stops_at_the_first_that_held(
    states: tuple[BarrierState, ...], stop: int | None
) -> None:
    (sheet,) = compose(barriers(*states), SLIDE)
    end, bars = tip(sheet), places(sheet)
    assert end is not None
    assert len(bars) == len(states)
    assert sum(x < end for x in bars) == (len(states) if stop is None else stop)
    words = told((sheet,))
    assert ("Not reached" in words) == (stop is not None)
    assert ("Reached" in words) == (stop is None)


@pytest.mark.usefixtures("no_cache")
def test_the_three_states_are_told_apart_in_grey_by_their_shape() -> None:
    found = barriers(S.ABSENT, S.FAILED, S.HELD)
    (sheet,), made = compose(found, SLIDE), draw(found, SLIDE)
    with Image.open(io.BytesIO(made.pictures[0].png)) as picture:
        grey = picture.convert("L")
    scale, bottom = 150 / 72, min(w.box.top for w in sheet.words if w.text.reveal().startswith("Check"))
    middle = (20 + bottom - 5) / 2

    def at(x: float, down: float) -> int:
        return int(grey.getpixel((round(x * scale), round((middle + down) * scale))))

    absent, failed, held = places(sheet)
    for down, dark in ((-60, (False, True, True)), (-13, (False, False, True)), (60, (False, True, True))):
        assert tuple(at(x, down) < 64 for x in (absent, failed, held)) == dark
        assert all(at(x, down) > 240 or at(x, down) < 64 for x in (absent, failed, held))
    assert at(held, 0) < 16
    assert at(absent, 0) == at(failed, 0) == at((absent + failed) / 2, 0) > 60  # the arrow
    assert at((failed + held) / 2, 0) == at(failed, 0)
    assert at(held + 30, 0) == 255


def test_an_absent_barrier_and_an_end_that_was_not_reached_are_dashed() -> None:
    def dashed(*states: BarrierState) -> int:
        (sheet,) = compose(barriers(*states), SLIDE)
        return sum(isinstance(i, Stroke) and i.dash is Dash.DASHED for i in sheet.items)

    assert dashed(S.FAILED, S.FAILED) == 0
    assert dashed(S.FAILED, S.ABSENT) == 1
    assert dashed(S.ABSENT, S.HELD) == 2


def test_more_barriers_than_a_sheet_holds_go_on_and_the_arrow_with_them() -> None:
    states = [S.FAILED] * 12 + [S.HELD] + [S.ABSENT] * 11
    first, second, third = compose(barriers(*states), SLIDE)
    assert "on the next sheet" in told((first,))
    assert "from the sheet before" in told((second,))
    assert (tip(first) or 0) > max(places(first))
    assert (tip(second) or 0) < max(places(second))
    assert tip(third) is None
    assert "Not reached" in told((third,))


def test_words_without_room_are_numbered_with_a_list_under_the_bars() -> None:
    bars = tuple(Barrier(safe(f"reconciliation of counterindications, step {n}"), S.FAILED) for n in range(9))
    (sheet,) = compose(Barriers(safe("start"), bars, safe("end")), SLIDE)
    assert sum(w.text.reveal() == "4" for w in sheet.words) == 2
    assert all(w.box.top > sheet.height * 0.4 for w in sheet.words if "Reconciliation" in w.text.reveal())


def test_a_list_that_does_not_fit_under_the_bars_is_on_a_further_sheet_which_is_said() -> None:
    bars = tuple(Barrier(safe("counterindications and more of them " * 9), S.FAILED) for _ in range(9))
    first, *others = compose(Barriers(safe("start"), bars, safe("end")), SLIDE)
    assert "listed on the next sheet" in told((first,))
    assert others
    assert all("as in the diagram before" in told((sheet,)) for sheet in others)


def test_no_barrier_and_too_small_a_size_are_refused() -> None:
    with pytest.raises(ValueError, match="found no barrier, expected one or more"):
        compose(barriers(), SLIDE)
    with pytest.raises(ValueError, match="expected at least 14 by 6 cm"):
        compose(barriers(S.HELD), Size(31, 5))


def test_alt_text_and_rows_say_order_state_and_end() -> None:
    made = draw(barriers(S.ABSENT, S.HELD), SLIDE)
    assert made.alt.reveal() == (
        "Barriers from Wrong lens picked to Lens in the eye, in order: 1 check 1 of the lens: absent; "
        "2 check 2 of the lens: held. Stopped at barrier 2: the end was not reached."
    )
    assert [[cell.reveal() for cell in row] for row in made.rows[1:]] == [
        ["1", "check 1 of the lens", "absent"],
        ["2", "check 2 of the lens", "held"],
    ]


@pytest.fixture
def no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", "")


@pytest.mark.usefixtures("no_cache")
def test_the_same_barriers_give_the_same_bytes() -> None:
    assert draw(barriers(S.FAILED, S.HELD), SLIDE) == draw(barriers(S.FAILED, S.HELD), SLIDE)
