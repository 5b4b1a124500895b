"""Gestation from the days left to the agreed due date, so that the date itself need not be written."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Counted
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, said

NAME = "gestation"
FORMULA = "280 − days to the agreed due date; whole weeks + days over"
SOURCE = "the convention of 280 days to the due date; common practice, no source"
CAUTION = (
    "Count to the one due date that was agreed, by scan or by period, and leave the date itself out "
    f"of the case. {REVIEW_ONLY}"
)
TERM = 280
PAST = 28
"""Days past the due date that are still believed: 44+0."""
INPUTS = {"days to due date": Counted(-PAST, TERM)}
_WORKED = "worked example; common practice, no source"
EXAMPLES = (
    Example({"days to due date": "17"}, ("37+4", "263 days"), _WORKED),
    Example({"days to due date": "0"}, ("40+0", "280 days"), "the due date itself, by definition"),
    Example({"days to due date": "21"}, ("37+0", "259 days"), "three weeks before 40+0, counted"),
    Example({"days to due date": "22"}, ("36+6", "258 days"), "the day before 37+0, counted"),
    Example({"days to due date": "−3"}, ("40+3", "283 days"), "three days past the due date, counted"),
    Example({"days to due date": "280"}, ("0+0", "0 days"), "the first day, by definition"),
)


def work(days_to_due_date: float) -> Result:
    """Return weeks+days, and days; a negative count is past the due date."""
    days = TERM - int(days_to_due_date)
    weeks, over = divmod(days, 7)
    notes = (f"Past the due date by {days - TERM} d.",) if days > TERM else ()
    return Result(
        (said(f"{weeks}+{over}"), one(days, "days")),
        steps=(
            f"{TERM} {'+' if days > TERM else '−'} {abs(days - TERM)} = {days} days",
            f"{days} = {weeks} × 7 + {over}",
        ),
        notes=notes,
    )
