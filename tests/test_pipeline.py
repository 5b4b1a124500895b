from __future__ import annotations

import io
import json
import os
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from mmbuilder import pipeline, resources
from mmbuilder.errors import CaseInvalid, IdentifierInOutput, OutputNotWritable, ReviewPending
from mmbuilder.pipeline import BuildOptions, BuildReport, Failure, build, build_many
from mmbuilder.safe.terms import Use

CASES = resources.bundled_cases()


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A copy of a bundled case that a test may change."""
    copy = tmp_path / CASES[0].name
    shutil.copytree(CASES[0], copy)
    return copy


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
@pytest.mark.parametrize("use", Use)
def test_every_bundled_case_builds_for_every_use(root: Path, use: Use, tmp_path: Path) -> None:
    report = build(root, BuildOptions(tmp_path / "out", use))
    assert zipfile.is_zipfile(report.deck)
    assert report.deck.name.endswith("-DRAFT.pptx")
    assert report.slides >= 3
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(
        [report.deck.name, report.handout.name, report.report.name]
    )


def test_same_input_same_bytes(tmp_path: Path) -> None:
    first = build(CASES[0], BuildOptions(tmp_path / "a", fresh=True))
    second = build(CASES[0], BuildOptions(tmp_path / "b", fresh=True))
    assert not second.reused
    for one, other in (
        (first.deck, second.deck),
        (first.handout, second.handout),
        (first.report, second.report),
    ):
        assert one.read_bytes() == other.read_bytes()


def test_an_unchanged_rebuild_reuses_what_was_built(case: Path, tmp_path: Path) -> None:
    options = BuildOptions(tmp_path / "out")
    first = build(case, options)
    again = build(case, options)
    assert (first.reused, again.reused) == (False, True)
    text = (case / "case.yaml").read_text("utf-8")
    (case / "case.yaml").write_text(text + "\n# one more thought\n", "utf-8")
    assert not build(case, options).reused


def test_no_raw_text_is_kept_between_runs(case: Path, tmp_path: Path) -> None:
    from mmbuilder.casefile import load
    from mmbuilder.scrub.sweep import known, sweep

    build(case, BuildOptions(tmp_path / "out"))
    identifiers = known(load(case))
    kept = [path for path in (tmp_path / "kept").rglob("*") if path.is_file()]
    assert kept
    for path in kept:
        assert sweep("kept", path.read_bytes()[32:], identifiers) == ()


def test_a_deck_that_was_worked_on_is_put_aside(case: Path, tmp_path: Path) -> None:
    options = BuildOptions(tmp_path / "out")
    deck = build(case, options).deck
    deck.write_bytes(b"my own changes")
    report = build(case, options)
    assert report.kept is not None
    assert report.kept.read_bytes() == b"my own changes"
    assert zipfile.is_zipfile(report.deck)
    assert build(case, options).kept is None


def test_final_waits_for_the_review(tmp_path: Path) -> None:
    with pytest.raises(ReviewPending):
        build(CASES[0], BuildOptions(tmp_path / "out", final=True))
    assert not (tmp_path / "out").exists()


def test_faults_stop_the_build_and_write_nothing(case: Path, tmp_path: Path) -> None:
    (case / "case.yaml").write_text("mmbuilder: 1\ntitle: Nothing else\n", "utf-8")
    with pytest.raises(CaseInvalid) as caught:
        build(case, BuildOptions(tmp_path / "out"))
    assert len(caught.value.problems) > 5
    assert not (tmp_path / "out").exists()


def test_an_identifier_that_survives_stops_the_build(
    case: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from mmbuilder import scrub

    propose = scrub.propose
    monkeypatch.setattr(
        scrub, "propose", lambda folder, **options: replace(propose(folder, **options), texts={})
    )
    with pytest.raises(IdentifierInOutput):
        build(case, BuildOptions(tmp_path / "out"))
    assert not (tmp_path / "out").exists()
    assert not list((tmp_path / "kept").rglob("*")) or all(
        path.is_dir() for path in (tmp_path / "kept").glob("*")
    )


def test_one_bad_case_does_not_stop_the_rest(case: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad"
    bad.mkdir()
    (bad / "case.yaml").write_text("code: bad-1\n", "utf-8")
    seen: list[BuildReport | Failure] = []
    results = build_many([bad, case], BuildOptions(tmp_path / "out"), done=seen.append)
    assert [type(result) for result in results] == [Failure, BuildReport]
    assert len(seen) == 2


def test_two_cases_with_one_code_are_refused_before_anything_is_written(case: Path, tmp_path: Path) -> None:
    twin = tmp_path / "twin"
    shutil.copytree(case, twin)
    with pytest.raises(CaseInvalid) as caught:
        build_many([case, twin], BuildOptions(tmp_path / "out"))
    assert [problem.code for problem in caught.value.problems] == ["code-used-twice"]
    assert not (tmp_path / "out").exists()


def test_two_processes_build_the_same_bytes(tmp_path: Path) -> None:
    alone = build_many(CASES[:2], BuildOptions(tmp_path / "a", fresh=True))
    together = build_many(CASES[:2], BuildOptions(tmp_path / "b", fresh=True), jobs=2)
    for one, other in zip(alone, together, strict=True):
        assert isinstance(one, BuildReport)
        assert isinstance(other, BuildReport)
        assert one.deck.read_bytes() == other.deck.read_bytes()


def test_a_place_that_cannot_be_written_to_is_told(case: Path, tmp_path: Path) -> None:
    blocked = tmp_path / "out"
    blocked.write_bytes(b"a file, not a folder")
    with pytest.raises(OutputNotWritable):
        build(case, BuildOptions(blocked))
    assert blocked.read_bytes() == b"a file, not a folder"


def test_a_build_killed_at_any_moment_leaves_the_old_deck_whole(case: Path, tmp_path: Path) -> None:
    options = BuildOptions(tmp_path / "out")
    old = build(case, options).deck
    before = old.read_bytes()
    text = (case / "case.yaml").read_text("utf-8")
    (case / "case.yaml").write_text(text + "\n# changed\n", "utf-8")
    call = [sys.executable, "-m", "mmbuilder", "build", str(case), "--out", str(tmp_path / "out"), "--fresh"]
    for wait in (0.1, 0.5, 1.0, 1.5, 2.0, 2.5):
        with subprocess.Popen(call, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
            time.sleep(wait)
            os.kill(process.pid, signal.SIGKILL)
        found = old.read_bytes()
        assert found == before or zipfile.ZipFile(io.BytesIO(found)).testzip() is None


def test_the_report_holds_counts_and_our_words(tmp_path: Path) -> None:
    report = build(CASES[0], BuildOptions(tmp_path / "out"))
    body = json.loads(report.report.read_text("utf-8"))
    assert body["state"].startswith("DRAFT")
    assert sum(body["removed"].values()) > 0
    assert {"declared", "email", "phone", "date", "record_number"} <= set(body["detectors"])
    assert body["unchecked"]
    assert "anonymous" not in report.report.read_text("utf-8")


def test_the_names_of_the_results_come_from_the_code_alone() -> None:
    source = Path(pipeline.__file__).read_text("utf-8")
    assert "folder.root.name" not in source


def test_a_name_nobody_declared_is_found_where_it_is_asked_for(case: Path, tmp_path: Path) -> None:
    text = (case / "case.yaml").read_text("utf-8")
    named = text.replace("\nbackground: >-\n", "\nbackground: >-\n  Amarachi Okonjowell saw him first. ", 1)
    assert named != text
    (case / "case.yaml").write_text(named, "utf-8")
    quick = build(case, BuildOptions(tmp_path / "quick"))
    asked = build(case, BuildOptions(tmp_path / "asked", names=True))
    assert any("nobody declared" in words for words in quick.unchecked)
    assert "Okonjowell" not in asked.handout.read_text("utf-8")
