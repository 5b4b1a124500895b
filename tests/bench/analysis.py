"""The analysis of a long case and its whole timeline, measured in one run, by hand:

    python -m tests.bench.analysis [RUNS]

An invented case of 300 events and 50,000 readings (three lines, one reading a second, with gaps
and artefacts). Each of RUNS (5) is a process of its own that keeps nothing, so that every figure is
cold; medians are printed, of the clock and (since others may be at work) of the processor. Beside each
stands what a general library needs for the same readings in the same process: the csv module to read
them, a bare matplotlib chart to scatter them.
"""

from __future__ import annotations

import csv
import io
import json
import math
import os
import random
import statistics
import subprocess
import sys
from collections.abc import Callable, Iterator
from itertools import islice
from time import perf_counter, process_time

from mmbuilder.safe.case import Factor, Gap, Phase, Recording, ScrubbedCase, Series
from mmbuilder.safe.moment import DAY
from mmbuilder.safe.terms import EventKind, FactorRole, FactorRow, Likelihood, Noticed, Recognised
from tests.figures.samples import UNKNOWN, Story, about, at, between, clocks, safe

EVENTS, READINGS = 300, 50_000
WIDE, HIGH = 31.0, 12.5  # of the slide's picture; centimetres
LINES = (("pulse", "/min", 84.0, 18.0), ("mean pressure", "mmHg", 71.0, 16.0), ("saturation", "%", 96.0, 3.0))
KINDS = (EventKind.STEP, EventKind.DRUG, EventKind.NOTE, EventKind.CALL, EventKind.ARRIVAL)


def long_case() -> ScrubbedCase:
    """A day in theatre and intensive care, then the ward; the same case on each run."""
    dice = random.Random(300)
    return _story(dice).case(
        "incision",
        clocks=clocks(),
        phases=tuple(
            Phase(safe(f"Phase {place + 1}"), at(place * 40.0), at(place * 40.0 + 38)) for place in range(9)
        ),
        recordings=tuple(
            Recording(safe(f"File {place + 1}"), at(place * 95.0 + 2), at(place * 95.0 + 90))
            for place in range(3)
        ),
        series=tuple(_lines(dice)),
        factors=tuple(_factors()),
    )


