"""What is still to be written, and what may be added: told shortly, apart from each other and from what is wrong. How
much is told is common practice, no source."""

from __future__ import annotations

import re
from typing import Any

from flask.testing import FlaskClient

from mmbuilder.casefile.checking import CASE
from mmbuilder.page import Desk
from mmbuilder.page.form.lacks import Lack, by_section
from mmbuilder.page.form.view import asked_at
from tests.page.conftest import between

WAYS = [("decisions", 0, "options", place, "reason") for place in (0, 1)]


def test_fields_are_told_by_section_and_several_of_one_name_once() -> None:
    paths = (
        ("title",),
        ("decisions", 0, "at"),
        ("decisions", 0, "because"),
        *WAYS,
        ("decisions", 1, "because"),
    )
    told = by_section((asked_at(CASE, path), "needed") for path in paths)
    assert {title: [(one.label, one.times) for one in fields] for title, fields in told.items()} == {
        "What happened": [("Title", 1)],
        "Decisions": [
            ("Decision 1: Made at", 1),
            ("Reason at the time", 1),
            ("A fair reason for it", 2),
            ("Decision 2: Reason at the time", 1),
        ],
    }
    first = asked_at(CASE, WAYS[0])
    assert told["Decisions"][2] == Lack("A fair reason for it", first.mark, first.address, 2, "needed")


def _lacking(tree: Any) -> None:
    tree.pop("title")
    tree.pop("take away")
    tree["actions"][0].pop("baseline")


def test_what_was_not_written_yet_is_a_line_for_each_section_and_says_why_at_its_field(
    client: FlaskClient, desk: Desk
) -> None:
    desk.change(_lacking, desk.revision())
    why = "one sentence is what a room remembers"
    for address in ("/start/", "/words/", "/get/"):
        page = client.get(address).text
        lines = re.findall(r'<li class="lacking">(.*?)</li>', page, re.DOTALL)
        assert [re.sub(r"<[^>]*>", "", one) for one in lines[:2]] == [
            "What happened: Title",
            "Learning and take-away: Take-away",
        ], address
        assert page.count(why) == page.count(f'title="{why}"') == 1
    assert "2 to write" in client.get("/start/").text
    beside = between(client.get("/write/learning/").text, 'id="at-take_away-faults"', "</div>")
    assert why in beside


def test_what_may_be_added_is_no_fault(client: FlaskClient, desk: Desk) -> None:
    desk.change(_lacking, desk.revision())
    assert "action-incomplete" in {one.code for one in desk.checked().problems}
    page = client.get("/write/actions/").text
    assert "To do here" not in page
    assert "<summary>May be added: 1</summary>" in page
    assert "INCOMPLETE" in between(page, '<details class="write-extra">', "</details>")
    assert "to look at" not in between(page, 'data-section="actions"', "</span></a>")
    assert "May be added</p>" in between(page, 'id="at-actions-0-baseline-faults"', "</div>")
