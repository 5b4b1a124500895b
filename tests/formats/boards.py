"""Storyboards made by hand for the writer's tests: every block, every kind of slide."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from mmbuilder.analysis.barriers import Barrier, Barriers
from mmbuilder.analysis.causes import Cause, CauseRow, Causes
from mmbuilder.analysis.marked_side import Marked
from mmbuilder.analysis.series import SeriesChart, follow_up
from mmbuilder.analysis.timeline import Chart, Timeline
from mmbuilder.safe.case import Arrow, Circle, Measure, Visit
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.moment import DAY, Known, Moment
from mmbuilder.safe.orientation import Finding as Found
from mmbuilder.safe.orientation import Orientation, Seat, View, orient
from mmbuilder.safe.terms import BarrierState, FactorRole, Side
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Cell,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Slide,
    Storyboard,
    Table,
    TimeChart,
    Tone,
)

BANNER = wording(
    "Confidential. For this department's complication review only. Do not copy or forward. "
    "Identifiers not yet reviewed."
)


@dataclass(frozen=True)
class Drawn:
    """What the figures floor hands back."""

    svg: bytes
    png: bytes


def stand_in(chart: Chart, width_cm: float, height_cm: float) -> Drawn:
    """Draw an axis and three marks; the writer is tested, not the drawing."""
    w, h = round(width_cm * 40), round(height_cm * 40)
    marks = [(w * part // 100, h // 2) for part in (20, 50, 80)]
    circles = "".join(f'<circle cx="{x}" cy="{y}" r="12" fill="#005F8C"/>' for x, y in marks)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}">'
        f'<line x1="20" y1="{h // 2}" x2="{w - 20}" y2="{h // 2}" stroke="#17212B" stroke-width="4"/>'
        f"{circles}</svg>"
    )
    image = Image.new("RGB", (w, h), "white")
    pen = ImageDraw.Draw(image)
    pen.line((20, h // 2, w - 20, h // 2), fill="#17212B", width=4)
    for x, y in marks:
        pen.ellipse((x - 12, y - 12, x + 12, y + 12), fill="#005F8C")
    file = io.BytesIO()
    image.save(file, "PNG")
    return Drawn(svg.encode(), file.getvalue())


def still(width: int = 640, height: int = 480, seed: int = 1) -> SafeImage:
    """Draw a reddish, shaded disc on black: as hard for a mark to be seen on as an endoscope's picture."""
    y, x = np.mgrid[0:height, 0:width]
    r = np.hypot((x - width / 2) / height, (y - height / 2) / height)
    wave = 0.5 + 0.5 * np.sin(x / (9 + seed) + np.cos(y / (17 + seed)) * 3)
    red = np.where(r < 0.47, 150 + 90 * wave * (1 - r), 8)
    green = np.where(r < 0.47, 50 + 120 * (1 - r * 2) ** 2 * wave, 8)
    blue = np.where(r < 0.47, 45 + 70 * (1 - r * 2) ** 2, 10)
    pixels = np.clip(np.dstack((red, green, blue)), 0, 255).astype(np.uint8)
    return SafeImage(KEY, width, height, pixels.tobytes())


def safe(text: str) -> SafeText:
    """Made-up words of a test as safe text."""
    return SafeText(KEY, text)


def empty_chart(until: float | None = None) -> Chart:
    """Return a chart of nothing: the stand-in draws no data."""
    nothing = Timeline((), (), (), (), (), (), (), (), wording("reference clock"), wording("incision"))
    return Chart(nothing, until)


def actions() -> Table:
    """Return a table with stamps."""
    return Table(
        (wording("Action"), wording("Strength"), wording("Owner (role)"), wording("Due"), wording("Measure")),
        (
            (
                Cell(
                    wording("A1 Second clamp opened and on the tray before the first is closed"), strong=True
                ),
                Cell(wording("Intermediate")),
                Cell(wording("Theatre lead")),
                Cell(wording("Day 60")),
                Cell(wording("20 trays checked, 19 or more complete; now: not measured")),
            ),
            (
                Cell(
                    wording("A2 Read the pressure aloud every 5 min"),
                    wording("INCOMPLETE: owner, due date"),
                    strong=True,
                ),
                Cell(wording("Weaker")),
                Cell(wording("not stated")),
                Cell(wording("not stated")),
                Cell(wording("Share of lists where it was heard")),
            ),
            (
                Cell(wording("A3 Connector that fits one way only"), strong=True),
                Cell(wording("Stronger")),
                Cell(wording("Equipment lead")),
                Cell(wording("Day 90")),
                Cell(wording("Old connectors left in stock: 0")),
            ),
        ),
        (3.2, 1.5, 1.9, 1.7, 3.2),
        wording("Actions with strength, owner role, due date and measure"),
    )


FACTS = Facts(
    (
        (wording("History"), wording("Hypertension, treated; anticoagulant stopped 3 days before")),
        (wording("Not present"), wording("No earlier abdominal operation; no diabetes; no allergy known")),
        (wording("Plan"), wording("Key-hole removal of the gallbladder under general anaesthesia")),
        (wording("Foreseen"), wording("Bleeding; bile leak; conversion to open operation")),
        (wording("Said to patient"), wording("All three, in clinic and again on the morning")),
    )
)

BULLETS = Bullets(
    (
        wording("The camera was held still while the field was cleared."),
        wording("The runner had the second tray open in under a minute."),
        wording("The anaesthetist asked aloud what the plan was, twice."),
    ),
    wording("What held"),
)

QUESTIONS = Bullets(
    (
        wording("Which sign would have made you stop?"),
        wording("What would you ask the room to do first?"),
        wording("Who decides to convert, and how is it said?"),
    ),
    numbered=True,
)

