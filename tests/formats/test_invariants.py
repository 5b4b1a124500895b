"""The checker itself: each planted fault has to be found."""

from __future__ import annotations

import io
from collections.abc import Callable

import pytest
from pptx import Presentation
from pptx.dml.color import RGBColor
from pptx.presentation import Presentation as Deck
from pptx.util import Pt

from mmbuilder.formats import _package as package
from tests.formats.invariants import check_deck, contrast


def _small_letters(deck: Deck) -> None:
    deck.slides[7].placeholders[1].text_frame.paragraphs[0].runs[0].font.size = Pt(14)


def _pale_letters(deck: Deck) -> None:
    deck.slides[7].placeholders[1].text_frame.paragraphs[0].runs[0].font.color.rgb = RGBColor(
        0xBB, 0xBB, 0xBB
    )


def _off_the_slide(deck: Deck) -> None:
    deck.slides[4].shapes[1].left = deck.slide_width


def _one_over_another(deck: Deck) -> None:
    box = deck.slides[7].shapes.title
    deck.slides[7].placeholders[1].top = box.top + 1


def _picture_untold(deck: Deck) -> None:
    picture = next(shape for shape in deck.slides[4].shapes if shape.name.startswith("Picture"))
    picture._element.nvPicPr.cNvPr.set("descr", "")


def _same_id_twice(deck: Deck) -> None:
    shapes = deck.slides[4].shapes
    shapes[1]._element.nvPicPr.cNvPr.set("id", str(shapes[0].shape_id))


def _same_headline_twice(deck: Deck) -> None:
    deck.slides[5].shapes.title.text_frame.text = deck.slides[4].shapes.title.text_frame.text


def _empty_placeholder(deck: Deck) -> None:
    deck.slides[7].placeholders[1].text_frame.text = ""


def _link_out(deck: Deck) -> None:
    deck.slides[1].part.relate_to("https://example.org/", "http://example.org/kind", is_external=True)


FAULTS = (
    _small_letters,
    _pale_letters,
    _off_the_slide,
    _one_over_another,
    _picture_untold,
    _same_id_twice,
    _same_headline_twice,
    _empty_placeholder,
    _link_out,
)


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.__name__)
def test_a_planted_fault_is_found(sample: bytes, fault: Callable[[Deck], None]) -> None:
    deck = Presentation(io.BytesIO(sample))
    fault(deck)
    file = io.BytesIO()
    deck.save(file)
    with pytest.raises(AssertionError):
        check_deck(package.close(file.getvalue()))


def test_properties_are_looked_at(sample: bytes) -> None:
    deck = Presentation(io.BytesIO(sample))
    deck.core_properties.author = "somebody"
    file = io.BytesIO()
    deck.save(file)
    with pytest.raises(AssertionError):
        check_deck(file.getvalue())


def test_contrast_formula() -> None:
    # Source: reference table of Okabe-Ito on white, check-values.md H2 (CALC): blue 5.19, orange 2.25.
    assert contrast("0072B2", "FFFFFF") == pytest.approx(5.19, abs=0.01)
    assert contrast("E69F00", "FFFFFF") == pytest.approx(2.25, abs=0.01)
    assert contrast("000000", "FFFFFF") == pytest.approx(21)
