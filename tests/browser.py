"""Chromium of the system, driven by Playwright, and axe-core in it; say why not, where it is not installed."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

_CALLED = "chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"
"""The first draws the same pages without the windows of a browser, for three fifths of the processor's time."""


@contextmanager
def chromium() -> Iterator[Any]:
    """A running Chromium. Skips with the reason; in CI that is a failure."""
    found = next(filter(None, map(shutil.which, _CALLED)), None)
    if found is None:
        reason = "Chromium is not installed, so pages are not opened in a browser here"
        pytest.fail(reason) if os.environ.get("CI") == "true" else pytest.skip(reason)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield opened
        opened.close()


def axe_faults(page: Any, **options: Any) -> list[tuple[str, str, list[Any]]]:
    """What axe-core finds wrong in a page: rule, how grave, and the first places.

    Args:
        page: lies open in Chromium.
        options: for axe-core, beside that only faults are gathered: what is right is most of a page, and takes longest.
    """
    from axe_playwright_python.sync_playwright import Axe

    told = Axe().run(page, options={"resultTypes": ["violations"], **options}).response["violations"]
    return [
        (one["id"], one["impact"], [(node["target"], node["html"][:90]) for node in one["nodes"][:3]])
        for one in told
    ]
