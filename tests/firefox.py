"""Firefox of the system, driven over WebDriver BiDi (W3C); say why not, where it is not installed.

Playwright drives a Firefox of its own alone, and downloads it; this is the one that people have.
"""

from __future__ import annotations

import base64
import json
import os
import re
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

_CALLED = "firefox-esr", "firefox"
_LISTENS = re.compile(r"WebDriver BiDi listening on (ws://\S+)")
_PREFERENCES = (
    # Bars that take their room, as on many computers: what is as wide as the window is then too wide.
    'user_pref("widget.gtk.overlay-scrollbars.enabled", false);\n'
)

KEYS = {"Tab": "\ue004", "Enter": "\ue007", "Control": "\ue009", "Right": "\ue014", "Delete": "\ue017"}
"""Keys without a letter, as WebDriver writes them (W3C WebDriver, 17.4.2, keyboard actions)."""


class Tab:
    """A tab of Firefox.

    Attributes:
        faults: what its pages said that they should not: scripts that failed, what the policy of a page forbade,
            errors, and hosts that are not this computer.
    """

    def __init__(self, socket: Any) -> None:
        self.faults: list[str] = []
        self._socket = socket
        self._asked = 0
        self.ask("session.new", capabilities={})
        # A tab of our own: the first has no focus, and a field that is left there does not tell.
        self.context = self.ask("browsingContext.create", type="tab")["context"]
        self.ask("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])

    def ask(self, method: str, **given: Any) -> Any:
        """Give a command; return its answer. What is told meanwhile is looked at for faults."""
        told = self._answer(method, given)
        assert told["type"] == "success", f"{method}: {told['error']}: {told['message']}"
        return told["result"]

    def _answer(self, method: str, given: dict[str, Any]) -> dict[str, Any]:
        self._asked += 1
        self._socket.send(json.dumps({"id": self._asked, "method": method, "params": given}))
        while (told := json.loads(self._socket.recv(timeout=60))).get("id") != self._asked:
            self._hear(told)
        return dict(told)

    def _hear(self, told: dict[str, Any]) -> None:
        said = told["params"]
        # A page that is left has its open requests ended by the browser: nobody sees it any more.
        left = str(said.get("text")).startswith("AbortError")
        if told["method"] == "log.entryAdded" and said["level"] == "error" and not left:
            self.faults.append(str(said["text"]))
        asked = said["request"]["url"] if told["method"] == "network.beforeRequestSent" else "data:"
        if not asked.startswith(("http://127.0.0.1:", "blob:", "data:")):
            self.faults.append("a foreign host was asked")

    def go(self, address: str) -> None:
        """Open an address, and wait until it is loaded."""
        given = {"context": self.context, "url": address, "wait": "complete"}
        # The page that is left may load itself anew at that moment, as one does that waits: then once more.
        while "NS_BINDING_ABORTED" in (told := self._answer("browsingContext.navigate", given)).get(
            "message", ""
        ):
            time.sleep(0.1)
        assert told["type"] == "success", told

    def reload(self) -> None:
        self.ask("browsingContext.reload", context=self.context, wait="complete")

    def run(self, function: str, *given: object) -> Any:
        """Run a function of JavaScript in the page; return what it returns."""
        told = self.ask(
            "script.evaluate",
            expression=f"(async () => JSON.stringify(await ({function})(...{json.dumps(given)})))()",
            awaitPromise=True,
            target={"context": self.context},
        )
        assert told["type"] == "success", told["exceptionDetails"]["text"]
        return json.loads(told["result"].get("value", "null"))

    def until(self, true: str | Callable[[], object], *given: object, most: float = 60) -> None:
        """Wait until something is so: a function of JavaScript, or of Python."""
        is_so = f"async (...given) => Boolean(await ({true})(...given))"
        end = time.monotonic() + most
        while not (self.run(is_so, *given) if isinstance(true, str) else true()):
            assert time.monotonic() < end, f"it did not come about: {true} {given}"
            time.sleep(0.05)

    def press(self, *keys: str) -> None:
        """Press keys, one after the other; `Control+A` holds the first while it presses the second."""
        acts: list[dict[str, str]] = []
        for key in keys:
            held = [KEYS.get(one, one) for one in (key.split("+") if len(key) > 1 else [key])]
            acts += [{"type": "keyDown", "value": one} for one in held]
            acts += [{"type": "keyUp", "value": one} for one in reversed(held)]
        self._act({"type": "key", "id": "keys", "actions": acts})

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Drag the mouse from one place of the window to another."""
        halfway = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        moves = [{"type": "pointerMove", "x": round(x), "y": round(y)} for x, y in (start, halfway, end)]
        acts = [
            moves[0],
            {"type": "pointerDown", "button": 0},
            *moves[1:],
            {"type": "pointerUp", "button": 0},
        ]
        self._act({"type": "pointer", "id": "mouse", "actions": acts})

    def _act(self, source: dict[str, Any]) -> None:
        self.ask("input.performActions", context=self.context, actions=[source])

    def window(self, width: int, height: int, zoom: float = 1) -> None:
        """Show pages as a window of so many points does at a zoom: fewer points, each of them larger."""
        self.ask(
            "browsingContext.setViewport",
            context=self.context,
            viewport={"width": int(width / zoom), "height": int(height / zoom)},
            devicePixelRatio=zoom,
        )

    def shot(self, file: Path) -> None:
        """Keep a picture of what is seen."""
        told = self.ask("browsingContext.captureScreenshot", context=self.context)
        file.write_bytes(base64.b64decode(told["data"]))


@contextmanager
def firefox(folder: Path) -> Iterator[Tab]:
    """A tab of a Firefox with a profile of its own in a folder. Skips with the reason; in CI that is a failure."""
    found = next(filter(None, map(shutil.which, _CALLED)), None)
    if found is None:
        reason = "Firefox is not installed, so pages are not opened in it here"
        pytest.fail(reason) if os.environ.get("CI") == "true" else pytest.skip(reason)
    from websockets.sync.client import connect

    (folder / "user.js").write_text(_PREFERENCES)
    said = folder / "said.txt"
    command = [found, "--headless", "--no-remote", "--remote-debugging-port=0", "--profile", str(folder)]
    with said.open("wb") as file, subprocess.Popen(command, stdout=file, stderr=file) as process:
        try:
            with connect(f"{_address(process, said)}/session", max_size=None, proxy=None) as socket:
                tab = Tab(socket)
                yield tab
                tab.ask("browser.close")
            process.wait(timeout=30)
        finally:
            process.kill()


def _address(process: subprocess.Popen[bytes], said: Path) -> str:
    """Where it listens, as it tells."""
    end = time.monotonic() + 60
    while not (found := _LISTENS.search(said.read_text("utf-8", "replace"))):
        gone = process.poll() is not None or time.monotonic() > end
        assert not gone, said.read_text("utf-8", "replace")
        time.sleep(0.05)
    return found[1]
