"""A sign-off binds what was seen; any change of it makes it void, with a sentence saying why."""

from __future__ import annotations

import re
import shutil
import zipfile
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.casefile.checking import SIGN_OFF
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import CaseInvalid, ReviewPending
from mmbuilder.pipeline import BuildOptions, build
from mmbuilder.pipeline.signing import (
    OF_PICTURES,
    changed,
    fallen,
    pending,
    reviewed,
    sign,
    signed_for,
    still_seen,
    undecided,
    written,
)
from mmbuilder.safe.terms import Looked, Reviewer, Use
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, RedactionPlan, Span
from mmbuilder.scrub.propose import propose
from tests.conftest import only_looks

DAY = date(2026, 1, 2)


@pytest.fixture
def root(tmp_path: Path, seen: Path) -> Path:
    source = next(path for path in resources.bundled_cases() if path.name == "airway-prone")
    return Path(shutil.copytree(source, tmp_path / "airway"))


@pytest.fixture(scope="module")
def agreed(decided: Path, looks: Path, tmp_path_factory: pytest.TempPathFactory) -> RedactionPlan:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("MMBUILDER_CACHE", str(only_looks(looks, tmp_path_factory.mktemp("kept"))))
        return propose(load(decided))


@pytest.fixture
def plan(root: Path, decided: Path, agreed: RedactionPlan) -> RedactionPlan:
    """What is removed once everything that was open is decided, as by a reviewer who agrees; the case is so decided."""
    shutil.copytree(decided, root, dirs_exist_ok=True)
    return agreed


def signed(root: Path, plan: RedactionPlan, role: Reviewer = Reviewer.CONSULTANT) -> CaseFolder:
    folder = load(root)
    (root / SIGN_OFF).write_bytes(written(sign(folder, plan, role, list(Looked), DAY)))
    return load(root)


def why(folder: CaseFolder, plan: RedactionPlan) -> list[str]:
    return list(pending(folder, plan))


def test_nobody_has_signed(root: Path, plan: RedactionPlan) -> None:
    assert why(load(root), plan)[0].startswith("nobody has signed it for department review")


def test_what_was_signed_holds(root: Path, plan: RedactionPlan) -> None:
    folder = signed(root, plan)
    assert why(folder, plan) == []
    assert reviewed(folder, plan).reviewed_by == "consultant"


def test_it_is_for_one_use(root: Path, plan: RedactionPlan) -> None:
    signed(root, plan)
    with pytest.raises(ReviewPending, match="nobody has signed it for teaching"):
        reviewed(load(root, Use.TEACHING), plan)


@pytest.mark.parametrize(
    ("file", "part"),
    [
        ("case.yaml", "case"),
        ("identifiers.yaml", "private list"),
        ("decisions.yaml", "decisions about words"),
        ("department.yaml", "department's settings"),
        ("images/*", "picture [1-9]"),
        ("readings/*", "readings 1"),
    ],
)
def test_a_change_makes_it_void_and_says_of_what(
    root: Path, plan: RedactionPlan, file: str, part: str
) -> None:
    folder = signed(root, plan)
    path = next(iter(sorted(root.glob(file))), root / file)
    path.write_bytes((path.read_bytes() if path.exists() else b"paper: A4") + b"\n")
    told = list(fallen(folder, folder.signed.signed[0]))
    assert len(told) == 1
    assert re.fullmatch(f"the {part} has changed since it was signed", told[0])


