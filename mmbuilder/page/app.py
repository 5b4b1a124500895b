"""The pages over an open case, without a socket: `create_app`.

Parts are found in `parts/`; this file holds what all of them have in common: the frame, undo,
"forget everything", and errors told in words.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

from flask import (
    Flask,
    Response,
    current_app,
    jsonify,
    redirect,
    render_template,
    request,
)
from jinja2 import StrictUndefined
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder import registry
from mmbuilder.errors import CaseInvalid, MMBuilderError, where
from mmbuilder.page.desk import Desk, Moved
from mmbuilder.page.guarding import Door, guard
from mmbuilder.safe.terms import Use

PARTS = "mmbuilder.page.parts"
MOST_FORM = 4 * 2**20
"""Bytes of a form without a file; a part that takes files sets its own bound."""


def create_app(desk: Desk, door: Door) -> Flask:
    """Return the pages over an open case.

    Args:
        desk: the open case.
        door: who may come in.
    """
    app = Flask("mmbuilder.page", static_url_path="/static")
    app.jinja_options = {
        "autoescape": True,
        "undefined": StrictUndefined,
        "trim_blocks": True,
        "lstrip_blocks": True,
    }
    app.config.update(MAX_CONTENT_LENGTH=MOST_FORM, MAX_FORM_MEMORY_SIZE=MOST_FORM, MAX_FORM_PARTS=5000)
    app.config["PROPAGATE_EXCEPTIONS"] = False
    app.extensions["desk"] = desk
    guard(app, door)
    leaves = registry.discover(PARTS, "NAME", "TITLE", "ORDER", "blueprint")
    ordered = sorted(leaves.values(), key=lambda leaf: leaf.ORDER)
    for leaf in ordered:
        app.register_blueprint(leaf.blueprint, url_prefix=f"/{leaf.NAME}")
    nav = [(leaf.NAME, leaf.TITLE, getattr(leaf, "FOR_A_USE", False)) for leaf in ordered]
    app.context_processor(lambda: _common(nav))
    app.add_url_rule("/", "start", lambda: redirect(f"/{nav[0][0]}/"))
    app.add_url_rule("/undo", "undo", _undo, methods=["POST"])
    app.add_url_rule("/redo", "redo", _redo, methods=["POST"])
    app.add_url_rule("/forget", "forget", _forget, methods=["GET", "POST"])
    app.register_error_handler(Exception, _failed)
    return app


def desk() -> Desk:
    """Return the open case of this request."""
    return cast(Desk, current_app.extensions["desk"])


def use_of(word: str | None) -> Use:
    """Return the use that a page was asked for, else the case's own."""
    own = desk().checked().folder
    given = next((use for use in Use if use.value == word), None)
    return given or (own.case.use if own else Use.REVIEW)


def wants_json() -> bool:
    """Whether the script of a page asks, rather than a form."""
    return request.accept_mimetypes.best == "application/json"


def _common(nav: list[tuple[str, str, bool]]) -> dict[str, Any]:
    case = desk()
    undone, redone = case.history.depth()
    asked = request.args.get("use", "")  # who signs for one use goes on to get that one
    return {
        "nav": [(name, title, asked if for_a_use else "") for name, title, for_a_use in nav],
        "here": (request.blueprint or ""),
        "revision": case.revision(),
        "code": _code(case),
        "undos": undone,
        "redos": redone,
    }


def _code(case: Desk) -> str:
    """The code of the case for the tab: it names files, so the check has refused one that names somebody."""
    folder = None if case.being_read else case.checked().folder
    return folder.case.code if folder else "case"


def _undo() -> AnyResponse:
    return _stepped(desk().undo(), "Undone.", "There is nothing to undo.")


def _redo() -> AnyResponse:
    return _stepped(desk().redo(), "Done again.", "There is nothing to do again.")


def _stepped(changed: str | None, done: str, nothing: str) -> AnyResponse:
    if wants_json():
        return jsonify({"revision": desk().revision(), "said": done if changed else nothing})
    return redirect(_back(), 303)


def _back() -> str:
    """The page that asked, if it is one of ours."""
    from urllib.parse import urlsplit

    return urlsplit(request.referrer or "").path or "/"


def _forget() -> str:
    if request.method == "POST":
        desk().forget()
    return render_template("forget.html.j2", done=request.method == "POST")


def _failed(error: Exception) -> tuple[Response | str, int]:
    """Tell an error in words; of an unknown one kind and place only: its message may hold case text."""
    code, words = _told(error)
    if code == 403:  # a stranger is told nothing of the case, not even its code
        return _bare(_REFUSED, words), code
    try:
        kept = code == 500 and _written()
        words = f"It was kept. Then there was {words}" if kept else words
        if wants_json():
            return jsonify({"fault": words, "kept": kept, "revision": desk().revision()}), code
        return render_template("fault.html.j2", words=words, problems=getattr(error, "problems", ())), code
    except Exception:  # what broke is in every page: the case cannot be checked
        return (jsonify({"fault": words}) if wants_json() else _bare(_BROKEN, words)), code


def _bare(template: str, words: str) -> str:
    """Return a page without what all pages have in common, for which the case is read."""
    return current_app.jinja_env.from_string(template).render(words=words)


def _written() -> bool:
    """Whether the case has changed since the page that asks for something was shown."""
    body = request.get_json(silent=True) if request.is_json else request.form
    before = body.get("revision") if isinstance(body, Mapping) else None
    return request.method == "POST" and bool(before) and before != desk().revision()


def _told(error: Exception) -> tuple[int, str]:
    match error:
        case Moved():
            return 409, str(error)
        case CaseInvalid():
            return 422, str(error)
        case MMBuilderError():
            return 400, str(error)
        case HTTPException():
            return error.code or 500, _HTTP.get(error.code or 500, "this cannot be done")
        case _:
            return 500, f"a fault of the program itself, {where(error)}; nothing was lost"


_REFUSED = """<!doctype html><html lang="en"><meta charset="utf-8"><title>mmbuilder</title>
<h1>Not opened</h1><p>{{ words }}.</p><p>Close this tab. In the window where you started the program, stop it
with Ctrl+C and run it again; it opens a new address, which works once.</p></html>"""

_BROKEN = """<!doctype html><html lang="en"><meta charset="utf-8"><title>mmbuilder</title>
<link rel="stylesheet" href="/static/page.css">
<main><h1>Not done</h1><p class="bad">{{ words }}.</p>
<p>The case lies in its folder as it was written. Take the last change back, then go on; if this page comes
again, stop the program with Ctrl+C where you started it, run it again, and report what stands above.</p>
<form method="post" action="/undo"><button>Undo the last change</button></form>
<p><a href="/">Go on with the case</a></p></main></html>"""

_HTTP = {
    400: "the page did not send what was expected; load it again",
    403: "this address was not opened by the program, or its session has ended",
    404: "there is no such page",
    405: "this cannot be asked in this way",
    413: "this is larger than what is taken here",
}
