"""Every page as assistive technology meets it, in Chromium: axe-core, headings, double size."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from mmbuilder import registry
from mmbuilder.page.app import PARTS
from mmbuilder.page.form.layout import sections
from tests.browser import axe_faults
from tests.page.conftest import Served, copied

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

PAGES = [f"{name}/" for name in registry.names(PARTS)] + ["forget", "cover/1"]
PAGES += [f"write/{name}/" for name in sections()]
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture
def case(tmp_path: Path, seen: Path) -> Path:
    return copied("airway-prone", tmp_path)


def settled(page: Page, address: str) -> None:
    from playwright.sync_api import expect

    page.goto(address)
    expect(page.locator("[data-waiting^='/']"), address).to_have_count(0, timeout=180_000)


def test_every_page_can_be_used_with_what_a_person_has(page: Page, served: Served) -> None:
    found: list[tuple[object, ...]] = []
    for name in PAGES:
        settled(page, f"{served.base}/{name}")
        found += [(name, *one) for one in axe_faults(page, runOnly=TAGS)]
        ranks = (page.locator("h1").count(), page.locator("main").count())
        found += [(name, "headings and main parts", ranks)] if ranks != (1, 1) else []
        title = page.title()
        # WCAG 2.2, 2.4.2: a title tells which page it is, and that first; the name of the case alone does not.
        named = title.endswith("- mmbuilder") and not title.startswith("airway-prone")
        found += [] if named else [(name, "title", title)]
        # 1366 x 768 at 125 % and at 200 % are windows of so many CSS pixels (WCAG 2.2, 1.4.4 and 1.4.10).
        for width, height in ((1092, 614), (683, 384)):
            page.set_viewport_size({"width": width, "height": height})
            if page.evaluate("document.documentElement.scrollWidth > window.innerWidth + 1"):
                found.append((name, "cut off", width))
        page.set_viewport_size({"width": 1366, "height": 768})
    assert found == []
