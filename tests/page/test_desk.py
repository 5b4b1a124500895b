"""The open case: changes are kept at once, undone, refused on an older state, forgotten."""

from __future__ import annotations

from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest

from mmbuilder import resources
from mmbuilder.casefile import reader
from mmbuilder.errors import FileRefused
from mmbuilder.page.desk import Desk, Moved, NotChanged
from mmbuilder.page.form.nodes import parsed
from mmbuilder.page.form.opened import opened
from mmbuilder.review import lint
from tests.page.conftest import let_in


def entitled(words: str) -> Any:
    def change(tree: Any) -> None:
        tree["title"] = words

    return change


@pytest.mark.parametrize("root", resources.bundled_cases(), ids=lambda path: path.name)
def test_a_change_and_its_undo_leave_the_bytes_as_they_were(root: Path, tmp_path: Path) -> None:
    import shutil

    own = Path(shutil.copytree(root, tmp_path / "case"))
    before, desk = (own / "case.yaml").read_bytes(), Desk(own)
    desk.change(entitled("Another title"), desk.revision())
    after = (own / "case.yaml").read_bytes()
    assert len(set(before.splitlines()) ^ set(after.splitlines())) == 2  # one line, old and new
    assert desk.undo() == "case.yaml"
    assert (own / "case.yaml").read_bytes() == before
    assert desk.redo() == "case.yaml"
    assert (own / "case.yaml").read_bytes() == after


def test_undo_survives_another_program_run(desk: Desk) -> None:
    before = desk.text()
    for word in ("One", "Two", "Three"):
        desk.change(entitled(word), desk.revision())
    again = Desk(desk.root)
    assert again.history.depth() == (3, 0)
    assert [again.undo(), again.undo(), again.undo(), again.undo()] == ["case.yaml"] * 3 + [None]
    assert again.text() == before


def test_a_change_on_an_older_state_is_refused(desk: Desk) -> None:
    old = desk.revision()
    desk.change(entitled("From the first tab"), old)
    with pytest.raises(Moved, match="nothing was overwritten"):
        desk.change(entitled("From the second tab"), old)
    assert desk.tree()["title"] == "From the first tab"


def test_a_change_by_another_program_is_seen(desk: Desk) -> None:
    old = desk.revision()
    path = desk.root / "case.yaml"
    path.write_text(path.read_text("utf-8").replace("title:", "title: Edited elsewhere,", 1), "utf-8")
    with pytest.raises(Moved):
        desk.change(entitled("Mine"), old)


def test_line_ends_and_the_mark_at_the_start_stay(desk: Desk) -> None:
    path = desk.root / "case.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    desk.change(entitled("Another title"), desk.revision())
    written = path.read_bytes()
    assert written.startswith(b"\xef\xbb\xbf")
    assert written.count(b"\n") == written.count(b"\r\n")


def test_a_file_that_cannot_be_read_is_not_changed(desk: Desk) -> None:
    path = desk.root / "case.yaml"
    path.write_text("title: [\n", "utf-8")
    with pytest.raises(NotChanged):
        desk.change(entitled("Mine"), desk.revision())
    assert path.read_text("utf-8") == "title: [\n"


def test_a_new_file_is_undone_into_nothing(desk: Desk) -> None:
    (desk.root / "identifiers.yaml").unlink()
    desk.change(lambda tree: tree.update(other=["Skarnby"]), desk.revision(), "identifiers.yaml")
    assert "Skarnby" in desk.text("identifiers.yaml")
    assert desk.undo() == "identifiers.yaml"
    assert not (desk.root / "identifiers.yaml").exists()


def test_faults_are_told_of_the_state_on_disk(desk: Desk) -> None:
    assert desk.checked().folder is not None
    desk.change(lambda tree: tree.pop("title"), desk.revision())
    assert [problem.code for problem in desk.checked().problems if problem.stops] == ["missing-key"]
    desk.undo()
    assert desk.checked().folder is not None


@pytest.mark.parametrize("name", ["../out.png", "/etc/out.png", "..\\out.png", "C:\\out.png"])
def test_a_file_taken_stays_within_the_case(desk: Desk, name: str) -> None:
    assert desk.write_file("images", name, b"x") == "images/out.png"
    assert (desk.root / "images" / "out.png").read_bytes() == b"x"


@pytest.mark.parametrize("name", ["", "..", ".hidden", "a:b.png", "a\nb.png", "a" * 200])
def test_a_name_that_no_system_takes_is_refused(desk: Desk, name: str) -> None:
    with pytest.raises(FileRefused):
        desk.write_file("images", name, b"x")


def test_nothing_is_written_through_a_link(desk: Desk, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (desk.root / "images").rename(desk.root / "old")
    (desk.root / "images").symlink_to(outside)
    with pytest.raises(FileRefused):
        desk.write_file("images", "a.png", b"x")
    assert list(outside.iterdir()) == []


def test_another_picture_of_the_same_name_is_not_overwritten(desk: Desk) -> None:
    desk.write_file("images", "a.png", b"one")
    with pytest.raises(FileRefused, match="another name"):
        desk.write_file("images", "a.png", b"two")
    assert (desk.root / "images" / "a.png").read_bytes() == b"one"


def test_no_text_of_the_case_is_left_in_memory(desk: Desk) -> None:
    """In what functions remember of what they were last asked."""
    client = let_in(desk)
    for page in ("start", "write/events"):
        assert client.get(f"/{page}/").status_code == 200
    held = [lint.find, opened, parsed, reader._understood]
    assert [one.cache_info().currsize > 0 for one in held] == [True] * len(held)
    desk.forget()
    assert [one.cache_info().currsize for one in held] == [0] * len(held)


def test_everything_is_forgotten(desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from mmbuilder import cache

    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))
    cache.put(cache.key("x"), b"kept")
    desk.change(entitled("Another"), desk.revision())
    (desk.aside / "note.txt").write_text("a note")
    done: Future[str] = Future()
    done.set_result("a drawing")
    assert desk.ahead.begun("drawing", "state", lambda: done).value == "a drawing"
    called: list[str] = []
    desk.forgets.append(lambda: called.append("pictures"))
    case = desk.text()
    desk.forget()
    assert desk.ahead.kept("drawing", "state") is None
    assert called == ["pictures"]
    assert not desk.aside.exists()
    assert [path for path in (tmp_path / "kept").rglob("*") if path.is_file()] == []
    assert desk.text() == case
