"""Two readings of one moment in, the offset of a clock out in words, and into the case by a button."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from flask import jsonify, redirect, render_template, request
from pydantic_core import PydanticCustomError
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.case.tidy import tidy
from mmbuilder.case.when import parse_duration
from mmbuilder.errors import FileRefused
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.parts._compared import compared, moments, same
from mmbuilder.page.parts._known import known
from mmbuilder.page.parts._note import load
from mmbuilder.page.parts._offset import REFERENCE, Pair, Told, told
from mmbuilder.page.parts._typed import day_zero, entries, reference_of, typed, word
from mmbuilder.page.parts._written import added, block, flow, quoted

MOST = 40
"""Characters of a clock's name, as in the case."""

READINGS = ("first-reads", "first-reference", "second-reads", "second-reference")
FIELDS = ("clock", "new", "reference", *READINGS, "offset")


@dataclass(frozen=True)
class Stands:
    """A clock of the case as it stands: in words, and whether a pair of readings can be given for it."""

    name: str
    kind: str
    words: str
    compared: bool


def show() -> str:
    """Show the clocks of the case, and the form for two readings: the note's where the case has none."""
    case, asked = desk(), request.args.get("clock", "")
    tree = typed(case)
    form = _begun(tree, asked)
    if form["first-reads"] or (asked and not form["clock"]):
        return _page(case, form, None)
    noted, words = _noted(case, tree, form["clock"])
    return _page(case, noted or form, None, words)


def work() -> AnyResponse:
    """Work an offset out for the script of the page; nothing is written."""
    tree = typed(desk())
    said = _told(tree, _form())
    return jsonify({"words": said.words, "faults": dict(said.faults), "looks": [*said.looks]})


def write() -> AnyResponse | tuple[str, int] | str:
    """Work an offset out, or write the readings into the case as the anchors of the clock."""
    case, form = desk(), _form()
    tree = typed(case)
    far = request.form.get("do") == "offset"
    said = _far(tree, form) if far else _told(tree, form)
    if said.faults:
        return _page(case, form, said), 422
    if far:
        case.change(lambda raw: _write_offset(raw, tree, form), request.form.get("revision", ""))
        return redirect("/clocks/#clocks", 303)
    if request.form.get("do") != "write":
        return _page(case, form, said)
    case.change(lambda raw: _write(raw, tree, form), request.form.get("revision", ""))
    return redirect("/clocks/#clocks", 303)


# What the form says


def _form() -> dict[str, str]:
    given: Any = request.get_json() if request.is_json else request.form
    if not hasattr(given, "get") or any(not isinstance(given.get(name, ""), str) for name in FIELDS):
        raise FileRefused("the page did not send what was expected; load it again")
    return {name: " ".join(given.get(name, "").split())[:200] for name in FIELDS}


def _named(form: dict[str, str]) -> str:
    return form["clock"] or form["new"]


def _told(tree: dict[str, Any], form: dict[str, str]) -> Told:
    """Return what the readings say, or what is wrong with the names of the clocks."""
    if (wrong := _misnamed(tree, form)) is not None:
        return wrong
    reference = reference_of(tree) or form["reference"]
    return told(_named(form), reference, _pair(form, "first"), _pair(form, "second"), day_zero(tree))


def _far(tree: dict[str, Any], form: dict[str, str]) -> Told:
    """Return what is wrong with a difference in minutes, as the note says it, or with the names."""
    try:
        parse_duration(form["offset"])
    except PydanticCustomError as fault:
        return Told(
            faults=(("first-reads", {"text": fault.message(), "expected": "a length, such as 7 min"}),)
        )
    return _misnamed(tree, form) or Told()


def _misnamed(tree: dict[str, Any], form: dict[str, str]) -> Told | None:
    name, reference = _named(form), reference_of(tree) or form["reference"]
    if not name or len(name) > MOST:
        return Told(faults=(("new", {"text": "say which clock it is", "expected": "a short name"}),))
    if not reference or len(reference) > MOST:
        expected = "a short name, such as wall clock"
        text = "say which clock all times are told by"
        return Told(faults=(("reference", {"text": text, "expected": expected}),))
    if tidy(name) == tidy(reference):
        text = "this is the reference clock itself"
        return Told(faults=(("new", {"text": text, "expected": "the name of another clock"}),))
    return None


def _pair(form: dict[str, str], which: str) -> Pair:
    return Pair(form[f"{which}-reads"], form[f"{which}-reference"])


def _begun(tree: dict[str, Any], number: str) -> dict[str, str]:
    """Return the form for a clock of the case, with the anchors it has."""
    form: dict[str, str] = dict.fromkeys(FIELDS, "")
    clocks = entries(tree, "clocks")
    place = int(number) - 1 if number.isdecimal() and len(number) < 4 else -1
    if not 0 <= place < len(clocks):
        return form
    form["clock"] = word(clocks[place], "name")
    for which, pair in zip(("first", "second"), _anchors(clocks[place]), strict=True):
        form |= {f"{which}-reads": pair.reads, f"{which}-reference": pair.reference}
    return form


