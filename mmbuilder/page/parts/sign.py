"""Decide and sign: what the tool found out, what it could not, what a person confirms; then a role."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, cast

from flask import Blueprint, current_app, jsonify, redirect, render_template, request
from flask.blueprints import BlueprintSetupState
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused, ReviewPending
from mmbuilder.page.ahead import Made
from mmbuilder.page.app import desk, use_of
from mmbuilder.page.desk import Desk
from mmbuilder.page.stills import not_said, unsaid
from mmbuilder.pipeline import signing
from mmbuilder.safe.terms import Looked, Reviewer, Use
from mmbuilder.scrub.plan import RedactionPlan

if TYPE_CHECKING:
    from mmbuilder.scrub.reidentify import Warning

NAME, TITLE, ORDER = "sign", "Sign", 70
FOR_A_USE = True
"""It shows one use; the steps above keep to the one that is shown."""
blueprint = Blueprint(NAME, __name__)


@dataclass(frozen=True)
class Check:
    """One line of the checklist: what the tool itself found out.

    Attributes:
        said: the result, in words.
        done: whether nothing stands in the way; None while it is being looked for.
        page: address where it is mended; empty if nowhere.
    """

    said: str
    done: bool | None
    page: str = ""


class Recognisable:
    """What may single somebody out, found once for the case as it is: each word of it is looked at."""

    def __init__(self) -> None:
        self._last: tuple[CaseFolder, bool, tuple[Warning, ...]] | None = None

    def of(self, folder: CaseFolder, plan: RedactionPlan | None) -> tuple[Warning, ...]:
        """Return the warnings for a case, with what its search found once that is done."""
        from mmbuilder.scrub.reidentify import singled_out

        last = self._last
        if last is None or last[0] is not folder or last[1] is not (plan is not None):
            last = self._last = folder, plan is not None, singled_out(folder, plan)
        return last[2]

    def forget(self) -> None:
        """Forget the case and its warnings."""
        self._last = None


@blueprint.record
def _begin(state: BlueprintSetupState) -> None:
    recognisable = state.app.extensions[NAME] = Recognisable()
    state.app.extensions["desk"].forgets.append(recognisable.forget)


def _recognisable() -> Recognisable:
    return cast(Recognisable, current_app.extensions[NAME])


@blueprint.get("/")
def show() -> str:
    """Show the checklist for one use."""
    case, use = desk(), use_of(request.args.get("use"))
    folder, search = case.folder(use), case.search(use)
    before = signing.signed_for(folder, use) if folder else None
    since = signing.changed(folder, before, search.value) if folder and before else {}
    fallen = list(signing.fallen(folder, before, search.value, since)) if folder and before else []
    needed = signing.needed(folder) if folder else 1
    seen = (
        signing.still_seen(folder, before, search.value, since)
        if folder and before and fallen and search.value
        else ()
    )
    return render_template(
        "sign.html.j2",
        use=use.value,
        uses=[one.value for one in Use],
        search=search,
        checks=list(_checks(case, folder, search)),
        recognisable=_recognisable().of(folder, search.value) if folder else (),
        unchecked=search.value.unchecked if search.value else (),
        to_confirm=_to_confirm(folder) if folder else [],
        roles=[role.value for role in Reviewer],
        before=before,
        fallen=fallen,
        needed=needed,
        seen=[word.value for word in _to_confirm(folder) if word in seen] if folder else [],
        again=request.args.get("again") == "yes",
        open=folder is not None and (before is None or bool(fallen) or len(before.signatures) < needed),
        consent=list(signing.consent(folder)) if folder else [],
        ready=bool(folder and search.value and not [*_undecided(case, folder, search.value)]),
    )


@blueprint.get("/state")
def state() -> AnyResponse:
    """Say whether the search still runs, for the script of the page."""
    return jsonify({"running": desk().search(use_of(request.args.get("use"))).running})


@blueprint.post("/")
def sign() -> AnyResponse:
    """Sign the case for a use."""
    case, use = desk(), use_of(request.form.get("use"))
    folder, search = case.folder(use), case.search(use)
    if folder is None or search.value is None:
        raise FileRefused(search.fault or "the search is still running; wait a moment")
    if left := list(_undecided(case, folder, search.value)):
        raise ReviewPending("it cannot be signed yet: " + "; ".join(left))
    confirmed = [word for word in Looked if word.value in request.form.getlist("looked")]
    missing = [word.value for word in _to_confirm(folder) if word not in confirmed]
    if missing:
        raise ReviewPending("it cannot be signed before you have looked at: " + "; ".join(missing))
    role = next((one for one in Reviewer if one.value == request.form.get("role")), None)
    if role is None:
        raise FileRefused("choose your role from the list; no name is needed")
    today = datetime.now().astimezone().date()
    signed = signing.sign(folder, search.value, role, confirmed, today)
    case.sign_off(signing.written(signed), request.form.get("revision", ""))
    return redirect(f"/sign/?use={use.value}", 303)


@blueprint.post("/withdraw")
def withdraw() -> AnyResponse:
    """Take the sign-off for a use back."""
    case, use = desk(), use_of(request.form.get("use"))
    folder = case.folder(use)
    if folder is not None:
        rest = [one for one in folder.signed.signed if one.use is not use]
        case.sign_off(signing.written(rest), request.form.get("revision", ""))
    return redirect(f"/sign/?use={use.value}", 303)


def _to_confirm(folder: CaseFolder) -> list[Looked]:
    """What a person has to have looked at: of pictures only where there are some.

    Of sound never: what a case holds, and so what a result holds, is words, figures and stills.
    """
    left_out = {Looked.SOUND} if folder.case.frames else {Looked.SOUND, *signing.OF_PICTURES}
    return [word for word in Looked if word not in left_out]


def _undecided(case: Desk, folder: CaseFolder, plan: RedactionPlan) -> Iterator[str]:
    """Yield what somebody has to decide before anybody can sign, as "Cover" and "Words" ask for it."""
    from mmbuilder.scrub.decided import open_boxes

    yield from signing.undecided(folder, plan)
    yield from map(not_said, unsaid(case.text(), open_boxes(plan)))


def _checks(case: Desk, folder: CaseFolder | None, search: Made[RedactionPlan]) -> Iterator[Check]:
    stops = sum(problem.stops for problem in case.checked().problems)
    yield Check(f"{stops} faults stop the case" if stops else "no fault stops the case", not stops, "start/")
    if folder is None:
        return
    declared = folder.declared
    count = len(declared.people) + len(declared.places) + len(declared.numbers) + len(declared.other)
    yield Check(f"{count} names, places and numbers on the private list", count > 0, "write/names/")
    if search.fault:
        yield Check(f"the search was not finished: {search.fault}", False)
    elif search.value is None:
        yield Check("the search for identifiers is running", None)
    else:
        from mmbuilder.page.findings import left_over

        gone = sum(search.value.counts().values())
        yield Check(f"{gone} places in words and pictures will be removed", True)
        words, places = left_over(folder, search.value)
        if words:
            yield Check(f"{words} finding{'s' if words != 1 else ''} in words not decided", False, "words/")
        for number, count in places.items():
            said = f"picture {number}: {count} place{'s' if count != 1 else ''} not decided"
            yield Check(said, False, f"cover/{number}")
        rest = unsaid(case.text(), places)
        for number in rest:
            yield Check(not_said(number), False, f"cover/{number}")
        if not words and not places and not rest:
            yield Check("every finding is decided", True)
