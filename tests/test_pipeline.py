from __future__ import annotations

import io
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from mmbuilder import pipeline, resources
from mmbuilder.errors import (
    CaseInvalid,
    IdentifierInOutput,
    MissingDependency,
    OutputNotWritable,
    ReviewPending,
)
from mmbuilder.pipeline import BuildOptions, BuildReport, Failure, build, build_many
from mmbuilder.safe.terms import Use
from tests.casefile.minimal import TEXT, minimal_case
from tests.conftest import only_looks

CASES = resources.bundled_cases()


pytestmark = pytest.mark.usefixtures("seen")


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A copy of a bundled case that a test may change."""
    copy = tmp_path / CASES[0].name
    shutil.copytree(CASES[0], copy)
    return copy


BACKGROUND = "\nbackground: >-\n"
SMALL = (
    TEXT.replace("\npatient:\n", f"{BACKGROUND}  Wendeline Orrastal came from the clinic.\npatient:\n")
    + "governance:\n  publication consent: given\n  legal hold: no\n  coroner: no\n"
)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A case with no more than there must be, and its patient's name in the words: what is built of it is built fast."""
    return minimal_case(tmp_path / "small", SMALL)


@pytest.fixture(scope="module")
def usual(looks: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[BuildReport, Path]:
    """What is built of a bundled case, and the cache that it was built with."""
    folder = tmp_path_factory.mktemp("usual")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MMBUILDER_CACHE", str(only_looks(looks, folder / "kept")))
        return build(CASES[0], BuildOptions(folder / "out", Use.REVIEW)), folder


def kept(tmp_path: Path) -> list[Path]:
    """What the cache of a test holds."""
    return sorted(path for path in (tmp_path / "kept").rglob("*") if path.is_file())


def test_same_input_same_bytes(
    usual: tuple[BuildReport, Path], built: Callable[[Path, Use], BuildReport]
) -> None:
    first, second = built(CASES[0], Use.REVIEW), usual[0]
    assert not second.reused  # its cache was its own
    for one, other in (
        (first.deck, second.deck),
        *zip(first.papers, second.papers, strict=True),
        (first.report, second.report),
        (first.page, second.page),
    ):
        assert one.read_bytes() == other.read_bytes()


def test_an_unchanged_rebuild_reuses_what_was_built(small: Path, tmp_path: Path) -> None:
    options = BuildOptions(tmp_path / "out")
    first = build(small, options)
    again = build(small, options)
    assert (first.reused, again.reused) == (False, True)
    text = (small / "case.yaml").read_text("utf-8")
    (small / "case.yaml").write_text(text + "\n# one more thought\n", "utf-8")
    assert not build(small, options).reused


def test_no_raw_text_is_kept_between_runs(usual: tuple[BuildReport, Path]) -> None:
    from mmbuilder.casefile import load
    from mmbuilder.scrub.sweep import known, sweep

    identifiers = known(load(CASES[0]))
    assert len(kept(usual[1])) > 20
    for path in kept(usual[1]):
        assert sweep("kept", path.read_bytes()[32:], identifiers) == ()


def test_a_deck_that_was_worked_on_is_put_aside(small: Path, tmp_path: Path) -> None:
    options = BuildOptions(tmp_path / "out")
    deck = build(small, options).deck
    deck.write_bytes(b"my own changes")
    report = build(small, options)
    assert report.kept is not None
    assert report.kept.read_bytes() == b"my own changes"
    assert zipfile.is_zipfile(report.deck)
    assert build(small, options).kept is None


def test_final_waits_for_the_review(tmp_path: Path) -> None:
    with pytest.raises(ReviewPending):
        build(CASES[0], BuildOptions(tmp_path / "out", final=True))
    assert not (tmp_path / "out").exists()


def test_a_final_case_report_says_that_consent_is_missing(small: Path, tmp_path: Path) -> None:
    text = (
        (small / "case.yaml")
        .read_text("utf-8")
        .replace("publication consent: given", "publication consent: not asked")
    )
    (small / "case.yaml").write_text(text, "utf-8")
    with pytest.raises(ReviewPending, match="consent to publication"):
        build(small, BuildOptions(tmp_path / "out", Use.REPORT, final=True))


@pytest.mark.parametrize("flag", ["legal hold", "coroner"])
def test_a_case_on_hold_makes_no_report_for_outside(flag: str, small: Path, tmp_path: Path) -> None:
    text = re.sub(rf"{flag}: \w+", f"{flag}: yes", (small / "case.yaml").read_text("utf-8"))
    assert f"{flag}: yes" in text
    (small / "case.yaml").write_text(text, "utf-8")
    with pytest.raises(CaseInvalid) as caught:
        build(small, BuildOptions(tmp_path / "out", Use.REPORT))
    assert "consent-or-hold" in {problem.code for problem in caught.value.problems if problem.stops}
    assert build(small, BuildOptions(tmp_path / "out", Use.REVIEW, skip_names=True)).deck.exists()


def test_faults_stop_the_build_and_write_nothing(case: Path, tmp_path: Path) -> None:
    (case / "case.yaml").write_text("mmbuilder: 1\ntitle: Nothing else\n", "utf-8")
    with pytest.raises(CaseInvalid) as caught:
        build(case, BuildOptions(tmp_path / "out"))
    assert len(caught.value.problems) > 5
    assert not (tmp_path / "out").exists()


def test_an_identifier_that_survives_stops_the_build(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from mmbuilder.scrub import propose as proposing

    before = kept(tmp_path)
    in_words = proposing.in_words
    monkeypatch.setattr(
        proposing, "in_words", lambda folder, **options: replace(in_words(folder, **options), texts={})
    )
    with pytest.raises(IdentifierInOutput):
        build(small, BuildOptions(tmp_path / "out"))
    assert not (tmp_path / "out").exists()
    assert kept(tmp_path) == before


def test_one_bad_case_does_not_stop_the_rest(small: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad"
    bad.mkdir()
    (bad / "case.yaml").write_text("code: bad-1\n", "utf-8")
    seen: list[BuildReport | Failure] = []
    results = build_many([bad, small], BuildOptions(tmp_path / "out"), done=seen.append)
    assert [type(result) for result in results] == [Failure, BuildReport]
    assert len(seen) == 2


def test_two_cases_with_one_code_are_refused_before_anything_is_written(small: Path, tmp_path: Path) -> None:
    twin = tmp_path / "twin"
    shutil.copytree(small, twin)
    with pytest.raises(CaseInvalid) as caught:
        build_many([small, twin], BuildOptions(tmp_path / "out"))
    assert [problem.code for problem in caught.value.problems] == ["code-used-twice"]
    assert not (tmp_path / "out").exists()


def test_two_processes_build_the_same_bytes(small: Path, tmp_path: Path) -> None:
    twin = minimal_case(tmp_path / "twin", SMALL.replace("code: case-a", "code: case-b"), readings=True)
    alone = build_many([small, twin], BuildOptions(tmp_path / "a", fresh=True))
    together = build_many([small, twin], BuildOptions(tmp_path / "b", fresh=True), jobs=2)
    for one, other in zip(alone, together, strict=True):
        assert isinstance(one, BuildReport)
        assert isinstance(other, BuildReport)
        assert not other.reused
        assert one.deck.read_bytes() == other.deck.read_bytes()


def test_a_place_that_cannot_be_written_to_is_told(small: Path, tmp_path: Path) -> None:
    blocked = tmp_path / "out"
    blocked.write_bytes(b"a file, not a folder")
    with pytest.raises(OutputNotWritable):
        build(small, BuildOptions(blocked))
    assert blocked.read_bytes() == b"a file, not a folder"


def test_a_build_killed_at_any_moment_leaves_the_old_deck_whole(small: Path, tmp_path: Path) -> None:
    options = BuildOptions(tmp_path / "out")
    old = build(small, options).deck
    before = old.read_bytes()
    text = (small / "case.yaml").read_text("utf-8")
    (small / "case.yaml").write_text(text + "\n# changed\n", "utf-8")
    call = [sys.executable, "-m", "mmbuilder", "build", str(small), "--out", str(tmp_path / "out"), "--fresh"]
    for wait in (0.1, 0.5, 1.0, 1.5, 2.0, 2.5):
        with subprocess.Popen(call, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
            time.sleep(wait)
            os.kill(process.pid, signal.SIGKILL)
        found = old.read_bytes()
        assert found == before or zipfile.ZipFile(io.BytesIO(found)).testzip() is None


def test_the_report_holds_counts_and_our_words(usual: tuple[BuildReport, Path]) -> None:
    report, _ = usual
    body = json.loads(report.report.read_text("utf-8"))
    assert body["state"].startswith("DRAFT")
    assert sum(body["removed"].values()) > 0
    assert {"declared", "email", "phone", "date", "record_number"} <= set(body["detectors"])
    assert body["unchecked"]
    assert "anonymous" not in report.report.read_text("utf-8")


def test_the_names_of_the_results_come_from_the_code_alone() -> None:
    for path in Path(pipeline.__file__).parent.glob("*.py"):
        assert "root.name" not in path.read_text("utf-8")


def test_the_page_for_people_says_the_same_as_the_report(usual: tuple[BuildReport, Path]) -> None:
    report, _ = usual
    scrub = json.loads(report.report.read_text("utf-8"))["scrub"]
    page = report.page.read_text("utf-8")
    assert f"Removed: <strong>{sum(entry['count'] for entry in scrub['removed'])}</strong>." in page
    assert {"text in the picture", "drawn by the author"} <= {entry["kind"] for entry in scrub["removed"]}
    assert {"text in pictures", "judge of names and numbers"} <= set(scrub["detectors"])
    assert any(kept["kind"] == "kept by the author" for kept in scrub["kept"])
    for words in ("declared name", "tattoos", "not reviewed by anybody"):
        assert words in page
    assert "anonym" not in page.lower()


def test_no_report_holds_an_identifier(usual: tuple[BuildReport, Path]) -> None:
    from mmbuilder.casefile import load
    from mmbuilder.scrub.sweep import known, sweep

    for path in (usual[0].report, usual[0].page):
        assert sweep(path.name, path.read_bytes(), known(load(CASES[0]))) == ()


def named(case: Path) -> None:
    """Let the case name somebody whom nobody declared."""
    text = (case / "case.yaml").read_text("utf-8")
    told = text.replace("\nbackground: >-\n", "\nbackground: >-\n  Amarachi Okonjowell saw him first. ", 1)
    assert told != text
    (case / "case.yaml").write_text(told, "utf-8")


def test_a_name_nobody_declared_is_found_unless_the_search_is_left_out(small: Path, tmp_path: Path) -> None:
    named(small)
    usual = build(small, BuildOptions(tmp_path / "usual"))
    quick = build(small, BuildOptions(tmp_path / "quick", skip_names=True))
    assert "Okonjowell" not in usual.papers[0].read_text("utf-8")
    assert not any(words.startswith("names that nobody declared") for words in usual.unchecked)
    assert any(words.startswith("names that nobody declared") for words in quick.unchecked)
    assert "names that nobody declared" in quick.page.read_text("utf-8")


def test_missing_finders_are_told_everywhere_or_refused(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from mmbuilder.scrub.images import regions

    with_finders = build(small, BuildOptions(tmp_path / "with"))
    monkeypatch.setattr(regions, "_lacks", lambda modules: bool(modules))
    with pytest.raises(MissingDependency, match="ocr"):
        build(small, BuildOptions(tmp_path / "out", need_pictures=True))
    assert not (tmp_path / "out").exists()
    report = build(small, BuildOptions(tmp_path / "without"))
    assert not report.reused
    for risk in regions.PIXEL_RISKS:
        assert not any(words.startswith(risk) for words in with_finders.unchecked)
        assert any(words.startswith(f"{risk}: not looked for") for words in report.unchecked)
        assert f"{risk}: not looked for" in report.page.read_text("utf-8")


def test_what_is_seen_in_a_finished_picture_stops_the_build(
    case: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from mmbuilder.scrub import whole

    before = kept(tmp_path)
    made = whole.whole
    monkeypatch.setattr(whole, "whole", lambda *found: replace(made(*found), images={}))
    with pytest.raises(IdentifierInOutput, match=r"still \d"):
        build(case, BuildOptions(tmp_path / "out"))
    assert not (tmp_path / "out").exists()
    assert kept(tmp_path) == before


def test_a_sentence_is_changed_and_no_picture_is_looked_at_again(
    small: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from mmbuilder.scrub.images import regions

    build(small, BuildOptions(tmp_path / "out"))
    monkeypatch.setattr(regions, "find_regions", lambda image: pytest.fail("a picture was looked at again"))
    named(small)
    assert not build(small, BuildOptions(tmp_path / "out")).reused


def test_what_cases_of_one_call_have_in_common_is_told_in_the_reports_of_both(
    small: Path, tmp_path: Path
) -> None:
    text = SMALL.replace(BACKGROUND, f"{BACKGROUND}  A beekeeper. ")
    born = text.replace(BACKGROUND, f"{BACKGROUND}  One of triplets. ")
    twin = minimal_case(tmp_path / "twin", born.replace("code: case-a", "code: two"))
    other = minimal_case(tmp_path / "other", text.replace("code: case-a", "code: also"))
    (small / "case.yaml").write_text(born.replace("code: case-a", "code: one"), "utf-8")
    alone = build(small, BuildOptions(tmp_path / "out"))
    assert alone.across == ()
    results = build_many([small, twin, other], BuildOptions(tmp_path / "out"))
    first, second, third = (result for result in results if isinstance(result, BuildReport))
    assert (first.code, second.code) == ("one", "two")
    assert [words.partition(":")[0] for words in third.across] == ["with one", "with two"]
    assert not any("twins" in words for words in third.across)
    for report, other in ((first, "two"), (second, "one")):
        assert [words.partition(":")[0] for words in report.across] == [f"with {third.code}", f"with {other}"]
        words = report.across[1]
        assert "twins" in words
        assert words in json.loads(report.report.read_text("utf-8"))["across"]
        assert words in report.page.read_text("utf-8")
    # The changed report still knows its deck: nothing is put aside.
    assert build(small, BuildOptions(tmp_path / "out")).kept is None


def test_the_edition_of_the_zip_rule_is_told_where_it_was_used(small: Path, tmp_path: Path) -> None:
    assert build(small, BuildOptions(tmp_path / "out")).rules == ()
    text = (small / "case.yaml").read_text("utf-8")
    told = text.replace("\nbackground: >-\n", "\nbackground: >-\n  Lives in Springfield, IL 62701. ", 1)
    (small / "case.yaml").write_text(told, "utf-8")
    report = build(small, BuildOptions(tmp_path / "out"))
    (words,) = report.rules
    assert "2018-2022" in words
    assert json.loads(report.report.read_text("utf-8"))["rules"] == [words]
