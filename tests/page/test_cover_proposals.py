"""Which findings are open, which belong together, which stay. Expected values are counted by hand."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.page.proposals import as_box, grouped, open_proposals, staying
from mmbuilder.scrub.plan import Decision, Layer, PixelBox

KIND = "text in the picture"


def found(left: int, top: int, right: int, bottom: int, sure: float = 0.9, keep: str = "") -> PixelBox:
    box = PixelBox(
        left, top, right, bottom, KIND, Layer.MODEL, reason=f"looks like text; confidence {sure:.2f}"
    )
    return replace(box, decision=Decision.KEEP, reason=keep) if keep else box


STRIP = found(100, 10, 300, 40)


def test_what_nobody_drew_is_open() -> None:
    assert open_proposals([STRIP], [], []) == (STRIP,)
    assert open_proposals([STRIP], [(100, 10, 200, 30)], []) == ()  # covered
    assert open_proposals([STRIP], [], [(90, 0, 300, 60)]) == ()  # kept
    assert open_proposals([STRIP], [(100, 10, 100, 30)], []) == (STRIP,)  # half of it
    assert open_proposals([STRIP], [(100, 10, 100, 30)], [(200, 10, 100, 30)]) == ()  # the halves together


def test_an_older_drawing_in_a_plan_does_not_count() -> None:
    drawn = PixelBox(100, 10, 300, 40)
    assert drawn.layer is Layer.AUTHOR
    assert open_proposals([STRIP, drawn], [], []) == (STRIP,)


def test_pieces_of_one_line_are_one_proposal() -> None:
    pieces = [found(100, 10, 200, 40, 0.7), found(199, 12, 300, 40, 0.95), found(100, 300, 150, 320)]
    first, second = grouped(pieces, [], [])
    assert (first.box, first.boxes) == ((100, 10, 200, 30), ((100, 10, 200, 30),))
    assert first.sure == "95 % sure"
    assert second.box == (100, 300, 50, 20)


def test_a_slanting_line_keeps_its_pieces() -> None:
    # Together they have 3 x 400 square pixels, less what they share; the box round them has 3 600.
    pieces = [found(0, 0, 20, 20), found(20, 20, 40, 40), found(40, 40, 60, 60)]
    (line,) = grouped(pieces, [], [])
    assert (line.box, line.boxes) == ((0, 0, 60, 60), tuple(as_box(piece) for piece in pieces))


def test_one_box_round_pieces_does_not_reach_into_what_stays() -> None:
    pieces = [found(0, 0, 100, 20), found(0, 20, 80, 40)]
    assert len(grouped(pieces, [], [])[0].boxes) == 1
    assert len(grouped(pieces, [], [(85, 25, 50, 10)])[0].boxes) == 2


def test_a_line_that_reaches_past_a_cover_says_so() -> None:
    assert grouped([STRIP], [(0, 0, 150, 50)], [])[0].beside
    assert not grouped([STRIP], [(0, 200, 150, 50)], [])[0].beside


def test_what_stays_of_itself_has_its_reason() -> None:
    scale, name = found(0, 0, 40, 20, keep="scale: figures of a scale"), found(0, 100, 90, 120)
    assert staying([scale, name], [], []) == (scale,)
    assert staying([scale, name], [(0, 0, 50, 30)], []) == ()  # the author covers it
    assert staying([scale, name], [], [(0, 0, 50, 30)]) == ()  # the author keeps it
