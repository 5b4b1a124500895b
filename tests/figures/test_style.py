from __future__ import annotations

import pytest

from mmbuilder.figures.fold import fold
from mmbuilder.figures.style import TEXT_INKS, Ink, fit, width, wrap
from tests.figures.samples import safe


def luminance(colour: str) -> float:
    # Source: WCAG 2.x definition of relative luminance (check-values.md H2).
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, two: str) -> float:
    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(
    ("colour", "ratio"),
    # Source: check-values.md H2, CALC rows.
    [("#000000", 21.000), ("#595959", 7.005), ("#767676", 4.542), ("#0072B2", 5.19), ("#D55E00", 3.87)],
)
def test_the_formula_gives_the_table(colour: str, ratio: float) -> None:
    assert contrast(colour, "#FFFFFF") == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize("ink", sorted(TEXT_INKS))
@pytest.mark.parametrize("ground", [Ink.WHITE, Ink.PALE, Ink.STONE, Ink.TAPE])
def test_text_reaches_four_and_a_half_on_white_and_black_on_every_fill(ink: Ink, ground: Ink) -> None:
    needed = Ink.BLACK if ground is not Ink.WHITE else ink
    assert contrast(needed, ground) >= 4.5


@pytest.mark.parametrize("ink", [Ink.BLACK, Ink.BLUE, Ink.VERMILLION, Ink.GREY, Ink.HATCH])
def test_lines_and_marks_reach_three(ink: Ink) -> None:
    assert contrast(ink, Ink.WHITE) >= 3


def test_neighbouring_phases_differ_in_grey() -> None:
    assert abs(luminance(Ink.PALE) - luminance(Ink.STONE)) > 0.04


def test_wrapped_lines_keep_every_word_and_the_limit() -> None:
    text = safe("a rather long note that has to be broken into several lines")
    lines = wrap(text, 120)
    assert " ".join(line.reveal() for line in lines) == text.reveal()
    assert max(map(width, lines)) <= 120
    assert width(fit(text, 120)) <= 120


def test_a_figure_and_its_unit_stay_on_one_line_unless_no_line_holds_both() -> None:
    # Common practice, no source.
    text = safe("Pressure was 34 mmHg then")
    lines = [line.reveal() for line in wrap(text, width(safe("Pressure was 34")) + 1)]
    assert lines == ["Pressure was", "34 mmHg then"]
    assert [line.reveal() for line in fold(text, width(safe("34 mmHg")))] == [
        "Pressure",
        "was",
        "34 mmHg",
        "then",
    ]
    assert [line.reveal() for line in wrap(safe("34 mmHg"), width(safe("mmHg")))] == ["34", "mmHg"]
