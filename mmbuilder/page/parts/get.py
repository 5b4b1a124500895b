"""Get the results: look at the slides as pictures, the timing and the report; take them once signed."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlencode

from flask import Blueprint, Response, abort, jsonify, redirect, render_template, request, send_file
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.casefile.checking import IDENTIFIERS
from mmbuilder.errors import FileRefused, ReviewPending
from mmbuilder.page.again import begin, looked
from mmbuilder.page.ahead import Made
from mmbuilder.page.app import desk, use_of
from mmbuilder.page.desk import STOPPED, Desk
from mmbuilder.page.form.view import asked_at
from mmbuilder.page.guarding import OWN_DOCUMENT
from mmbuilder.page.results import Slides, files_of, packed
from mmbuilder.page.taking import MOST_BYTES
from mmbuilder.pipeline import BuildReport, signing
from mmbuilder.safe.terms import Use

NAME, TITLE, ORDER = "get", "Get", 80
FOR_A_USE = True
"""It shows one use; the steps above keep to the one that is shown."""
blueprint = Blueprint(NAME, __name__)


@blueprint.get("/")
def show() -> str:
    """Show what there is for one use, or how far it is."""
    case, use = desk(), use_of(request.args.get("use"))
    why = _pending(case, use)
    folder = case.folder(use)
    built = case.built(use, final=not why) if folder else Made(fault=STOPPED)
    return render_template(
        "get.html.j2",
        use=use.value,
        uses=[one.value for one in Use],
        pending=why,
        consent=list(signing.consent(folder)) if folder else [],
        stops=[] if folder else [problem for problem in case.checked().problems if problem.stops],
        built=built,
        listed=[asked_at(IDENTIFIERS, entry) for entry in built.entries],
        report=built.value,
        files=files_of(built.value) if built.value else (),
        slides=case.pictured(use, final=not why) if built.value else Made(),
        pictures=len(folder.case.frames) if folder else 0,
    )


@blueprint.post("/again")
def again() -> AnyResponse:
    """Build once more what the program failed to build."""
    case, use = desk(), use_of(request.args.get("use"))
    if _built(case, use).broken:
        case.build_anew(use, final=not _pending(case, use))
    return redirect(f"/{NAME}/?{urlencode({'use': use.value})}", 303)


@blueprint.get("/state")
def state() -> AnyResponse:
    """Say whether the build, or what makes its slides pictures, still runs."""
    use = use_of(request.args.get("use"))
    made = _slides(desk(), use) if request.args.get("of") == "slides" else _built(desk(), use)
    return jsonify({"running": made.running})


@blueprint.get("/slide/<int:number>")
def slide(number: int) -> Response:
    """Return the picture of one slide."""
    made = _slides(desk(), use_of(request.args.get("use")))
    pictures = made.value.pictures if made.value else ()
    if not 1 <= number <= len(pictures):
        abort(404)
    return send_file(pictures[number - 1], mimetype="image/png")


@blueprint.get("/report")
def report() -> Response:
    """Return the report of what was removed; it may be filed, signed or not."""
    built = _built(desk(), use_of(request.args.get("use")))
    if built.value is None:
        abort(404)
    answer = Response(built.value.page.read_bytes(), mimetype="text/html")
    answer.headers["Content-Security-Policy"] = OWN_DOCUMENT
    return answer


@blueprint.get("/file/<int:number>")
def file(number: int) -> Response:
    """Return one file of a signed result, the first being the deck."""
    files = _signed(desk(), use_of(request.args.get("use")))
    if not 1 <= number <= len(files):
        abort(404)
    return send_file(files[number - 1], as_attachment=True, download_name=files[number - 1].name)


@blueprint.get("/everything")
def everything() -> Response:
    """Return all files of a signed result as one .zip."""
    case, use = desk(), use_of(request.args.get("use"))
    deck = _signed(case, use)[0]
    report = _built(case, use).value
    assert report is not None
    answer = Response(packed(report), mimetype="application/zip")
    answer.headers.set("Content-Disposition", "attachment", filename=f"{deck.stem}.zip")
    return answer


@blueprint.post("/look")
def look() -> AnyResponse:
    """Have a file looked through that was changed after it was taken."""
    request.max_content_length = MOST_BYTES + _ENVELOPE
    dropped = request.files.get("file")
    if dropped is None or not dropped.filename:
        raise FileRefused("choose the changed file first")
    with dropped.stream as stream:
        content = stream.read(MOST_BYTES + 1)
    return redirect(f"/{NAME}/looked?of={begin(desk(), content)}", 303)


@blueprint.get("/looked")
def show_looked() -> str:
    """Show what was found in the file, or how far it is."""
    of = request.args.get("of", "")
    return render_template("looked.html.j2", of=of, made=looked(desk(), of))


@blueprint.get("/looked/state")
def looked_state() -> AnyResponse:
    """Say whether the file is still looked through, for the script of the page."""
    made = looked(desk(), request.args.get("of", ""))
    return jsonify({"running": made is not None and made.running})


_ENVELOPE = 2**16
"""Bytes that a form has beside its file."""


def _signed(case: Desk, use: Use) -> tuple[Path, ...]:
    """Return the files of a signed result.

    Raises:
        ReviewPending: it is not signed as it is now.
        FileRefused: it is not built yet.
    """
    if why := _pending(case, use):
        raise ReviewPending("; ".join(why))
    built = case.built(use, final=True)
    if built.value is None:
        raise FileRefused(built.fault or "the results are still being built; wait a moment")
    return files_of(built.value)


def _slides(case: Desk, use: Use) -> Made[Slides]:
    if case.folder(use) is None:
        return Made(fault=STOPPED)
    return case.pictured(use, final=not _pending(case, use))


def _built(case: Desk, use: Use) -> Made[BuildReport]:
    if case.folder(use) is None:
        return Made(fault=STOPPED)
    return case.built(use, final=not _pending(case, use))


def _pending(case: Desk, use: Use) -> list[str]:
    """Return why nothing may be taken yet. What is found is compared once more when it is built."""
    folder = case.folder(use)
    return list(signing.pending(folder)) if folder else [STOPPED]
