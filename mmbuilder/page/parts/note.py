"""The messy note: pasted, kept on this computer only, and pulled by hand, line by line, into events.

A time is filled in only where it literally stands in the line, and as it stands there; the kind of
the event is chosen by hand. The note itself never reaches the case, a deck or a paper.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from flask import Blueprint, redirect, render_template, request
from pydantic_core import PydanticCustomError
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.case.when import parse_when
from mmbuilder.errors import FileRefused
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk, Moved
from mmbuilder.page.form.layout import words
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._note import Line, Mark, Note, State
from mmbuilder.page.parts._typed import clock_names, typed, used, word
from mmbuilder.page.parts._written import added, block
from mmbuilder.safe.terms import EventKind

NAME, TITLE, ORDER = "note", "Note", 10
blueprint = Blueprint(NAME, __name__)

_LOCK = threading.Lock()
"""Around reading, comparing and writing the note."""

MOST_WORDS = 2000
"""Characters of what happened in one event."""


@dataclass(frozen=True)
class Pull:
    """One or several lines on their way to an event, as it was filled in.

    Attributes:
        faults: what is wrong, by the field it stands in; each with the beats of the command line.
    """

    lines: tuple[Line, ...]
    what: str
    when: str = ""
    kind: str = ""
    clock: str = ""
    source: str = ""
    times: tuple[str, ...] = ()
    faults: dict[str, dict[str, str]] = field(default_factory=dict)


@blueprint.get("/")
def show() -> str:
    """Show the note with its lines, and the form for the line that was chosen."""
    case, note = desk(), kept.load(desk().aside)
    asked = (request.args.get(name, "") for name in ("line", "to"))
    return _page(case, note, _begun(case, note, *asked))


@blueprint.post("/")
def keep() -> AnyResponse:
    """Keep the note as it is in the box."""
    text = request.form.get("text", "").replace("\r\n", "\n")
    if len(text) > kept.MOST:
        raise FileRefused(f"this note has more than {kept.MOST:,} characters; paste it in parts")
    if sum(1 for _ in kept.pieces(text)) > kept.MOST_LINES:
        raise FileRefused(f"this note has more than {kept.MOST_LINES:,} lines; paste it in parts")
    with _LOCK:
        note = _unmoved(desk())
        kept.save(desk().aside, replace(note, text=text, called=_plain("called")))
    return redirect("/note/#lines", 303)


@blueprint.post("/aside")
def set_aside() -> AnyResponse:
    """Set a line aside as not needed, or bring it back."""
    with _LOCK:
        note = _unmoved(desk())
        line = _line(note, request.form.get("key", ""))
        state = State.LEFT if note.state(line) is not State.LEFT else State.ASIDE
        kept.save(desk().aside, note.marked(line, Mark(state)))
    return redirect(f"/note/#line-{line.number}", 303)


@blueprint.post("/pull")
def pull() -> AnyResponse | tuple[str, int]:
    """Put a line into the timeline as an event, in the words and with the time of the form."""
    case = desk()
    with _LOCK:
        note = _unmoved(case)
        filled = _filled(case, note)
        if filled.faults:
            return _page(case, note, filled), 422
        case.change(lambda tree: _append(tree, filled), request.form.get("revision", ""))
        for line in filled.lines:
            note = note.marked(line, Mark(State.PULLED, filled.what))
        kept.save(case.aside, note)
    later = (line for line in note.lines if line.number > filled.lines[-1].number)
    after = next((line.number for line in later if note.state(line) is State.LEFT), None)
    return redirect(f"/note/?line={after}" if after else "/note/#lines", 303)


# What the form says


def _unmoved(case: Desk) -> Note:
    """Return the note, if it is still the one that the page showed."""
    if request.form.get("note", "") != kept.state_of(case.aside):
        raise Moved(
            "the note was changed in another tab since this page was shown; nothing was overwritten. "
            "Load the page again, then repeat the change"
        )
    return kept.load(case.aside)


def _plain(name: str) -> str:
    return " ".join(request.form.get(name, "").split())


def _line(note: Note, key: str) -> Line:
    for line in note.lines:
        if line.key == key:
            return line
    raise Moved("this line is no longer in the note; nothing was changed. Load the page again")


def _filled(case: Desk, note: Note) -> Pull:
    lines = tuple(_line(note, key) for key in request.form.getlist("key") or [""])
    what, when, kind = _plain("what"), _plain("when"), _plain("kind")
    told = {"kind": _fault("kind", kind), "what": _fault("what", what), "when": _fault("when", when)}
    faults = {name: beats for name, beats in told.items() if beats}
    times = _times(case, _joined(lines))
    return Pull(lines, what, when, kind, _plain("clock"), _plain("source"), times, faults)


def _joined(lines: Iterable[Line]) -> str:
    return " ".join(line.text for line in lines)


def _times(case: Desk, text: str) -> tuple[str, ...]:
    # Of an eye, "at 11.30" tells a place on the clock face.
    return kept.times(text, dial=word(typed(case), "specialty") == "ophthalmology")


def _fault(name: str, value: str) -> dict[str, str]:
    match name:
        case "what" if not value or len(value) > MOST_WORDS:
            return {"text": "say what happened", "expected": f"words, at most {MOST_WORDS:,} characters"}
        case "kind" if value not in [kind.value for kind in EventKind]:
            return {"text": "choose what kind of event it is", "expected": "one from the list"}
        case "when":
            return _time_fault(value)
        case _:
            return {}


def _time_fault(value: str) -> dict[str, str]:
    try:
        parse_when(value)
    except PydanticCustomError as fault:
        return {"text": fault.message(), **{key: str(beat) for key, beat in (fault.context or {}).items()}}
    return {}


def _begun(case: Desk, note: Note, first: str, last: str) -> Pull | None:
    """Return the form for a line, or those up to another: their words, and a time where exactly one stands.

    A time that leads the words stands in its own field then, and need not be said twice.
    """
    numbers = [int(number) if number.isdecimal() and len(number) < 5 else 0 for number in (first, last)]
    lines = tuple(line for line in note.lines if numbers[0] <= line.number <= max(numbers))
    if not numbers[0] or not lines:
        return None
    text = _joined(lines)
    times = _times(case, text)
    when = times[0] if len(times) == 1 else ""
    what = text.removeprefix(when).lstrip(" ,:;.-–—") if when and text.startswith(when) else text
    return Pull(lines, (what or text)[:MOST_WORDS], when, source=note.called, times=times)


# What is written


def _append(tree: Any, filled: Pull) -> None:
    event = {"kind": filled.kind, "what": filled.what, "when": filled.when}
    event |= {name: value for name in ("clock", "source") if (value := getattr(filled, name))}
    if not isinstance(tree.get("timeline"), dict):
        tree["timeline"] = {}
    events = tree["timeline"].get("events")
    if isinstance(events, list):
        added(events, event)
    else:
        tree["timeline"]["events"] = [block(event)]


# What is shown


def _page(case: Desk, note: Note, chosen: Pull | None) -> str:
    tree = typed(case)
    told = set(used(tree, "what"))
    states = {line.key: note.state(line) for line in note.lines}
    return render_template(
        "note.html.j2",
        note=note,
        state=kept.state_of(case.aside),
        states=states,
        tally={state: list(states.values()).count(state) for state in State},
        gone={line.key for line in note.lines if _gone(note, line, told)},
        chosen=chosen,
        kinds=[kind.value for kind in EventKind],
        of_kind=words("Event").keys["kind"].hint,
        clocks=clock_names(tree),
        sources=used(tree, "source"),
        most=kept.MOST,
        most_words=MOST_WORDS,
    )


def _gone(note: Note, line: Line, told: set[str]) -> bool:
    """Whether a line was pulled and its event has been changed or taken out since."""
    mark = note.marks.get(line.key)
    return mark is not None and mark.state is State.PULLED and mark.what not in told
