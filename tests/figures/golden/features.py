"""One drawing a feature, and which of its shapes are the feature: what is lost if they are not drawn.

The numbers of the timeline are those of practice.md (b), `what a chair looks for`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import pairwise

from mmbuilder.analysis import Chart, build_timeline
from mmbuilder.analysis.barriers import Barrier, Barriers
from mmbuilder.analysis.marked_side import Marked
from mmbuilder.analysis.timeline import MOST_LABELS
from mmbuilder.figures import barrier_diagram, body_side, cause_diagram, clock_face, series
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.sheet import Dash, Dots, Fill, Item, Shape, Sheet, Stroke, Words
from mmbuilder.figures.style import BIG, FLAG, Ink
from mmbuilder.figures.timeline import compose
from mmbuilder.safe.case import Computed, DayAndNight, Gap, OtherRecord, OtherTime, Recording, ScrubbedCase
from mmbuilder.safe.moment import Known, Moment
from mmbuilder.safe.orientation import Finding, orient
from mmbuilder.safe.terms import BarrierState, EventKind, Noticed, Seat, Side, View
from tests.figures import samples, test_cause_diagram, test_series
from tests.figures.samples import UNKNOWN, Story, about, at, between, safe

CM = 72 / 2.54
SLIDE = Size(31, 12.5)

Part = Callable[[Item], bool]


@dataclass(frozen=True)
class Feature:
    """A drawing, and the parts whose loss must be seen."""

    sheet: Callable[[], Sheet]
    parts: dict[str, Part] = field(default_factory=dict)


# --- ways to point at shapes ------------------------------------------------------------------


def said(*texts: str) -> Part:
    """Words that hold one of these."""
    return lambda item: isinstance(item, Words) and any(text in item.text.reveal() for text in texts)


def sized(size: float) -> Part:
    return lambda item: isinstance(item, Words) and item.size == size


def lines(ink: Ink, width: float | None = None, dash: Dash | None = None, count: int | None = None) -> Part:
    """Strokes of one look; `count` is of how many lines they are made."""
    return lambda item: (
        isinstance(item, Stroke)
        and item.ink is ink
        and width in (None, item.width)
        and dash in (None, item.dash)
        and count in (None, len(item.lines))
    )


def dots(shape: Shape, *, hollow: bool | None = None, size: float | None = None) -> Part:
    return lambda item: (
        isinstance(item, Dots)
        and item.shape is shape
        and hollow in (None, item.hollow)
        and size in (None, item.size)
    )


def fills(ink: Ink, corners: int | None = None) -> Part:
    return lambda item: isinstance(item, Fill) and item.ink is ink and corners in (None, len(item.points))


def hatch(slope: float) -> Part:
    """Hatches whose lines have this slope."""
    return lambda item: (
        isinstance(item, Stroke)
        and item.ink is Ink.HATCH
        and bool(item.lines)
        and math.isclose(_slope(item.lines[0]), slope, abs_tol=0.01)
    )


def _slope(line: tuple[tuple[float, float], ...]) -> float:
    (left, top), (right, bottom) = line[0], line[-1]
    return (bottom - top) / (right - left)


def crooked(item: Item) -> bool:
    """Lines that turn at every point: the zigzag of skipped time."""
    return isinstance(item, Stroke) and item.ink is Ink.GREY and any(len(line) > 4 for line in item.lines)


def either(*parts: Part) -> Part:
    return lambda item: any(part(item) for part in parts)


# --- timelines --------------------------------------------------------------------------------


def timeline(case: ScrubbedCase, until: float | None = None, high: float = SLIDE.height) -> Sheet:
    return compose(Chart(build_timeline(case), until, brackets=True), SLIDE.width * CM, high * CM)


def uncertain() -> ScrubbedCase:
    story = Story()
    story.add(EventKind.STEP, "Start", 0)
    story.add(EventKind.STEP, "Known to the minute", 8)
    story.add(EventKind.STEP, "Somewhere between", between(14, 22))
    story.add(EventKind.NOTE, "Told without a time", UNKNOWN)
    story.add(EventKind.FIRST_SIGN, "Sign, give or take", about(32, 3))
    story.add(EventKind.ACTION, "After this", Moment(42, None, Known.AFTER))
    story.add(EventKind.ACTION, "Before this", Moment(None, 58, Known.BEFORE))
    story.add(EventKind.STEP, "End", 64)
    return story.case("start")


def clocks() -> ScrubbedCase:
    """A reference clock and another with its offset."""
    story = Story()
    story.add(EventKind.STEP, "Start", 0)
    story.add(EventKind.STEP, "End", 30)
    return story.case("start", clocks=samples.clocks())


def conflict() -> ScrubbedCase:
    """One event at two times, which makes two lengths."""
    story = Story()
    other = OtherTime(at(24), safe("nurses' record"))
    story.add(EventKind.STEP, "Start", 0)
    story.add(EventKind.FIRST_SIGN, "Sign", 10, noticed=Noticed.AT_THE_TIME)
    story.add(EventKind.STEP, "Help called", 18, others=(other,), source=safe("operation note"))
    story.add(EventKind.RECOGNITION, "Cause named", 30)
    story.add(EventKind.STEP, "End", 40)
    return story.case("start")


def doses() -> ScrubbedCase:
    """A dose and a volume that two records tell differently, with what that leaves open."""
    story = Story()
    total = Computed(safe("cumulative dose"), (safe("0.3 or 1.2 mg, unresolved"),), unresolved=True)
    other = OtherRecord(dose=safe("1 mg"), source=safe("pump log"))
    story.add(EventKind.STEP, "Start", 0)
    story.add(
        EventKind.DRUG, "Adrenaline", 10, dose=safe("0.1 mg IV"), source=safe("chart"),
        records=(other,), computed=(total,),
    )  # fmt: skip
    story.add(EventKind.FIRST_SIGN, "Sign", 16, noticed=Noticed.AT_THE_TIME)
    lost = OtherRecord(volume=safe("900 mL"), source=safe("swabs weighed"))
    story.add(
        EventKind.NOTE, "Blood lost", 24, volume=safe("600 mL"), source=safe("estimate"), records=(lost,)
    )
    story.add(EventKind.RECOGNITION, "Cause named", 30)
    story.add(EventKind.STEP, "End", 40)
    return story.case("start")


def gaps() -> ScrubbedCase:
    """Three reasons for missing readings, and a recorder that was off."""
    case = samples.vitals()
    first, *others = case.series
    points = tuple(point for point in first.points if not 48 < point[0] < 54)
    first = replace(first, points=points, gaps=(*first.gaps, Gap(48, 54, safe("obs not done"))))
    tapes = (Recording(safe("File 1"), at(-2), at(20)), Recording(safe("File 2"), at(34), at(55)))
    return replace(case, series=(first, *others), recordings=tapes)


def crowd() -> ScrubbedCase:
    """Twice as many events as there may be labels."""
    story = Story()
    for n in range(2 * MOST_LABELS):
        story.add(EventKind.STEP, f"Step {n + 1} of many", 4 * n)
    return story.case("step 1")


def night() -> ScrubbedCase:
    """Two nights of a ward stay, and the midnights in them; the limits are those of the day."""
    case = samples.ward()
    return replace(case, day_and_night=DayAndNight(9.5 * 60, 20 * 60, 8 * 60, usual=True))


def alarms() -> ScrubbedCase:
    """Limits as they were set: one on a line of its own, two on another."""
    case = samples.vitals()
    first, second, third = case.series
    return replace(
        case, series=(replace(first, alarm_low=90), second, replace(third, alarm_low=55, alarm_high=110))
    )


_MARKED = either(sized(FLAG), lines(Ink.BLACK, 2.8))

TIMELINES = {
    "01-lanes": Feature(
        lambda: timeline(samples.vitals(), high=17),
        {
            "names": said("Phase", "Events", "Drugs", "People", "Decisions"),
            "phases": either(fills(Ink.PALE), fills(Ink.STONE)),
            "decisions": dots(Shape.DIAMOND),
        },
    ),
    "02-marks-and-brackets": Feature(
        lambda: timeline(samples.eye()),
        {"marks": _MARKED, "brackets": lines(Ink.BLUE, 3.0), "lengths": sized(BIG)},
    ),
    "03-clock": Feature(lambda: timeline(clocks()), {"offsets": said("recorder")}),
    "04-conflict": Feature(
        lambda: timeline(conflict()),
        {
            "hollow mark": lambda item: (
                isinstance(item, Dots) and item.hollow and item.shape not in (Shape.RING, Shape.SQUARE)
            ),
            "join": lines(Ink.BLACK, 0.9),
            "letter": said("(a)"),
            "footnote": said("T+0:24 (nurses' record)"),
        },
    ),
    "04-dose-and-volume": Feature(
        lambda: timeline(doses()),
        {
            "letters": said("(a)", "(b)"),
            "footnote": said("dose 0.1 mg IV (chart) or 1 mg (pump log)"),
        },
    ),
    "05-uncertainty": Feature(
        lambda: timeline(uncertain()),
        {
            "bars": lines(Ink.BLACK, 1.6, count=3),
            "open arrows": lines(Ink.BLACK, 1.6, count=2),
            "untimed zone": either(hatch(2.5), said("no time")),
            "where a mark may lie": fills(Ink.BAND),
        },
    ),
    "06-gaps": Feature(
        lambda: timeline(gaps(), high=14),
        {
            "first reason": hatch(-1.0),
            "second reason": hatch(0.0),
            "third reason": hatch(-0.35),
            "recorder off": hatch(1.0),
            "words": said("cuff unreadable", "probe off", "obs not done"),
        },
    ),
    "07-long-course": Feature(
        lambda: timeline(samples.ward()),
        {
            "zigzag": crooked,
            "skipped time": said("29 h", "46 h"),
            "steps of the ticks": said("ticks"),
            "heart": lines(Ink.BLACK, 2.6),
            "days": said("Day "),
        },
    ),
    "08-night": Feature(
        lambda: timeline(night()),
        {
            "shaded nights": fills(Ink.NIGHT),
            "legend": said("shaded: night, 20:00"),
            "midnights": lines(Ink.GREY, 1.0, Dash.DOTTED),
            "flags": said("+1 day", "+2 days"),
        },
    ),
    "11-alarms": Feature(
        lambda: timeline(alarms()),
        {
            "limits": lines(Ink.GREY, 1.2, Dash.DASHED),
            "words": said("alarm below", "alarm above"),
        },
    ),
    "10-labels": Feature(
        lambda: timeline(crowd()),
        {
            "leaders": lines(Ink.GREY, 0.9),
            "numbers and their list": lambda item: (
                isinstance(item, Words) and item.ink is Ink.BLUE and item.text.reveal().isdigit()
            ),
        },
    ),
    "11-vitals": Feature(
        lambda: timeline(samples.vitals()),
        {
            "artefact": dots(Shape.CROSS),
            "word for it": said("× artefact"),
            "readings": lambda item: isinstance(item, Dots) and not item.hollow and len(item.points) > 20,
            "units": said("mmHg", "/min"),
        },
    ),
    "12-cut": Feature(
        lambda: timeline(samples.vitals(), until=20),
        {"where it stops": either(lines(Ink.BLUE, 1.4, Dash.DOTTED), said("here"))},
    ),
}

# --- the other figures ------------------------------------------------------------------------


def follow_up() -> Sheet:
    return series.compose(test_series.chart(*test_series.EYE), SLIDE.width * CM, SLIDE.height * CM)


def eye() -> Sheet:
    findings = (
        Finding(safe("main wound"), 9, View.ANATOMICAL, wound=True),
        Finding(safe("side port"), 8, View.SURGEON),
        Finding(safe("tear of the capsule"), 2, View.ANATOMICAL),
        Finding(safe("fragment"), 2, View.ANATOMICAL),
    )
    (sheet,) = clock_face.compose(orient(Side.RIGHT, Seat.TEMPORAL, findings), SLIDE)
    return sheet


def body() -> Sheet:
    (sheet,) = body_side.compose(Marked(Side.RIGHT, safe("hip")), SLIDE)
    return sheet


def causes() -> Sheet:
    (sheet,) = cause_diagram.compose(test_cause_diagram.EYE, SLIDE)
    return sheet


def barriers() -> Sheet:
    told = (
        ("name on the list", BarrierState.FAILED),
        ("second reader", BarrierState.ABSENT),
        ("time out", BarrierState.HELD),
    )
    bars = tuple(Barrier(safe(what), state) for what, state in told)
    (sheet,) = barrier_diagram.compose(
        Barriers(safe("Wrong lens picked"), bars, safe("Lens in the eye")), SLIDE
    )
    return sheet


def _holed(item: Item) -> bool:
    """The two halves of a bar with a hole: black, and not as high as a whole one."""
    if not (isinstance(item, Fill) and item.ink is Ink.BLACK and len(item.points) == 4):
        return False
    heights = [abs(a[1] - b[1]) for a, b in pairwise(item.points)]
    return 0 < max(heights) < 0.5 * SLIDE.height * CM


OTHERS = {
    "follow-up": Feature(
        follow_up,
        {
            "usual range": fills(Ink.BAND),
            "lines": lines(Ink.BLUE, dash=Dash.SOLID),
            "lines to a rank": lines(Ink.BLUE, dash=Dash.DOTTED),
            "zigzag": crooked,
            "written values": said("38", "6/24"),
            "gap in words": said("not done"),
        },
    ),
    "clock-face": Feature(
        eye,
        {
            "marks": fills(Ink.WHITE, 8),
            "seat": fills(Ink.BLACK, 3),
            "leaders": lines(Ink.GREY, 1.2),
            "directions": said("Nasal", "Temporal", "Superior", "Inferior"),
            "both views": said("surgeon's view"),
        },
    ),
    "body-side": Feature(
        body,
        {
            "filled side": fills(Ink.BLUE),
            "arrow": fills(Ink.BLACK),
            "names": said("Patient's right", "Patient's left"),
            "side in words": sized(BIG),
        },
    ),
    "cause-diagram": Feature(
        causes,
        {
            "root causes": dots(Shape.SQUARE),
            "excluded": dots(Shape.CROSS),
            "event": sized(FLAG),
            "spine": fills(Ink.BLACK, 3),
        },
    ),
    "barrier-diagram": Feature(
        barriers,
        {
            "way through": either(lines(Ink.BLUE), fills(Ink.BLUE)),
            "failed": _holed,
            "absent": lines(Ink.GREY, dash=Dash.DASHED),
            "states": said("Failed", "Absent", "Held"),
        },
    ),
}

FEATURES = {**{f"timeline-{name}": made for name, made in TIMELINES.items()}, **OTHERS}
