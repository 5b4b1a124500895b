"""An open case: without a socket (`client`), on one (`served`), and in a real browser (`page`).

It is served by the process of the tests, with the processes beside that all share: to begin the program itself
(`Program`) for each takes seconds.
"""

from __future__ import annotations

import html
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, wait
from pathlib import Path
from typing import TYPE_CHECKING, Any, ParamSpec, TypeVar

import pytest
from flask.testing import FlaskClient

from mmbuilder import resources
from mmbuilder.beside import Worker
from mmbuilder.page import Desk, create_app
from mmbuilder.page.desk import PICTURES
from mmbuilder.page.guarding import ENTER, Door
from mmbuilder.page.looking import Looker
from mmbuilder.page.serving import open_sockets, serving

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment
    from playwright.sync_api import Page

P = ParamSpec("P")
R = TypeVar("R")

PORT = 8765
BASE = f"http://127.0.0.1:{PORT}"


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A copy of the bundled eye case, to be changed."""
    return copied("eye-drainage", tmp_path)


def copied(name: str, into: Path) -> Path:
    source = next(path for path in resources.bundled_cases() if path.name == name)
    return Path(shutil.copytree(source, into / name))


def keep_in(folder: str | None) -> None:
    """Have this process keep results where the test does that it works for."""
    os.environ.pop("MMBUILDER_CACHE", None)
    if folder is not None:
        os.environ["MMBUILDER_CACHE"] = folder


class Warm(Worker):
    """A process beside the page that serves one test after another: to begin it and load all lists takes seconds.

    One that is at work when its test ends is ended, as a desk does when it is closed; one that searches words is
    given the time to finish, for with what it remembers of them the next search is done at once.

    Args:
        patience: seconds that it is given.
        most: as for `Worker`.
    """

    def __init__(self, patience: float = 0, most: int | None = None) -> None:
        super().__init__(most=most)
        self._patience = patience

    def do(self, work: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> Future[R]:
        super().do(keep_in, os.environ.get("MMBUILDER_CACHE"))
        return super().do(work, *args, **kwargs)

    def lent(self) -> None:
        """Take it back from a test."""
        with self._lock:
            wait(self._under_way, self._patience)
            if self._busy():
                self._end()


@pytest.fixture(scope="session")
def beside() -> Iterator[tuple[Warm, Warm]]:
    """What searches words and what looks at pictures and builds, for all desks of this process."""
    words, pictures = Warm(patience=10), Warm(most=2 * PICTURES)  # each piece of work comes after `keep_in`
    yield words, pictures
    words.forget()
    pictures.forget()


@pytest.fixture
def desk(case: Path, beside: tuple[Warm, Warm]) -> Iterator[Desk]:
    opened = Desk(case)
    opened.worker, opened.looker = beside
    opened.looks = Looker(opened.root, opened.looker)
    yield opened
    opened.looks.forget()
    for worker in beside:
        worker.lent()


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


def ended(client: FlaskClient, address: str, most: float = 120) -> str:
    """Return a page once its work has ended, asking meanwhile what its own script asks (`waiting.js`)."""
    end = time.monotonic() + most
    while waits := re.search(r'data-waiting="([^"]+)"', page := str(client.get(address).text)):
        while (client.get(html.unescape(waits[1])).json or {})["running"]:
            assert time.monotonic() < end, "the work beside the page did not end"
            time.sleep(0.1)
    return page


class Served:
    """A case folder on a socket.

    Attributes:
        address: to come in by, once.
        base: of its pages.
    """

    def __init__(self, address: str) -> None:
        self.address = address
        self.base = address.partition(ENTER)[0]


class Program(Served):
    """The program itself, serving a case folder."""

    def __init__(self, root: Path, *more: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "mmbuilder", "open", str(root), "--no-browser", *more],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1", "NO_COLOR": "1"},
        )
        super().__init__(self._told())

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


class Server:
    """What the program serves with, in this process; it serves the desk of one test after another."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._app: WSGIApplication | None = None

    def __call__(self, environ: WSGIEnvironment, start: StartResponse) -> Iterable[bytes]:
        assert self._app is not None
        return self._app(environ, start)

    def serve(self, desk: Desk) -> Served:
        door = Door(self._port)
        self._app = create_app(desk, door).wsgi_app
        return Served(f"http://127.0.0.1:{self._port}{ENTER}?token={door.token}")


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    sockets = open_sockets(0)
    one = Server(sockets[0].getsockname()[1])
    with serving(one, sockets):
        yield one


@pytest.fixture
def served(desk: Desk, server: Server) -> Served:
    return server.serve(desk)


@pytest.fixture
def program(case: Path) -> Iterator[Program]:
    running = Program(case)
    yield running
    running.stop()


@pytest.fixture
def page(browser: Any, served: Served) -> Iterator[Page]:
    """A tab of Chromium on the served case; a script that fails or a foreign request fails the test."""
    context = browser.new_context(viewport={"width": 1366, "height": 768})
    tab = context.new_page()
    # A work of the test before may hold the one process beside for half a minute.
    tab.set_default_timeout(60_000)
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
