"""How far a finding reaches beside the times and days of a chart."""

from __future__ import annotations

import pytest

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.propose import in_texts

NOBODY = Index(Declared())


def found(text: str) -> list[str]:
    return [text[span.start : span.end] for span in in_texts([text], NOBODY)[0]]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("20/11 1410 ct medial breach\n21/11 0800 foot weak", ["20/11", "21/11"]),
        ("20/11 1410 ct medial breach", ["20/11 1410"]),
        ("0925 12/14 access sheath", []),
        ("0925 12/11 14F sheath R, 18F L", ["12/11"]),
        ("ceftriaxone 1.2 G 0908\n0911 ETCO2 1.8, flushed", []),
        ("Mr Quillorne D4 AP resection", ["Mr Quillorne"]),
    ],
)
def test_a_finding_ends_where_the_time_of_a_chart_or_the_day_after_an_operation_begins(
    text: str, expected: list[str]
) -> None:
    assert found(text) == expected