def test_another_version_or_another_finding_makes_it_void(
    root: Path, plan: RedactionPlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = signed(root, plan)
    more = replace(plan, unchecked=(*plan.unchecked, "one more thing"))
    assert why(folder, more) == ["the list of what is removed has changed since it was signed"]
    monkeypatch.setattr("mmbuilder.__version__", "99.0")
    assert why(folder, plan)[0].startswith("it was signed with version")


def test_what_was_looked_at_and_has_not_changed_is_known(root: Path, plan: RedactionPlan) -> None:
    folder = signed(root, plan)
    (mark,) = folder.signed.signed
    assert still_seen(folder, mark, plan) == frozenset(Looked)
    number, boxes = next((number, boxes) for number, boxes in plan.images.items() if boxes)
    bare = replace(plan, images={**plan.images, number: boxes[1:]})
    assert (
        still_seen(folder, mark, bare) == frozenset()
    )  # a cover less: neither words nor pictures are as they were
    frame = folder.case.frames[0].model_copy(update={"crop": (0, 0, 9, 9)})
    cut = folder.case.model_copy(update={"frames": (frame, *folder.case.frames[1:])})
    assert not still_seen(replace(folder, case=cut), mark, plan) & OF_PICTURES
    readings = next((root / "readings").iterdir())
    readings.write_bytes(readings.read_bytes() + b"\n")
    assert still_seen(load(root), mark, plan) == frozenset(Looked)
    (root / "case.yaml").write_bytes((root / "case.yaml").read_bytes() + b"\n# more\n")
    folder = load(root)
    assert still_seen(folder, mark, plan) == OF_PICTURES
    since = changed(folder, mark, plan)
    assert since.keys() == {"case", "readings 1"}
    assert still_seen(folder, mark, plan, since) == OF_PICTURES
    assert list(fallen(folder, mark, plan, since)) == list(fallen(folder, mark, plan))


def test_a_second_person_signs_the_same_state(root: Path, plan: RedactionPlan) -> None:
    (root / "department.yaml").write_text("second reviewer: yes\n")
    plan = propose(load(root))
    folder = signed(root, plan)
    assert why(folder, plan) == ["the department asks for a second person's review, and one has signed"]
    folder = signed(root, plan, Reviewer.GOVERNANCE)
    assert reviewed(folder, plan).reviewed_by == "consultant and information governance lead"
    assert len(folder.signed.signed) == 1


def test_a_signature_on_a_changed_case_begins_anew(root: Path, plan: RedactionPlan) -> None:
    signed(root, plan)
    (root / "case.yaml").write_bytes((root / "case.yaml").read_bytes() + b"\n# more\n")
    folder = signed(root, plan, Reviewer.NURSE)
    found = signed_for(folder, Use.REVIEW)
    assert found is not None
    assert [one.role for one in found.signatures] == [Reviewer.NURSE]


def test_what_is_not_decided_stands_in_the_way(root: Path, plan: RedactionPlan) -> None:
    folder = load(root)
    text = next(iter(plan.texts))
    span = Span(0, 3, "name", "A", "[name]", 0.9, Layer.MODEL)
    box = PixelBox(0, 0, 10, 10, "text in the picture", Layer.MODEL, Decision.REPLACE)
    worse = replace(plan, texts={**plan.texts, text: (span,)}, images={1: (box,)})
    assert list(undecided(folder, worse)) == [
        "1 finding in words not decided",
        "picture 1: 1 place not decided",
    ]


def test_a_report_needs_consent_beside_a_sign_off(root: Path, plan: RedactionPlan) -> None:
    assert any("consent" in line for line in why(load(root, Use.REPORT), plan))


def test_no_name_fits_where_a_role_belongs(root: Path, plan: RedactionPlan) -> None:
    signed(root, plan)
    path = root / SIGN_OFF
    path.write_text(path.read_text().replace("role: consultant", "role: Orla Quennimore"))
    with pytest.raises(CaseInvalid) as fault:
        load(root)
    assert "Quennimore" not in "".join(map(str, fault.value.problems))


def test_a_final_deck_is_built_only_when_it_is_signed(
    root: Path, plan: RedactionPlan, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    options = BuildOptions(out, final=True)
    with pytest.raises(ReviewPending):
        build(root, options)
    assert not out.exists()
    signed(root, plan)
    report = build(root, options)
    assert report.deck.name == "airway-prone-department-review.pptx"
    assert all("DRAFT" not in path.name for path in out.iterdir())
    slides = _words(report.deck)
    assert "DRAFT" not in slides
    assert "not yet reviewed" not in slides
    assert "Identifiers removed, reviewed by consultant." in slides
    assert "reviewed by consultant" in report.report.read_text("utf-8")
    draft = build(root, replace(options, final=False))
    assert draft.deck.name.endswith("-DRAFT.pptx")
    assert "DRAFT" in _words(draft.deck)


def test_a_final_deck_is_searched_for_names(root: Path, plan: RedactionPlan, tmp_path: Path) -> None:
    signed(root, plan)
    with pytest.raises(ReviewPending, match="leave out --skip-name-search"):
        build(root, BuildOptions(tmp_path / "out", final=True, skip_names=True))


def _words(deck: Path) -> str:
    with zipfile.ZipFile(deck) as archive:
        slides = [
            name for name in archive.namelist() if name.startswith("ppt/slides/") and name.endswith(".xml")
        ]
        return "".join(archive.read(name).decode() for name in slides)
