"""The timeline as the deck draws it, beside its events; and what the room sees where it is stopped.

What draws is imported where it is used: it would make the first page of all wait.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, Any

from flask import Blueprint, Response, abort, jsonify, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.page.ahead import Made
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.parts._typed import typed

if TYPE_CHECKING:
    from mmbuilder.page.parts._room import Room, Shown
    from mmbuilder.page.parts._story import Figure, Told

NAME, TITLE, ORDER = "timeline", "Timeline", 40
blueprint = Blueprint(NAME, __name__)

_FIGURE, _ROOM = "timeline", "room"
_DRAWING = ThreadPoolExecutor(1, thread_name_prefix="drawing")


@blueprint.get("/")
def show() -> str:
    """Show the events in the order of time, and the drawing if it is there already."""
    case = desk()
    folder = case.checked().folder
    if folder is None:
        return render_template("timeline.html.j2", stops=_stops(case), told=(), drawing=None)
    told = _story(case, folder)
    return render_template(
        "timeline.html.j2", stops=(), told=told, drawing=_figure(case, folder), **_shared(told)
    )


@blueprint.get("/drawing")
def drawing() -> AnyResponse:
    """Give the script of the page the drawing, once it is there."""
    case = desk()
    folder = case.checked().folder
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


def _stops(case: Desk) -> list[Any]:
    return [problem for problem in case.checked().problems if problem.stops]


# Made once for each state of the case, and never while a click waits


def _figure(case: Desk, folder: CaseFolder) -> Made[Figure]:
    from mmbuilder.page.parts._story import figure

    held = case.ahead.kept(_FIGURE, state := case.state())
    if held is not None:
        return held
    search = case.words()
    if (plan := search.value) is None:
        return Made(fault=search.fault)
    return case.ahead.begun(_FIGURE, state, lambda: _DRAWING.submit(figure, folder, plan))


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
