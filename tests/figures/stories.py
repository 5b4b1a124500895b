"""Random stories: every kind of event, time, gap and conflict, each text with a word of its own."""

from __future__ import annotations

from hypothesis import strategies as st

from mmbuilder.safe.case import (
    DayAndNight,
    Gap,
    OtherRecord,
    OtherTime,
    Phase,
    Recording,
    ScrubbedCase,
    Series,
)
from mmbuilder.safe.moment import DAY, Known, Moment
from mmbuilder.safe.terms import EventKind, Noticed, Recognised
from tests.figures.samples import Story, at, safe

_SPANS = st.sampled_from([60.0, 240.0, 2 * DAY, 9 * DAY])


@st.composite
def moments(draw: st.DrawFn, span: float) -> Moment:
    start = draw(st.integers(-10, round(span)))
    wide = draw(st.integers(1, 40))
    return draw(
        st.sampled_from(
            [
                at(start),
                at(start),
                at(start),
                Moment(start - wide, start + wide, Known.ABOUT),
                Moment(start, start + wide, Known.BETWEEN),
                Moment(start, None, Known.AFTER),
                Moment(None, start, Known.BEFORE),
                Moment(None, None, Known.ORDER_ONLY),
                Moment(start // DAY * DAY, start // DAY * DAY + DAY - 1, Known.BETWEEN, DAY),
            ]
        )
    )


@st.composite
def stories(draw: st.DrawFn) -> ScrubbedCase:
    span = draw(_SPANS)
    story = Story()
    for place in range(draw(st.integers(1, 24))):
        words = f"evt{place:02d}q " + " ".join(draw(st.lists(_WORDS, max_size=7)))
        more: dict[str, object] = {}
        kind = draw(st.sampled_from(list(EventKind)))
        if kind is EventKind.FIRST_SIGN:
            more["noticed"] = draw(st.sampled_from([None, *Noticed]))
        if kind is EventKind.RECOGNITION:
            more["recognised"] = draw(st.sampled_from([None, *Recognised]))
        if draw(st.integers(0, 5)) == 0:
            more["others"] = (OtherTime(at(draw(st.integers(0, round(span)))), safe("record")),)
        if draw(st.integers(0, 9)) == 0:
            more |= {"dose": safe("0.1 mg"), "records": (OtherRecord(dose=safe("1 mg")),)}
        number = story.add(kind, words, draw(moments(span)), **more)
        if draw(st.integers(0, 7)) == 0:
            story.decide(number, f"dec{place:02d}q which way now?")
    return story.case(
        "the start",
        phases=draw(_phases(span)),
        recordings=draw(_tapes(span)),
        series=draw(_series(span)),
        day_and_night=draw(_nights()),
    )


_WORDS = st.sampled_from(
    ["clip", "pressure", "falls", "again", "through", "the", "anastomosis", "of", "20", "mL"]
)


def _nights() -> st.SearchStrategy[DayAndNight | None]:
    asked = st.builds(DayAndNight, st.floats(0, DAY), st.floats(1080, 1439), st.floats(0, 600))
    return st.one_of(st.none(), st.builds(DayAndNight, st.floats(0, DAY)), asked)


@st.composite
def _phases(draw: st.DrawFn, span: float) -> tuple[Phase, ...]:
    edges = sorted(draw(st.lists(st.integers(0, round(span)), max_size=5, unique=True)))
    ends = [*map(at, edges[1:]), Moment(None, None, Known.UNKNOWN)]
    return tuple(
        Phase(safe(f"pha{i}q {draw(_WORDS)}"), at(a), b)
        for i, (a, b) in enumerate(zip(edges, ends, strict=False))
    )


@st.composite
def _tapes(draw: st.DrawFn, span: float) -> tuple[Recording, ...]:
    edges = sorted(draw(st.lists(st.integers(0, round(span)), max_size=4, unique=True)))
    pairs = zip(edges[::2], edges[1::2], strict=False)
    return tuple(Recording(safe(f"tap{i}q"), at(a), at(b)) for i, (a, b) in enumerate(pairs))


@st.composite
def _series(draw: st.DrawFn, span: float) -> tuple[Series, ...]:
    lines = []
    for place in range(draw(st.integers(0, 4))):
        unit = draw(st.sampled_from(["%", "/min", "mmHg", "mmol/L"]))
        count, step = draw(st.integers(1, 40)), draw(st.sampled_from([1.0, 5.0, 60.0]))
        start = draw(st.integers(0, round(span / 2)))
        values = draw(st.lists(st.floats(0, 250, width=16), min_size=count, max_size=count))
        gap = draw(st.integers(0, count))
        gaps = (
            (Gap(start + gap * step, start + (gap + 3) * step, safe(f"gap{place}q unreadable")),)
            if gap
            else ()
        )
        points = tuple(
            (start + index * step, value)
            for index, value in enumerate(values)
            if not any(g.start < start + index * step < g.end for g in gaps)
        )
        bad = frozenset({0}) if draw(st.booleans()) else frozenset()
        limits = [draw(st.sampled_from([None, None, low])) for low in (50.0, 120.0)]
        lines.append(Series(safe(f"ser{place}q"), safe(unit), points, bad, gaps, 0, *limits))
    return tuple(lines)
