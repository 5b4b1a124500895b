"""The guided form, and what every page says of a fault in its words and at its fields."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from flask import g
from flask.blueprints import BlueprintSetupState
from pydantic import BaseModel

from mmbuilder.case.identifiers import Declared
from mmbuilder.case.model import Case
from mmbuilder.casefile.checking import CASE, IDENTIFIERS
from mmbuilder.casefile.wording import NEEDED
from mmbuilder.page.app import desk
from mmbuilder.page.desk import Desk
from mmbuilder.page.form.days import CODES
from mmbuilder.page.form.examples import Typed, as_typed
from mmbuilder.page.form.faults import LACKING, WISHED, Faults, section_of, sorted_by_field
from mmbuilder.page.form.lacks import Lack, by_section
from mmbuilder.page.form.layout import sections
from mmbuilder.page.form.nodes import parsed
from mmbuilder.page.form.opened import opened
from mmbuilder.page.form.spoken import in_form, named, shared
from mmbuilder.page.form.view import Asked, asked_at
from mmbuilder.page.late import late
from mmbuilder.problem import Problem

if TYPE_CHECKING:
    from mmbuilder.page.parts._days import Day

NAME, TITLE, ORDER = "write", "Write", 20
blueprint = late(
    NAME,
    "mmbuilder.page.parts._write_page",
    {
        "GET /": "begin",
        "GET /<name>/": "show",
        "POST /<name>/": "keep",
        "POST /<name>/entry": "open_entry",
    },
)


@blueprint.record
def _begin(state: BlueprintSetupState) -> None:
    state.app.extensions["desk"].forgets.extend([opened.cache_clear, parsed.cache_clear])


def faults_of(case: Desk) -> Faults:
    """The faults of the case as it is now, sorted once for an answer."""
    checked = case.checked()
    held: tuple[object, Faults] | None = g.get("faults")
    if held is None or held[0] is not checked:
        held = g.faults = (checked, _sorted(case))
    return held[1]


def _sorted(case: Desk) -> Faults:
    sources = {}
    for section in sections().values():
        if section.file not in sources:
            now = opened(case.text(section.file), section.model)
            if now is not None:
                sources[section.file] = (now.source, section.model)
    return sorted_by_field(case.checked().problems, case.root, sources)


@blueprint.app_template_global()
def place_of(problem: Problem) -> Asked | None:
    """Return where the form asks for what a fault concerns; None for a fault of no field."""
    file, path = faults_of(desk()).places.get(problem, ("", ()))
    return asked_at(file, path) if path else None


@blueprint.app_template_global()
def fields_of(problem: Problem) -> tuple[Asked, ...]:
    """Return every field that a fault asks to be filled in; none for one that is told at its own place."""
    return tuple(asked_at(CASE, path) for path in faults_of(desk()).wanted_by(problem))


@blueprint.app_template_filter()
def in_the_form(words: str, problem: Problem) -> str:
    """Return words of a fault as the form calls things."""
    file, path = faults_of(desk()).places.get(problem, (CASE, ()))
    model = _model(file)
    now = opened(desk().text(file), model) if path else None
    return in_form(words, path, now.source, model) if now is not None else named(words, path, model)


@blueprint.app_template_filter()
def shared_words(problem: Problem) -> list[str]:
    """Return the words by which a field gives the complication away."""
    file, path = faults_of(desk()).places.get(problem, ("", ()))
    now = opened(desk().text(CASE), Case) if file == CASE and path else None
    return shared(problem.code, problem.found, path, now.source) if now is not None else []


def _model(file: str) -> type[BaseModel]:
    return Declared if file == IDENTIFIERS else Case


@blueprint.app_template_global()
def days_of(problem: Problem) -> list[Day]:
    """Return the days that a date may mean which is read in two ways, or names no day."""
    file, path = faults_of(desk()).places.get(problem, ("", ()))
    from mmbuilder.page.parts._days import days

    return days(desk(), sections()[section_of(file, path)], path) if path and problem.code in CODES else []


@blueprint.app_template_filter()
def typed_in_form(problem: Problem) -> list[Typed]:
    """Return the example of a fault as it is typed into the form; nothing for one that no field concerns."""
    file, path = faults_of(desk()).places.get(problem, ("", ()))
    return as_typed(problem.example, path, _model(file)) if path and problem.example else []


@blueprint.app_template_test()
def lacking(problem: Problem) -> bool:
    """Whether a fault only says that something was not written yet."""
    return problem.code in LACKING


@blueprint.app_template_test()
def wished(problem: Problem) -> bool:
    """Whether a fault only says what could be told as well."""
    return problem.code in WISHED


@blueprint.app_template_test()
def plainly_needed(problem: Problem) -> bool:
    """Whether a fault says no more than the mark of its field: it is needed."""
    return problem.why == NEEDED


@blueprint.app_template_test()
def unplaced(problem: Problem) -> bool:
    """Whether a fault has to be told in its own words where the field that it concerns is not in sight."""
    return problem.code not in LACKING or place_of(problem) is None


@blueprint.app_template_global()
def still_to_write(problems: Iterable[Problem]) -> dict[str, list[Lack]]:
    """Return the fields that were only not written yet, by the title of their section."""
    placed = ((place_of(problem), problem.why) for problem in problems if problem.code in LACKING)
    return by_section((place, why) for place, why in placed if place is not None)
