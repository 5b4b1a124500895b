"""The messy note: pasted, kept on this computer only, and pulled by hand, line by line, into the case.

A time is filled in only where it literally stands in the line, and as it stands there; what a line becomes
is proposed from its words, and put into the case by hand. The note itself never reaches the case, a deck or
a paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from flask import abort, get_template_attribute, jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.casefile.checking import DECISIONS, IDENTIFIERS
from mmbuilder.errors import FileRefused
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk, Moved
from mmbuilder.page.form.targets import targets
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._by_clock import UNSURE
from mmbuilder.page.parts._fate import fates, line_of
from mmbuilder.page.parts._head import asked, put_asked, put_zero
from mmbuilder.page.parts._head import filled as filled_head
from mmbuilder.page.parts._kinds import meanings
from mmbuilder.page.parts._known import Known, known
from mmbuilder.page.parts._listed import written
from mmbuilder.page.parts._named import proposals, unlisted
from mmbuilder.page.parts._note import Line, Mark, Note, State
from mmbuilder.page.parts._pull import (
    FIELDS,
    MOST_WORDS,
    Pull,
    begun,
    each_begun,
    filled,
    put,
    with_above,
)
from mmbuilder.page.parts._ruled import staying
from mmbuilder.page.parts._typed import clocks_of, typed, used

_AT_ONCE = 120
"""Lines that are shown with a form each."""
_BY_ITSELF = 12
"""Lines of a new note that are shown before one is pulled; a longer one is read with its proposals."""


def show() -> str:
    """Show the note with its lines, and the form for the line that was chosen."""
    case, note = desk(), kept.load(desk().aside)
    asked = (request.args.get(name, "") for name in ("line", "to"))
    return _page(case, note, _begun(case, note, *asked))


def keep() -> AnyResponse:
    """Keep the note as it is in the box."""
    text = request.form.get("text", "").replace("\r\n", "\n")
    if len(text) > kept.MOST:
        raise FileRefused(f"this note has more than {kept.MOST:,} characters; paste it in parts")
    if sum(1 for _ in kept.pieces(text)) > kept.MOST_LINES:
        raise FileRefused(f"this note has more than {kept.MOST_LINES:,} lines; paste it in parts")
    with kept.LOCK:
        note = replace(_unmoved(desk()), text=text, called=_plain("called"))
        kept.save(desk().aside, note)
    proposals(desk(), note)  # searched for names meanwhile
    return redirect("/note/#lines", 303)


def set_aside() -> AnyResponse:
    """Set a line aside as not needed, or bring it back."""
    with kept.LOCK:
        note = _unmoved(desk())
        line = line_of(note, request.form.get("key", ""))
        state = State.LEFT if note.state(line) is not State.LEFT else State.ASIDE
        kept.save(desk().aside, note.marked(line, Mark(state)))
    return redirect(f"/note/#line-{line.number}", 303)


def pull() -> AnyResponse | tuple[str, int]:
    """Put lines into the case as what was chosen, in the words and with the time of the form."""
    case = desk()
    with kept.LOCK:
        note = _unmoved(case)
        lines = tuple(line_of(note, key) for key in request.form.getlist("key") or [""])
        said = {name: _plain(name) for name in FIELDS}
        one = filled(lines, known(case, note), said, _more(said["kind"], ""))
        if one.faults:
            return _page(case, note, one), 422
        note = _write(case, note, [one])
    after = next((line.number for line in _left(note) if line.number > lines[-1].number), None)
    return redirect(f"/note/?line={after}" if after else "/note/#lines", 303)


def show_several() -> str:
    """Show every line that is left with a form of its own."""
    case, note = desk(), kept.load(desk().aside)
    pulls = each_begun(_left(note)[:_AT_ONCE], known(case, note))
    return _several(case, note, pulls, {one.key for one in pulls if one.whole})


def pull_several() -> AnyResponse | tuple[str, int]:
    """Put every ticked line into the case as what was chosen for it: all of them, or none."""
    case = desk()
    with kept.LOCK:
        note = _unmoved(case)
        read = known(case, note)
        shown, ticked = request.form.getlist("key"), set(request.form.getlist("take"))
        pulls = [_filled(_lines_of(note, key), read) for key in shown]
        taken = with_above([one for one in pulls if one.key in ticked])
        head = {name.removeprefix("head-"): _plain(name) for name in request.form if name.startswith("head-")}
        taken = [_of_head(one, read, head) for one in taken]
        if not (taken or any(head.values())) or any(one.faults for one in taken):
            told = {one.key: one.faults for one in taken}
            pulls = [replace(one, faults=told.get(one.key, one.faults)) for one in pulls]
            return _several(case, note, pulls, ticked, sent=True), 422
        rest = [line for one in pulls if one.key not in ticked for line in one.lines]
        _write(case, note, taken, rest if _plain("rest") else [], head)
    return redirect("/note/#lines", 303)


def _of_head(one: Pull, read: Known, head: Mapping[str, str]) -> Pull:
    """What is told by a clock that only the note tells of, as that is named in the fields above the lines."""
    listed, named = ("", UNSURE, *clocks_of(dict(read.tree)).all), head.get("other-clock", "")
    if one.target:
        by = (time if time.clock in listed else replace(time, clock=named) for time in one.times)
        return replace(one, times=tuple(by))
    if one.clock in listed:
        return one
    if head.get("clock") and named:
        return replace(one, clock=named)
    fault = {"text": "name this clock above, or choose another", "expected": "a clock of the case"}
    return replace(one, faults={**one.faults, "clock": fault})


def parts() -> AnyResponse:
    """Give the fields of the part of the case that was chosen for a line, with what its words say of them."""
    case, note, body = desk(), kept.load(desk().aside), request.get_json()
    if not isinstance(body, dict):
        abort(400)
    sent = {key: value for key, value in body.items() if isinstance(value, str)}
    lines = tuple(line_of(note, key) for key in sent.get("keys", "").split(","))
    said = {name: " ".join(sent.get(name, "").split()) for name in FIELDS}
    one = filled(lines, known(case, note), said, None)
    behind = f"-{one.key}" if sent.get("several") else ""
    fields = get_template_attribute("note_parts.html.j2", "asked")(one, behind)
    return jsonify({"html": str(fields), "what": one.what, "asks": bool(one.target and one.target.asks)})


def _said(key: str) -> dict[str, str]:
    """What stands in the fields of one line; all events of a note have its source."""
    return {name: _plain(name if name == "source" else f"{name}-{key}") for name in FIELDS}


def _lines_of(note: Note, key: str) -> tuple[Line, ...]:
    """The lines that have one form, which the first of them names."""
    return tuple(line_of(note, one) for one in (key, *request.form.getlist(f"also-{key}")))


def _filled(lines: tuple[Line, ...], read: Known) -> Pull:
    said = _said(lines[0].key)
    return filled(lines, read, said, _more(said["kind"], f"-{lines[0].key}"))


def _more(kind: str, behind: str) -> dict[str, str] | None:
    """What stands in the fields of another part of the case; None where they were not shown.

    Args:
        kind: what was chosen.
        behind: what follows the names of the fields of one line.
    """
    target = targets().get(kind)
    asked = {name: name.replace(" ", "_") for name in target.asks} if target else {}
    sent = {name: request.form.get(f"of-{field}{behind}") for name, field in asked.items()}
    shown = {name: value.strip() for name, value in sent.items() if value is not None}
    return shown or None


def _write(
    case: Desk,
    note: Note,
    pulls: Sequence[Pull],
    aside: Sequence[Line] = (),
    head: Mapping[str, str] | None = None,
) -> Note:
    """Write what lines become in one change, and mark them and those that are not needed."""
    said = head or {}
    case.rewrite(
        lambda text: put_zero(put(put_asked(text, said), pulls)[0], said), request.form.get("revision", "")
    )
    pulled = {line.key: one.mark for one in pulls for line in one.lines}
    note = note.all_marked({**pulled, **{line.key: Mark(State.ASIDE) for line in aside}})
    kept.save(case.aside, note)
    return note


def _left(note: Note) -> list[Line]:
    return [line for line in note.lines if note.state(line) is State.LEFT and not line.heading]


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


def _begun(case: Desk, note: Note, first: str, last: str) -> Pull | None:
    """Return the form for a line, or those up to another."""
    numbers = [int(number) if number.isdecimal() and len(number) < 5 else 0 for number in (first, last)]
    lines = tuple(line for line in note.lines if numbers[0] <= line.number <= max(numbers))
    return begun(lines, known(case, note)) if numbers[0] and lines else None


# What is shown


def _page(case: Desk, note: Note, chosen: Pull | None) -> str:
    tree = typed(case)
    became = fates(note, tree)
    states = [one.state for one in became if one.state is not State.LEFT or not one.line.heading]
    return render_template(
        "note.html.j2",
        note=note,
        became=became,
        tally={state: states.count(state) for state in State},
        chosen=chosen,
        by_itself=_BY_ITSELF,
        most=kept.MOST,
        **_shared(case, tree),
    )


def _several(case: Desk, note: Note, pulls: Sequence[Pull], ticked: set[str], *, sent: bool = False) -> str:
    faulty = [one.key for one in pulls if one.faults and one.key in ticked]
    read = known(case, note)
    head = asked(read)
    if sent:
        head = filled_head(head, {one.name: _plain(f"head-{one.name}") for one in head})
    return render_template(
        "note_several.html.j2",
        note=note,
        head=head,
        pulls=pulls,
        ticked=ticked,
        sent=sent,
        rest=_plain("rest"),
        faulty=len(faulty),
        first_faulty=next(iter(faulty), ""),
        source=_plain("source") if sent else note.called,
        more=len(_left(note)) > _AT_ONCE,
        charts=read.charts,
        **_shared(case, typed(case)) | {"clocks": read.clocks},
    )


def _shared(case: Desk, tree: dict[str, Any]) -> dict[str, Any]:
    return {
        "state": kept.state_of(case.aside),
        "names": _names_left(case),
        "kinds": meanings(),
        "targets": targets().values(),
        "clocks": clocks_of(tree),
        "sources": used(tree, "source"),
        "most_words": MOST_WORDS,
    }


def _names_left(case: Desk) -> int | None:
    """How many names of the note nobody has looked at; None while it is searched."""
    search = proposals(case, kept.load(case.aside))
    if search.running:
        return None
    listed = [*written(case.tree(IDENTIFIERS))]
    return len(unlisted(search.value or (), listed, staying(case.tree(DECISIONS))))
