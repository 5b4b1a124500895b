"""Who may come in, and what every answer forbids."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask.testing import FlaskClient

from mmbuilder.page import Desk
from mmbuilder.page.guarding import HEADERS, Door
from mmbuilder.safe.terms import Use
from tests.page.conftest import PORT, Program, let_in, stranger


@pytest.fixture
def outside(desk: Desk) -> tuple[FlaskClient, Door]:
    door = Door(PORT)
    return stranger(desk, door), door


def test_the_token_works_once(outside: tuple[FlaskClient, Door]) -> None:
    client, door = outside
    assert client.get("/enter?token=wrong").status_code == 403
    first = client.get(f"/enter?token={door.token}")
    assert first.status_code == 303
    given = first.headers["Set-Cookie"]
    assert door.cookie in given
    assert "HttpOnly" in given
    assert "SameSite=Strict" in given
    client.delete_cookie(door.cookie, domain="127.0.0.1")
    assert client.get(f"/enter?token={door.token}").status_code == 403
    assert client.get("/start/").status_code == 403


def test_two_cases_are_open_side_by_side_in_one_browser(desk: Desk) -> None:
    """RFC 6265, 8.5: cookies do not provide isolation by port, so one browser sends both to each."""
    doors = Door(PORT), Door(PORT + 1)
    bases = [f"http://127.0.0.1:{PORT + number}" for number in (0, 1)]
    clients = [stranger(desk, door) for door in doors]
    jar: dict[str, str] = {}
    for client, door, base in zip(clients, doors, bases, strict=True):
        given = client.get(f"/enter?token={door.token}", base_url=base).headers["Set-Cookie"]
        name, _, value = given.partition(";")[0].partition("=")
        jar[name] = value
    for client, base in zip(clients, bases, strict=True):
        for name, value in jar.items():
            client.set_cookie(name, value, domain="127.0.0.1")
        assert client.get("/start/", base_url=base).status_code == 200
    # The session of one page opens no other.
    swapped = stranger(desk, doors[0])
    swapped.set_cookie(doors[0].cookie, jar[doors[1].cookie], domain="127.0.0.1")
    assert swapped.get("/start/", base_url=bases[0]).status_code == 403


def test_a_stranger_is_told_nothing_of_the_case(outside: tuple[FlaskClient, Door]) -> None:
    client, _ = outside
    for address in ("/", "/start/", "/static/page.css", "/nothing", "/undo"):
        answer = client.get(address)
        assert answer.status_code == 403
        assert "eye-drainage" not in answer.text


@pytest.mark.parametrize(
    "host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1", "127.0.0.1:1", "169.254.1.1:80"]
)
def test_another_host_is_refused_with_the_cookie_too(client: FlaskClient, host: str) -> None:
    # DNS rebinding: a foreign name that resolves to this computer brings its own Host.
    assert client.get("/start/").status_code == 200
    assert client.get("/start/", base_url=f"http://{host}").status_code == 403


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", f"https://127.0.0.1:{PORT}", f"http://127.0.0.1:{PORT + 1}", ""]
)
def test_a_post_from_elsewhere_is_refused(client: FlaskClient, origin: str) -> None:
    assert client.post("/undo", environ_base={"HTTP_ORIGIN": origin}).status_code == 403
    assert client.post("/undo").status_code == 303


def test_a_read_from_another_site_is_refused(client: FlaskClient) -> None:
    for site in ("cross-site", "same-site"):
        assert client.get("/start/", headers={"Sec-Fetch-Site": site}).status_code == 403


@pytest.mark.parametrize("address", ["/start/", "/static/page.css", "/nothing-here", "/forget"])
def test_every_answer_carries_the_headers(client: FlaskClient, address: str) -> None:
    answer = client.get(address)
    assert {name: answer.headers.get(name) for name in HEADERS} == HEADERS
    assert "unsafe" not in answer.headers["Content-Security-Policy"]


@pytest.mark.parametrize(
    "address",
    [
        "/static/../desk.py",
        "/static/..%2fdesk.py",
        "/static//etc/passwd",
        "/static/%2e%2e/app.py",
        "/../case.yaml",
        "/case.yaml",
        "/static/..\\app.py",
    ],
)
def test_no_path_leads_out(client: FlaskClient, address: str) -> None:
    answer = client.get(address, follow_redirects=True)
    assert answer.status_code == 404
    assert "import" not in answer.text


def test_a_body_too_large_is_refused(client: FlaskClient) -> None:
    assert client.post("/start/", data={"code": "a" * (5 * 2**20)}).status_code == 413


def test_an_unknown_fault_tells_its_kind_only(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    client = let_in(desk)

    def broken() -> None:
        raise RuntimeError("Orla Quennimore")

    monkeypatch.setattr(desk, "undo", broken)
    answer = client.post("/undo")
    assert answer.status_code == 500
    assert "RuntimeError" in answer.text
    assert "Quennimore" not in answer.text
    assert "Quennimore" not in "".join(capfd.readouterr())


def test_a_fault_in_the_check_of_the_case_leaves_a_page_with_the_way_back(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    client, before = let_in(desk), desk.revision()
    desk.change(lambda tree: tree.update(title="Changed"), before)

    def broken(use: object = None) -> None:
        raise RuntimeError("Orla Quennimore")

    monkeypatch.setattr(desk, "checked", broken)
    for address in ("/start/", "/write/", "/sign/", "/no-such-page"):
        answer = client.get(address, follow_redirects=True)
        assert answer.status_code in (404, 500)
        assert 'action="/undo"' in answer.text
        assert 'href="/"' in answer.text
        assert "Quennimore" not in answer.text
    assert client.post("/undo").status_code == 303
    assert desk.revision() == before


def test_what_was_written_before_a_fault_is_told_as_kept(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    client, before, checked = let_in(desk), desk.revision(), desk.checked

    def broken_once_changed(use: Use | None = None) -> object:
        if desk.revision() != before:
            raise RuntimeError("Orla Quennimore")
        return checked(use)

    monkeypatch.setattr(desk, "checked", broken_once_changed)
    told = {"revision": before, "do": "set", "path": ["title"], "value": "Changed"}
    answer = client.post("/write/story/", json=told, headers={"Accept": "application/json"})
    assert answer.status_code == 500
    assert "Changed" in desk.text()
    assert answer.json == {"fault": answer.json["fault"], "kept": True, "revision": desk.revision()}
    assert answer.json["fault"].startswith(
        "It was kept. Then there was a fault of the program itself, RuntimeError"
    )


def test_it_listens_to_this_computer_only(program: Program) -> None:
    # /proc/net/tcp of Linux: the local address of each listening socket, in hex (man 5 proc).
    port = f":{int(program.base.rpartition(':')[2]):04X}"
    for table, local in (("tcp", "0100007F"), ("tcp6", "0" * 24 + "01000000")):
        path = Path(f"/proc/net/{table}")
        if not path.exists():
            pytest.skip(f"/proc/net/{table} is not on this system, so its sockets cannot be listed")
        listening = [row.split()[1] for row in path.read_text().splitlines()[1:] if row.split()[3] == "0A"]
        ours = [address for address in listening if address.endswith(port)]
        assert all(address == local + port for address in ours)
        assert table == "tcp6" or ours


def test_its_lines_hold_nothing_of_the_case(case: Path) -> None:
    import urllib.error
    import urllib.request

    running = Program(case)
    with pytest.raises(urllib.error.HTTPError):
        urllib.request.urlopen(f"{running.base}/start/?name=Quennimore")
    assert running.stop() == ""


def test_it_stops_by_itself(case: Path) -> None:
    running = Program(case, "--idle-minutes", "0.02")
    assert running.process.wait(timeout=30) == 0
    running.stop()
