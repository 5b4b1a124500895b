from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from mmbuilder.cli.main import program
from mmbuilder.errors import ExitCode, FileRefused, MissingDependency, OutputNotWritable
from mmbuilder.scrub import keys
from tests.scrub.declared_list import SURNAME
from tests.scrub.images.files import EVERY
from tests.scrub.images.seeing import nobody_looks, one_looks

NOTE = f"Seen by Dr {SURNAME} at 09:30. IOP 18, 6/9.\n"
WORDS = "four invented dry words"


@pytest.fixture(autouse=True)
def _own_world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "cache"))
    monkeypatch.setattr(keys, "_COST", 2**14)
    nobody_looks(monkeypatch)


@pytest.fixture
def note(tmp_path: Path) -> Path:
    path = tmp_path / "in" / "note.txt"
    path.parent.mkdir()
    path.write_text(NOTE, "utf-8")
    return path


def run(*arguments: object, typed: str = "") -> Result:
    words = [str(argument) for argument in arguments]
    return CliRunner().invoke(program, words, standalone_mode=False, input=typed)


def test_keys_are_asked_for_sealed_and_open_again(note: Path, tmp_path: Path) -> None:
    result = run(
        "scrub", note, "--out", tmp_path / "out", "--keys", tmp_path / "k", typed=f"{WORDS}\n{WORDS}\n"
    )
    assert result.return_value == ExitCode.OK, result.output
    assert WORDS not in result.output
    assert SURNAME not in result.output
    assert SURNAME.encode() not in (tmp_path / "k").read_bytes()
    (stand_in,) = keys.load(tmp_path / "k", WORDS)
    assert stand_in.startswith("note.txt: ")
    assert keys.load(tmp_path / "k", WORDS)[stand_in] == [f"Dr {SURNAME}"]
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["note.txt"]


@pytest.mark.parametrize(
    ("place", "typed", "error"),
    [
        ("out/k", "", FileRefused),
        ("none/k", "", OutputNotWritable),
        ("k", "short\nshort\n", FileRefused),
    ],
)
def test_keys_that_could_not_be_kept_are_refused_before_anything_is_written(
    note: Path, tmp_path: Path, place: str, typed: str, error: type[Exception]
) -> None:
    result = run("scrub", note, "--out", tmp_path / "out", "--keys", tmp_path / place, typed=typed)
    assert isinstance(result.exception, error)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["in"]


def test_two_passphrases_that_differ_are_asked_for_again(note: Path, tmp_path: Path) -> None:
    typed = f"{WORDS}\n{WORDS}!\n{WORDS}\n{WORDS}\n"
    result = run("scrub", note, "--out", tmp_path / "out", "--keys", tmp_path / "k", typed=typed)
    assert result.return_value == ExitCode.OK
    assert keys.load(tmp_path / "k", WORDS)


@pytest.mark.parametrize("command", [("scrub", "--out", "out"), ("inspect",)])
def test_the_search_of_pictures_can_be_demanded(
    note: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    picture = tmp_path / "in" / "a.png"
    picture.write_bytes(EVERY["PNG"])
    asked = (*command, picture, "--need-picture-search")
    result = run(*asked)
    assert isinstance(result.exception, MissingDependency)
    assert "mmbuilder[" in str(result.exception)
    assert not (tmp_path / "out").exists()
    one_looks(monkeypatch)
    assert run(*asked).exception is None


def test_what_was_not_looked_for_is_said_plainly(tmp_path: Path) -> None:
    picture = tmp_path / "a.png"
    picture.write_bytes(EVERY["PNG"])
    result = run("scrub", picture, "--out", tmp_path / "out", "--report")
    assert "not looked at: text in the picture: not looked for" in result.stdout
    page = (tmp_path / "out" / "scrub-report.html").read_text("utf-8")
    assert page.count("text in the picture: not looked for") == 3  # at the top, in the list, at each foot
    assert "not looked at: pictures: text in the picture: not looked for" in run("inspect", picture).stdout


@pytest.mark.parametrize("jobs", [1, 2])
def test_one_bad_file_is_named_at_the_end_and_the_rest_is_done(note: Path, tmp_path: Path, jobs: int) -> None:
    (note.parent / "bad.pdf").write_bytes(b"%PDF-1.7")
    (note.parent / "more.txt").write_text("6/9 later.", "utf-8")
    result = run("scrub", note.parent, "--out", tmp_path / "out", "--jobs", jobs)
    assert result.return_value == ExitCode.FILE_REFUSED
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == ["more.txt", "note.txt"]
    last = result.stderr.splitlines()
    assert last[-2] == "1 of 3 files were not written:"
    assert last[-1].startswith(f"{note.parent / 'bad.pdf'}: not written: ")


def test_an_empty_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    result = run("scrub", tmp_path / "in", "--out", tmp_path / "out")
    assert isinstance(result.exception, FileRefused)
    assert not (tmp_path / "out").exists()


def test_what_is_kept_is_told_apart(tmp_path: Path, note: Path) -> None:
    (told,) = json.loads(run("scrub", note, "--out", tmp_path / "out", "--json").stdout)
    assert told["kept"] == []
    assert {"layer", "confidence"} <= set(told["findings"][0])
