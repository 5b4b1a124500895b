from __future__ import annotations

from mmbuilder.analysis.monitoring import HEAD, missing, monitoring_gaps, monitoring_rows
from mmbuilder.safe.case import Watch
from tests.figures.samples import safe

PLAN = (
    Watch(
        safe("eye pressure"), safe("Day 180"), safe("above 25 mmHg at two visits"), safe("glaucoma clinic")
    ),
    Watch(safe("acuity"), safe("Day 180")),
)


def test_rows_stay_in_order_and_an_empty_place_says_so() -> None:
    rows = [[cell.reveal() for cell in row] for row in monitoring_rows(PLAN)]
    assert rows == [
        ["eye pressure", "Day 180", "above 25 mmHg at two visits", "glaucoma clinic"],
        ["acuity", "Day 180", "not stated", "not stated"],
    ]
    assert all(len(row) == len(HEAD) for row in rows)


def test_what_is_missing_is_named() -> None:
    assert [gap.reveal() for gap in monitoring_gaps(PLAN)] == ["acuity: no threshold, no role"]
    assert [name.reveal() for name in missing(Watch(safe("wound")))] == ["end", "threshold", "role"]


def test_a_whole_plan_has_no_gaps() -> None:
    assert monitoring_gaps(PLAN[:1]) == ()
    assert monitoring_rows(()) == ()