def _story(dice: random.Random) -> Story:
    story = Story()
    marks = [
        (118.0, EventKind.FIRST_SIGN, {"noticed": Noticed.IN_HINDSIGHT}),
        (131.0, EventKind.FIRST_SIGN, {"noticed": Noticed.AT_THE_TIME}),
        (139.0, EventKind.RECOGNITION, {"recognised": Recognised.COMPLICATION}),
        (141.5, EventKind.RESPONSE, {}),
        (188.0, EventKind.RESOLUTION, {}),
    ]
    others = EVENTS - len(marks)
    times = [dice.uniform(0, 340) for _ in range(others * 2 // 3)]
    times += [dice.uniform(340, 8 * DAY) for _ in range(others - len(times))]
    told = [(time, KINDS[place % len(KINDS)], {}) for place, time in enumerate(times)]
    for time, kind, more in sorted([*marks, *told], key=lambda entry: entry[0]):
        manner = dice.random() if not more else 1.0
        when = (
            UNKNOWN
            if manner < 0.04
            else about(time, 3)
            if manner < 0.12
            else between(time, time + 12)
            if manner < 0.2
            else at(time)
        )
        number = story.add(
            kind, f"{kind.value} of the long invented case at place {len(story.events)}", when, **more
        )
        if number % 30 == 0:
            story.decide(number, f"Go on as planned at place {number}, or stop?")
    return story


def _lines(dice: random.Random) -> Iterator[Series]:
    gaps = tuple(Gap(start, start + 4.0, safe("probe off")) for start in (31.0, 96.0, 152.0, 220.0))
    for place, (name, unit, usual, swing) in enumerate(LINES):
        count = len(range(place, READINGS, len(LINES)))
        points = (
            (second / 60, round(usual + swing * math.sin(second / 900) + dice.gauss(0, 1), 1))
            for second in range(count * 2)
            if not any(gap.start <= second / 60 < gap.end for gap in gaps)
        )
        artefacts = frozenset(dice.sample(range(count), 100))
        yield Series(safe(name), safe(unit), tuple(islice(points, count)), artefacts, gaps)


def _factors() -> Iterator[Factor]:
    for place, row in enumerate([*FactorRow] * 6):
        role = FactorRole.ROOT if place % 5 == 0 else FactorRole.CONTRIBUTORY
        evidence = (safe(f"event {place + 1}"),) if place % 3 else ()
        yield Factor(row, role, safe(f"factor {place + 1}"), evidence, changed=Likelihood.PROBABLY)


def analyse(case: ScrubbedCase) -> tuple[object, ...]:
    """All that is computed for one: timeline with intervals, silences and panels, phases, grid, words."""
    from mmbuilder.analysis import Chart, build_timeline, cause_grid, cut, describe
    from mmbuilder.analysis.panels import skipped
    from mmbuilder.analysis.phases import phase_totals

    timeline = build_timeline(case)
    whole, half = Chart(timeline, brackets=True), Chart(timeline, until=130.0)
    grid = cause_grid(case)
    return (
        timeline,
        skipped(timeline.panels),
        phase_totals(case.phases),
        (grid, grid.strongest(5)),
        (cut(half), describe(whole), describe(half)),
    )


def _scattered(case: ScrubbedCase) -> None:
    """The same readings on a bare chart of the same size, as SVG and PNG."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDE / 2.54, HIGH / 2.54))
    axes = figure.subplots(len(case.series), 1, sharex=True)
    for plot, line in zip(axes, case.series, strict=True):
        plot.scatter(*zip(*line.points, strict=True), s=3)
    FigureCanvasSVG(figure).print_svg(io.BytesIO())
    figure.set_dpi(150)
    FigureCanvasAgg(figure).print_png(io.BytesIO())


def _table(case: ScrubbedCase) -> str:
    out = io.StringIO()
    csv.writer(out).writerows((line.name.reveal(), *point) for line in case.series for point in line.points)
    return out.getvalue()


def _read(table: str) -> list[tuple[str, float, float]]:
    return [(name, float(time), float(value)) for name, time, value in csv.reader(io.StringIO(table))]


def _seconds(job: Callable[[], object]) -> tuple[float, float]:
    """Of the clock, and of the processor."""
    clock, processor = perf_counter(), process_time()
    job()
    return perf_counter() - clock, process_time() - processor


def once() -> dict[str, tuple[float, float]]:
    """Everything in this process, which has not done any of it before; imports of ours are counted."""
    from mmbuilder.analysis import Chart, build_timeline

    case = long_case()
    assert len(case.events) == EVENTS
    assert sum(len(line.points) for line in case.series) == READINGS
    table = _table(case)
    analysis = _seconds(lambda: analyse(case))
    chart = Chart(build_timeline(case), brackets=True)

    def drawn() -> None:
        from mmbuilder.figures import draw

        draw(chart, WIDE, HIGH)

    figure = _seconds(drawn)
    return {
        "analysis": analysis,
        "figure": figure,
        "csv": _seconds(lambda: _read(table)),
        "scatter": _seconds(lambda: _scattered(case)),
    }


def main() -> None:
    """Print each goal with its figure."""
    if sys.argv[1:] == ["once"]:
        print(json.dumps(once()))
        return
    call = [sys.executable, "-m", "tests.bench.analysis", "once"]
    keep_nothing = os.environ | {"MMBUILDER_CACHE": ""}
    runs = [
        json.loads(subprocess.run(call, env=keep_nothing, check=True, capture_output=True, text=True).stdout)
        for _ in range(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
    ]
    took = {
        name: [statistics.median(run[name][place] for run in runs) for place in (0, 1)] for name in runs[0]
    }
    print(f"{EVENTS} events, {READINGS} readings; median of {len(runs)} processes; clock, processor")
    for job, beside, goal in (("analysis", "csv", 0.5), ("figure", "scatter", 1.5)):
        ratio = took[job][1] / took[beside][1]
        print(f"{job:8} {took[job][0]:6.3f} s {took[job][1]:6.3f} s   goal <= {goal} s of the clock")
        print(
            f"{beside:8} {took[beside][0]:6.3f} s {took[beside][1]:6.3f} s   ratio {ratio:.2f} of the processor"
        )


if __name__ == "__main__":
    main()
