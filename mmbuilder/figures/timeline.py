"""The timeline as a sheet: what the cut may show, drawn into the places of the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise

from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.timeline import Chart, Interval, Mark, Timeline
from mmbuilder.figures.axis import clamped, ticks, unit_name
from mmbuilder.figures.bars import HEIGHT, Bar, Bars
from mmbuilder.figures.entries import Entry, Key, entries
from mmbuilder.figures.flags import ROW, Bracket, Flag, brackets
from mmbuilder.figures.hatch import Hatch, hatched
from mmbuilder.figures.layout import Placed
from mmbuilder.figures.notes import notes, paragraph
from mmbuilder.figures.plan import (
    ARROW,
    FLAG_LINE,
    Band,
    Plan,
    lane_name,
    make_plan,
    mark_x,
    note_lines,
    numbers,
    undrawn,
)
from mmbuilder.figures.readings import draw_readings
from mmbuilder.figures.sheet import (
    Box,
    Dash,
    Dots,
    Item,
    Shape,
    Sheet,
    Stroke,
    Words,
    plates,
    rectangle,
    stroke,
)
from mmbuilder.figures.style import BIG, FLAG, LINE, TEXT, Ink, fit, width, wrap
from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import SafeText, fill, number, wording


@dataclass
class Pen:
    """What is drawn, in the order it is painted: ground, lines, words, marks."""

    plan: Plan
    shown: Timeline
    until: float
    """Minutes; infinity if nothing is held back."""
    ground: list[Item] = field(default_factory=list)
    lines: list[Item] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    marks: list[Item] = field(default_factory=list)

    def write(
        self,
        x: float,
        baseline: float,
        text: SafeText,
        *,
        plate: Ink | None = Ink.WHITE,
        ink: Ink = Ink.BLACK,
    ) -> None:
        """Write a line of ordinary text."""
        self.words.append(Words(x, baseline, text, TEXT, False, ink, plate))

    def free(self, candidates: Iterable[Words]) -> bool:
        """Write the first candidate that touches no other text; whether there was one."""
        for words in candidates:
            if not any(words.box.overlaps(other.box) for other in self.words):
                self.words.append(words)
                return True
        return False

    def pieces(self, start: float, end: float) -> list[tuple[float, float]]:
        """Return the parts of a stretch on the axis that the cut may show."""
        end = min(end, self.until)
        return self.plan.axis.pieces(start, end) if end >= start else []

    def sheet(self) -> Sheet:
        """Return everything in painting order."""
        back = [*self.ground, *self.lines]
        return Sheet(
            self.plan.width, self.plan.height, (*back, *plates(self.words), *self.marks, *self.words)
        )


def compose(chart: Chart, wide: float, high: float) -> Sheet:
    """Lay a chart out on a sheet of `wide` by `high` points."""
    plan = make_plan(chart.timeline, wide, high)
    shown = cut(chart)
    pen = Pen(plan, shown, float("inf") if chart.until is None else chart.until)
    if plan.axis.scales:
        _axis(pen)
        _bars(pen, "phases", plan.phases, wording("Phase"))
        _bars(pen, "recorder", plan.recorder, wording("Recorder"))
        _flags(pen)
        draw_readings(pen)
        _lanes(pen)
    _zone(pen)
    _list(pen)
    if chart.brackets and plan.axis.scales:
        _brackets(pen)
    _notes(pen, told=chart.brackets)
    if plan.axis.scales:
        _here(pen, chart.until)
    return pen.sheet()


def _visible(pen: Pen) -> dict[Key, Entry]:
    """Return what the cut shows, under the numbers it has in the whole story."""
    numbered = {entry.key: entry.number for entry in pen.plan.entries}
    return {entry.key: replace(entry, number=numbered[entry.key]) for entry in entries(pen.shown)}


# --- axis -----------------------------------------------------------------------------------


def _axis(pen: Pen) -> None:
    plan, band = pen.plan, pen.plan.bands["axis"]
    for scale in plan.axis.scales:
        found = ticks(scale)
        pen.lines.append(stroke((scale.left, band.top), (scale.right, band.top), width=1.4))
        marks = tuple(((x, band.top), (x, band.top + 5)) for x, _ in found)
        pen.lines.append(Stroke(marks, Ink.BLACK, 1.2))
        for x, text in found:
            pen.write(clamped(x, text, scale), band.top + 5 + TEXT * 0.85, text)
        if "units" in plan.bands:
            unit = unit_name(scale.panel.unit)
            pen.write(
                clamped((scale.left + scale.right) / 2, unit, scale),
                _base(plan.bands["units"]),
                unit,
                ink=Ink.GREY,
            )
    if "units" not in plan.bands:
        pen.write(0, band.top + 5 + TEXT * 0.85, _fit_gutter(pen, wording("h:min")), ink=Ink.GREY)
    _breaks(pen, band)


def _breaks(pen: Pen, band: Band) -> None:
    top = pen.plan.bands.get("phases", Band(0, 0)).top
    for (left, right), skip in zip(pen.plan.axis.breaks, pen.plan.axis.skips, strict=True):
        middle = (left + right) / 2
        pen.lines.append(stroke(*_zigzag(middle - 3, top, band.top + 4), ink=Ink.GREY, width=1.0))
        pen.lines.append(stroke(*_zigzag(middle + 3, top, band.top + 4), ink=Ink.GREY, width=1.0))
        pen.write(middle - width(skip) / 2, band.top + 5 + TEXT * 0.85, skip)


def _zigzag(x: float, top: float, bottom: float) -> Iterator[tuple[float, float]]:
    steps = max(int((bottom - top) / 7), 2)
    for step in range(steps + 1):
        yield x + (2.5 if step % 2 else -2.5), top + (bottom - top) * step / steps


def _fit_gutter(pen: Pen, text: SafeText) -> SafeText:
    return fit(text, pen.plan.axis.left - 4)


def _base(band: Band) -> float:
    return band.middle + TEXT * 0.33


# --- bars -----------------------------------------------------------------------------------


def _bars(pen: Pen, name: str, bars: Bars, title: SafeText) -> None:
    """Draw phases or recordings: those that the cut has, as far as it has them."""
    if name not in pen.plan.bands:
        return
    band = pen.plan.bands[name]
    visible = [bar for bar in bars.bars if bar.start <= pen.until]
    if visible:
        pen.write(0, band.bottom - HEIGHT / 2 + TEXT * 0.33, title, plate=None)
    above = {placed.label.key: placed for placed in bars.names.placed}
    for bar in visible:
        _bar(pen, bar, band, _fill_of(name, bar))
        if bar.place in above:
            _bar_name(pen, bar, above[bar.place], band)
    if name == "recorder":
        _off(pen, visible, band)


def _fill_of(name: str, bar: Bar) -> Ink:
    if name == "recorder":
        return Ink.TAPE
    return Ink.STONE if bar.place % 2 else Ink.PALE


def _bar_box(left: float, right: float, bar: Bar, band: Band) -> Box:
    bottom = band.bottom - bar.row * (HEIGHT + 2)
    return Box(left, bottom - HEIGHT, right, bottom)


def _bar(pen: Pen, bar: Bar, band: Band, ink: Ink) -> None:
    end = float("inf") if bar.end is None else bar.end
    pieces = pen.pieces(bar.start, end)
    goes_on = bar.end is None or bar.end > pen.until
    for left, right in pieces:
        box = _bar_box(left, right, bar, band)
        pen.ground.append(rectangle(box, ink))
        edges = [((left, box.top), (right, box.top)), ((left, box.bottom), (right, box.bottom))]
        edges.append(((left, box.top), (left, box.bottom)))
        if not (goes_on and right == pieces[-1][1]):
            edges.append(((right, box.top), (right, box.bottom)))
        pen.ground.append(Stroke(tuple(edges), Ink.GREY, 0.8))
    if bar.inside and pieces:
        left, right = max(pieces, key=lambda piece: piece[1] - piece[0])
        text = fit(bar.name, right - left - 8)
        if text:
            box = _bar_box(left, right, bar, band)
            pen.write(left + 5, box.bottom - HEIGHT / 2 + TEXT * 0.33, text, plate=ink)


def _bar_name(pen: Pen, bar: Bar, placed: Placed, band: Band) -> None:
    top = band.bottom - (bar.row + 1) * (HEIGHT + 2) + 2
    baseline = band.top + LINE * (_name_rows(pen, placed) - placed.row) + TEXT * 0.85
    pen.write(placed.start, baseline, bar.name)
    pen.lines.append(stroke((placed.label.x, baseline + 2), (placed.label.x, top), ink=Ink.GREY, width=0.9))


def _name_rows(pen: Pen, placed: Placed) -> int:
    for bars in (pen.plan.phases, pen.plan.recorder):
        if placed in bars.names.placed:
            return bars.names.rows
    return placed.row


def _off(pen: Pen, visible: list[Bar], band: Band) -> None:
    """Hatch the stretches between recordings of a row, once the next one has begun."""
    for row in {bar.row for bar in visible}:
        tapes = sorted((bar for bar in visible if bar.row == row), key=lambda bar: bar.start)
        for before, after in pairwise(tapes):
            if before.end is None or after.start <= before.end:
                continue
            for left, right in pen.pieces(before.end, after.start):
                box = _bar_box(left, right, before, band)
                pen.ground.extend(hatched(box, Hatch.RECORDER_OFF))
                _words_in(pen, box, wording("off"))


def _words_in(pen: Pen, box: Box, text: SafeText) -> None:
    wide = width(text)
    if wide + 8 <= box.right - box.left:
        pen.write((box.left + box.right - wide) / 2, (box.top + box.bottom) / 2 + TEXT * 0.33, text)


# --- the three marks ------------------------------------------------------------------------


def _flags(pen: Pen) -> None:
    if "flags" not in pen.plan.bands:
        return
    band, by_number = pen.plan.bands["flags"], {flag.number: flag for flag in pen.plan.flags}
    visible = {event.number for event in pen.shown.events}
    for placed in pen.plan.flag_places.placed:
        flag = by_number[int(str(placed.label.key))]
        if flag.number in visible:
            _flag(pen, flag, placed, band)


def _flag(pen: Pen, flag: Flag, placed: Placed, band: Band) -> None:
    bottom = pen.plan.bands["axis"].top
    baseline = band.bottom - (placed.row - 1) * FLAG_LINE - 4.5
    top = baseline - FLAG * 0.8
    light = flag.mark is Mark.RESOLUTION
    exact = flag.at.lo == flag.at.hi
    if flag.at.bounded and not exact:
        assert flag.at.lo is not None
        assert flag.at.hi is not None
        first = pen.plan.bands.get("phases", band)
        for left, right in pen.pieces(flag.at.lo, flag.at.hi):
            pen.ground.insert(0, rectangle(Box(left, first.top, right, bottom), Ink.BAND))
    dash = Dash.SOLID if exact else Dash.DASHED
    ink = Ink.GREY if light else Ink.BLACK
    thick = 1.0 if light else 1.3 if flag.second else 2.6
    pole = ((placed.label.x, top), (placed.label.x, bottom))
    pen.lines.append(stroke(*pole, ink=ink, width=thick, dash=dash))
    pen.words.append(Words(placed.start, baseline, flag.text, FLAG, not light, ink, Ink.WHITE))


def _brackets(pen: Pen) -> None:
    made, _ = _arranged(pen)
    band = pen.plan.bands.get("brackets", Band(0, 0))
    for bracket in made:
        if (bracket.row + 1) * ROW <= band.bottom - band.top + 0.1:
            _bracket(pen, bracket, band)


def _arranged(pen: Pen) -> tuple[tuple[Bracket, ...], tuple[Interval, ...]]:
    return brackets(pen.shown, pen.plan.axis, tight=pen.plan.mode.squeeze > 2)


def _untold(pen: Pen) -> tuple[Interval, ...]:
    return _arranged(pen)[1] if pen.plan.axis.scales else pen.shown.intervals


def _bracket(pen: Pen, bracket: Bracket, band: Band) -> None:
    y = band.bottom - (bracket.row + 0.5) * ROW
    tips = (((bracket.start, y - 7), (bracket.start, y + 7)), ((bracket.end, y - 7), (bracket.end, y + 7)))
    pen.lines.append(Stroke((((bracket.start, y), (bracket.end, y)), *tips), Ink.BLUE, 2.6))
    pen.words.append(Words(bracket.left, y + BIG * 0.33, bracket.text, BIG, True, Ink.BLUE, Ink.WHITE))


# --- lanes ----------------------------------------------------------------------------------


def _lanes(pen: Pen) -> None:
    visible = _visible(pen)
    for lane, placement in pen.plan.lanes.items():
        band = pen.plan.bands[lane.value]
        members = [e for e in visible.values() if e.at.placed and pen.plan.lane_of(e) is lane]
        if not members:
            continue
        y = band.bottom - LINE / 2 - 1
        pen.ground.append(
            stroke(
                (pen.plan.axis.left, band.bottom), (pen.plan.axis.right, band.bottom), ink=Ink.RULE, width=0.7
            )
        )
        pen.write(0, y + TEXT * 0.33, lane_name(pen.plan.mode, lane), plate=None)
        for entry in members:
            _mark(pen, entry, y)
        for placed in placement.placed:
            _label(pen, placed, visible, y)


def _label(pen: Pen, placed: Placed, visible: dict[Key, Entry], y: float) -> None:
    keys = placed.label.key
    assert isinstance(keys, tuple)
    group = [visible[key] for key in keys if key in visible]
    if not group:
        return
    baseline = y + TEXT * 0.33 - placed.row * LINE
    text = numbers(group) if pen.plan.mode.numbered else group[0].text
    letter = pen.plan.letters.of(group[0].key) if group[0].others else wording("")
    strong = any(entry.strong for entry in group)
    pen.words.append(
        Words(placed.start, baseline, _lettered(text, letter), TEXT, False, Ink.BLACK, Ink.WHITE)
    )
    if placed.row:
        x = placed.label.x
        top = baseline - TEXT * 0.6
        pen.lines.append(stroke((x, top), (x, y - 4), ink=Ink.BLACK if strong else Ink.GREY, width=0.9))


def _lettered(text: SafeText, letter: SafeText) -> SafeText:
    return fill("{text} {letter}", text=text, letter=_superscript(letter)) if letter else text


def _superscript(letter: SafeText) -> SafeText:
    return fill("({letter})", letter=letter)


def _mark(pen: Pen, entry: Entry, y: float) -> None:
    x = mark_x(entry, pen.plan.axis)
    _uncertain(pen, entry, x, y)
    for other in entry.others:
        if other.centre is not None:
            there = pen.plan.axis.x(other.centre)
            pen.lines.append(stroke((x, y), (there, y), width=0.9))
            pen.marks.append(Dots(((there, y),), entry.shape, 9.0, Ink.BLACK, hollow=True))
    pen.marks.append(_glyph(entry, x, y))


def _glyph(entry: Entry, x: float, y: float) -> Dots:
    ink = Ink.BLACK if entry.strong else Ink.BLUE
    hollow = entry.shape in (Shape.RING, Shape.SQUARE)
    return Dots(((x, y),), entry.shape, 13.0 if entry.strong else 9.5, ink, hollow=hollow)


def _uncertain(pen: Pen, entry: Entry, x: float, y: float) -> None:
    lo, hi = entry.at.lo, entry.at.hi
    if lo is None or hi is None:
        tip = x + (ARROW if hi is None else -ARROW)
        back = tip - 6 if hi is None else tip + 6
        head = ((back, y - 4.5), (tip, y), (back, y + 4.5))
        pen.lines.append(Stroke((((x, y), (tip, y)), head), Ink.BLACK, 1.6))
    elif hi > lo:
        for left, right in pen.pieces(lo, hi):
            ends = (((left, y - 5), (left, y + 5)), ((right, y - 5), (right, y + 5)))
            pen.lines.append(Stroke((((left, y), (right, y)), *ends), Ink.BLACK, 1.6))


def _here(pen: Pen, until: float | None) -> None:
    """Draw the line at which the story stops, with its word at the first free height."""
    if until is None:
        return
    x, bottom = pen.plan.axis.x(until), pen.plan.bands["axis"].top
    text, top = wording("here"), next(iter(pen.plan.bands.values())).top
    pen.lines.append(stroke((x, top), (x, bottom), ink=Ink.BLUE, width=1.4, dash=Dash.DOTTED))
    wide = width(text)
    lefts = (min(x - wide / 2, pen.plan.right - wide), x + 3, x - wide - 3)
    heights = (top + TEXT * 0.8 + step * LINE for step in range(int((bottom - top) / LINE)))
    pen.free(
        Words(left, height, text, TEXT, False, Ink.BLUE, Ink.WHITE)
        for height in heights
        for left in lefts
        if 0 <= left <= pen.plan.right - wide
    )


# --- beside and below -----------------------------------------------------------------------


def _zone(pen: Pen) -> None:
    """List the events without a time at the side, hatched, in the order they were told."""
    hidden = [entry for entry in _visible(pen).values() if not entry.at.placed]
    if pen.plan.zone is None or not hidden:
        return
    left, right = pen.plan.zone
    band = next((pen.plan.bands[name] for name in ("phases", "events") if name in pen.plan.bands), None)
    top = band.top if band else 0.0
    limit = pen.plan.bands["notes"].top - 6
    baseline = top + TEXT + 4
    for line in wrap(wording("order known, time unknown"), right - left - 12):
        pen.write(left + 6, baseline, line, ink=Ink.GREY)
        baseline += LINE
    for entry in hidden:
        baseline = _zone_entry(pen, entry, left, right, baseline + 4, limit)
    pen.ground.extend(hatched(Box(left, top, right, min(baseline - 2, limit)), Hatch.TIME_UNKNOWN))


def _zone_entry(pen: Pen, entry: Entry, left: float, right: float, baseline: float, bottom: float) -> float:
    numbered = pen.plan.mode.numbered
    text = number(entry.number) if numbered else entry.text
    lines = list(wrap(text, right - left - 26))
    if entry.after is not None and not numbered:
        lines += wrap(fill("after {when}", when=clock(entry.after)), right - left - 26)
    if baseline + (len(lines) - 1) * LINE > bottom - 4:
        return baseline
    pen.marks.append(Dots(((left + 11, baseline - TEXT * 0.33),), Shape.RING, 9.0, Ink.BLACK, hollow=True))
    for line in lines:
        pen.write(left + 22, baseline, line)
        baseline += LINE
    return baseline


def _list(pen: Pen) -> None:
    visible = _visible(pen)
    for entry, x, baseline, lines in pen.plan.listing:
        if entry.key not in visible:
            continue
        mark = number(entry.number)
        now = visible[entry.key]
        pen.marks.append(_glyph(now, x + 5, baseline - TEXT * 0.33))
        pen.words.append(Words(x + 31 - width(mark, bold=True), baseline, mark, TEXT, True))
        for index, line in enumerate(lines):
            pen.write(x + 37, baseline + index * LINE, line, plate=None)
    if pen.plan.unlisted and pen.until == float("inf"):
        _, x, baseline, lines = pen.plan.listing[-1]
        more = fill("and {n} more", n=number(pen.plan.unlisted))
        pen.write(x + 37, baseline + len(lines) * LINE, more, plate=None)


def _notes(pen: Pen, *, told: bool) -> None:
    """Write the notes; intervals without a bracket are among them if intervals are `told` at all."""
    band = pen.plan.bands["notes"]
    intervals = _untold(pen) if told else ()
    unnamed = [text for bars in (pen.plan.phases, pen.plan.recorder) for text in bars.unnamed(pen.until)]
    parts = notes(pen.shown, pen.plan.letters, intervals, unnamed, undrawn(pen.shown, pen.plan.strips))
    baseline = band.top + TEXT * 0.9
    for line in paragraph(parts, pen.plan.right - 8, note_lines(pen.plan.mode)):
        pen.write(0, baseline, line, plate=None, ink=Ink.GREY)
        baseline += LINE
