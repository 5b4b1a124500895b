"""Readings of a monitor: a table is dropped in, looked at, and taken into the case with its columns named."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain, count
from pathlib import Path
from typing import Any

from flask import redirect, render_template, request
from pydantic_core import PydanticCustomError
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder import atomic
from mmbuilder.case.freetext import Path as Place
from mmbuilder.case.model import Case
from mmbuilder.case.when import parse_duration
from mmbuilder.casefile.readings.csvfile import MOST_BYTES
from mmbuilder.errors import FileRefused, MMBuilderError
from mmbuilder.page import leftover
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk, Moved
from mmbuilder.page.parts._bare import day_of
from mmbuilder.page.parts._charted import Chart, charts
from mmbuilder.page.parts._note import load
from mmbuilder.page.parts._stamped import stamped_by
from mmbuilder.page.parts._table import Asked, Column, Preview, as_text, preview
from mmbuilder.page.parts._typed import Clocks, clocks_of, day_zero, entries, typed, word
from mmbuilder.page.parts._written import added, block, flow
from mmbuilder.page.parts.readings import NAME
from mmbuilder.problem import Problem

WAITING = "readings.csv"
"""The table that was dropped in and not taken yet, beside the case."""

_OF_A_COLUMN = frozenset(("column-not-found", "readings-comma", "readings-unit"))
"""Faults of one column of readings; others are of the times and rows."""

_ENVELOPE = 2**16
"""Bytes of a request beside its file."""


@dataclass(frozen=True)
class Line:
    """A line of a readings file, and whether a figure has room for it."""

    words: str
    drawn: bool


@dataclass(frozen=True)
class Taken:
    """A readings file of the case: its place in the case, and what the check says of it."""

    file: str
    clock: str
    lines: tuple[Line, ...]
    problems: tuple[Problem, ...]


def show() -> str:
    """Show the readings of the case, and what was dropped in."""
    return _page(desk(), {}, {})


def look() -> AnyResponse | tuple[str, int]:
    """Put what was dropped in beside the case, as text, to be looked at."""
    request.max_content_length = MOST_BYTES + _ENVELOPE
    dropped = request.files.get("file")
    if dropped is None or not dropped.filename:
        return _page(desk(), {}, {"file": "Choose a file first."}), 422
    case = desk()
    try:
        with dropped.stream as stream:
            content = as_text(stream.read(MOST_BYTES + 1))
        case.aside.mkdir(exist_ok=True)
        atomic.write(_waiting(case), content)
        preview(_waiting(case), _state(case), _asked(case, {}))
    except MMBuilderError as refused:
        _waiting(case).unlink(missing_ok=True)
        return _page(case, {}, {"file": f"Not taken: {refused}."}), 422
    return redirect("/readings/", 303)


def look_at_note() -> AnyResponse:
    """Put the chart that was copied into the note beside the case, as a table, to be looked at."""
    case = desk()
    if (chart := _charted(case)) is not None:
        atomic.write(_waiting(case), chart.table().encode())
    return redirect("/readings/#looked", 303)


def look_again() -> AnyResponse | str:
    """Look at it once more as the form says: by another column of the time, with readings due so often."""
    case, form = desk(), _form()
    if form.get("state") != _state(case):
        return redirect("/readings/", 303)
    return _page(case, form, {})


def leave() -> AnyResponse:
    """Take what was dropped in away again."""
    _waiting(desk()).unlink(missing_ok=True)
    return redirect("/readings/", 303)


def take() -> AnyResponse | tuple[str, int]:
    """Write the table into `readings/`, and an entry for it into the case."""
    case, form = desk(), _form()
    if form.get("state") != _state(case) or not _waiting(case).is_file():
        raise Moved("another file was dropped in since this page was shown; nothing was taken. Load it again")
    case.unmoved(form.get("revision", ""))
    table = preview(_waiting(case), _state(case), _asked(case, form))
    faults = dict(_faults(form, table))
    if not faults:
        drawn = tuple(column.place for column in _drawn(form, table))
        read = preview(_waiting(case), _state(case), replace(_asked(case, form), drawn=drawn))
        faults = dict(_refusals(read))
    if faults:
        return _page(case, form, faults), 422
    name = form["name"] if form["name"].lower().endswith(".csv") else f"{form['name']}.csv"
    within = case.write_file("readings", name, _waiting(case).read_bytes())
    case.change(lambda tree: _append(tree, _entry(form, table, within)), form["revision"])
    _waiting(case).unlink(missing_ok=True)
    return redirect("/readings/#taken", 303)


def remove() -> AnyResponse:
    """Take a line, or a whole file of readings, out of the case; the file itself stays in the folder."""
    from mmbuilder.page.form import keeping

    steps = request.form.get("at", "").split("-")
    if len(steps) not in (1, 2) or not all(step.isdecimal() and len(step) < 6 for step in steps):
        raise FileRefused("the page did not send what was expected; load it again")
    lists = ("readings", "lines")[: len(steps)]
    path: Place = tuple(chain.from_iterable(zip(lists, map(int, steps), strict=True)))
    desk().rewrite(lambda text: keeping.remove(text, Case, path)[0], request.form.get("revision", ""))
    return redirect("/readings/#taken", 303)


def delete() -> AnyResponse:
    """Delete a file that the case does not name."""
    leftover.delete(desk(), NAME, request.form.get("name", ""), request.form.get("revision", ""))
    return redirect("/readings/#taken", 303)


# What was dropped in


def _waiting(case: Desk) -> Path:
    return case.aside / WAITING


def _charted(case: Desk) -> Chart | None:
    """The first chart of the note that is not among the readings of the case yet."""
    there = {path.read_bytes() for path in (case.root / "readings").glob("*.csv")}
    each = charts(load(case.aside).text)
    return next((one for one in each if one.table().encode() not in there), None)


def _state(case: Desk) -> str:
    path = _waiting(case)
    return hashlib.sha256(path.read_bytes()).hexdigest()[:16] if path.is_file() else ""


def _asked(case: Desk, form: dict[str, str]) -> Asked:
    """Return what the form and the case say of it; what cannot be read is told at its own place."""
    time, every = form.get("time", ""), form.get("every", "")
    return Asked(
        parse_duration(every) if every and not _no_length(every) else None,
        int(time) if time.isdecimal() and len(time) < 4 else None,
        day_zero=day_of(day_zero(typed(case))),
    )


# What the form says


def _form() -> dict[str, str]:
    return {name: " ".join(value.split()) for name, value in request.form.items()}


def _drawn(form: dict[str, str], table: Preview) -> list[Column]:
    return [column for column in table.numbers if form.get(f"draw-{column.place}")]


def _faults(form: dict[str, str], table: Preview) -> Any:
    """Yield (field, what is wrong) of the form."""
    if not form.get("name"):
        yield "name", "Give the file a short name."
    if not any(str(column.place) == form.get("time") for column in table.columns):
        yield "time", "Say which column holds the time."
    if form.get("every") and (wrong := _no_length(form["every"])):
        yield "every", wrong
    columns = _drawn(form, table)
    if not columns:
        yield "lines", "Choose at least one column to draw."
    for column in columns:
        for what, words in (("called", "Say what to call it."), ("unit", "Say its unit.")):
            if not form.get(f"{what}-{column.place}"):
                yield f"{what}-{column.place}", words
        if _unsure(form, column):
            yield f"unit-{column.place}", "Guessed from the values: tick it if it is right, or change it."
        for side in ("low", "high"):
            if form.get(f"{side}-{column.place}") and not _is_number(form[f"{side}-{column.place}"]):
                yield f"{side}-{column.place}", "A plain number, or nothing."


def _unsure(form: dict[str, str], column: Column) -> bool:
    """Whether what was guessed of a column stands there unchanged, and nobody has said that it is right."""
    said = (form.get(f"called-{column.place}"), form.get(f"unit-{column.place}"))
    guess = column.proposed
    as_guessed = said[1] == guess.unit if f"in {guess.unit}" in guess.guessed else said[0] == guess.called
    return bool(guess.guessed) and as_guessed and not form.get(f"sure-{column.place}")


def _refusals(read: Preview) -> Iterator[tuple[str, str]]:
    """Yield (field, what the check would stop the case for)."""
    if not read.times:
        yield "time", "This is no column of times: its heading stands there twice."
    for problem in read.problems:
        if problem.stops:
            field = "lines" if problem.code in _OF_A_COLUMN else "time"
            yield field, f"{problem.text.capitalize()}. Found: {problem.found}. Write {problem.expected}."


def _no_length(words: str) -> str:
    try:
        parse_duration(words)
    except PydanticCustomError as fault:
        return f"{fault.message()}; for example {(fault.context or {}).get('example', '1 min')}"
    return ""


def _is_number(words: str) -> bool:
    try:
        return abs(float(words)) < float("inf")
    except ValueError:
        return False


# What is written


def _entry(form: dict[str, str], table: Preview, within: str) -> dict[str, Any]:
    time = next(column for column in table.columns if str(column.place) == form["time"])
    entry: dict[str, Any] = {"file": within}
    entry |= {"clock": form["clock"]} if form.get("clock") else {}
    entry["time column"] = time.heading
    entry |= {"every": form["every"]} if form.get("every") else {}
    entry["lines"] = [flow(_line(form, column)) for column in _drawn(form, table)]
    return entry


def _line(form: dict[str, str], column: Column) -> dict[str, str]:
    fields = {"name": "called", "unit": "unit", "low": "low", "high": "high"}
    given = {key: form.get(f"{field}-{column.place}", "") for key, field in fields.items()}
    if column.odd and form.get(f"none-{column.place}"):
        given[column.odd.side] = given[column.odd.side] or column.odd.limit
    return {"column": column.heading} | {key: value for key, value in given.items() if value}


def _append(tree: Any, entry: dict[str, Any]) -> None:
    if isinstance(tree.get("readings"), list):
        added(tree["readings"], entry)
    else:
        tree["readings"] = [block(entry)]


# What is shown


def _page(case: Desk, form: dict[str, str], faults: dict[str, str]) -> str:
    from mmbuilder.analysis.timeline import MOST_LINES

    tree, state = typed(case), _state(case)
    taken = [*_taken(case, tree, MOST_LINES)]
    table, refused = None, ""
    try:
        table = preview(_waiting(case), state, _asked(case, form)) if state else None
    except FileRefused as fault:
        refused = str(fault)
    number = len(list((case.root / "readings").glob("*"))) + 1 if (case.root / "readings").is_dir() else 1
    return render_template(
        "readings.html.j2",
        table=table,
        state=state,
        refused=refused,
        form=form,
        faults=faults,
        taken=taken,
        clocks=(clocks := clocks_of(tree)),
        named=(named := _named_in(table, clocks) if table else ""),
        stamped=named or stamped_by(load(case.aside).text, clocks),
        suggested=f"readings-{number}.csv",
        chart=_charted(case) if table is None else None,
        leftover=leftover.leftover(case, NAME),
        drawn=MOST_LINES,
        room=max(0, MOST_LINES - sum(len(one.lines) for one in taken)),
        most=MOST_BYTES // 2**20,
    )


def _named_in(table: Preview, clocks: Clocks) -> str:
    """The clock whose name stands in the file; of a device that names itself above its table."""
    for name in clocks.others:
        if (set(re.findall(r"\w+", name.casefold())) - _OF_ANY_CLOCK) & table.words:
            return name
    return ""


_OF_ANY_CLOCK = frozenset(("clock", "time", "the", "of", "a", "in", "on", "no"))
"""Words of a clock's name that say nothing of the device."""