def _noted(case: Desk, tree: dict[str, Any], clock: str) -> tuple[dict[str, str] | None, list[str]]:
    """Return the form as the note compares a clock with the reference, and its words; None where it does not.

    A clock that has its readings in the case is not asked about again.
    """
    read = known(case, load(case.aside))
    both = compared(read.text)
    reference = reference_of(tree) or both.reference
    own = {word(one, "name"): _anchors(one)[0].whole for one in entries(tree, "clocks")}
    pairs = [
        (one.words, told) for one in moments(read.text) if (told := one.on(reference, clock)) is not None
    ]
    name = clock or (pairs[0][1][0] if pairs else both.other)
    listed = next((one for one in own if same(one, name)), "")
    if not name or own.get(listed):
        return None, []
    form = dict.fromkeys(FIELDS, "") | {"clock": listed, "new": "" if listed else name}
    form["reference"] = "" if reference_of(tree) else reference
    first_two = [pair for pair in pairs if same(pair[1][0], name)][:2]
    for which, (_, (_, reads, said)) in zip(("first", "second"), first_two, strict=False):
        form |= {f"{which}-reads": reads, f"{which}-reference": said}
    far = {word(one, "name") for one in entries(tree, "clocks") if word(one, "offset")}
    ours = not both.reference or same(both.reference, reference)
    if not first_two and same(both.other, name) and ours and listed not in far:
        form["offset"] = both.offset
    return form, [words for words, _ in first_two]


def _anchors(clock: dict[str, Any]) -> tuple[Pair, Pair]:
    first, second = (clock.get(key) for key in ("anchor", "second anchor"))
    return _anchor(first), _anchor(second)


def _anchor(value: object) -> Pair:
    return Pair(word(value, "reads"), word(value, "reference")) if isinstance(value, dict) else Pair("", "")


# What is written


def _write(raw: Any, tree: dict[str, Any], form: dict[str, str]) -> None:
    """Give the clock its anchors; an offset that it had is taken out, for it has one or the other."""
    clock = _clock(raw, tree, form, {"anchor": _written(form, "first")})
    clock.pop("offset", None)
    clock["anchor"] = _written(form, "first")
    if _pair(form, "second").whole:
        clock["second anchor"] = _written(form, "second")
    else:
        clock.pop("second anchor", None)


def _write_offset(raw: Any, tree: dict[str, Any], form: dict[str, str]) -> None:
    """Give the clock the difference that the note says, in place of readings."""
    clock = _clock(raw, tree, form, {"offset": quoted(form["offset"])})
    for key in ("anchor", "second anchor"):
        clock.pop(key, None)
    clock["offset"] = quoted(form["offset"])


def _clock(raw: Any, tree: dict[str, Any], form: dict[str, str], new: dict[str, Any]) -> Any:
    """Return the entry of the clock; a new one is made, and the reference where the case has none."""
    if not isinstance(raw.get("clocks"), list):
        raw["clocks"] = []
    clocks, name = raw["clocks"], _named(form)
    if not reference_of(tree):
        _refer(clocks, form["reference"])
    if _found(clocks, name) is None:
        added(clocks, {"name": name, **new})
    return _found(clocks, name)


def _refer(clocks: Any, reference: str) -> None:
    listed = _found(clocks, reference)
    if listed is None:
        clocks.insert(0, block({"name": reference, "reference": "yes"}))
    else:
        listed["reference"] = "yes"


def _found(clocks: Any, name: str) -> Any:
    listed = (clock for clock in clocks if isinstance(clock, dict))
    return next((clock for clock in listed if tidy(str(clock.get("name"))) == tidy(name)), None)


def _written(form: dict[str, str], which: str) -> Any:
    pair = _pair(form, which)
    return flow({"reads": quoted(pair.reads), "reference": quoted(pair.reference)})


# What is shown


def _page(case: Desk, form: dict[str, str], said: Told | None, noted: Sequence[str] = ()) -> str:
    tree = typed(case)
    reference = reference_of(tree)
    stands = [_stands(clock, reference, tree) for clock in entries(tree, "clocks")]
    has = next((clock for clock in entries(tree, "clocks") if word(clock, "name") == form["clock"]), {})
    return render_template(
        "clocks.html.j2",
        clocks=stands,
        reference=reference,
        other=reference or form["reference"] or REFERENCE,
        form=form,
        noted=noted,
        said=said,
        faults=dict(said.faults) if said else {},
        offset=word(has, "offset") if form["clock"] else "",
        most=MOST,
    )


def _stands(clock: dict[str, Any], reference: str, tree: dict[str, Any]) -> Stands:
    name, first, second = word(clock, "name"), *_anchors(clock)
    kind = word(clock, "kind")
    if name == reference:
        return Stands(name, kind, "the reference clock: all times are told by it", compared=False)
    if "starts" in clock:
        on = word(clock, "on") or reference or REFERENCE
        words = f"a recording that starts at {word(clock, 'starts')} on {on}"
        return Stands(name, kind, words, compared=False)
    if first.whole:
        said = told(name, reference or REFERENCE, first, second, day_zero(tree))
        return Stands(name, kind, " ".join(said.words or [said.faults[0][1]["text"]]), compared=True)
    if offset := word(clock, "offset"):
        return Stands(name, kind, f"{offset} is added to its times", compared=True)
    words = "not compared with the reference clock yet: its times are told as about"
    return Stands(name, kind, words, compared=True)
