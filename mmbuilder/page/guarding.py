"""Who may come in: this computer, through the address the program opened, from its own pages.

    Host     one of ours, so that a name that was made to point here (DNS rebinding) is refused
    cookie   given once, for the token in the opened address; HttpOnly, SameSite=Strict
    Origin   our own for everything that changes something; a request from another site is refused

Every answer forbids what its pages do not use: foreign resources, inline script, frames, caches.
"""

from __future__ import annotations

import hmac
import secrets
import threading
import time

from flask import Flask, Response, abort, redirect, request
from werkzeug.wrappers import Response as AnyResponse

ENTER = "/enter"
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
        "form-action 'self'; frame-src 'self'; frame-ancestors 'self'; base-uri 'none'"
    ),
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    # Not "no-referrer": browsers then send `Origin: null` with our own forms.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), clipboard-read=()",
}
_POLICY = "Content-Security-Policy"
OWN_DOCUMENT = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'; sandbox"
"""For a document of ours that carries its own style, such as the scrub report: nothing in it may run."""
_CHANGING = frozenset({"POST", "PUT", "PATCH", "DELETE"})
_LOCAL = ("127.0.0.1", "[::1]", "localhost")


class Door:
    """The way in: a token that works once, then a session.

    Args:
        port: the page is served on; only its addresses are answered.

    Attributes:
        cookie: its name; a browser sends the cookies of a host to all its ports, so each page has a name.
        token: goes into the opened address.
        last: when somebody last asked for something, by `time.monotonic`.
    """

    def __init__(self, port: int) -> None:
        self.cookie = f"mmbuilder-{port}"
        self.hosts = frozenset(f"{name}:{port}" for name in _LOCAL)
        self.token = secrets.token_urlsafe(24)
        self.last = time.monotonic()
        self._session = secrets.token_urlsafe(32)
        self._unused = True
        self._lock = threading.Lock()

    def enter(self, token: str) -> str | None:
        """Return the session for the token, the first time; None for a wrong or used one."""
        with self._lock:
            fits = hmac.compare_digest(token.encode(), self.token.encode())
            if not (fits and self._unused):
                return None
            self._unused = False
            return self._session

    def knows(self, session: str) -> bool:
        """Whether this is the session."""
        return hmac.compare_digest(session.encode(), self._session.encode())


def guard(app: Flask, door: Door) -> None:
    """Have every request to an app pass the door, and every answer carry the headers."""

    @app.before_request
    def check() -> AnyResponse | None:
        if request.host not in door.hosts:
            abort(403)
        if request.path == ENTER:
            return _enter(door)
        if not door.knows(request.cookies.get(door.cookie, "")):
            abort(403)
        if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
            abort(403)
        if request.method in _CHANGING and request.headers.get("Origin") != f"http://{request.host}":
            abort(403)
        door.last = time.monotonic()
        return None

    @app.after_request
    def close(answer: Response) -> Response:
        policy = answer.headers.get(_POLICY)
        answer.headers.update(HEADERS)
        if policy == OWN_DOCUMENT:
            answer.headers[_POLICY] = policy
        return answer


def _enter(door: Door) -> AnyResponse:
    session = door.enter(request.args.get("token", ""))
    if session is None:
        abort(403)
    answer = redirect("/", 303)
    answer.set_cookie(door.cookie, session, httponly=True, samesite="Strict")
    return answer
