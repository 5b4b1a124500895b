"""What a page waits for comes without taking away what was set in it meanwhile. Common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from mmbuilder.page import Desk
from mmbuilder.page.ahead import Made
from tests.page.conftest import Served

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser


def test_ticks_typed_words_and_the_focus_stay_as_the_search_ends(
    page: Page, served: Served, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as held:
        held.setattr(desk, "search", lambda *_: Made())
        held.setattr("mmbuilder.page.parts._names_page.proposals", lambda *_: Made())
        page.goto(f"{served.base}/sign/")
        page.check("#l1")
        page.select_option("#role", "consultant")
        page.focus("#l2")
        names = page.context.new_page()
        names.goto(f"{served.base}/names/")
        names.fill("#text", "Orla Quennimore, patient")
        overview = page.context.new_page()
        overview.goto(f"{served.base}/start/")
        overview.focus("main a[href='/words/']")
        for tab in (page, names, overview):
            assert tab.locator("[data-waiting]").count() == 1, tab.url
            tab.evaluate("window.loaded = 'once'")
    for tab in (page, names, overview):
        tab.locator("[data-waiting]").wait_for(state="detached", timeout=180_000)
        assert tab.evaluate("window.loaded") == "once", tab.url  # not loaded again
    assert page.is_checked("#l1")
    assert not page.is_checked("#l2")
    assert page.input_value("#role") == "consultant"
    assert page.locator("#l2:focus").count() == 1
    assert "is running" not in page.inner_text("main")
    assert names.input_value("#text") == "Orla Quennimore, patient"
    assert names.locator("#text:focus").count() == 1
    assert "Found in your note" in names.inner_text("main")
    assert overview.locator("main a[href='/words/']:focus").count() == 1
