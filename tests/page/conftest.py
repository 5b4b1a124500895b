"""An open case: without a socket (`client`), on one (`served`), and in a real browser (`page`)."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from flask.testing import FlaskClient

from mmbuilder import resources
from mmbuilder.page import Desk, create_app
from mmbuilder.page.guarding import Door

if TYPE_CHECKING:
    from playwright.sync_api import Page

PORT = 8765
BASE = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A copy of the bundled eye case, to be changed."""
    return copied("eye-drainage", tmp_path)


def copied(name: str, into: Path) -> Path:
    source = next(path for path in resources.bundled_cases() if path.name == name)
    return Path(shutil.copytree(source, into / name))


@pytest.fixture
def desk(case: Path) -> Iterator[Desk]:
    opened = Desk(case)
    yield opened
    opened.close()


@pytest.fixture
def client(desk: Desk) -> FlaskClient:
    return let_in(desk)


class Client(FlaskClient):
    """Asks as a browser on this computer does, unless told otherwise."""

    def open(self, *args: Any, **kwargs: Any) -> Any:
        kwargs = {"base_url": BASE, "buffered": True, **kwargs}
        return super().open(*args, **kwargs)


def stranger(desk: Desk, door: Door) -> FlaskClient:
    app = create_app(desk, door)
    app.test_client_class = Client
    return app.test_client()


def let_in(desk: Desk) -> FlaskClient:
    """A client of an open case that has come in through the door and says where it is."""
    door = Door(PORT)
    client = stranger(desk, door)
    client.environ_base |= {"HTTP_ORIGIN": BASE}
    assert client.get(f"/enter?token={door.token}").status_code == 303
    return client


class Served:
    """The program itself, serving a case folder."""

    def __init__(self, root: Path, *more: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "mmbuilder", "open", str(root), "--no-browser", *more],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1", "NO_COLOR": "1"},
        )
        self.address = self._told()
        self.base = self.address.partition("/enter")[0]

    def _told(self) -> str:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            if found := re.search(r"http://127\.0\.0\.1:\d+/enter\?token=\S+", line):
                return found[0]
        raise AssertionError(f"no address was told: {self.stop()}")

    def stop(self) -> str:
        """End it; return what it said on the error stream."""
        self.process.terminate()
        _, errors = self.process.communicate(timeout=30)
        return errors


@pytest.fixture
def served(case: Path) -> Iterator[Served]:
    running = Served(case)
    yield running
    running.stop()


@pytest.fixture
def page(browser: Any, served: Served) -> Iterator[Page]:
    """A tab of Chromium on the served case; a script that fails or a foreign request fails the test."""
    context = browser.new_context(viewport={"width": 1366, "height": 768})
    tab = context.new_page()
    tab.set_default_timeout(15_000)
    faults: list[str] = []
    tab.on("pageerror", lambda error: faults.append(f"script: {error}"))
    tab.on(
        "console", lambda message: faults.append(message.text) if "Content Security" in message.text else None
    )
    tab.on(
        "request",
        lambda asked: (
            faults.append("a foreign host was asked")
            if not asked.url.startswith(("http://127.0.0.1:", "blob:"))
            else None
        ),
    )
    tab.goto(served.address)
    yield tab
    context.close()
    assert faults == []


def between(page: str, start: str, end: str) -> str:
    """What stands between two pieces of a page; the first has to be there."""
    _, found, rest = page.partition(start)
    assert found, start
    return rest.partition(end)[0]
