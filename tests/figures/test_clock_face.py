from __future__ import annotations

import io
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from mmbuilder.analysis.marked_side import Marked
from mmbuilder.figures import body_side
from mmbuilder.figures.clock_face import LEAST, compose, draw
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.fold import TOO_LONG, letter
from mmbuilder.figures.sheet import Box, Fill, Sheet, Words
from mmbuilder.figures.style import Ink
from mmbuilder.safe.orientation import Finding, Orientation, orient
from mmbuilder.safe.terms import Seat, Side, View
from tests.figures.drawings import DOZENS, bounds, faults, segments, sizes, texts, told
from tests.figures.samples import safe

SLIDE = Size(31, 12.5)
EYES = (Side.RIGHT, Side.LEFT)

_FINDING = st.builds(Finding, texts(4), st.integers(1, 12), st.sampled_from(View), st.booleans())
_EYE = st.builds(
    orient, st.sampled_from(EYES), st.sampled_from(Seat), st.lists(_FINDING, max_size=14).map(tuple)
)


@DOZENS
@given(_EYE, sizes(LEAST))
def test_whatever_was_found_nothing_overlaps_leaves_the_frame_or_is_lost(
    eye: Orientation, size: Size
) -> None:
    sheets = compose(eye, size)
    assert faults(sheets) == []
    assert _covered(sheets[0]) == []
    shown = told(sheets)
    for place in eye.places:
        for word in place.finding.name.split():
            assert word.reveal() in shown or TOO_LONG.reveal() in shown
    assert shown.count("surgeon's view") + shown.count("surgeon's") >= len(eye.places)


def _marks(sheet: Sheet) -> list[Box]:
    return [bounds(i.points) for i in sheet.items if isinstance(i, Fill) and len(i.points) == 8]


def _covered(sheet: Sheet) -> list[object]:
    """Words under a mark that are not its own, and marks that touch."""
    marks = _marks(sheet)
    found: list[object] = [(a, b) for n, a in enumerate(marks) for b in marks[n + 1 :] if a.overlaps(b)]
    return found + [w.text for w in sheet.words for m in marks if m.overlaps(w.box) and not w.box.inside(m)]


def word(sheet: Sheet, text: str) -> Words:
    return next(w for w in sheet.words if w.text.reveal() == text)


def middle(box: Box) -> tuple[float, float]:
    return (box.left + box.right) / 2, (box.top + box.bottom) / 2


@pytest.mark.parametrize("eye", EYES)
def test_temporal_is_at_the_readers_left_in_a_right_eye_and_at_the_right_in_a_left_one(eye: Side) -> None:
    # Source: check-values.md, "temporal side seen from the front: right eye 9 o'clock; left eye 3 o'clock" (MEM).
    (sheet,) = compose(orient(eye, Seat.SUPERIOR, ()), SLIDE)
    temporal, nasal = word(sheet, "Temporal"), word(sheet, "Nasal")
    assert (temporal.x < nasal.x) == (eye is Side.RIGHT)
    assert word(sheet, "Superior").y < temporal.y < word(sheet, "Inferior").y
    assert word(sheet, f"{eye.value.capitalize()} eye").size > 20
    hours = {n: middle(word(sheet, str(n)).box) for n in (3, 6, 9, 12)}
    assert hours[9][0] < hours[12][0] < hours[3][0]
    assert hours[12][1] < hours[9][1] < hours[6][1]


@pytest.mark.parametrize("hour", range(1, 13))
@pytest.mark.parametrize("eye", EYES)
def test_a_mark_stands_at_its_anatomical_hour(eye: Side, hour: int) -> None:
    (sheet,) = compose(orient(eye, Seat.TEMPORAL, (Finding(safe("tear"), hour, View.ANATOMICAL),)), SLIDE)
    (mark,) = _marks(sheet)
    x, y = middle(mark)
    # Source: check-values.md, "axis (TABO) = (3 - hour) x 30 mod 360", counted from the reader's right (CALC).
    angle = math.degrees(math.atan2(sheet.height / 2 - y, x - sheet.width / 2)) % 360
    assert angle == pytest.approx((3 - hour) * 30 % 360, abs=0.1)


@pytest.mark.parametrize("seat", Seat)
@pytest.mark.parametrize("eye", EYES)
def test_the_seat_is_outside_the_face_on_its_side_and_points_at_it(eye: Side, seat: Seat) -> None:
    (sheet,) = compose(orient(eye, seat, ()), SLIDE)
    (mark,) = (bounds(i.points) for i in sheet.items if isinstance(i, Fill) and len(i.points) == 3)
    (x, y), centre = middle(mark), (sheet.width / 2, sheet.height / 2)
    way = {
        Seat.SUPERIOR: (0, -1),
        Seat.INFERIOR: (0, 1),
        Seat.TEMPORAL: (-1 if eye is Side.RIGHT else 1, 0),
        Seat.NASAL: (1 if eye is Side.RIGHT else -1, 0),
    }[seat]
    sign = tuple(
        0 if abs(at - mid) < 1 else math.copysign(1, at - mid) for at, mid in zip((x, y), centre, strict=True)
    )
    assert sign == way
    assert f"Surgeon's seat ({seat.value})" in told((sheet,))


