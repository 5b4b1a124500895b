"""The guided form: the whole case and the private list, a section a page, each change kept at once."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from flask import abort, get_template_attribute, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE
from mmbuilder.casefile.shape import slot_at
from mmbuilder.page.app import desk, wants_json
from mmbuilder.page.desk import Desk, Moved
from mmbuilder.page.form import answering, keeping
from mmbuilder.page.form.choices import entry, word
from mmbuilder.page.form.faults import Faults
from mmbuilder.page.form.first import first, told
from mmbuilder.page.form.keeping import Did, NotKept
from mmbuilder.page.form.layout import Section, sections
from mmbuilder.page.form.opened import opened
from mmbuilder.page.form.view import Viewer, html_id, mark_of, marks, shown
from mmbuilder.page.parts._beside import beside, field_of, follow_edits, mark_line, put_line
from mmbuilder.page.parts._one_day import as_one_day
from mmbuilder.page.parts.write import NAME, faults_of

_TIME = re.compile(r"\d\d:\d\d")
_AGAIN = frozenset({"kind", "scale", "specialty", "use", "option"})
"""Keys on which it depends what else is asked, or offered."""


def begin() -> AnyResponse:
    """Go to the first section."""
    return redirect(f"/{NAME}/{next(iter(sections()))}/", 302)


def show(name: str) -> AnyResponse | str:
    """Show a section."""
    if not desk().text():
        return redirect("/start/", 302)
    kept = request.args.get("kept", "")
    return _page(_section(name), _asked_open(), kept=kept if _TIME.fullmatch(kept) else "")


def keep(name: str) -> AnyResponse | str | tuple[AnyResponse | str, int]:
    """Keep a change, or all that a form without script sends."""
    section = _section(name)
    if wants_json():
        return _keep_one(section)
    try:
        return _keep_form(section)
    except Moved:
        page = _page(section, _asked_open(), typed=_changed_fields(section), moved=True)
        return page, 409


def open_entry(name: str) -> AnyResponse:
    """Give the fields of one entry; changes nothing."""
    section, case = _section(name), desk()
    sent = request.get_json()
    path = keeping.path_of(sent.get("path") if isinstance(sent, dict) else None, section.model)
    if not isinstance(path[-1], int):
        abort(404)
    one = _viewer(section, case, faults_of(case)).entry(path)
    return jsonify({"html": render_template("write_entry.html.j2", one=one)})


def _section(name: str) -> Section:
    found = sections().get(name)
    if found is None:
        abort(404)
    return found


# Showing


def _page(
    section: Section,
    open: frozenset[Path],
    *,
    kept: str = "",
    typed: dict[Path, str] | None = None,
    moved: bool = False,
) -> str:
    case = desk()
    faults, use = faults_of(case), _use(case)
    ordered = _ordered(case)
    at = ordered.index(section)
    now = opened(case.text(section.file), section.model)
    unread = [problem for problem in case.checked().problems if problem.stops] if now is None else []
    groups = _viewer(section, case, faults, open, typed).section(section) if now is not None else []
    rows = [row for group in groups for row in (*group.rows, *group.more)]
    return render_template(
        "write.html.j2",
        section=section,
        sections=ordered,
        untold=next((one.name for one in ordered if not told(one, use)), ""),
        use=use,
        counts=faults.counts(),
        groups=groups,
        was=marks(rows),
        beside=beside(case, section, rows) if groups else None,
        found=faults.of_section(section),
        elsewhere=faults.elsewhere if at == 0 else [],
        before=ordered[at - 1] if at else None,
        after=ordered[at + 1] if at + 1 < len(ordered) else None,
        to_do=_to_do(section, case, faults),
        mended=now is not None and now.mended,
        unread=unread,
        kept=kept,
        moved=moved,
    )


def _use(case: Desk) -> str:
    """What the case is for, as typed."""
    now = opened(case.text(CASE), Case)
    return word(now.values, "use") if now is not None else ""


def _ordered(case: Desk) -> list[Section]:
    """The sections in their order, those that the use of the case does not tell last."""
    return first(sections().values(), _use(case))


def _to_do(section: Section, case: Desk, faults: Faults) -> tuple[Section | None, bool, list[Section]]:
    """The next section where something is needed, else where to look at something; whether it is needed.

    And those which the use of the case tells and in which nothing stands: none of them has to be written.
    """
    ordered, counts = _ordered(case), faults.counts()
    at = ordered.index(section)
    others = [*ordered[at + 1 :], *ordered[:at]]
    for place in (0, 1):
        for one in others:
            if counts[one.name][place]:
                return one, place == 0, _empty(case, others)
    return None, False, _empty(case, others)


def _empty(case: Desk, ordered: Iterable[Section]) -> list[Section]:
    now, use = opened(case.text(CASE), Case), _use(case)
    values = now.values if now is not None else {}
    return [
        one
        for one in ordered
        if one.file == CASE and told(one, use) and not any(entry(values, path) for path in one.fields)
    ]


def _viewer(
    section: Section,
    case: Desk,
    faults: Faults,
    open: frozenset[Path] = frozenset(),
    typed: dict[Path, str] | None = None,
) -> Viewer:
    now = opened(case.text(section.file), section.model)
    values = now.values if now is not None else {}
    return Viewer(section.model, values, faults, section.file, case.root, open, typed)


def _asked_open() -> frozenset[Path]:
    """The entries that are to be shown open: named by the page's own marks, keys and numbers only."""
    asked = request.headers.get("X-Open", request.args.get("open", ""))
    return frozenset(_path_of_mark(mark) for mark in asked.split(",") if mark.startswith("at-"))


