"""The one reader of visual acuity."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import work
from mmbuilder.clinic.acuity import LOW, Acuity, names_acuity, read_acuity


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # 6/60 and 6/6 are logMAR 1.0 and 0.0; letters = 85 - 50 logMAR: Bach's table, READ in check-values E2.
        ("6/60", Acuity("line", 1.0)),
        ("6/60 pinhole", Acuity("line", 1.0, manner="pinhole")),
        ("unaided 6/60", Acuity("line", 1.0, manner="unaided")),
        ("6/60 part", Acuity("part", 1.0)),
        ("6/60 - 2", Acuity("line", 1.0, -2.0)),
        ("35 letters", Acuity("letters", 1.0)),
        ("decimal 0.1", Acuity("decimal", 1.0)),
        ("logMAR 1,0", Acuity("logmar", 1.0)),
        ("-0.1", Acuity("logmar", -0.1)),
        ("0.3", Acuity("bare", 0.3)),
        ("hand movements at 30 cm", Acuity("word", word="HM")),
        ("no light perception", Acuity("word", word="NPL")),
        ("Fingerzählen in 1 m", Acuity("word", word="CF")),
        ("HBW", Acuity("word", word="HM")),
        ("Lichtschein", Acuity("word", word="PL")),
        ("nulla lux", Acuity("word", word="NPL")),
        ("kein Lichtschein", Acuity("word", word="NPL")),
        ("0,63 decimal", Acuity("decimal", pytest.approx(0.2007, abs=1e-4))),
    ],
)
def test_every_notation_is_read(text: str, found: Acuity) -> None:
    assert read_acuity(text) == found


@pytest.mark.parametrize(
    ("text", "why"),
    [
        *((text, "two acuities") for text in ("CF to HM", "PL or NPL", "FZ bis HBW", "HM?", "CF 6/60")),
        *((text, "not an acuity") for text in ("6/12 or 6/9", "N8", "18", "")),
        ("116 letters", "more letters than a chart has"),
        ("6/0", "not a line of a chart"),
        ("decimal 0.3 logMAR", "two scales"),
    ],
)
def test_what_may_be_two_things_or_none_is_refused(text: str, why: str) -> None:
    with pytest.raises(ValueError, match=f"^{why}$"):
        read_acuity(text)


def test_the_figure_of_the_clinic_says_how_it_was_taken() -> None:
    worked = work("visual acuity", {"acuity": "6/60 pinhole"})
    assert [str(answer) for answer in worked.answers] == ["logMAR: 1.00", "letters: 35"]
    assert worked.notes == ("Taken through a pinhole.",)
    assert [str(answer) for answer in work("visual acuity", {"acuity": "35 letters"}).answers] == [
        "logMAR: 1.00",
        "letters: 35",
    ]


def test_the_words_of_low_vision_are_in_the_order_of_the_published_conventions() -> None:
    from mmbuilder.clinic.measures import visual_acuity

    # Schulze-Bonsel and Bach: CF 1.9, HM 2.3, PL 2.7, NPL 3.0 (READ in check-values E2).
    assert [visual_acuity.LOW[word][0][1] for word in LOW] == [1.9, 2.3, 2.7, 3.0]


@pytest.mark.parametrize(
    ("name", "named"),
    [
        *(("acuity", True), ("right eye acuity", True), ("BCVA left", True), ("Vision", True)),
        *(("Visus rechts", True), ("Fernvisus", True), ("Sehschärfe", True)),
        *(("pressure", False), ("television", False), ("HIVA", False)),
    ],
)
def test_an_acuity_is_known_by_its_name(name, named):
    assert names_acuity(name) is named
