"""The timeline as the deck draws it, beside its events; and what the room sees where it is stopped.

What draws is imported where it is used: it would make the first page of all wait.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, abort, jsonify, render_template, request
from flask.blueprints import BlueprintSetupState
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.page.ahead import Made
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.parts._typed import typed

if TYPE_CHECKING:
    from mmbuilder.page.parts._drawable import Drawable
    from mmbuilder.page.parts._room import Room, Shown
    from mmbuilder.page.parts._story import Figure, Told
    from mmbuilder.scrub.plan import RedactionPlan

NAME, TITLE, ORDER = "timeline", "Timeline", 40
blueprint = Blueprint(NAME, __name__)

_FIGURE, _ROOM, _PART = "timeline", "room", "words of the timeline alone"
_DRAWING = ThreadPoolExecutor(1, thread_name_prefix="drawing")


@blueprint.record
def _begin(state: BlueprintSetupState) -> None:
    state.app.extensions["desk"].forgets.append(_forget)


def _forget() -> None:
    from mmbuilder.page.parts._drawable import drawable

    drawable.cache_clear()


@blueprint.get("/")
def show() -> str:
    """Show the events in the order of time, and the drawing if it is there already."""
    case = desk()
    folder, whole = _drawable(case), case.checked().folder is not None
    if folder is None:
        return render_template("timeline.html.j2", stops=_needed(case), told=(), drawing=None, lacks=0)
    told, lacks = _story(case, folder), 0 if whole else len(_stops(case))
    drawing = _figure(case, folder)
    return render_template(
        "timeline.html.j2", stops=(), told=told, drawing=drawing, lacks=lacks, **_shared(told)
    )


@blueprint.get("/drawing")
def drawing() -> AnyResponse:
    """Give the script of the page the drawing, once it is there."""
    case = desk()
    folder = _drawable(case)
    if folder is None:
        return jsonify({"running": False, "fault": "the case has faults that stop it", "html": ""})
    made = _figure(case, folder)
    html = ""
    if made.value is not None:
        told = _story(case, folder)
        html = render_template("timeline_figure.html.j2", figure=made.value, **_shared(told))
    return jsonify({"running": made.running, "fault": made.fault, "html": html})


@blueprint.get("/room")
def at_pause() -> str:
    """Show the slides up to one place where the room is stopped, and nothing later."""
    case = desk()
    folder = case.checked().folder
    if folder is None:
        return render_template("room.html.j2", stops=_stops(case), made=None, at=None)
    made = _room(case, folder)
    at = _chosen(made.value, request.args.get("at", "")) if made.value else None
    before, since = _parted(made.value, at) if made.value and at else ((), ())
    return render_template("room.html.j2", stops=(), made=made, at=at, before=before, since=since)


@blueprint.get("/room/state")
def state() -> AnyResponse:
    """Say whether the slides are still being made, for the script of the page."""
    case = desk()
    folder = case.checked().folder
    return jsonify({"running": folder is not None and _room(case, folder).running})


@blueprint.get("/picture/<int:place>")
def picture(place: int) -> Response:
    """Return one picture as the room sees it: covered and cut."""
    case = desk()
    folder = case.checked().folder
    made = _room(case, folder).value if folder is not None else None
    if made is None or place >= len(made.pictures):
        abort(404)
    return Response(made.pictures[place], mimetype="image/jpeg")


def _story(case: Desk, folder: CaseFolder) -> tuple[Told, ...]:
    from mmbuilder.page.parts._story import story

    return story(folder, typed(case))


def _drawable(case: Desk) -> CaseFolder | None:
    """Return the case, or as much of it as can be drawn while other parts have faults."""
    whole = case.checked().folder
    if whole is not None:
        return whole
    part = _part(case)
    return part.folder if part is not None else None


def _part(case: Desk) -> Drawable | None:
    from mmbuilder.page.parts._drawable import drawable

    return drawable(case.root, case.text(), case.state())


def _needed(case: Desk) -> list[Any]:
    """Return what stops the drawing: faults of the events, or of the text as a whole."""
    part = _part(case)
    told = {(one.code, one.text) for one in part.stops} if part is not None else set()
    stops = _stops(case)
    return [one for one in stops if (one.code, one.text) in told] or stops


def _stops(case: Desk) -> list[Any]:
    return [problem for problem in case.checked().problems if problem.stops]


# Made once for each state of the case, and never while a click waits


def _figure(case: Desk, folder: CaseFolder) -> Made[Figure]:
    from mmbuilder.page.parts._story import figure

    held = case.ahead.kept(_FIGURE, state := case.state())
    if held is not None:
        return held
    search = case.words() if case.checked().folder is folder else _part_words(case, state, folder)
    if (plan := search.value) is None:
        return Made(fault=search.fault)
    return case.ahead.begun(_FIGURE, state, lambda: _DRAWING.submit(figure, folder, plan))


def _part_words(case: Desk, state: str, folder: CaseFolder) -> Made[RedactionPlan]:
    """Return what is found in the words of what can be drawn; begin the search if nobody has."""
    from mmbuilder.page.parts._drawable import in_words
    from mmbuilder.scrub.decided import ruled
    from mmbuilder.scrub.walk import Texts

    part = _part(case)
    assert part is not None
    found = case.ahead.begun(_PART, state, lambda: case.worker.do(in_words, case.root, part.text))
    if found.value is None:
        return found
    return Made(ruled(found.value, folder, Texts(folder.case, folder.previous)))


def _room(case: Desk, folder: CaseFolder) -> Made[Room]:
    from mmbuilder.page.parts._room import room

    held = case.ahead.kept(_ROOM, state := case.state())
    if held is not None:
        return held
    search = case.search()
    if (plan := search.value) is None:
        return Made(fault=search.fault)
    return case.ahead.begun(_ROOM, state, lambda: _DRAWING.submit(room, folder, plan))


# For the templates


def _shared(told: tuple[Told, ...]) -> dict[str, Any]:
    from mmbuilder.page.parts._story import HIGH, WIDE

    return {"by_key": {one.key: one for one in told}, "wide": WIDE, "high": HIGH}


def _chosen(made: Room, number: str) -> Shown | None:
    """Return the place that was asked for, or the first."""
    asked = (slide for slide in made.choices if str(slide.number) == number)
    return next(asked, made.choices[0] if made.choices else None)


def _parted(made: Room, at: Shown) -> tuple[tuple[Shown, ...], tuple[Shown, ...]]:
    """Return the slides up to the stop before this one, and those from there to this one."""
    shown = made.slides[: at.number]
    last = max((slide.number for slide in made.choices if slide.number < at.number), default=0)
    return shown[:last], shown[last:]
