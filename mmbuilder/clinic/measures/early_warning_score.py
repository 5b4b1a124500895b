"""An early-warning score added up again from the points on the chart, beside the total that was written."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Counted
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said

NAME = "early warning score"
FORMULA = "sum of the points of each observation, 0 to 3 each, beside the written total"
SOURCE = "addition; the points are the chart's own; common practice, no source"
CAUTION = (
    "It adds the points as they stand on the chart and does not check that each was scored right. "
    f"Name the chart. {REVIEW_ONLY}"
)
PARTS = (
    "respiration",
    "saturation",
    "oxygen",
    "systolic",
    "pulse",
    "consciousness",
    "temperature",
    "urine",
    "other",
)
INPUTS = {"written": Counted(0, 27), **{part: Counted(0, 3, required=False) for part in PARTS}}
EXAMPLES = (
    Example(
        {
            "written": "3",
            "respiration": "2",
            "saturation": "1",
            "oxygen": "2",
            "systolic": "0",
            "pulse": "0",
            "consciousness": "0",
            "temperature": "0",
        },
        (
            "recomputed: 5",
            "written: 3",
            "parts: respiration 2, saturation 1, oxygen 2, systolic 0, pulse 0, consciousness 0, "
            "temperature 0",
        ),
        "worked example, 3 written and 5 recomputed; common practice, no source",
    ),
    Example(
        {"written": "4", "respiration": "3", "pulse": "1"},
        ("recomputed: 4", "written: 4", "parts: respiration 3, pulse 1"),
        "3 + 1, counted",
    ),
    Example(
        {"written": "27", **dict.fromkeys(PARTS, "3")},
        ("recomputed: 27", "written: 27", f"parts: {', '.join(f'{part} 3' for part in PARTS)}"),
        "the most that nine parts of 3 can make, counted",
    ),
)


def work(written: float, **parts: float | None) -> Result:
    """Return both totals with the parts; a note where they differ, and one where a usual part is missing."""
    known = {part: points for part, points in parts.items() if points is not None}
    if not known:
        raise InputFault(
            Fault("written", "a total without its parts", "the points of each part", example="respiration: 2")
        )
    total = sum(known.values())
    missing = [part for part in PARTS[:-2] if part not in known]
    notes = []
    if total != written:
        notes.append(
            f"Written and recomputed differ by {abs(total - written):.0f}: look first at the points for "
            "oxygen, at which scale of saturation was used, and at new confusion."
        )
    if missing:
        notes.append(f"No points told for: {', '.join(missing)}; the sum is of the rest")
    return Result(
        (
            said(f"{total:.0f}", "recomputed"),
            said(f"{written:.0f}", "written"),
            said(", ".join(f"{part} {points:.0f}" for part, points in known.items()), "parts"),
        ),
        steps=(f"{' + '.join(f'{points:.0f}' for points in known.values())} = {total:.0f}",),
        notes=tuple(notes),
    )