def _path_of_mark(mark: str) -> Path:
    steps = mark.removeprefix("at-").split("-")
    return tuple(int(step) if step.isdecimal() else step.replace("_", " ") for step in steps)


# Keeping


@dataclass(frozen=True)
class _Asked:
    """One change that a page asks for."""

    do: str
    path: Path
    value: str = ""


def _asked(sent: Any, section: Section) -> _Asked:
    if not isinstance(sent, dict) or sent.get("do") not in _LISTS | {"set", "open", "line"}:
        raise NotKept("the form sent something that is not known; load the page again")
    value = sent.get("value", "")
    if not isinstance(value, str):
        raise NotKept("the form sent a value that is no text; load the page again")
    path_of = field_of if sent["do"] == "line" else answering.path_of
    return _Asked(sent["do"], path_of(sent.get("path"), section.model), value)


def _keep_one(section: Section) -> AnyResponse:
    sent, case = request.get_json(), desk()
    asked, told = _as_meant(case, section, _asked(sent, section))
    did: list[Did] = []
    before = _values(section, case, [asked.path] if asked.do == "set" else [])
    revision = case.rewrite(
        lambda text: _made(text, section, asked, did), str(sent["revision"]), section.file
    )
    if asked.do == "line":
        mark_line(case, asked.path, asked.value)
    elif before:
        follow_edits(case, [(before[asked.path], asked.value)])
    answer: dict[str, Any] = {"revision": revision, "said": did[0].said if did else ""}
    if did:
        answer |= {
            "open": html_id(did[0].at) if did[0].at else "",
            "at": html_id(did[0].at or asked.path[:-1]),
        }
    answer["again"] = told or asked.path[-1] in _AGAIN or _chosen_anew(section, case, asked)
    return jsonify(answer | _told(section, case, asked.path))


def _as_meant(case: Desk, section: Section, asked: _Asked) -> tuple[_Asked, bool]:
    """What is asked for, with the one day that a date means; and whether that is told in other words."""
    value = as_one_day(case, section, asked.path, asked.value) if asked.do == "set" else asked.value
    return replace(asked, value=value), value != asked.value


def _values(section: Section, case: Desk, paths: Iterable[Path]) -> dict[Path, str]:
    """What stands in fields of the case, as the form shows it; none of the private list."""
    now = opened(case.text(section.file), section.model) if section.file == CASE else None
    slots = {path: slot_at(section.model, path) for path in paths} if now is not None else {}
    return {path: shown(entry(now.values, path), slot) for path, slot in slots.items() if now and slot}


def _chosen_anew(section: Section, case: Desk, asked: _Asked) -> bool:
    """Whether what was chosen has been given a short name, or was first written by that."""
    if answering.asks(asked.path):
        return True  # it may have been given a short name
    if asked.do != "set" or not keeping.listed_by_name(section.model, asked.path):
        return False
    now, slot = opened(case.text(section.file), section.model), slot_at(section.model, asked.path)
    assert slot is not None
    return now is not None and shown(entry(now.values, asked.path), slot) != asked.value