def test_a_label_gives_both_hours_each_with_its_view() -> None:
    wound = Finding(safe("wound"), 6, View.SURGEON, wound=True)
    made = orient(Side.RIGHT, Seat.TEMPORAL, (wound,))
    (sheet,) = compose(made, SLIDE)
    assert "wound: 9 o'clock anatomical, 6 o'clock surgeon's view" in told((sheet,))
    assert "to be checked" not in told((sheet,))
    label = word(sheet, "wound: 9 o'clock anatomical,")
    ends = [end for _, end in segments(sheet)]
    assert (
        min(math.dist(end, (label.box.right, label.box.bottom)) for end in ends) < 8
    )  # its line leads to it
    alt = draw(made, SLIDE).alt.reveal()
    assert alt.startswith(
        "Right eye seen from the front, nasal at the reader's right. Surgeon's seat: temporal"
    )
    assert "wound: 9 o'clock anatomical, 6 o'clock surgeon's view (temporal)." in alt
    assert [c.reveal() for c in draw(made, SLIDE).rows[1]] == [
        "wound", "9 o'clock", "6 o'clock", "temporal", "surgeon's view",
    ]  # fmt: skip


def test_what_is_contradicted_says_so_on_the_figure_and_why_in_its_alt_text() -> None:
    made = orient(Side.RIGHT, Seat.TEMPORAL, (Finding(safe("wound"), 3, View.ANATOMICAL, wound=True),))
    assert "(to be checked)" in told(compose(made, SLIDE))
    assert "To be checked: Wound is said to be at 3 o'clock anatomical" in draw(made, SLIDE).alt.reveal()


def test_what_finds_no_room_is_listed_on_a_further_sheet_under_its_letter() -> None:
    found = tuple(Finding(safe(f"finding {n}"), 9, View.ANATOMICAL) for n in range(20))
    first, second = compose(orient(Side.LEFT, Seat.SUPERIOR, found), SLIDE)
    assert "A–T" in told((first,))
    assert "listed on the next sheet" in told((first,))
    assert "T finding 19: 9 o'clock anatomical, " in told((second,))


def test_letters_go_on_after_z() -> None:
    assert [letter(n).reveal() for n in (0, 25, 26, 27, 52, 702)] == ["A", "Z", "AA", "AB", "BA", "AAA"]


def test_a_size_without_room_is_refused() -> None:
    with pytest.raises(ValueError, match="expected at least 20 by 9 cm"):
        compose(orient(Side.LEFT, Seat.SUPERIOR, ()), Size(15, 9))


@pytest.fixture
def no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", "")


@pytest.mark.usefixtures("no_cache")
def test_the_same_eye_gives_the_same_bytes_and_its_text_stays_text() -> None:
    made = orient(Side.RIGHT, Seat.TEMPORAL, (Finding(safe("tear"), 11, View.SURGEON),))
    assert draw(made, SLIDE) == draw(made, SLIDE)
    assert "Right eye" in draw(made, SLIDE).pictures[0].svg.decode()


# The figure for other specialties.


@DOZENS
@given(
    st.builds(Marked, st.sampled_from([Side.RIGHT, Side.LEFT, Side.BOTH]), texts(30)), sizes(body_side.LEAST)
)
def test_a_body_has_no_words_that_overlap_or_leave_the_frame(marked: Marked, size: Size) -> None:
    assert faults(body_side.compose(marked, size)) == []


@pytest.mark.usefixtures("no_cache")
@pytest.mark.parametrize(
    ("side", "left", "right"),
    # The patient faces the reader: geometry.
    [(Side.RIGHT, True, False), (Side.LEFT, False, True), (Side.BOTH, True, True)],
)
def test_the_patients_right_is_dark_at_the_readers_left_also_in_grey(
    side: Side, left: bool, right: bool
) -> None:
    made = body_side.draw(Marked(side, safe("hip")), SLIDE)
    with Image.open(io.BytesIO(made.pictures[0].png)) as picture:
        grey = picture.convert("L")
    x, y, step = grey.width / 2, grey.height * 0.4, grey.height * 0.05
    assert (grey.getpixel((round(x - step), round(y))) < 128) is left
    assert (grey.getpixel((round(x + step), round(y))) < 128) is right
    assert made.alt.reveal().startswith(
        {Side.BOTH: "Both sides: hip."}.get(side, f"{side.value.capitalize()} side: hip.")
    )


def test_the_side_is_named_in_words_where_it_is() -> None:
    (sheet,) = body_side.compose(Marked(Side.LEFT), SLIDE)
    right, left = word(sheet, "Patient's right"), word(sheet, "Patient's left")
    assert right.box.right < sheet.width / 2 < left.box.left
    assert (left.bold, left.ink) == (True, Ink.BLACK)
    assert not right.bold
    assert "the patient's right is on the reader's left" in told((sheet,))


def test_no_side_cannot_be_marked() -> None:
    with pytest.raises(ValueError, match="expected right, left or both"):
        body_side.compose(Marked(Side.NONE), SLIDE)
