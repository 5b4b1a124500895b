"""The private list filled at once: a list is pasted, and what the note names is proposed, one key each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from flask import jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder.case.freetext import plain
from mmbuilder.casefile.checking import DECISIONS, IDENTIFIERS
from mmbuilder.errors import FileRefused
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._listed import ASK, KINDS, MOST, put, written
from mmbuilder.page.parts._named import Proposal, apart, keep_apart, proposals, read_list, unlisted
from mmbuilder.page.parts._ruled import NO_NAME, left_in, staying, take
from mmbuilder.page.parts._twice import Twice, fits, join, twice


def show() -> str:
    """Show the box for a list, and what the note names."""
    return _page()


def state() -> AnyResponse:
    """Say whether the note is still searched, for the script of the page."""
    return jsonify({"running": proposals(desk(), kept.load(desk().aside)).running})


def take_list() -> AnyResponse | tuple[str, int]:
    """Put every line of a pasted list on the private list: all of them, or none."""
    text = request.form.get("text", "")
    new, wrong = _typed(text)
    if wrong or not text.strip():
        return _page(text, wrong or ["nothing stands in the box"]), 422
    return _put(new)


def _typed(text: str) -> tuple[list[tuple[str, str]], list[str]]:
    """What stands in the box and is not on the list, and what is wrong with other lines of it."""
    read, wrong = read_list(text)
    there = {plain(words) for _, words in written(desk().tree(IDENTIFIERS))}
    return [(words, kind) for words, kind in read if plain(words) not in there], wrong


def take_found() -> AnyResponse | str | tuple[str, int]:
    """Put one proposal on the list, or all that are shown; or decide that the words of one stay.

    What was typed into the box goes with all of them, and stays in the box with one; so does what was
    chosen for others.
    """
    text = request.form.get("text", "")
    button, _, row = request.form.get("do", "").partition("-")
    shown = [name.partition("-")[2] for name in request.form if name.startswith("words-")]
    if button == "all":
        new, wrong = _typed(text)
        if wrong:
            return _page(text, wrong), 422
        rows = (_row(row) for row in shown)
        return _put([*((words, kind) for words, kind in rows if kind != ASK), *new])
    words, kind = _row(row)
    if button == "not":
        decided = left_in(words, NO_NAME)
        desk().change(lambda tree: take(tree, [decided]), request.form.get("revision", ""), DECISIONS)
    else:
        _put([(words, kind)])
    at, chosen = _next(shown[: shown.index(row)]), dict(map(_row, shown))
    if text.strip() or any(chosen.get(one.words, one.kind) != one.kind for one in _left(desk())):
        return _page(text, chosen=chosen, at=at)
    return redirect("/names/" + (f"#put-{at}" if at else "#found"), 303)


def same() -> AnyResponse:
    """Make two entries one person, or remember that they are two."""
    pair = Twice(request.form.get("shorter", ""), request.form.get("longer", ""), "")
    if request.form.get("do") == "two":
        keep_apart(desk(), pair.told)
    else:
        revision = request.form.get("revision", "")
        desk().change(lambda tree: join(tree, pair.shorter, pair.longer), revision, IDENTIFIERS)
    return redirect("/names/", 303)


def _row(row: str) -> tuple[str, str]:
    words = " ".join(request.form.get(f"words-{row}", "").split())
    if not words or len(words) > MOST:
        raise FileRefused("the page did not send what was expected; load it again")
    return words, request.form.get(f"kind-{row}", "")


def _next(before: list[str]) -> int:
    """The row where the page goes on: the first behind those that stand before and are left; 0 for none."""
    left = [one.words for one in _left(desk())]
    return min(1 + sum(_row(row)[0] in left for row in before), len(left))


def _left(case: Desk) -> list[Proposal]:
    """What the note names and nobody has decided."""
    found = proposals(case, kept.load(case.aside)).value or ()
    return unlisted(found, [*written(case.tree(IDENTIFIERS))], staying(case.tree(DECISIONS)))


def _put(entries: list[tuple[str, str]]) -> AnyResponse:
    def change(tree: object) -> None:
        for words, kind in entries:
            put(tree, words, kind)

    desk().change(change, request.form.get("revision", ""), IDENTIFIERS)
    return redirect("/names/", 303)


def _page(
    text: str = "", wrong: list[str] | None = None, chosen: Mapping[str, str] | None = None, at: int = 1
) -> str:
    """The page, with what was chosen for words that are still to be decided; row `at` is the next."""
    chosen = chosen or {}
    case, note = desk(), kept.load(desk().aside)
    declared = case.tree(IDENTIFIERS)
    return render_template(
        "names.html.j2",
        text=text,
        wrong=wrong or [],
        search=proposals(case, note),
        found=[replace(one, kind=chosen.get(one.words, one.kind)) for one in _left(case)],
        at=at,
        twice=[*twice(declared, apart(case))],
        listed=[*written(declared)],
        kinds=KINDS,
        fits=partial(fits, declared),
        noted=bool(note.text),
    )