def _made(text: str, section: Section, asked: _Asked, did: list[Did]) -> str:
    if asked.do == "set":
        return answering.set_value(text, section.model, asked.path, asked.value)
    if asked.do == "open":
        did.append(Did("", asked.path))
        return text
    if asked.do == "line":
        after, done = put_line(desk(), text, asked.path, asked.value)
        did.append(done)
        return after
    after, done = _changed_list(text, section, asked)
    did.append(done)
    return after


_LISTS = frozenset({"add", "remove", "up", "down", "alike", "nothing", "something"})


def _changed_list(text: str, section: Section, asked: _Asked) -> tuple[str, Did]:
    match asked.do:
        case "add":
            return keeping.add(text, section.model, asked.path)
        case "remove":
            return keeping.remove(text, section.model, asked.path)
        case "alike":
            return keeping.say_alike(text, section.model, asked.path)
        case "up" | "down":
            return keeping.move(text, section.model, asked.path, -1 if asked.do == "up" else 1)
        case _:
            return keeping.say_nothing(text, section.model, asked.path, asked.do == "nothing")


def _told(section: Section, case: Desk, path: Path) -> dict[str, Any]:
    """What changes on the page with a change: faults, their counts, how the entries around it are told."""
    faults = faults_of(case)
    view = _viewer(section, case, faults)
    parts = {
        name: get_template_attribute("write_parts.html.j2", name)
        for name in ("of_field", "count", "list_of", "next_to_do")
    }
    holders = [path[:end] for end in range(1, len(path) + 1) if isinstance(path[end - 1], int)]
    own = {place: found for (file, place), found in faults.at.items() if file == section.file}
    for path in faults.wanted if section.file == CASE else ():
        own.setdefault(path, [])
    return {
        "faults": {
            html_id(place): str(
                parts["of_field"](found, place in faults.wanted, faults.wanted.get(place, False))
            )
            for place, found in own.items()
        },
        "tallies": {
            html_id(place): str(parts["count"](*two)) for place, two in faults.tallies(section.file).items()
        },
        "counts": {name: str(parts["count"](*two)) for name, two in faults.counts().items()},
        "list": str(parts["list_of"](faults.of_section(section))),
        "on": str(parts["next_to_do"](*_to_do(section, case, faults))),
        "groups": {
            one.id: {"holds": one.holds, "tally": str(parts["count"](*one.tally))}
            for one in view.headed(section)
        },
        "told": {html_id(one): " · ".join(view.told(one)) for one in holders},
    }


def _keep_form(section: Section) -> AnyResponse:
    """Keep every field of a form that was changed, then do what its button asks."""
    case, did = desk(), list[Did]()
    button = request.form.get("do", "")
    asked = _asked(_pressed(button), section) if button else None
    sent = _changed_fields(section)
    changed = {path: as_one_day(case, section, path, value) for path, value in sent.items()}

    def change(text: str) -> str:
        for path, value in changed.items():
            text = answering.set_value(text, section.model, path, value)
        return _made(text, section, asked, did) if asked is not None else text

    before = _values(section, case, changed)
    case.rewrite(change, request.form.get("revision", ""), section.file)
    follow_edits(case, [(old, changed[path]) for path, old in before.items()])
    by_line = asked is not None and asked.do == "line"
    if asked is not None and by_line:
        mark_line(case, asked.path, asked.value)
    at = html_id(did[0].at) if did and did[0].at else ""
    kept = f"kept={time.strftime('%H:%M')}"
    to = "beside" if by_line else at
    return redirect(f"/{NAME}/{section.name}/?{kept}" + (f"&open={at}#{to}" if at else ""), 303)


def _pressed(button: str) -> Any:
    """What a button asks for; where a line of the note goes is chosen beside it."""
    sent = _loaded(button)
    if isinstance(sent, dict) and sent.get("do") == "line":
        sent["path"] = _loaded(request.form.get("into", ""))
    return sent


def _changed_fields(section: Section) -> dict[Path, str]:
    """The fields of a form whose value is not the one they were shown with."""
    was: dict[str, str] = {}
    for sent in request.form.getlist("was"):
        found = _loaded(sent)
        was |= found if isinstance(found, dict) else {}
    changed = {}
    for name, before in was.items():
        value = "\n".join(filter(None, request.form.getlist(name))).replace("\r\n", "\n")
        if name.startswith("=") and mark_of(value) != before:
            changed[answering.path_of(_loaded(name[1:]), section.model)] = value
    return changed


def _loaded(sent: str) -> Any:
    try:
        return json.loads(sent)
    except ValueError:
        raise NotKept("the form sent something that is not known; load the page again") from None
