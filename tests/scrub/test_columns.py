"""Which cells are somebody's, by the heading of their column (common practice, no source)."""

from __future__ import annotations

import pytest

from mmbuilder.scrub import columns


@pytest.mark.parametrize(
    ("heading", "cell", "kind"),
    [
        ("Surgeon", "West", "name"),
        ("Name", "Young", "name"),
        ("First name", "Hope", "name"),
        ("Scrub nurse", "Ng", "name"),
        ("Signed by", "VJK", "name"),
        ("Initials", "PM", "name"),
        ("cirujano", "Quillorne", "name"),
        ("Chirurg", "Vashtern", "name"),
        ("Ward", "Curlew", "place"),
        ("Bed", "12A", "bed"),
        ("Bed no.", "HDU2", "bed"),
        ("Bett-Nr.", "4", "bed"),
        ("Cama", "SR 4", "bed"),
        ("Zi", "14", "bed"),
        ("Who", "PM", "name"),
        ("Who", "ODP", None),
        ("Who", "Vashtern", "name"),
        ("Hospital", "Vraxholm", "place"),
        ("By", "15/12", "date"),
        ("Due date", "Jan", "date"),
        ("Deadline", "end of March", "date"),
        ("Due", "Q1", "date"),
        ("By", "Done", None),
        ("Score", "15/15", None),
        ("Lead ODP", "Q1", None),
        # roles, units, numbers and empty cells tell of nobody
        ("Surgeon", "consultant", None),
        ("Assistant", "none", None),
        ("Anaesthetist", "on call", None),
        ("Ward", "ICU", None),
        ("Ward", "4A", None),
        ("Ward", "Theatre 4", None),
        ("Name", "", None),
        ("Bed", "empty", None),
        ("Bed days", "12", None),
        # other columns
        ("Hb", "West", None),
        ("Device name", "Young", None),
        ("Comment", "Hope", None),
    ],
)
def test_a_heading_tells_what_a_cell_is(heading: str, cell: str, kind: str | None) -> None:
    found = columns.below(heading, cell)
    assert (found.kind if found else None) == kind


def test_the_cell_goes_whole_without_its_blanks() -> None:
    found = columns.below("Patient", "  Hope Young ")
    assert found is not None
    assert (found.start, found.end) == (2, 12)


def test_headings_themselves_stay() -> None:
    assert columns.heads("Ward")
    assert not columns.heads("Curlew")