ARROWS = (
    Arrow(0.2, 0.25, 0.47, 0.45, wording("where the clip was meant to go")),
    Arrow(0.85, 0.8, 0.6, 0.62, wording("first bile")),
)
CIRCLES = (Circle(0.5, 0.3, 0.09, wording("duct")),)


def causes() -> Causes:
    """Return three rows around an event, one of them empty."""
    return Causes(
        wording("A change of plan"),
        (
            CauseRow(wording("task"), (Cause(wording("One clamp on the tray"), FactorRole.ROOT),)),
            CauseRow(wording("team"), (Cause(wording("New runner"), FactorRole.CONTRIBUTORY),)),
            CauseRow(wording("institution")),
        ),
    )


def barriers() -> Barriers:
    """Return a path that a count stopped."""
    bars = (
        Barrier(wording("Tray list"), BarrierState.ABSENT),
        Barrier(wording("Time out"), BarrierState.FAILED),
        Barrier(wording("Count at closure"), BarrierState.HELD),
    )
    return Barriers(wording("Incision"), bars, wording("Harm to the patient"))


def series(names: int = 1) -> SeriesChart:
    """Return measures at two visits."""
    visits = [
        Visit(
            Moment(DAY * day, DAY * day, Known.EXACT, DAY),
            wording("Clinic"),
            tuple(Measure(safe(f"bilirubin {n}"), safe(f"{40 - day} µmol/L")) for n in range(names)),
        )
        for day in (7, 30)
    ]
    chart = follow_up(visits).chart
    assert chart is not None
    return chart


def eye() -> Orientation:
    """Return an eye with a wound."""
    wound = Found(wording("wound"), 6, View.SURGEON, wound=True)
    return orient(Side.RIGHT, Seat.TEMPORAL, (wound,))


DIAGRAMS = (causes(), barriers(), series(), eye(), Marked(Side.LEFT, wording("knee")))


def slide(kind: str, headline: SafeText, *blocks: Block, **more: object) -> Slide:
    """Return a slide with a line of script."""
    return Slide(kind, headline, blocks, (wording("Read the headline, then wait."),), 45, **more)  # type: ignore[arg-type]


def every_block() -> Storyboard:
    """Return one slide of every block, and of every layout."""
    image = still()
    slides = (
        slide(
            "title",
            wording("A change of plan during a planned gallbladder operation"),
            Paragraph(wording("Department review · general surgery"), Tone.STRONG),
            Paragraph(wording("Presented by: specialty trainee")),
            Paragraph(
                wording(
                    "Not a medical device. For review of a past case, not for treatment: check every dose "
                    "and figure against the record. Local policy and information governance come first."
                ),
                Tone.QUIET,
            ),
        ),
        slide("patient_and_plan", wording("Before the operation, three risks were foreseen."), FACTS),
        slide(
            "timeline_before",
            wording("This is the course up to T+0:41."),
            TimeChart(empty_chart(), wording("Timeline up to T+0:41: incision, ports, dissection.")),
        ),
        slide(
            "frame",
            wording("What do you see at T+0:42?"),
            Picture(
                image,
                wording("Still at T+0:42, unmarked: gallbladder bed and duct."),
                wording("View from the umbilical port, gallbladder held up."),
            ),
            pause=True,
        ),
        slide(
            "frame_marked",
            wording("The clip stands across the duct, and bile is seen below it."),
            Picture(
                image, wording("Still at T+0:42 with two arrows and a ring."), wording(""), ARROWS, CIRCLES
            ),
        ),
        slide(
            "options",
            wording("What would you do now?"),
            Table(
                (wording("Option"), wording("A fair reason for it")),
                (
                    (
                        Cell(wording("Take the clip off and look again"), strong=True),
                        Cell(wording("It was placed a minute ago; nothing has been cut")),
                    ),
                    (
                        Cell(wording("Ask for an X-ray of the ducts first"), strong=True),
                        Cell(wording("Shows the whole course before anything is moved")),
                    ),
                    (
                        Cell(wording("Convert to open operation"), strong=True),
                        Cell(wording("Hands and eyes on the structure; help is free now")),
                    ),
                ),
                (2, 3),
                wording("Options without the choice"),
            ),
            pause=True,
        ),
        slide(
            "situation",
            wording("The picture and what was known stood side by side."),
            Picture(image, wording("The same still beside what was known.")),
            Bullets(
                (wording("Pressure 12 mmHg"), wording("Second port clouded"), wording("No bleeding seen"))
            ),
            beside=True,
        ),
        slide("held", wording("Three things went well and held."), BULLETS),
        slide(
            "actions",
            wording("Three actions, of which one still incomplete."),
            actions(),
            Paragraph(wording("Only one of these changes the system itself."), Tone.STRONG),
        ),
        slide("questions", wording("Three questions to the room."), QUESTIONS, pause=True),
        slide(
            "pause",
            wording("The chart stops here."),
            Callout(wording("Who do you call, and what are your words?"), wording("Think for 20 seconds")),
            pause=True,
        ),
        slide(
            "cause_diagram",
            wording("One root cause and one contributory factor."),
            Diagram(causes(), notes=(wording("Rows: Vincent 1998."),)),
        ),
        slide(
            "follow_up",
            wording("Two visits so far."),
            Diagram(series(), wording("Day 0 is the day of the operation.")),
        ),
        slide(
            "take_away",
            wording("If you keep one thing, keep this."),
            Callout(wording("Nothing is cut until two people have named it aloud.")),
        ),
    )
    return Storyboard(
        wording("case"), wording("A change of plan"), wording("department review"), slides, BANNER
    )
