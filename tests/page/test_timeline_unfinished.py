"""The timeline of a case that is not finished: what it needs itself is asked for, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.parts._drawable import drawable
from mmbuilder.page.parts._story import figure, story
from mmbuilder.page.parts._typed import typed
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import in_words
from tests.page.conftest import copied
from tests.page.test_timeline import CASES, drawing, texts, whole

UNFINISHED = ("take away", "outcome", "title", "presenter", "patient", "asked")


def unfinished(tree: Any) -> None:
    for key in UNFINISHED:
        tree.pop(key, None)


@pytest.mark.parametrize("name", [path.name for path in CASES])
def test_it_is_drawn_as_that_of_the_finished_case(name: str, tmp_path: Path) -> None:
    desk = Desk(copied(name, tmp_path))
    finished = desk.checked().folder
    assert finished is not None
    told = story(finished, typed(desk))
    desk.change(unfinished, desk.revision())
    assert desk.checked().folder is None
    part = drawable(desk.root, desk.text(), desk.state())
    assert part is not None
    assert part.folder is not None
    assert story(part.folder, typed(desk)) == told
    names = NoNameModel()
    drawn, before = (figure(one, in_words(one, names=names)) for one in (part.folder, finished))
    assert len(drawn.targets) == len(before.targets)
    assert not set(texts(whole(drawn.shapes))) & {"case-a", "An unexpected finding"}


def test_only_the_page_of_an_unfinished_case_says_so(client: FlaskClient, desk: Desk) -> None:
    assert "not finished" not in client.get("/timeline/").text
    desk.change(unfinished, desk.revision())
    page = client.get("/timeline/").text
    count = sum(one.stops for one in desk.checked().problems)
    assert f'<a href="/start/">{count} things still to write or to mend</a>' in page
    assert "/timeline/room" not in page  # what the room sees is made of the whole case
    assert page.count('<details id="') > 20
    shapes = "".join(texts(whole("".join(re.findall(r"<text .*?</text>", drawing(client)["html"])))))
    assert "FIRST SIGN" in shapes
    assert "Quessenby" not in shapes  # names are looked for in the part, too


def test_what_is_asked_for_is_what_the_timeline_needs(client: FlaskClient, desk: Desk) -> None:
    def wrong(tree: Any) -> None:
        unfinished(tree)
        tree["timeline"]["events"][1].update(when="teatime")

    desk.change(wrong, desk.revision())
    page = client.get("/timeline/").text
    assert "while this stands" in page
    assert "/write/events/#at-timeline-events-1-when" in page
    assert "at-take_away" not in page


def test_a_decision_that_is_half_written_does_not_stop_the_events(desk: Desk) -> None:
    desk.change(lambda tree: tree["decisions"][0].pop("question"), desk.revision())
    assert desk.checked().folder is None
    part = drawable(desk.root, desk.text(), desk.state())
    assert part is not None
    assert part.folder is not None
    assert part.folder.case.decisions == ()
    assert part.folder.case.timeline.events


def test_an_empty_case_is_asked_for_its_events(tmp_path: Path) -> None:
    (tmp_path / "case.yaml").write_text("title: x\n\tuse: teaching\n", "utf-8")
    assert drawable(tmp_path, "title: x\n\tuse: teaching\n", "torn") is None
    part = drawable(tmp_path, "mmbuilder: 1\ncode: begun-01\n", "begun")
    assert part is not None
    assert part.folder is None
    assert {one.code for one in part.stops} == {"missing-key"}
