"""Findings in words: each in its sentence, to be removed, kept with a reason, or put on the private list."""

from __future__ import annotations

from functools import partial
from typing import Any

from flask import jsonify, redirect, render_template, request
from werkzeug.wrappers import Response as AnyResponse

from mmbuilder import uses
from mmbuilder.case.decided import Ruling
from mmbuilder.case.freetext import plain
from mmbuilder.casefile.checking import DECISIONS, IDENTIFIERS
from mmbuilder.errors import FileRefused
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.findings import Findings, findings
from mmbuilder.page.parts._listed import KINDS, MOST, index_of, put
from mmbuilder.page.parts._ruled import NO_NAME, left_in, same, take
from mmbuilder.page.parts._twice import fits
from mmbuilder.scrub.decided import open_words
from mmbuilder.scrub.plan import Layer
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.surrogates import overlaps
from mmbuilder.scrub.walk import Texts

REASONS = (
    NO_NAME,
    "a medical word or an eponym",
    "the name of a device or a drug",
    "a clinical value",
    "no time of day",
    "an author in a reference",
)
"""What is offered as the reason why words stay; any other may be typed."""
REASONS_OF_TIMES = ("the hour itself is the lesson", "no time of day")
"""The same of a time of day."""


def show() -> str:
    """Show every finding, those to be decided first."""
    case = desk()
    search = case.words()
    folder = case.checked().folder
    found = findings(folder, search.value) if folder is not None and search.value is not None else None
    unchecked = search.value.unchecked if search.value is not None else ()
    return render_template(
        "words.html.j2",
        search=search,
        found=found,
        unchecked=unchecked,
        list_kinds=KINDS,
        fits=partial(fits, case.tree(IDENTIFIERS)),
        faults=[problem for problem in case.checked().problems if problem.stops],
        taken=case.tree(DECISIONS).get("findings") or [],
        reasons=REASONS,
        reasons_of_times=REASONS_OF_TIMES,
        outside=folder is not None and uses.load(folder.case.use).outside,
    )


def state() -> AnyResponse:
    """Say whether the search still runs, for the script of the page."""
    return jsonify({"running": desk().words().running})


def decide() -> AnyResponse:
    """Remove or keep one finding, everywhere or in one text."""
    words, ruling = _words(), _one_of(request.form.get("ruling", ""), [one.value for one in Ruling])
    why = request.form.get("why", "").strip()
    if ruling == Ruling.KEEP.value and not why:
        raise FileRefused("say in a few words why it stays, such as: the name of a clamp")
    entry = left_in(words, why) if ruling == Ruling.KEEP.value else {"words": words, "ruling": ruling}
    if only_in := request.form.get("only_in", ""):
        entry["only in"] = only_in
    return _changed(lambda tree: take(tree, [entry]), DECISIONS)


def agree() -> AnyResponse:
    """Agree with every removal that is still open."""
    found = _found(desk())
    entries = [{"words": group.words, "ruling": Ruling.REMOVE.value} for group in found.open]
    return _changed(lambda tree: take(tree, entries), DECISIONS)


def take_back() -> AnyResponse:
    """Take a decision back."""
    words, only_in = _words(), request.form.get("only_in", "")

    def change(tree: Any) -> None:
        tree["findings"] = [one for one in tree.get("findings") or [] if not same(one, words, only_in)]

    return _changed(change, DECISIONS)


def put_on_list() -> AnyResponse:
    """Put words on the private list: they go everywhere, in every form, and are asked about no more."""
    words, kind = _words(), request.form.get("kind", "")
    if not _settles(desk(), words, kind):
        raise FileRefused(
            "with this on the private list these words would still be asked about where they stand; nothing "
            "was changed. Go back and remove them there, choose another kind, or put them on the list with "
            "what stands beside them, such as a title"
        )
    return _changed(lambda tree: put(tree, words, kind), IDENTIFIERS)


def _settles(case: Desk, words: str, kind: str) -> bool:
    """Whether no finding of these words would be left to decide if they stood on the private list."""
    folder, search = case.checked().folder, case.words()
    if folder is None or search.value is None:
        return True
    items = Texts(folder.case, folder.previous).items
    texts, index = {item.path: item.value for item in items}, index_of(words, kind)
    asked = open_words(items, search.value, folder.decided).get(plain(words), ())
    after = {one: settle(texts[one.path], [one.span, *index.find(texts[one.path])]) for one in asked}
    return all(
        span.layer is Layer.DECLARED
        for one, spans in after.items()
        for span in spans
        if overlaps(span.start, span.end, [(one.span.start, one.span.end)])
    )


def _found(case: Desk) -> Findings:
    folder, search = case.checked().folder, case.words()
    if folder is None or search.value is None:
        raise FileRefused(search.fault or "the search is still running; wait a moment")
    return findings(folder, search.value)


def _words() -> str:
    words = " ".join(request.form.get("words", "").split())
    if not words or len(words) > MOST:
        raise FileRefused("no words were chosen")
    return words


def _one_of(word: str, allowed: list[str]) -> str:
    if word not in allowed:
        raise FileRefused("choose from the list what is to be done")
    return word


def _changed(change: Any, name: str) -> AnyResponse:
    desk().change(change, request.form.get("revision", ""), name)
    return redirect("/words/#next", 303)
