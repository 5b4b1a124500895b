"""Dates without a year in full become days where one reading is left; else they stay [date].

Distances by hand: Day 0 is Tuesday 14 October 2025 (ISO 8601 calendar).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.casefile import load
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from tests.casefile.minimal import changed, minimal_case


def told(text: str, folder: Path, timeline: str = "day zero: 14 Oct 2025") -> str:
    root = minimal_case(folder, changed(f"{{background: {text!r}, timeline: {{{timeline}}}}}"))
    made = load(root)
    return apply(made, propose(made, names=NoNameModel())).background.reveal()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Spoken to on 16/10, letter sent 21 Oct", "Spoken to on Day 2, letter sent Day 7"),
        ("Consented on 2 Oct in clinic", "Consented on Day −12 in clinic"),
        ("CT 9/9/25 shows the stone", "CT Day −35 shows the stone"),
        ("Listed for Tues 14/10/25", "Listed for Day 0"),
        ("Drain out October 17th", "Drain out Day 3"),
        ("Seen 3 January", "Seen Day 81"),  # of the next year
        ("Scan on the 20th of Oct 0930", "Scan on Day 6 0930"),
        ("Tubes out 17-Oct-25", "Tubes out Day 3"),
        ("Stone seen 5 Oct 98", "Stone seen Day −9871"),  # by Python's datetime
        # a full stop ends the sentence, or the short month alone
        ("Letter on 21 Oct. She had asked", "Letter on Day 7. She had asked"),
        ("Home 21 Oct.", "Home Day 7."),
        ("Seen 21 Oct. at night", "Seen Day 7 at night"),
        # the year, the month or the day is not certain
        ("Clinic on 2/10.", "Clinic on [date]."),
        ("CT 9/8/25 shows the stone", "CT [date] shows the stone"),
        ("Seen 12 April", "Seen [date]"),  # half a year before or after
        ("Home on the 20th.", "Home on [date]."),
        ("Seen 16-18 October", "Seen [date]"),
        ("Seen Mon 21 Oct", "Seen [date]"),  # a Tuesday in 2025: another year
        ("Born 3 Oct", "Born [date]"),
    ],
)
def test_a_short_date_is_told_as_a_day_where_it_is_certain(text: str, expected: str, tmp_path: Path) -> None:
    assert told(text, tmp_path) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # the order is told by another date of the author
        ("Seen 28/9. Clinic on 2/10.", "Seen Day −16. Clinic on Day −12."),
        ("Seen 28/9. CT 9/8/25 shows the stone", "Seen Day −16. CT Day −66 shows the stone"),
        ("Seen 28/9. CT 9/8/2025 shows it", "Seen Day −16. CT Day −66 shows it"),
        ("Due 9/28/2025. CT 8/9/2025 shows it", "Due Day −16. CT Day −66 shows it"),
        ("Born 3/4/1950, seen 28/9", "Born [date], seen Day −16"),
        # days of the course that no word announces
        ("noradrenaline stopped 15/10, urine 16/10", "noradrenaline stopped Day 1, urine Day 2"),
        ("Seen 28/9. Sodium normal 2/11", "Seen Day −16. Sodium normal Day 19"),
        ("Seen 9/28/25 and 10/15/25, extubated 10/16", "Seen Day −16 and Day 1, extubated [date]"),
        # two orders beside one another tell none
        ("Seen 28/9 and 9/30/25, clinic on 2/10", "Seen Day −16 and Day −14, clinic on [date]"),
        # scores, acuities, durations, fractions
        ("Seen 28/9. Pain 8/10, then 9/10; vision 6/9; power 4/5", None),
        ("Seen 28/9. Nodes 2/11 positive, 2/3 of it, for 6/12, then 3/7", None),
    ],
)
def test_the_author_s_other_dates_and_the_course_tell_more(
    text: str, expected: str | None, tmp_path: Path
) -> None:
    assert told(text, tmp_path) == (expected or text.replace("28/9", "Day −16"))


def test_without_day_zero_it_stays_a_date(tmp_path: Path) -> None:
    assert told("Letter sent 21 Oct", tmp_path, "") == "Letter sent [date]"
