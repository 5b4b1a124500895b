from __future__ import annotations

import json
from pathlib import Path

import pytest
from click import UsageError
from click.testing import CliRunner, Result

from mmbuilder import resources
from mmbuilder.cli.main import program
from mmbuilder.errors import ExitCode, MMBuilderError
from mmbuilder.pipeline import watch
from tests.casefile.minimal import minimal_case

EYE = next(path for path in resources.bundled_cases() if path.name.startswith("eye"))
NOTE = "Seen by Dr Quillfeather at 09:30, MRN 00471902. Phone 01632 960123. IOP 18, 6/9, 10-0 nylon.\n"


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is built is built anew."""
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A case with no more than there must be: what is built of bundled ones, their own tests look at."""
    return minimal_case(tmp_path / "small")


def run(*arguments: object) -> Result:
    return CliRunner().invoke(program, [str(argument) for argument in arguments], standalone_mode=False)


@pytest.fixture
def note(tmp_path: Path) -> Path:
    path = tmp_path / "notes" / "note.txt"
    path.parent.mkdir()
    path.write_text(NOTE, "utf-8")
    return path


def test_check_tells_faults_in_each_form(tmp_path: Path) -> None:
    case = tmp_path / "case"
    case.mkdir()
    (case / "case.yaml").write_text("mmbuilder: 1\ncode: Bad Code\ntitel: A title\n", "utf-8")
    text = run("check", case)
    assert text.return_value == ExitCode.CASE_INVALID
    assert "case.yaml:3:1" in text.stderr
    assert "title" in text.stderr
    problems = json.loads(run("check", case, "--format", "json").stdout)
    assert {
        "file",
        "line",
        "column",
        "code",
        "text",
        "found",
        "expected",
        "why",
        "example",
        "severity",
    } <= set(problems[0])
    assert run("check", case, "--format", "github").stdout.startswith("::error file=")


def test_a_sound_case_has_no_faults() -> None:
    result = run("check", EYE)
    assert result.return_value == ExitCode.OK
    assert "No faults found." in result.stdout


def test_build_tells_what_another_program_needs(small: Path, tmp_path: Path) -> None:
    result = run("build", small, "--out", tmp_path / "out", "--json")
    (told,) = json.loads(result.stdout)
    assert result.return_value == ExitCode.OK
    assert Path(told["deck"]).is_file()
    assert told["draft"] is True
    assert told["unchecked"]


def test_build_goes_on_after_a_bad_case_and_says_so(small: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad"
    bad.mkdir()
    (bad / "case.yaml").write_text("code: bad-1\n", "utf-8")
    result = run("build", bad, small, "--out", tmp_path / "out", "--jobs", 1)
    assert result.return_value == ExitCode.CASE_INVALID
    assert len(list((tmp_path / "out").glob("*.pptx"))) == 1


def test_final_says_why_not(small: Path, tmp_path: Path) -> None:
    result = run("build", small, "--out", tmp_path / "out", "--final")
    assert result.return_value == ExitCode.REVIEW_PENDING
    assert "mmbuilder open" in result.stderr


def test_new_starts_a_sound_case_and_never_overwrites(tmp_path: Path) -> None:
    folder = tmp_path / "my case"
    assert run("new", folder, "--specialty", "ophthalmology").return_value == ExitCode.OK
    assert run("check", folder).return_value == ExitCode.OK
    before = (folder / "case.yaml").read_bytes()
    again = run("new", folder, "--specialty", "anaesthesia")
    assert isinstance(again.exception, MMBuilderError)
    assert (folder / "case.yaml").read_bytes() == before
    assert not list(folder.glob(".writing-*"))


def test_scrub_takes_out_what_it_finds_and_keeps_the_clinical_words(note: Path, tmp_path: Path) -> None:
    result = run("scrub", note.parent, "--out", tmp_path / "clean")
    assert result.return_value == ExitCode.OK
    clean = (tmp_path / "clean" / "note.txt").read_text("utf-8")
    assert "Quillfeather" not in clean
    assert "00471902" not in clean
    assert "960123" not in clean
    assert all(word in clean for word in ("IOP 18", "6/9", "10-0 nylon", "09:30"))
    assert note.read_text("utf-8") == NOTE


def test_scrub_and_inspect_tell_findings_without_the_text(note: Path, tmp_path: Path) -> None:
    for result in (run("scrub", note, "--out", tmp_path / "clean", "--json"), run("inspect", note, "--json")):
        (told,) = json.loads(result.stdout)
        assert told["file"] == str(note)
        assert told["findings"]
        keys = {"kind", "where", "start", "end", "box", "layer", "confidence", "kept"}
        assert all(set(finding) == keys for finding in told["findings"])
        assert "Quillfeather" not in result.stdout
        found = {NOTE[finding["start"] : finding["end"]] for finding in told["findings"]}
        assert any("Quillfeather" in piece for piece in found)


def test_inspect_leaves_with_what_a_script_can_tell(note: Path, tmp_path: Path) -> None:
    clean = tmp_path / "clean.txt"
    clean.write_text("Fuchs dystrophy, 27 G needle, 1:10,000.", "utf-8")
    assert run("inspect", note).return_value == ExitCode.FINDINGS
    assert run("inspect", clean).return_value == ExitCode.OK
    broken = tmp_path / "broken.pptx"
    broken.write_bytes(b"PK\x03\x04 and nothing more")
    assert run("inspect", broken).return_value == ExitCode.FILE_REFUSED


def test_schema_is_written_where_it_is_asked_for(tmp_path: Path) -> None:
    assert json.loads(run("schema").stdout)["$schema"].endswith("2020-12/schema")
    assert run("schema", "--out", tmp_path / "schemas").return_value == ExitCode.OK
    assert sorted(path.name for path in (tmp_path / "schemas").iterdir()) == [
        "case.schema.json",
        "identifiers.schema.json",
    ]


@pytest.mark.parametrize("shell", ["bash", "fish", "zsh"])
def test_completion_prints_a_script(shell: str) -> None:
    assert "_MMBUILDER_COMPLETE" in run("completion", shell).stdout


def test_names_with_spaces_accents_and_marks_work(tmp_path: Path) -> None:
    odd = minimal_case(tmp_path / "Fälle von heute \u202eabc" / "ein Fall")
    result = run("build", odd, "--out", tmp_path / "Aus gabe é", "--json")
    assert result.return_value == ExitCode.OK, result.stderr


def test_scrub_writes_a_report_that_names_nobody(note: Path, tmp_path: Path) -> None:
    result = run("scrub", note, "--out", tmp_path / "clean", "--report")
    assert result.return_value == ExitCode.OK, result.output
    for name in ("scrub-report.json", "scrub-report.html"):
        text = (tmp_path / "clean" / name).read_text("utf-8")
        assert "Quillfeather" not in text
        assert "note.txt" not in text
        assert "anonymous" not in text.lower()


def test_watching_ends_with_the_users_wish_and_tells_people(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks = iter((None, None))

    def pause(seconds: float) -> None:
        if next(looks, True):
            raise KeyboardInterrupt

    monkeypatch.setitem(watch.__kwdefaults__, "pause", pause)
    ended = run("build", small, "--out", tmp_path / "out", "--watch")
    assert ended.return_value == ExitCode.OK
    assert "Ctrl-C ends" in ended.stderr
    assert list((tmp_path / "out").rglob("*.pptx"))
    refused = run("build", small, "--out", tmp_path / "out", "--watch", "--json").exception
    assert isinstance(refused, UsageError)
    assert "leave out --json" in str(refused)
