"""A fault in the form is told in the form's words: labels, the words that are meant, what there is to choose from."""

from __future__ import annotations

import re

import pytest
from flask.testing import FlaskClient

from mmbuilder.clinic.severity.clavien_dindo import TREATMENTS
from mmbuilder.page import Desk
from mmbuilder.page.form.layout import sections
from tests.page.conftest import between

CASE = """mmbuilder: 1
code: told-01
specialty: vascular surgery
use: department review
title: A change on the screen
situation: The thrombus was seen while the neck was closed
timeline:
  index event: start
  events:
    - {id: start, kind: step, what: Skin, when: "0900"}
    - {kind: complication, what: Fresh thrombus in the artery, when: "1000"}
outcome:
  grades:
    - {scale: Clavien-Dindo, grade: IVa, complication: stroke, by: consultant surgeon, when: Day 30}
"""


@pytest.fixture
def told(client: FlaskClient, desk: Desk) -> FlaskClient:
    (desk.root / "case.yaml").write_text(CASE, "utf-8")
    return client


def test_what_gives_the_answer_away_is_told_by_its_field_and_its_words(told: FlaskClient) -> None:
    page = told.get("/write/story/").text
    beside = between(page, 'id="at-situation-faults"', "</div>")
    assert "“The situation in one sentence” holds a word of the complication" in beside
    assert "<dt>the words</dt><dd>thrombus</dd>" in beside
    assert "in “Event 2”" in beside
    assert not re.search(r"`|\bline \d", beside)


def test_a_grade_asks_for_what_it_was_treated_with(told: FlaskClient, desk: Desk) -> None:
    page = told.get("/write/follow-up/?open=at-outcome-grades-0").text
    grade = between(page, 'id="at-outcome-grades-0-grade-faults"', "</div>")
    assert '<a href="/write/follow-up/#at-outcome-grades-0-treatments">' in grade
    assert "treatments:" not in grade
    field = between(page, 'id="at-outcome-grades-0-treatments"', "</fieldset>")
    offered = re.findall(r'type="checkbox" name="[^"]*" value="([^"]*)"', field)
    assert offered == [*TREATMENTS]
    assert "Still to write" in page.partition('id="at-outcome-grades-0-treatments"')[2][:8000]
    before, _, _ = page.partition('id="at-outcome-grades-0-treatments"')
    assert 'id="at-outcome-grades-0-events"' not in before


def test_a_cause_asks_for_its_reason_in_its_own_field(told: FlaskClient, desk: Desk) -> None:
    causes = "\nfactors: [{row: task, role: considered and excluded, what: Wire kinked}, {row: task, role: root, what: No list}]\n"
    (desk.root / "case.yaml").write_text(re.sub(r"\nfactors:(\n[ -].*)*\n", "\n", CASE) + causes, "utf-8")
    page = told.get("/write/causes/?open=at-factors-0,at-factors-1").text
    assert '<a href="/write/causes/#at-factors-0-reason">' in between(
        page, 'id="at-factors-0-faults"', "</div>"
    )
    root = between(page, 'id="at-factors-1-faults"', "</div>")
    assert '<a href="/write/causes/#at-factors-1-actions">' in root
    assert '<a href="/write/causes/#at-factors-1-reason">' in root


def test_words_of_another_spelling_stay_as_they_were_typed(told: FlaskClient, desk: Desk) -> None:
    with_words = CASE.replace("when: Day 30}", "when: Day 30, treatments: [Antibiotics, prayer]}")
    (desk.root / "case.yaml").write_text(with_words, "utf-8")
    page = told.get("/write/follow-up/?open=at-outcome-grades-0").text
    ticked = re.findall(r'value="([^"]*)" checked> ([^<]*)<', page)
    assert ticked == [("Antibiotics", "antibiotics"), ("prayer", "prayer (not of this scale)")]


def test_what_belongs_to_the_eye_is_asked_of_an_eye_alone(told: FlaskClient, desk: Desk) -> None:
    pages = [told.get(f"/write/{name}/").text for name in sections()]
    assert not any("clock hours of an eye" in page.lower() for page in pages)
    (desk.root / "case.yaml").write_text(CASE.replace("vascular surgery", "ophthalmology"), "utf-8")
    pages = [told.get(f"/write/{name}/").text for name in sections()]
    assert any("Clock hours of an eye" in page for page in pages)
