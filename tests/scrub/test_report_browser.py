"""The report as a page, in real Chromium on a desk and on a phone, looked at by axe-core.

Source: axe-core (Deque) with its rules for WCAG 2 and good practice; WCAG 2.2, 1.4.10.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.scrub import report
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.loose import Outcome
from mmbuilder.scrub.propose import propose
from tests.browser import axe_faults

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1366, "height": 768}


def of_a_case() -> report.Report:
    """Of a bundled case, with something in each of its lists."""
    plan = propose(load(resources.bundled_cases()[0]), names=NoNameModel())
    told = replace(report.of_case(plan), warnings=("a rare procedure",), dropped=("file 1, comments",))
    assert told.removed
    assert told.kept
    assert told.not_installed
    return told


def of_files() -> report.Report:
    return report.of_files(
        [Outcome(Path("a.png"), Path("out")), Outcome(Path("b.txt"), None, refused="damaged")]
    )


@pytest.mark.browser
@pytest.mark.usefixtures("seen")
@pytest.mark.parametrize("make", [of_a_case, of_files])
def test_axe_finds_nothing_and_nothing_is_cut_off(make: Any, browser: Any, tmp_path: Path) -> None:
    file = tmp_path / "report.html"
    file.write_text(report.as_page(make()), encoding="utf-8")
    tab = browser.new_page()
    tab.goto(file.as_uri())
    assert tab.locator("main").count() == 1
    for size in (DESK, PHONE):
        tab.set_viewport_size(size)
        assert axe_faults(tab) == []
        assert tab.evaluate("document.documentElement.scrollWidth") <= size["width"]
    tab.close()