def _taken(case: Desk, tree: dict[str, Any], most: int) -> Iterator[Taken]:
    """Yield each readings file of the case with what the check says of it.

    Args:
        case: the open case.
        tree: the case as typed.
        most: lines that a figure draws: the first of the case.
    """
    listed = entries(tree, "readings")
    problems = case.checked().problems
    places = [*(getattr(entry.get("file"), "line", 0) for entry in listed), float("inf")]
    before = count(1)
    for place, entry in enumerate(listed):
        lines = tuple(
            Line(f"{word(line, 'name')} ({word(line, 'unit')})", next(before) <= most)
            for line in entries(entry, "lines")
        )
        own = tuple(
            one
            for one in problems
            if one.file.endswith("case.yaml")
            and places[place] <= one.line < places[place + 1]
            and one.code in CODES
        )
        yield Taken(word(entry, "file"), word(entry, "clock"), lines, own)


CODES = frozenset(
    {"artefact-no-reading", "column-not-found", "gap-no-time", "file-missing", "file-outside"}
    | {f"readings-{what}" for what in ("days", "empty", "file", "no-date", "not-numbers", "order")}
    | {f"readings-{what}" for what in ("ragged", "refused", "time")}
    | {"clock-not-listed", "recording-no-start", "recording-unclear"}
)
"""What the check may say of a readings file (DEVELOPERS.md, codes of faults)."""
