"""Where the case stands: what is done, what is next; and for an empty folder, its beginning."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from concurrent.futures import wait
from dataclasses import dataclass

from flask import Blueprint, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused
from mmbuilder.page import stills
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.form.faults import CONSENT, LACKING
from mmbuilder.page.form.view import asked_at
from mmbuilder.pipeline import signing
from mmbuilder.safe.terms import Use

NAME, TITLE, ORDER = "start", "Overview", 0
blueprint = Blueprint(NAME, __name__)
blueprint.add_app_template_global(lambda: asked_at(CASE, CONSENT), "consent_field")


_CODE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


@dataclass(frozen=True)
class Step:
    """One step of the work.

    Attributes:
        page: the part that does it.
        title: what is done there.
        state: how far it is, in words.
        done: whether nothing is left to do.
    """

    page: str
    title: str
    state: str
    done: bool


@blueprint.get("/")
def show() -> str:
    """Show where the case stands."""
    case = desk()
    if not case.text():
        return _beginning("")
    if case.being_read:
        return render_template("reading.html.j2")
    stops = [problem for problem in case.checked().problems if problem.stops]
    looks = [problem for problem in case.checked().problems if not problem.stops]
    running = not stops and case.search().running
    return render_template(
        "start.html.j2", steps=list(_steps(case)), stops=stops, looks=looks, running=running
    )


@blueprint.get("/state")
def state() -> AnyResponse:
    """Answer once the case has been read, whatever came of it: the page tells that."""
    if (reading := desk().reading) is not None:
        wait([reading])
    return jsonify({"running": False})


@blueprint.get("/next")
def go_on() -> AnyResponse:
    """Go to the first step in which something is left to do; only now is it asked which that is."""
    steps = _steps(desk()) if desk().text() else ()
    return redirect(f"/{next((step.page for step in steps if not step.done), NAME)}/", 302)


@blueprint.post("/")
def begin() -> AnyResponse | str:
    """Write the first lines of a new case."""
    case, typed = desk(), request.form.get("code", "").strip()
    code = typed.lower()
    if case.text():
        raise FileRefused("there is a case in this folder already; nothing was changed")
    if not _CODE.fullmatch(code) or len(code) > 40:
        return _beginning(*_meant(typed))
    specialty, use = request.form.get("specialty", ""), request.form.get("use", "")
    if specialty not in _specialties() or use not in [one.value for one in Use]:
        return _beginning("Choose a specialty and a use from the lists.", code)
    first = f"mmbuilder: 1\ncode: {code}\nspecialty: {specialty}\nuse: {use}\n"
    case.rewrite(lambda _: first, case.revision())
    return redirect("/note/", 303)


def _meant(typed: str) -> tuple[str, str]:
    """What is wrong with a code, and the code that it may be meant as; empty where there is none."""
    rule = "A code has small letters, figures and hyphens, at most 40 in all, such as eye-02."
    plain = unicodedata.normalize("NFKD", typed.lower()).encode("ascii", "ignore").decode()
    code = "-".join(re.findall(r"[a-z0-9]+", plain))[:40].strip("-")
    offered = f"Yours was put right: {code}. Begin with it, or write another." if code else ""
    return " ".join(filter(None, (rule, offered))), code


def _beginning(fault: str, code: str = "") -> str:
    return render_template(
        "begin.html.j2",
        specialties=_specialties(),
        uses=[use.value for use in Use],
        fault=fault,
        typed=request.form,
        code=code,
    )


def _specialties() -> list[str]:
    from mmbuilder.packs.schema import specialties

    return list(specialties())


def _steps(case: Desk) -> Iterator[Step]:
    """Yield the steps of the work, in order, each with how far it is."""
    stops = [problem for problem in case.checked().problems if problem.stops]
    lacking = sum(problem.code in LACKING for problem in stops)
    left = [f"{lacking} to write"] if lacking else []
    left += [f"{_count(len(stops) - lacking, 'fault')} to mend"] if len(stops) > lacking else []
    yield Step("write", "Write the case", ", ".join(left) or "nothing stops it", not stops)
    folder = case.checked().folder
    if folder is None:
        return
    yield from _findings(case, folder)
    use = folder.case.use
    why = list(signing.pending(folder)) if signing.signed_for(folder, use) else ["not signed yet"]
    yield Step("sign", f"Sign for {use.value}", why[0] if why else "signed", not why)
    yield Step("get", "Get the results", _results(case, use, signed=not why), False)


def _results(case: Desk, use: Use, *, signed: bool) -> str:
    built = case.begun(use, final=signed)
    if built is not None and built.fault:
        return f"nothing was built: {built.fault}"
    if not signed:
        return "once it is signed; the slides can be looked at before"
    if built is None:
        return "not built yet"
    return "being built" if built.running else "ready"


def _findings(case: Desk, folder: CaseFolder) -> Iterator[Step]:
    search = case.search()
    if search.value is None:
        state = search.fault or "the search is running"
        yield Step("words", "Decide about words", state, False)
        yield Step("cover", "Cover pictures", state, False)
        return
    from mmbuilder.page.findings import left_over

    words, places = left_over(folder, search.value)
    yield Step("words", "Decide about words", _left(words, "finding"), not words)
    if folder.case.frames:
        unsaid = stills.unsaid(case.text(), places)
        left = [_left(sum(places.values()), "place")] if places or not unsaid else []
        left += map(stills.not_said, unsaid)
        yield Step("cover", "Cover pictures", "; ".join(left), not places and not unsaid)
    else:
        yield Step("cover", "Cover pictures", "none is taken in", True)


def _left(number: int, word: str) -> str:
    return f"{_count(number, word)} to decide" if number else "everything is decided"


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' if number != 1 else ''}"
