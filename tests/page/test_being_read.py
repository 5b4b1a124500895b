"""The first page while the case is still being read: it is there at once, and tells when it is."""

from __future__ import annotations

from concurrent.futures import Future
from threading import Timer
from typing import TYPE_CHECKING, Any

import pytest
from flask.testing import FlaskClient

from mmbuilder.casefile.checking import Checked
from mmbuilder.page import Desk
from tests.browser import axe_faults
from tests.page.conftest import Served

if TYPE_CHECKING:
    from playwright.sync_api import Page

WORDS = "The case is being read."


@pytest.fixture
def reading(desk: Desk) -> Future[Checked]:
    desk.reading = Future()
    return desk.reading


def test_the_overview_does_not_wait_for_the_case(
    client: FlaskClient, desk: Desk, reading: Future[Checked], monkeypatch: pytest.MonkeyPatch
) -> None:
    def asked(*_: Any) -> Checked:
        raise AssertionError("the page waits for the check")

    with monkeypatch.context() as patched:
        patched.setattr(Desk, "checked", asked)
        shown = client.get("/start/").text
    assert WORDS in shown
    assert desk.root.name not in shown
    reading.set_result(desk.checked())
    told = client.get("/start/").text
    assert WORDS not in told
    assert "Write the case" in told


def test_it_is_told_when_the_case_is_read_and_when_that_failed(
    client: FlaskClient, reading: Future[Checked]
) -> None:
    ended = Timer(0.2, reading.set_exception, [OSError("gone")])
    ended.start()
    assert client.get("/start/state").get_json() == {"running": False}
    assert reading.done()


def test_a_case_that_nobody_began_to_read_is_read_when_it_is_asked_for(client: FlaskClient) -> None:
    assert WORDS not in client.get("/start/").text
    assert client.get("/start/state").get_json() == {"running": False}


@pytest.mark.browser
def test_the_page_tells_by_itself_where_the_case_stands(
    page: Page, served: Served, desk: Desk, reading: Future[Checked]
) -> None:
    page.goto(f"{served.base}/start/")
    page.get_by_text(WORDS).wait_for()
    assert axe_faults(page) == []
    reading.set_result(desk.checked())
    page.get_by_role("link", name="Write the case").wait_for()
    assert page.get_by_text(WORDS).count() == 0
    assert desk.checked().folder is not None
    assert desk.checked().folder.case.code in page.title()
