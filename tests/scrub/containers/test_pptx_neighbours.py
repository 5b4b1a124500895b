"""What two boxes of a slide say only together, as a reader sees it, goes from both; what stands apart does not."""

from __future__ import annotations

import io

import pytest
from pptx import Presentation
from pptx.util import Inches

from mmbuilder.scrub.containers import pptx as leaf
from mmbuilder.scrub.containers.base import Result
from tests.scrub.containers import office_kit as kit

HALVES = ["the lighthouse", "keeper"]
"""Declared together; neither is anything by itself."""


def scrubbed(*boxes: tuple[str, float, float], grouped: bool = False) -> tuple[Result, list[str]]:
    """A slide with boxes an inch wide and half an inch high, at these inches, scrubbed; and what they say then."""
    show = Presentation()
    shapes = show.slides.add_slide(show.slide_layouts[6]).shapes
    into = shapes.add_group_shape().shapes if grouped else shapes
    for words, left, top in boxes:
        box = into.add_textbox(Inches(left), Inches(top), Inches(1), Inches(0.5))
        box.text_frame.text = words
    out = io.BytesIO()
    show.save(out)
    result = leaf.scrub(out.getvalue(), kit.SmallScrubber())
    (slide,) = Presentation(io.BytesIO(result.data)).slides
    shown = slide.shapes[0].shapes if grouped else slide.shapes
    return result, [shape.text_frame.text for shape in shown]


@pytest.mark.parametrize("grouped", [False, True], ids=["alone", "in a group"])
@pytest.mark.parametrize("place", [(2.1, 1.0), (1.0, 1.6)], ids=["beside", "under"])
def test_what_goes_on_in_the_next_box_goes_from_both(place: tuple[float, float], grouped: bool) -> None:
    result, said = scrubbed((HALVES[0], 1.0, 1.0), (HALVES[1], *place), grouped=grouped)
    assert said == ["[removed]", ""]
    assert [one.where for one in result.findings if "two boxes" in one.kind] == ["slide 1"]


def test_order_in_the_file_says_nothing() -> None:
    assert scrubbed((HALVES[1], 2.1, 1.0), (HALVES[0], 1.0, 1.0))[1] == ["", "[removed]"]


def test_a_label_says_what_the_number_beside_it_is() -> None:
    assert scrubbed(("MRN", 1.0, 1.0), ("4829", 2.1, 1.0))[1] == ["MRN", "[record number]"]
    assert scrubbed(("MRN", 1.0, 1.0), ("4829", 6.0, 1.0))[1] == ["MRN", "4829"]


def test_a_box_that_was_emptied_is_not_read_with_the_next() -> None:
    boxes = ((HALVES[0], 1.0, 1.0), (HALVES[1], 1.0, 1.6), ("Pressure 20", 1.0, 2.2))
    assert scrubbed(*boxes)[1] == ["[removed]", "", "Pressure 20"]


def test_what_stands_apart_is_read_apart() -> None:
    assert scrubbed((HALVES[0], 1.0, 1.0), (HALVES[1], 6.0, 1.0))[1] == HALVES
    assert scrubbed((HALVES[0], 1.0, 1.0), (HALVES[1], 3.0, 4.0))[1] == HALVES


def test_what_either_says_alone_is_told_once() -> None:
    result, said = scrubbed((f"Seen by {kit.NAME}", 1.0, 1.0), ("Pressure 20", 2.1, 1.0))
    assert kit.SURNAME not in said[0]
    assert said[1] == "Pressure 20"
    assert [one.where for one in result.findings if one.where.startswith("slide")] == ["slide 1, text 1"]


def test_a_label_of_a_form_is_one_though_a_word_of_it_went() -> None:
    show = Presentation()
    shapes = show.slides.add_slide(show.slide_layouts[6]).shapes
    table = shapes.add_table(2, 2, Inches(1), Inches(1), Inches(6), Inches(2)).table
    for row, words in enumerate((("Sheet", "448211"), (f"{' '.join(HALVES)}, MRN", "4829"))):
        for column, word in enumerate(words):
            table.cell(row, column).text = word
    out = io.BytesIO()
    show.save(out)
    result = leaf.scrub(out.getvalue(), kit.SmallScrubber())
    made = Presentation(io.BytesIO(result.data)).slides[0].shapes[0].table
    assert [made.cell(1, column).text for column in (0, 1)] == ["[removed], MRN", "[record number]"]
