"""What a form offers to choose from."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from mmbuilder.page.form.choices import choices


def test_events_are_offered_in_the_order_of_time_with_the_clock_that_was_read() -> None:
    """Two clocks make times that seem to go back: the clock beside a time tells why."""
    values: dict[str, Any] = {
        "clocks": [{"name": "ward clock", "reference": "yes"}, {"name": "theatre", "offset": "-7 min"}],
        "timeline": {
            "events": [
                {"kind": "step", "what": "clip on", "when": "09:48", "clock": "theatre"},
                {"kind": "drug", "what": "TXA", "when": "09:46"},
                {"kind": "step", "what": "pressed", "when": "09:50", "clock": "theatre"},
            ]
        },
    }
    assert [words for _, words in choices("events", values, ("decisions", 0, "at"), Path())] == [
        "event 1 · 09:48 · theatre · clip on",
        "event 3 · 09:50 · theatre · pressed",
        "event 2 · 09:46 · TXA",
    ]
