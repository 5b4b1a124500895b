from __future__ import annotations

import json
from pathlib import Path

import pytest

from mmbuilder.casefile import load
from mmbuilder.errors import FileRefused
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.plan_file import load_plan, save_plan
from mmbuilder.scrub.propose import propose
from tests.scrub.small_case import CASE, NAMES, small


def test_a_plan_comes_back_as_it_was_and_holds_no_text(tmp_path: Path) -> None:
    folder = small(tmp_path / "case")
    plan, file = propose(folder), tmp_path / "plan.json"
    save_plan(plan, file)
    assert load_plan(file, folder) == plan
    written = file.read_text("utf-8").casefold()
    assert [name for name in (*NAMES, "14 march", "example.org") if name in written] == []


def test_it_fits_no_other_case(tmp_path: Path) -> None:
    file = tmp_path / "plan.json"
    save_plan(propose(small(tmp_path / "one")), file)
    with pytest.raises(FileRefused, match="another case"):
        load_plan(file, small(tmp_path / "two", CASE.replace("Hum heard", "Hum was heard")))


def test_it_fits_no_other_use_of_the_same_case(tmp_path: Path) -> None:
    folder, file = small(tmp_path / "case"), tmp_path / "plan.json"
    save_plan(propose(folder), file)
    with pytest.raises(FileRefused, match="another case"):
        load_plan(file, load(tmp_path / "case", Use.REPORT))


def test_it_does_not_outlive_a_change_of_picture(tmp_path: Path) -> None:
    folder, file = small(tmp_path / "case"), tmp_path / "plan.json"
    save_plan(propose(folder), file)
    picture = tmp_path / "case" / "images" / "Oskavarn pump.png"
    picture.write_bytes(picture.read_bytes() + b"\0")
    with pytest.raises(FileRefused, match="another case"):
        load_plan(file, folder)


def test_words_typed_into_a_plan_are_refused(tmp_path: Path) -> None:
    folder, file = small(tmp_path / "case"), tmp_path / "plan.json"
    save_plan(propose(folder), file)
    body = json.loads(file.read_text("utf-8"))
    body["texts"][0]["spans"][0]["stand_in"] = "Mrs Somebody"
    file.write_text(json.dumps(body), encoding="utf-8")
    with pytest.raises(FileRefused, match="stand-ins"):
        load_plan(file, folder)


@pytest.mark.parametrize("content", ["", "{}", "[1]", '{"mmbuilder_plan": 1, "case": "x"}', "not json"])
def test_what_is_no_plan_is_refused(tmp_path: Path, content: str) -> None:
    file = tmp_path / "plan.json"
    file.write_text(content, encoding="utf-8")
    with pytest.raises(FileRefused, match="not a redaction plan"):
        load_plan(file, small(tmp_path / "case"))
