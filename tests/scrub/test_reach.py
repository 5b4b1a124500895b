"""How far a name reaches, and what stands in brackets behind it. Common practice, no source; the names are invented."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.detectors import called_by
from mmbuilder.scrub.plan import Layer, Span
from mmbuilder.scrub.reach import whole


@pytest.mark.parametrize(
    ("text", "found", "letter", "reached"),
    [
        ("tfr to Quenby Medical Ctr. Stable", "Quenby", "B", "Quenby Medical Ctr"),
        ("discussed Quenby Central reg, no bed", "Quenby", "A", "Quenby Central"),
        ("cert for Quenby Lobster Co-op issued", "Quenby Lobster", "A", "Quenby Lobster Co-op"),
        ("Unfallkrankenhaus Tannenquell, Station", "Tannenquell", "B", "Unfallkrankenhaus Tannenquell"),
        ("derivado del Hospital General de Quenca", "Quenca", "B", "Hospital General de Quenca"),
        ("Anwalt bei Kanzlei Quechler, droht", "Quechler", "A", "Kanzlei Quechler"),
        ("Bett 7 K. Quengel, stabil", "Quengel", "A", "K. Quengel"),
        ("4. Hone Quengel K180036 hand", "Quengel", "A", "Hone Quengel"),
        ("4. Hernia Quengel K180036", "Quengel", "A", "Quengel"),
        ("4. Hone Quengel for theatre", "Quengel", "A", "Quengel"),
        ("Quenby Central line sited", "Quenby", "A", "Quenby"),
        ("Quenby Surgery at ten", "Quenby", "A", "Quenby"),
        ("gave vitamin K. Quenby agreed", "Quenby", "A", "Quenby"),
        ("in der Klinik. Quenby kam", "Quenby", "A", "Quenby"),
    ],
)
def test_a_name_reaches_over_its_house_and_its_initials(
    text: str, found: str, letter: str, reached: str
) -> None:
    start = text.index(found)
    span = Span(start, start + len(found), "name", letter, "[name]", 0.8, Layer.MODEL)
    made = whole(text, span)
    assert text[made.start : made.end] == reached


def test_a_pattern_tells_its_own_reach() -> None:
    span = Span(0, 6, "name", "A", "[name]", 0.8, Layer.PATTERN)
    assert whole("Quenby Hospital", span) == span


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("Mrs Quillorne (Betti)", ["Betti"]),
        ("Dr Quillorne (Consultant)", []),
        ("Mr Quillorne (Theatre)", []),
        ("Mrs Quillorne (Chair)", []),
        ("Mr Quillorne (Whipple)", []),
        ("Miss Quillorne (ST5)", []),
        ("Mr Quillorne (Deceased)", []),
    ],
)
def test_brackets_behind_a_name_hold_a_name_or_what_somebody_is(said: str, found: list[str]) -> None:
    assert [said[span.start : span.end] for span in called_by.find(said)] == found
