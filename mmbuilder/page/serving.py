"""Serve the pages to this computer only, until the program is stopped or nobody has asked for long."""

from __future__ import annotations

import gc
import logging
import signal
import socket
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder.page.app import create_app
from mmbuilder.page.desk import Desk
from mmbuilder.page.guarding import ENTER, Door

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication
    from flask import Flask

THREADS = 6
GARBAGE_AFTER = 20_000
"""New objects before any are looked through: reading a case makes tens of thousands that all stay."""
MOST_BODY = 200 * 2**20
"""Bytes of one request, before any page looks at it: the largest picture that a case may hold."""


def launch(root: Path, *, port: int = 0, idle_minutes: float = 120, ready: Callable[[str], None]) -> None:
    """Serve a case folder until it is interrupted or idle.

    Args:
        root: the case folder.
        port: to serve on; any free one if 0.
        idle_minutes: without a request, after which it stops by itself; never if 0.
        ready: told the address to open, which works once.

    Raises:
        OSError: the port is taken.
        FileRefused: the folder cannot be opened.
    """
    gc.set_threshold(GARBAGE_AFTER)
    sockets = open_sockets(port)
    port = sockets[0].getsockname()[1]
    desk, door = Desk(root), Door(port)
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # stopped from outside, it ends its work too
    with ThreadPoolExecutor(1) as beside:
        # A browser takes a second to start. Meanwhile the pages are made, for which who asks earlier waits,
        # and the case is read.
        pages = beside.submit(create_app, desk, door)
        desk.reading = beside.submit(desk.checked)
        try:
            with serving(lambda environ, start: pages.result()(environ, start), sockets):
                ready(f"http://127.0.0.1:{port}{ENTER}?token={door.token}")
                unread = _unread(pages.result())  # a fault of the program ends it
                while not idle_minutes or time.monotonic() - door.last < idle_minutes * 60:
                    time.sleep(0.2)
                    if read := next(unread, None):
                        read()
        except KeyboardInterrupt:
            pass
        finally:
            desk.close()


def _unread(app: Flask) -> Iterator[Callable[[], object]]:
    """Yield what reads a template, or a page's own code: else the first click on a page waits for both."""
    for name in app.jinja_env.list_templates():
        yield partial(app.jinja_env.get_template, name)
    for blueprint in app.blueprints.values():
        yield partial(import_module, blueprint.import_name)


@contextmanager
def serving(app: WSGIApplication, sockets: Sequence[socket.socket]) -> Iterator[None]:
    """Serve pages on sockets, in threads of this process; close the sockets at the end."""
    from waitress.server import create_server

    # Its lines may hold addresses and what an error said; the pages tell errors themselves.
    logging.getLogger("waitress").setLevel(logging.CRITICAL + 1)
    server = create_server(
        app,
        sockets=sockets,
        threads=THREADS,
        ident=None,
        max_request_body_size=MOST_BODY,
        clear_untrusted_proxy_headers=True,
    )
    stopped = threading.Event()

    def serve() -> None:
        try:
            server.run()
        except (OSError, ValueError):  # its sockets are closed under it when it is stopped
            if not stopped.is_set():
                raise

    threading.Thread(target=serve, daemon=True).start()
    try:
        yield
    finally:
        stopped.set()
        for one in sockets:
            one.close()


def open_sockets(port: int) -> list[socket.socket]:
    """Open 127.0.0.1 and, where this computer has it, ::1 on the same port."""
    first = _bound(socket.AF_INET, "127.0.0.1", port)
    try:
        return [first, _bound(socket.AF_INET6, "::1", first.getsockname()[1])]
    except OSError:  # no such address here, or the port is another program's on it
        return [first]


def _bound(family: socket.AddressFamily, address: str, port: int) -> socket.socket:
    opened = socket.socket(family, socket.SOCK_STREAM)
    try:
        opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        opened.bind((address, port))
    except OSError:
        opened.close()
        raise
    return opened
